// SPDX-License-Identifier: MIT
#include "overjoist/clearing.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <cstdint>

namespace overjoist {
namespace {

constexpr std::string_view kWholeAttic = "attic";

/// Parts a day at its hyphens; a year of -1 where it is no day.
struct Day {
  int year = -1, month = 0, day = 0;
};

Day day_of(std::string_view text) {
  if (text.size() != 10 || text[4] != '-' || text[7] != '-') return {};
  const auto part = [&](std::size_t at, std::size_t size) {
    int n = 0;
    const char* const end = text.data() + at + size;
    return std::from_chars(text.data() + at, end, n).ptr == end ? n : -1;
  };
  const Day d{part(0, 4), part(5, 2), part(8, 2)};
  if (d.year < 0 || d.month < 1 || d.month > 12 || d.day < 1) return {};
  constexpr std::array<int, 12> kDays = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
  const bool leap = (d.year % 4 == 0 && d.year % 100 != 0) || d.year % 400 == 0;
  const int last = kDays.at(static_cast<std::size_t>(d.month - 1)) + (d.month == 2 && leap ? 1 : 0);
  return d.day <= last ? d : Day{};
}

bool is_after(const Day& a, const Day& b) {
  return a.year != b.year ? a.year > b.year : a.month != b.month ? a.month > b.month : a.day > b.day;
}

/// First and last of a run of code points.
struct Run {
  std::uint32_t first, last;
};
/// Blanks, and what has no shape: controls, fillers, joiners, marks of direction, variation selectors and tags.
constexpr Run kShapeless[] = {{0x00, 0x20},     {0x7F, 0xA0},       {0xAD, 0xAD},      {0x34F, 0x34F},   {0x61C, 0x61C},   {0x115F, 0x1160},
                              {0x1680, 0x1680}, {0x17B4, 0x17B5},   {0x180B, 0x180F},  {0x2000, 0x200F}, {0x2028, 0x202F}, {0x205F, 0x206F},
                              {0x2800, 0x2800}, {0x3000, 0x3000},   {0x3164, 0x3164},  {0xFE00, 0xFE0F}, {0xFEFF, 0xFEFF}, {0xFFA0, 0xFFA0},
                              {0xFFF0, 0xFFFD}, {0x1D173, 0x1D17A}, {0xE0000, 0xE0FFF}};
/// Signs that name nobody and no paper; above these every sign counts.
constexpr Run kPunctuation[] = {{'!', '/'},   {':', '@'},   {'[', '`'},   {'{', '~'},       {0xA1, 0xA9},     {0xAB, 0xB4},    {0xB6, 0xB9},
                                {0xBB, 0xBF}, {0xD7, 0xD7}, {0xF7, 0xF7}, {0x2010, 0x2027}, {0x2030, 0x205E}, {0x3001, 0x3003}};

template <std::size_t N>
bool lies_in(std::uint32_t point, const Run (&runs)[N]) {
  return std::any_of(std::begin(runs), std::end(runs), [&](const Run& r) { return point >= r.first && point <= r.last; });
}

/// Takes the first code point off the text; what is no UTF-8 counts as a sign without a shape.
std::uint32_t take_point(std::string_view& text) {
  const auto byte = [&](std::size_t i) { return static_cast<std::uint32_t>(static_cast<unsigned char>(text[i])); };
  const std::uint32_t lead = byte(0);
  const std::size_t size = lead < 0x80 ? 1 : lead < 0xC0 ? 0 : lead < 0xE0 ? 2 : lead < 0xF0 ? 3 : 4;
  if (size == 0 || size > text.size()) {
    text.remove_prefix(1);
    return 0;
  }
  std::uint32_t point = size == 1 ? lead : lead & (0x7FU >> size);
  for (std::size_t i = 1; i < size; ++i) point = point << 6U | (byte(i) & 0x3FU);
  text.remove_prefix(size);
  return point;
}

constexpr char lower(char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; }

std::string plain(std::string_view text) {
  while (!text.empty() && text.front() == ' ') text.remove_prefix(1);
  while (!text.empty() && text.back() == ' ') text.remove_suffix(1);
  std::string out(text);
  std::transform(out.begin(), out.end(), out.begin(), lower);
  return out;
}

bool is_whole_attic(const std::string& where) { return where.empty() || where == kWholeAttic; }

/// True if a layer where the hazard may lie is called wet, or soiled where the hazard is about that too.
bool called_wet(const Hazard& hazard, const CautionRow& row, const Survey& survey) {
  const bool of_fill = row.code == "soiled-insulation";
  if (!of_fill && row.code != "moisture") return false;
  const auto wet = [&](const Layer& l) { return l.condition == Condition::wet || (of_fill && l.condition == Condition::soiled); };
  const bool anywhere = names_no_section(hazard, survey);
  return std::any_of(survey.sections.begin(), survey.sections.end(), [&](const Section& s) {
    return (anywhere || names_section(hazard, s)) && std::any_of(s.layers.begin(), s.layers.end(), wet);
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

const CautionRow* row_of_layer(const Layer& layer, const Survey& survey, const Tables& tables) {
  const Material* m = survey.material(tables, layer.material);
  const std::string_view code = m ? tables.caution_of(*m) : std::string_view();
  return code.empty() ? nullptr : &tables.cautions[tables.caution(code)];
}

}  // namespace

bool is_day(std::string_view text) { return day_of(text).year >= 0; }

bool says_something(std::string_view text) {
  while (!text.empty()) {
    const std::uint32_t point = take_point(text);
    if (!lies_in(point, kShapeless) && !lies_in(point, kPunctuation)) return true;
  }
  return false;
}

bool names_section(const Hazard& hazard, const Section& section) {
  return !section.name.empty() && plain(hazard.where) == plain(section.name);
}

bool names_no_section(const Hazard& hazard, const Survey& survey) {
  return std::none_of(survey.sections.begin(), survey.sections.end(), [&](const Section& s) { return names_section(hazard, s); });
}

const CautionRow* caution_row(const Hazard& hazard, const Tables& tables) {
  for (const CautionRow& row : tables.cautions)
    if (std::find(row.hazard_kinds.begin(), row.hazard_kinds.end(), hazard.kind) != row.hazard_kinds.end()) return &row;
  return nullptr;
}

std::string clearing_fault(const Hazard& hazard, const Survey& survey, const Tables& tables) {
  if (!hazard.said_cleared()) return {};
  if (!says_something(hazard.cleared_by)) return "nobody is named who cleared it";
  if (!says_something(hazard.cleared_paper)) return "no paper is named that clears it";
  if (hazard.blank_trade) return "no trade is named that cleared it";
  if (std::string fault = day_fault(hazard, survey, tables); !fault.empty()) return fault;
  const CautionRow* row = caution_row(hazard, tables);
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
    const auto same = [&](const Hazard& x) { return x.where == where && caution_row(x, tables) == row; };
    const auto listed = [&](const Hazard& x) { return caution_row(x, tables) == row && (x.where == where || is_whole_attic(x.where)); };
    if (std::any_of(list.begin(), list.end(), same) || std::any_of(survey.hazards.begin(), survey.hazards.end(), listed)) return;
    list.push_back(std::move(h));
  };
  for (const Section& s : survey.sections)
    for (const Layer& l : s.layers) {
      const CautionRow* row = row_of_layer(l, survey, tables);
      if (row != nullptr && row->level == CautionLevel::stop && !row->hazard_kinds.empty()) add(row->hazard_kinds.front(), s.name);
      if (l.condition == Condition::wet || l.condition == Condition::soiled)
        add(l.condition == Condition::wet ? "wet-insulation" : "soiled-insulation", s.name);
    }
  for (const Equipment& x : survey.equipment)
    if (x.kind == EquipmentKind::fan && x.ends_outdoors == false) add("fan-into-attic", x.where);
  return list;
}

bool hands_off_by_hazard(const Section& section, const Survey& survey, const Tables& tables) {
  return std::any_of(survey.hazards.begin(), survey.hazards.end(), [&](const Hazard& h) {
    return is_hands_off(caution_row(h, tables)) && (names_section(h, section) || names_no_section(h, survey)) &&
           !is_cleared(h, survey, tables);
  });
}

bool hands_off_layer(const Layer& layer, const Section& section, const Survey& survey, const Tables& tables) {
  const CautionRow* row = row_of_layer(layer, survey, tables);
  if (!is_hands_off(row)) return false;
  return std::none_of(survey.hazards.begin(), survey.hazards.end(), [&](const Hazard& h) {
    return caution_row(h, tables) == row && (h.where == section.name || is_whole_attic(h.where)) && is_cleared(h, survey, tables);
  });
}

bool depth_left_alone(const Layer& layer, const Section& section, const Survey& survey, const Tables& tables) {
  const Material* m = survey.material(tables, layer.material);
  if (!m || m->form != Form::loose || layer.thickness || !section.readings.empty() || !is_floor(section.kind)) return false;
  const auto kept_off = [&](const Layer& l) { return hands_off_layer(l, section, survey, tables); };
  return std::any_of(section.layers.begin(), section.layers.end(), kept_off) || hands_off_by_hazard(section, survey, tables);
}

}  // namespace overjoist
