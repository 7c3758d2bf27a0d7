// SPDX-License-Identifier: MIT
#pragma once
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "overjoist/goods.hpp"
#include "write/parts/parts.hpp"

/// The words for the plan that the report and the work order share.
namespace overjoist::io {

/// Stands in the place of every step while a fill taken as asbestos is not cleared.
inline constexpr std::string_view kNothingElse =
    "nothing else is asked for in this attic before the asbestos professional has cleared the fill "
    "in writing.";

/// A line of the shopping list for one end of the band: "depth markers: 4".
std::string load_words(const Good& good, Units units);
std::string equipment_words(const Equipment& x,
                            Units units);  ///< "duct, north bay: 30 ft, R-6, joints sealed"
std::string_view word(TestTime when);      ///< for people; JSON has a hyphen

std::string small_area_text(Area area, Units units,
                            Toward toward);           ///< vents and leaks: "480 in2", "3097 cm2"
std::string run_text(double feet, Units units);       ///< "24 ft", "7.4 m"; up
std::string count_text(const std::optional<int>& n);  ///< "12", or "not known"
std::string item_words(const SealingItem& item,
                       Units units);  ///< what, where, how much, what it takes, how it is sealed
/// What stands where no leak was entered: to look for them, or that somebody did.  @param what
/// "leak" or "bypass"
std::string no_leaks_words(const Plan& plan, std::string_view what);
std::string ready_words(const Report& c);  ///< ready, or what is missing and who clears it
std::string vent_words(const Report& c);   ///< need, what was entered, verdict, what to add
std::string leak_words(const Report& c);   ///< "" where there is no sealing list
/// What sealing takes from the store, one entry for each.
std::vector<std::string> sealing_goods(const SealingTotals& totals, Units units);

}  // namespace overjoist::io
