// SPDX-License-Identifier: MIT
#pragma once
#include <vector>

#include "fixtures.hpp"

/// A floor whose U can be worked out by hand.
namespace fixtures {

// Reference 7.2: film and ceiling R 1.67 together, k 0.32, so R 3.125 per inch.
inline constexpr double kRs = 1.67, kPerInch = 1 / 0.32;

/// No joists, films and ceiling of 1.67, with a fill of one R per inch and no range.
inline Survey plain_survey(const std::vector<double>& depths) {
  Section s = loose_section(depths, "plain-fill");
  s.joists->framing_fraction = 0.0;
  s.ceiling = Board{"", {}, r_value(0.45)};
  s.film_inside = s.film_attic = r_value(0.61);
  Survey survey = survey_of({s});
  Material m;
  m.id = m.name = "plain-fill";
  m.typical = r_per_inch(kPerInch);
  m.density_high = Density::from_us(1);
  m.settling_high = 0.0;
  survey.materials = {m};
  survey.proposal->material = m.id;
  return survey;
}

/// The same with nothing bare, as measured: what is covered alone is uncertain.
inline Survey all_covered(Survey survey) {
  for (Section& s : survey.sections) s.bare_share = 0.0;
  return survey;
}

}  // namespace fixtures
