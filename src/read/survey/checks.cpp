// SPDX-License-Identifier: MIT
#include <fmt/core.h>
#include <algorithm>

#include "read/shapes.hpp"

// What a whole survey contradicts, and its materials among themselves.
namespace overjoist::io {
namespace {

void check_names(Reader& r, const std::vector<Section>& sections) {
  for (std::size_t i = 1; i < sections.size(); ++i) {
    const auto twin =
        std::find_if(sections.begin(), sections.begin() + static_cast<std::ptrdiff_t>(i),
                     [&](const Section& s) { return s.name == sections[i].name; });
    if (twin != sections.begin() + static_cast<std::ptrdiff_t>(i) && !twin->name.empty())
      r.fault_at(fmt::format("/sections/{}/name", i),
                 make_fault<F::section_twice>(shortened(twin->name)));
  }
}

}  // namespace

void check_materials(Reader& reader, const std::vector<Material>& rows, const Tables& tables,
                     std::string_view pointer) {
  for (std::size_t i = 0; i < rows.size(); ++i) {
    const auto here = rows.begin() + static_cast<std::ptrdiff_t>(i);
    const std::string row = fmt::format("{}/{}", pointer, i);
    if (!rows[i].id.empty() &&
        std::any_of(rows.begin(), here, [&](const Material& m) { return m.id == rows[i].id; }))
      reader.fault_at(row + "/id", make_fault<F::material_twice>(rows[i].id));
    const bool known = rows[i].caution.empty() ||
                       std::any_of(tables.cautions.begin(), tables.cautions.end(),
                                   [&](const CautionRow& c) { return c.code == rows[i].caution; });
    if (!known) reader.fault_at(row + "/caution", make_fault<F::unknown_caution>(rows[i].caution));
  }
}

void check_survey(Reader& reader, const SurveyBuild& build) {
  const Survey& survey = build.survey;
  const bool all_clean = reader.fault_count() == 0;
  check_materials(reader, survey.materials, *build.tables, "/materials");
  check_names(reader, survey.sections);
  check_claims(reader, survey);
  for (std::size_t i = 0; i < survey.sections.size(); ++i) {
    if (all_clean || reader.clean("/sections/" + std::to_string(i)))
      check_section(reader, build, i);
    else
      check_section_names(reader, build, i);
  }
  if (survey.proposal && (all_clean || reader.clean("/proposal")))
    check_proposal(reader, build, *survey.proposal, "/proposal");
  for (std::size_t i = 0; i < survey.compare.size(); ++i) {
    const std::string at = fmt::format("/compare/{}", i);
    if (all_clean || reader.clean(at)) check_proposal(reader, build, survey.compare[i], at);
  }
}

}  // namespace overjoist::io
