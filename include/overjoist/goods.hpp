// SPDX-License-Identifier: MIT
#pragma once
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "overjoist/evaluate.hpp"

/// What is bought and loaded for a job, gathered from an evaluation: the list of `overjoist goods`.
/// Nothing is worked out again here, and what the survey does not tell stays 'not known', never 0.
namespace overjoist {

enum class GoodUnit { bag, piece, small_tube, can, sheet, ft, ft2, lb, package, board_ft };

/// One line of the list.
struct Good {
  std::string what;                 ///< plain words
  std::string_view purpose;         ///< insulate | seal | vent | dams-covers-markers | lids
  std::string note;                 ///< what else tells how much, or what to choose; "" without
  GoodUnit unit = GoodUnit::piece;  ///< of the quantities
  std::optional<double> low,
      high;  ///< for each end of the band, 0 where that end needs none; empty: not known, measure
  std::optional<Mass> net;  ///< of a bag
  std::optional<double> unit_price, price_low,
      price_high;  ///< in the survey's currency; empty: not priced
};

/// Lines in the order of loading; a good that neither end needs is left out.
/// Bags, sheets, cans, tubes and weatherstrip hold their waste; sheet metal is the most that may be
/// needed.
std::vector<Good> goods_list(const Evaluation& evaluation, const Tables& tables);
/// The same of any two jobs of the attic side by side; of one job where both are the same.
std::vector<Good> goods_list(const Evaluation& evaluation, const Ends<const Planned&>& jobs,
                             const Tables& tables);

}  // namespace overjoist
