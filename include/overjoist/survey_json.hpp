// SPDX-License-Identifier: MIT
#pragma once
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "overjoist/diagnostics.hpp"
#include "overjoist/survey.hpp"

/// Reads surveys and tables from JSON text, straight into the structs: no tree is built.
/// The file format is data/survey.schema.json; data/README.md names the tables.
namespace overjoist {

struct SurveyRead {
  std::optional<Survey> survey;  ///< empty if there is any fault
  std::string id;                ///< as far as it was read, also when the survey is refused
  Diagnostics faults;            ///< all faults of the text, in order of place
};

/// Reads one survey. A byte order mark is passed over; all faults are reported in one go, with
/// line, column and JSON Pointer; a syntax fault, bad encoding or a number that overflows ends the
/// list. Limits: 16 MiB, nesting 32, and the counts of the schema. Never throws for bad input.
/// @param compare  ids of materials that are added to the survey's list of alternatives
SurveyRead read_survey(std::string_view text, const Tables& tables,
                       const std::vector<std::string>& compare = {});

/// The tables embedded in the program at build time, parsed and prepared once.
/// @throws std::logic_error if an embedded table is faulty (a bug: tests hold them)
Tables builtin_tables();

/// Adds the rows of a user's material table; a row with a known id replaces the old one. `name` is
/// shown in the result's table list. On any fault nothing is changed and the faults are returned.
Diagnostics add_materials(Tables& tables, std::string_view text, std::string_view name);

/// A rebate rule of a file of its own, or why it could not be read.
struct RebateRead {
  std::optional<RebateRule> rule;
  Diagnostics faults;
};
/// Reads a rebate rule file, format "overjoist-rebate".  @returns the rule, or all faults
RebateRead read_rebate(std::string_view text, const Tables& tables);

/// The faults with line and column by their pointers, in order of place; where a pointer leads
/// beyond what stands in `text`, those of the nearest value around it.
Diagnostics place(std::string_view text, Diagnostics faults);

}  // namespace overjoist
