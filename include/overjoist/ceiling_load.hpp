// SPDX-License-Identifier: MIT
#pragma once
#include <optional>

#include "overjoist/units.hpp"

/// Weight on a ceiling board as a span, held against its limit (method eq. 12). Pure and thread
/// safe.
namespace overjoist {

/// At the spot with the greatest load. Low and high are the ends of the densities; with a chart or
/// a known weight both are the same.
struct CeilingLoad {
  MassPerArea found_low, found_high;  ///< of what stays; >= 0
  MassPerArea added_low, added_high;  ///< of what comes; >= 0
  Length depth;                       ///< settled, of what comes; >= 0
  MassPerArea limit;                  ///< of the board at its joists; > 0
};

enum class WeightFit {
  within,   ///< at any density
  depends,  ///< on the bag, or on what lies there
  over      ///< at any density
};

struct WeightVerdict {
  WeightFit fit = WeightFit::within;
  /// Density of the new fill up to which even the heaviest of what stays is within the limit: limit
  /// less what stays, times 12, over depth. Empty where nothing comes or what stays takes all of
  /// the limit: then no lighter fill helps.
  std::optional<Density> passes_below;
  double low_over_limit = 0.0, high_over_limit = 0.0;  ///< load as a ratio to the limit
};

/// @throws Error{out_of_range} naming the value
WeightVerdict weight_verdict(const CeilingLoad& load);

}  // namespace overjoist
