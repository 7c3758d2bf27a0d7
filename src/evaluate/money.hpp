// SPDX-License-Identifier: MIT
#pragma once
#include <optional>
#include <vector>

#include "evaluate/year.hpp"

/// What the yearly saving, the costs and the next steps share.
namespace overjoist::parts {

/// All that a year's saving follows from.
struct Year {
  DegreeDays season;
  std::optional<double> indoor_f;
  Efficiency efficiency;
  FuelTerms fuel;

  HeatingLoad load(Conductance before, Conductance after) const {
    return heating_load_saved(before, after, season, indoor_f);
  }
  /// Heat and fuel for a fall of UA; none where both differ by rounding alone, else nothing done
  /// would pay back in 10^14 years.
  YearSaved saved(Conductance before, Conductance after, double factor = 1.0) const;
};
/// UA after the work, or that before it where both sums differ by rounding alone.
Conductance after_work(Conductance before, Conductance after);

/// The proposal with what belongs to the insulation measure only.
Proposal measure_of(const Proposal& proposal);
/// By area or by cost, at most the cap and the cost; empty without terms or where the cost is not
/// known.
std::optional<double> rebate_of(const MoneyWish& wish, Area blown, std::optional<double> cost);
/// True if the section's work has no price.
bool is_unpriced(const Evaluation& e, const SectionResult& section);
/// R after the work that stands beside the cost: where it has no price, an R that it raised counts
/// as found.
Resistance paid_r(const Evaluation& e, const SectionResult& section, Resistance before,
                  Resistance after);
/// Costs of both ends; none where all that is done has no price.
void add_costs(Evaluation& e, const SavingsWork& work, const MoneyWish& wish);

/// The next-step table (eq. 14a); needs heating, and money where the saving has a price.
void add_steps(Evaluation& e, const MoneyWish& wish, const SavingsWork& work, const Year& year);

}  // namespace overjoist::parts
