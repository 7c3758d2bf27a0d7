// SPDX-License-Identifier: MIT
#pragma once
#include <cstdlib>
#include <nlohmann/json.hpp>

#include "overjoist/report.hpp"
#include "overjoist/survey_json.hpp"

/// The whole way from bytes to every face of the result; whatever was read must be worked out or
/// refused with words.
namespace fuzz {

inline void must(bool holds) {
  if (!holds) std::abort();
}

/// No control character that a terminal would obey, and no byte that is not ours or the survey's.
inline bool tame(const std::string& text) {
  for (const char c : text)
    if (static_cast<unsigned char>(c) < 0x20 && c != '\n') return false;
  return text.find('\x7f') == std::string::npos;
}

inline void write_all(const overjoist::Evaluation& e, const overjoist::Tables& tables) {
  using namespace overjoist;
  std::string json, csv, text, order, page;
  write_json(json, e, tables, {});
  const auto back = nlohmann::json::parse(json, nullptr, false);
  must(!back.is_discarded() && back["status"] == "done");
  must(back["cautions"].size() == e.findings.cautions.size());  // never lost
  for (const bool sections : {false, true}) write_csv(csv, e, tables, {}, {sections, false});
  for (const Units units : {Units::us, Units::si}) {
    write_text(text, e, tables, {units, false});
    write_order_text(order, e, tables, {units, false, true, End::high});
    write_html(page, e, tables, units);
  }
  must(tame(text) && tame(order) && tame(page));
}

inline void assess(std::string_view text) {
  static const overjoist::Tables kTables = overjoist::builtin_tables();
  const overjoist::SurveyRead read = overjoist::read_survey(text, kTables);
  if (!read.survey) return;
  try {
    write_all(overjoist::evaluate(*read.survey, kTables), kTables);
  } catch (const overjoist::Error& e) {
    must(*e.what() != 0);
  }
}

}  // namespace fuzz
