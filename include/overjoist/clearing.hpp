// SPDX-License-Identifier: MIT
#pragma once
#include <string>
#include <string_view>
#include <vector>

#include "overjoist/survey.hpp"

/// What clears a hazard: a person, a day and a paper that can be true together. What is blank or
/// cannot be clears nothing, and the result says why.
namespace overjoist {

/// True for a day of the calendar as YYYY-MM-DD.
bool is_day(std::string_view text);
/// True if a text names something: it holds a letter or a digit of any script, and more than words
/// that stand where nothing is named
/// ("none", "n/a", "not known", "no certificate yet"). Blanks, signs without a shape, punctuation
/// and lone marks name nothing.
bool says_something(std::string_view text);

/// True if a hazard of this place lies in the section: its name is the place, in any case.
bool names_section(const Hazard& hazard, const Section& section);
/// True if the place of a hazard is the name of no section: somewhere in the attic, or all of it.
bool names_no_section(const Hazard& hazard, const Survey& survey);

/// Why what is said to clear a hazard does not, to be put after "said to be cleared, but"; "" where
/// it does, or where nothing is said.
std::string clearing_fault(const Hazard& hazard, const Survey& survey, const Tables& tables);
/// Person, day and paper are given and hold.
bool is_cleared(const Hazard& hazard, const Survey& survey, const Tables& tables);

/// What the survey calls a stop without listing it among the hazards: fill or boards taken as
/// asbestos, wet or soiled layers, a fan that ends in the attic. A record can clear them too.
std::vector<Hazard> implied_hazards(const Survey& survey, const Tables& tables);

/// Codes of what the rows of the ceiling and the deck raise: a board may be called after asbestos
/// as a fill may.
std::vector<std::string> board_cautions(const Section& section, const Survey& survey,
                                        const Tables& tables);

/// The hazard's row of cautions.  @returns nullptr if the kind is not known
const CautionRow* caution_row(const Hazard& hazard, const Tables& tables);
/// True if a hazard that is not cleared says that the section holds fill which nobody but the
/// licensed person may touch.
bool hands_off_by_hazard(const Section& section, const Survey& survey, const Tables& tables);
/// True if the layer is such fill and no hazard of its place clears it.
bool hands_off_layer(const Layer& layer, const Section& section, const Survey& survey,
                     const Tables& tables);
/// True if the depth of the layer is not asked for: loose, such fill or lying where a hazard says
/// there is some, and not measured.
bool depth_left_alone(const Layer& layer, const Section& section, const Survey& survey,
                      const Tables& tables);

}  // namespace overjoist
