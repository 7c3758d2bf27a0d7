// SPDX-License-Identifier: MIT
#include "read/record_check.hpp"

#include <fmt/core.h>
#include <algorithm>

#include "overjoist/clearing.hpp"
#include "words/nearest.hpp"

// A record held against its survey.
namespace overjoist::io {
namespace {

/// A key of the record's section that belongs to other kinds of section.
struct WrongKey {
  bool wrong;
  std::string_view key;
  KeyFault fault;
};

void check_keys_of_section(Reader& r, const RecordSection& given, const Section& section,
                           const std::string& at) {
  const bool floor = is_floor(section.kind), lid = is_lid(section.kind);
  const KeyFault of_floor = key_fault<F::key_of_floor>,
                 of_lid = floor ? key_fault<F::record_key_of_lid_at_floor>
                                : key_fault<F::record_key_of_lid>;
  const WrongKey keys[] = {{given.bags && !floor, "bags", of_floor},
                           {!given.depths.empty() && !floor, "depths", of_floor},
                           {given.done && floor, "done", key_fault<F::record_key_not_of_floor>},
                           {given.insulation_r && !lid, "insulation_r", of_lid},
                           {given.weatherstripped && !lid, "weatherstripped", of_lid},
                           {given.latched && !lid, "latched", of_lid}};
  for (const WrongKey& k : keys)
    if (k.wrong) r.fault_at(fmt::format("{}/{}", at, k.key), k.fault(k.key));
}

void check_record_sections(Reader& r, const Record& record, const Survey& survey) {
  std::vector<std::string_view> names;
  for (const Section& s : survey.sections) names.push_back(s.name);
  for (std::size_t i = 0; i < record.sections.size(); ++i) {
    const RecordSection& given = record.sections[i];
    const std::string at = fmt::format("/sections/{}", i);
    const auto section = std::find_if(survey.sections.begin(), survey.sections.end(),
                                      [&](const Section& s) { return s.name == given.name; });
    if (section != survey.sections.end()) {
      check_keys_of_section(r, given, *section, at);
      continue;
    }
    if (given.name.empty()) continue;
    const std::string_view near = nearest_name(given.name, names);
    r.fault_at(at + "/name", near.empty()
                                 ? make_fault<F::section_not_of_survey>(shortened(given.name))
                                 : make_fault<F::misspelt_section>(shortened(given.name), near));
  }
}

void check_record_cleared(Reader& r, const Record& record, const Survey& survey,
                          const Tables& tables) {
  const std::vector<Hazard> implied = implied_hazards(survey, tables);
  for (std::size_t i = 0; i < record.cleared.size(); ++i) {
    const ClearedHazard& c = record.cleared[i];
    const auto is = [&](const Hazard& h) {
      return h.kind == c.kind && (c.where.empty() || h.where == c.where);
    };
    const bool known = std::any_of(survey.hazards.begin(), survey.hazards.end(), is) ||
                       std::any_of(implied.begin(), implied.end(), is);
    if (!known && !c.kind.empty())
      r.fault_at(fmt::format("/cleared/{}", i),
                 c.where.empty() ? make_fault<F::hazard_not_of_survey>(c.kind)
                                 : make_fault<F::hazard_not_there>(c.kind, shortened(c.where)));
  }
}

/// A whole count below that of its parts.
void check_record_bags(Reader& r, const Record& record) {
  double sum = 0.0;
  for (const RecordSection& s : record.sections) sum += s.bags.value_or(0.0);
  if (record.bags && !reaches(*record.bags, sum))
    r.fault_at("/bags", sum == 1 ? make_fault<F::no_bags_but_one>(*record.bags)
                                 : make_fault<F::bags_below_sections>(sum, *record.bags));
}

/// What needs no survey: a section that is named twice.
void check_section_twins(Reader& r, const std::vector<RecordSection>& sections) {
  for (std::size_t i = 1; i < sections.size(); ++i) {
    const auto here = sections.begin() + static_cast<std::ptrdiff_t>(i);
    const bool twin = std::any_of(sections.begin(), here,
                                  [&](const RecordSection& s) { return s.name == here->name; });
    if (twin && !here->name.empty())
      r.fault_at(fmt::format("/sections/{}/name", i),
                 make_fault<F::record_section_twice>(shortened(here->name)));
  }
}

/// Product, material and bag of the record, each at its own key; what the survey says of them was
/// checked with the survey.
void check_record_fill(Reader& r, SurveyBuild& build, const Record& record) {
  const auto used = used_proposal(build.survey, record);
  if (!used || !used->batts.empty()) return;
  const bool other_material = !record.material.empty() && !used->product;
  if (record.product || other_material) return check_proposal(r, build, *used, "");
  if (!record.bag_net || !used->product) return;
  Reader of_survey("", &build);  // the survey's chart with the record's bag: the fault is the bag's
  check_proposal(of_survey, build, *used, "");
  if (of_survey.fault_count() == 0) return;
  r.fault_at("/bag_net_lb", make_fault<F::bag_against_chart>(of_survey.faults().front().message));
}

}  // namespace

void check_record(Reader& r, SurveyBuild& build, const Record& record, const Survey* survey) {
  const bool fill_clean = r.clean("/material") && r.clean("/product") && r.clean("/bag_net_lb");
  check_section_twins(r, record.sections);
  check_record_bags(r, record);
  if (survey) {
    build.survey = *survey;
    check_record_sections(r, record, *survey);
    check_record_cleared(r, record, *survey, *build.tables);
    if (!record.survey.empty() && record.survey != survey->id)
      r.fault_at("/survey", make_fault<F::record_of_other_survey>(shortened(record.survey),
                                                                  shortened(survey->id)));
  }
  if (fill_clean && (!record.product || record.bag_net)) check_record_fill(r, build, record);
}

}  // namespace overjoist::io
