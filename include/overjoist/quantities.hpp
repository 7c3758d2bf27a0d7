// SPDX-License-Identifier: MIT
#pragma once
#include <optional>

#include "overjoist/topup.hpp"

/// Mass, bags and ceiling weight of a blow (model 11 and 12).
namespace overjoist {

/// Weight on the ceiling in the bays: mean and greatest over the spots, what was there plus what
/// comes.
struct CeilingWeight {
  MassPerArea mean, greatest;
};

/// What a section's blow takes, before any rounding.
struct FillQuantity {
  std::optional<Mass> mass;      ///< before waste; empty if the density is not known
  std::optional<double> bags;    ///< before waste; empty without mass or bag weight
  Length least, mean, greatest;  ///< new settled thickness
  Length initial_least, initial_mean, initial_greatest;
  Length settled_level;                     ///< area mean of the settled surface
  std::optional<MassPerArea> added_weight;  ///< area mean in the bays
  std::optional<CeilingWeight> ceiling;     ///< empty if the new fill's density is not known
};

/// How mass is counted in bags.
struct Bagging {
  std::optional<Mass> bag_net;  ///< > 0 if given
  bool chart_deducts_framing = true;
};

/// Spot by spot and by mass (method eq. 11). Without a chart: settled density x settled thickness,
/// framing deducted for the part that lies below joist tops. With a chart: its weight for the
/// layer's own settled thickness, framing deducted only if `chart_deducts_framing` is false.
FillQuantity fill_quantity(const BaseFloor& floor, const NewFill& fill, Length level, Area area,
                           const Bagging& bagging);

/// The published limit for a board at a joist spacing: the row of the next greater spacing.
/// @returns nullptr if no row covers it
const CeilingLimit* ceiling_limit(const Tables& tables, std::string_view board, Length spacing);

/// Greatest level on the 1/4 in. grid, not above `level`, whose greatest weight stays within
/// `limit`.
/// @returns empty if what lies there weighs more already
std::optional<Length> level_within_weight(const BaseFloor& floor, const NewFill& fill, Length level,
                                          MassPerArea limit);

}  // namespace overjoist
