// SPDX-License-Identifier: MIT
#pragma once
#include <string>

#include "overjoist/materials.hpp"

/// What an advisor takes to the house and fills in afterwards. Command line: `overjoist form`.
namespace overjoist {

/// Appends an empty survey as JSON: the keys that most surveys use, each with an empty text to fill
/// in or to strike out. The check of a survey names every place that is still empty.
void write_empty_survey(std::string& out);

/// Appends the field sheet, an HTML page to print: what is asked in the order in which a person
/// walks, with room to write. The kinds of hazards, leaks and materials are those of the tables.
void write_field_sheet(std::string& out, const Tables& tables);

}  // namespace overjoist
