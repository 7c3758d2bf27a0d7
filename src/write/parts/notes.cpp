// SPDX-License-Identifier: MIT
#include <algorithm>

#include <fmt/format.h>

#include "write/parts/parts.hpp"

namespace overjoist::io {
namespace {

void append_sentence(std::string& out, std::string_view text) {
  out += text;
  if (!text.empty() && text.back() != '.' && text.back() != '!' && text.back() != '?') out += '.';
}

// " Who decides: licensed electrician." or nothing.
void append_labelled(std::string& out, std::string_view label, std::string_view text) {
  if (text.empty() || text == "-") return;
  out += label;
  append_sentence(out, text);
}

std::string rendered(std::string_view text, const Values& values, Units units) {
  std::string out;
  render(out, text, values, units);
  return out;
}

std::string named_text(const Caution& caution, std::string_view name) {
  const Value* value = find_value(caution.values, name);
  const auto* text = value != nullptr ? std::get_if<std::string>(value) : nullptr;
  return text != nullptr ? *text : std::string("(not known)");
}

std::string_view level_heading(CautionLevel level) {
  switch (level) {
    case CautionLevel::stop:
      return "Cautions: stop";
    case CautionLevel::fix_first:
      return "Cautions: fix first";
    case CautionLevel::care:
      return "Cautions: take care";
    case CautionLevel::note:
      break;
  }
  return "Cautions: good to know";
}

void write_level(const Sheet& c, CautionLevel level) {
  const bool any = std::any_of(c.findings.cautions.begin(), c.findings.cautions.end(),
                               [&](const Caution& x) { return x.level == level; });
  if (!any) return;
  c.page.heading(level_heading(level));
  // The banner has said it in full: here only what and where.
  if (level == CautionLevel::stop)
    return c.page.item(short_list(c, level) + ". See the top of this report.", 2);
  for (const Caution& caution : c.findings.cautions)
    if (caution.level == level)
      c.page.item(caution_words(caution, c.tables.cautions.at(caution.row), c.units), 2);
}

// "what" may hold the value itself; otherwise it follows after a colon.
std::string assumption_words(const Assumption& assumption, const AssumptionRow& row, Units units) {
  std::string out;
  if (!assumption.where.empty()) out = assumption.where + ": ";
  std::string what = rendered(assumption.what(row), assumption.values, units);
  const Value* value = find_value(assumption.values, "value");
  if (value != nullptr && assumption.what(row).find("{value}") == std::string::npos) {
    while (!what.empty() && what.back() == '.') what.pop_back();
    what += ": ";
    append_value(what, *value, units, Toward::up, true);
  }
  append_sentence(out, what);
  const std::string why = rendered(assumption.why(row), assumption.values, units);
  if (!why.empty()) append_sentence(out += ' ', why);
  return out;
}

void write_assumptions(const Sheet& c) {
  if (c.findings.assumptions.empty()) return;
  c.page.heading("What was assumed");
  for (const Assumption& assumption : c.findings.assumptions)
    c.page.item(assumption_words(assumption, c.tables.assumptions.at(assumption.row), c.units), 2);
}

void write_sources(const Sheet& c) {
  c.page.heading("Where the numbers come from");
  for (const std::size_t i : c.findings.sources) {
    const SourceRow& row = c.tables.sources.at(i);
    c.page.item(fmt::format("{} ({})", row.title, row.status), 2);
  }
  std::vector<std::string> stamps;
  stamps.reserve(c.tables.stamps.size());
  for (const TableStamp& stamp : c.tables.stamps)
    stamps.push_back(fmt::format("{}{}{} {}", stamp.name, stamp.version.empty() ? "" : " ",
                                 stamp.version, stamp.hash));
  c.page.paragraph(fmt::format("Tables, version and hash: {}.", fmt::join(stamps, ", ")), 2, 4);
}

}  // namespace

std::string caution_words(const Caution& caution, const CautionRow& row, Units units) {
  std::string out;
  if (!caution.where.empty() && caution.where != "attic") out = caution.where + ": ";
  append_sentence(out, rendered(caution.text(row), caution.values, units));
  if (caution.cleared)
    return out + fmt::format(" Cleared by {} on {} ({}).", named_text(caution, "by"),
                             named_text(caution, "date"), named_text(caution, "paper"));
  if (const std::string* but = not_cleared_but(caution))
    append_sentence(out += " Said to be cleared, but ", *but);
  const bool holds_up = caution.level <= CautionLevel::fix_first;
  append_labelled(out, holds_up ? " Who decides: " : " Who: ",
                  rendered(caution.who(row), caution.values, units));
  append_labelled(out, " What clears it: ", rendered(caution.clears(row), caution.values, units));
  return out;
}

std::string short_list(const Sheet& c, CautionLevel level) {
  std::vector<std::string> parts;
  for (const Caution& caution : c.findings.cautions) {
    if (caution.level != level) continue;
    const CautionRow& row = c.tables.cautions.at(caution.row);
    std::string part = row.brief.empty() ? row.code : row.brief;
    if (!caution.where.empty() && caution.where != "attic") part += " (" + caution.where + ")";
    if (std::find(parts.begin(), parts.end(), part) == parts.end())
      parts.push_back(std::move(part));
  }
  return fmt::format("{}", fmt::join(parts, "; "));
}

void write_stop_banner(const Sheet& c) {
  if (!c.findings.stopped()) return;
  c.page.blank();
  c.page.stop("no insulation work until these are cleared");
  int number = 0;
  for (const Caution& caution : c.findings.cautions) {
    if (caution.level != CautionLevel::stop) break;
    c.page.numbered(++number, caution_words(caution, c.tables.cautions.at(caution.row), c.units),
                    5);
  }
  c.page.paragraph("The numbers below are for planning only.");
}

void write_notes(const Sheet& c) {
  for (const CautionLevel level :
       {CautionLevel::stop, CautionLevel::fix_first, CautionLevel::care, CautionLevel::note})
    write_level(c, level);
  write_basis(c);
}

void write_basis(const Sheet& c) {
  write_assumptions(c);
  write_sources(c);
  c.page.blank();
  std::string closing = c.units == Units::us ? "R is in h ft2 F/Btu. " : "";
  closing +=
      "Figures are estimates. Local code, the authority that enforces it, and licensed practice "
      "come first.";
  c.page.paragraph(closing);
}

}  // namespace overjoist::io
