// SPDX-License-Identifier: MIT
#include "overjoist/clearing.hpp"

#include <algorithm>

#include "evaluate/clearing_words.hpp"
#include "overjoist/findings.hpp"

namespace overjoist {
namespace {

bool is_whole_attic(const std::string& where) { return where.empty() || where == kWholeAttic; }

/// True if a layer where the hazard may lie is called wet, or soiled where the hazard is about that
/// too.
bool called_wet(const Hazard& hazard, const CautionRow& row, const Survey& survey) {
  const bool of_fill = row.code == "soiled-insulation";
  if (!of_fill && row.code != "moisture") return false;
  const auto wet = [&](const Layer& l) {
    return l.condition == Condition::wet || (of_fill && l.condition == Condition::soiled);
  };
  const bool anywhere = names_no_section(hazard, survey);
  return std::any_of(survey.sections.begin(), survey.sections.end(), [&](const Section& s) {
    return (anywhere || names_section(hazard, s)) &&
           std::any_of(s.layers.begin(), s.layers.end(), wet);
  });
}

/// Why the day cannot be that of a paper.
std::string day_fault(const Hazard& hazard, const Survey& survey, const Tables& tables) {
  const Day day = day_of(hazard.cleared_date);
  if (day.year < 0) return "its date is no day of the calendar";
  if (day.year < tables.figure("clearing-first-year")) return "its date is too long ago";
  if (day.year > tables.figure("clearing-last-year")) return "its date lies too far ahead";
  const Day job = day_of(survey.job_date);
  if (job.year >= 0 && is_after(day, job)) return "its date is after the day of the job";
  Day latest = day_of(survey.surveyed_date);
  if (latest.year < 0) return {};
  latest.year += static_cast<int>(tables.figure("clearing-years-after-survey"));
  return is_after(day, latest) ? "its date is years after the survey" : "";
}

bool is_hands_off(const CautionRow* row) { return row != nullptr && row->hands_off; }

const CautionRow* row_of_material(std::string_view id, const Survey& survey, const Tables& tables) {
  const Material* m = survey.material(tables, id);
  const std::string_view code = m ? tables.caution_of(*m) : std::string_view();
  return code.empty() ? nullptr : &tables.cautions[tables.caution(code)];
}

/// Ids of all that a section is said to be made of, from the ceiling up.
std::vector<std::string_view> materials_of(const Section& section) {
  std::vector<std::string_view> ids;
  if (section.ceiling) ids.emplace_back(section.ceiling->material);
  for (const Layer& l : section.layers) ids.emplace_back(l.material);
  if (section.deck) ids.emplace_back(section.deck->material);
  return ids;
}

/// True if no hazard of its place clears what such a material raises.
bool hands_off_material(std::string_view id, const Section& section, const Survey& survey,
                        const Tables& tables) {
  const CautionRow* row = row_of_material(id, survey, tables);
  if (!is_hands_off(row)) return false;
  return std::none_of(survey.hazards.begin(), survey.hazards.end(), [&](const Hazard& h) {
    return caution_row(h, tables) == row && (h.where == section.name || is_whole_attic(h.where)) &&
           is_cleared(h, survey, tables);
  });
}

}  // namespace

bool names_section(const Hazard& hazard, const Section& section) {
  return !section.name.empty() && plain(hazard.where) == plain(section.name);
}

bool names_no_section(const Hazard& hazard, const Survey& survey) {
  return std::none_of(survey.sections.begin(), survey.sections.end(),
                      [&](const Section& s) { return names_section(hazard, s); });
}

const CautionRow* caution_row(const Hazard& hazard, const Tables& tables) {
  for (const CautionRow& row : tables.cautions)
    if (std::find(row.hazard_kinds.begin(), row.hazard_kinds.end(), hazard.kind) !=
        row.hazard_kinds.end())
      return &row;
  return nullptr;
}

std::string clearing_fault(const Hazard& hazard, const Survey& survey, const Tables& tables) {
  if (!hazard.said_cleared()) return {};
  if (!says_something(hazard.cleared_by)) return "nobody is named who cleared it";
  if (!says_something(hazard.cleared_paper)) return "no paper is named that clears it";
  if (speaks_against(hazard.cleared_paper)) return "its paper says that it is not cleared";
  const CautionRow* row = caution_row(hazard, tables);
  if (row != nullptr && row->level == CautionLevel::stop && is_household(hazard.cleared_by))
    return "a stop is cleared by a licensed or trained person, not by who lives there";
  if (hazard.blank_trade) return "no trade is named that cleared it";
  if (std::string fault = day_fault(hazard, survey, tables); !fault.empty()) return fault;
  if (row != nullptr && !hazard.by_record && called_wet(hazard, *row, survey))
    return "the same survey still calls a layer there wet or soiled";
  return {};
}

bool is_cleared(const Hazard& hazard, const Survey& survey, const Tables& tables) {
  return hazard.said_cleared() && clearing_fault(hazard, survey, tables).empty();
}

std::vector<Hazard> implied_hazards(const Survey& survey, const Tables& tables) {
  std::vector<Hazard> list;
  const auto add = [&](const std::string& kind, const std::string& where) {
    Hazard h{kind, where, "", "", "", false};
    const CautionRow* row = caution_row(h, tables);
    const auto same = [&](const Hazard& x) {
      return x.where == where && caution_row(x, tables) == row;
    };
    const auto listed = [&](const Hazard& x) {
      return caution_row(x, tables) == row && (x.where == where || is_whole_attic(x.where));
    };
    if (std::any_of(list.begin(), list.end(), same) ||
        std::any_of(survey.hazards.begin(), survey.hazards.end(), listed))
      return;
    list.push_back(std::move(h));
  };
  for (const Section& s : survey.sections) {
    for (const std::string_view id : materials_of(s)) {
      const CautionRow* row = row_of_material(id, survey, tables);
      if (row != nullptr && row->level == CautionLevel::stop && !row->hazard_kinds.empty())
        add(row->hazard_kinds.front(), s.name);
    }
    for (const Layer& l : s.layers)
      if (l.condition == Condition::wet || l.condition == Condition::soiled)
        add(l.condition == Condition::wet ? "wet-insulation" : "soiled-insulation", s.name);
  }
  for (const Equipment& x : survey.equipment)
    if (x.kind == EquipmentKind::fan && x.ends_outdoors == false) add("fan-into-attic", x.where);
  for (const Section& s : survey.sections)
    for (const Bypass& b : s.bypasses) {
      const BypassRow* row = tables.bypass(b.kind);
      if (row && row->fan && b.ends_outdoors == false)
        add("fan-into-attic", b.where.empty() ? s.name : b.where);
    }
  return list;
}

std::vector<std::string> board_cautions(const Section& section, const Survey& survey,
                                        const Tables& tables) {
  std::vector<std::string> codes;
  for (const std::optional<Board>* board : {&section.ceiling, &section.deck}) {
    const CautionRow* row = *board ? row_of_material((*board)->material, survey, tables) : nullptr;
    if (row != nullptr) codes.push_back(row->code);
  }
  return codes;
}

bool hands_off_by_hazard(const Section& section, const Survey& survey, const Tables& tables) {
  return std::any_of(survey.hazards.begin(), survey.hazards.end(), [&](const Hazard& h) {
    return is_hands_off(caution_row(h, tables)) &&
           (names_section(h, section) || names_no_section(h, survey)) &&
           !is_cleared(h, survey, tables);
  });
}

bool hands_off_layer(const Layer& layer, const Section& section, const Survey& survey,
                     const Tables& tables) {
  return hands_off_material(layer.material, section, survey, tables);
}

bool depth_left_alone(const Layer& layer, const Section& section, const Survey& survey,
                      const Tables& tables) {
  const Material* m = survey.material(tables, layer.material);
  if (!m || m->form != Form::loose || layer.thickness || !section.readings.empty() ||
      !is_floor(section.kind))
    return false;
  const auto kept_off = [&](std::string_view id) {
    return hands_off_material(id, section, survey, tables);
  };
  const std::vector<std::string_view> ids = materials_of(section);
  return std::any_of(ids.begin(), ids.end(), kept_off) ||
         hands_off_by_hazard(section, survey, tables);
}

}  // namespace overjoist
