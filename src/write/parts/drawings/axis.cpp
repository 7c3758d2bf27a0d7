// SPDX-License-Identifier: MIT
#include <fmt/core.h>

#include "write/parts/drawings/drawings.hpp"

// What the drawings of a floor share: the unit of their axes, and the words beside a level.
namespace overjoist::io {

std::string level_words(const HtmlReport& h, const TopUp& t) {
  const std::string_view verb = h.c.e.hands_off                   ? "once cleared: to "
                                : h.c.e.method == Method::sprayed ? "spray to "
                                                                  : "blow to ";
  if (t.status == TopUpStatus::unreachable)
    return fmt::format("{}{}, the best that fits", verb, planned_level_text(t, h.c.units));
  return fmt::format("{}{} for {}{}", verb, planned_level_text(t, h.c.units),
                     h.c.target(t.target_r), field_words(h.c, t));
}

double axis_length(Length length, Units units) {
  constexpr double kCentimetrePerMetre = 100.0;
  return units == Units::us ? length.us() : length.si() * kCentimetrePerMetre;
}

std::string_view axis_unit(Units units) { return units == Units::us ? "in." : "cm"; }

}  // namespace overjoist::io
