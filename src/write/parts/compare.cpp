// SPDX-License-Identifier: MIT
#include <fmt/core.h>
#include <algorithm>
#include <array>

#include "write/parts/parts.hpp"

// One attic, several proposals: a table for each end of the band, then what each of them alone
// warns of.
namespace overjoist::io {
namespace {

constexpr std::size_t kCellWidth = 11, kNameWidth = 24;

std::string fits_cell(const CompareEnd& end) {
  switch (end.status) {
    case TopUpStatus::needed:
      return end.reached ? "yes" : "field only";
    case TopUpStatus::met:
      return "met now";
    case TopUpStatus::unreachable:
      return "no";
    case TopUpStatus::not_applicable:
      break;
  }
  return std::string(kNone);
}

std::string amount_cell(const CompareRow& row, const Totals& t) {
  if (row.method == Method::blown) return t.bags ? bags_text(*t.bags) : "not known";
  if (row.method == Method::sprayed)
    return t.board_ft ? number_text(*t.board_ft, 0, Toward::up) + " bd ft" : "0";
  double packages = 0.0;
  for (const PackageCount& n : t.packages) packages += n.count;
  return number_text(packages, 0, Toward::up) + " pkg";
}

std::string price_cell(const Report& c, const Totals& t) {
  return t.material ? money_text(*t.material, c.e.currency) : std::string("not priced");
}

void write_row(const Report& c, const CompareRow& row, const CompareEnd& end) {
  const std::string depth =
      end.depth ? depth_text(*end.depth, c.units, Toward::up) : std::string(kNone);
  const std::array<std::string, 5> cells = {
      depth, r_cell(end.working_r, c.units), amount_cell(row, end.totals),
      price_cell(c, end.totals),
      end.over_weight.value_or(false) ? std::string("too heavy") : fits_cell(end)};
  const std::array<std::string_view, 5> views = {cells[0], cells[1], cells[2], cells[3], cells[4]};
  c.page.below(cut_to(row.name, kNameWidth - 3), views, kCellWidth);
  if (end.status == TopUpStatus::unreachable && !end.limited_section.empty() &&
      c.e.sections.size() > 1)
    c.page.aside(fmt::format("does not fit in {} ({})", end.limited_section, word(end.limited_by)),
                 6);
  if (!end.weight) return;
  std::string weight = weight_text(*end.weight, c.units, Toward::up) + " on the ceiling";
  if (end.over_weight && end.weight_limit)
    weight += fmt::format(", {} {}", *end.over_weight ? "OVER its limit of" : "within",
                          weight_text(*end.weight_limit, c.units, Toward::down));
  c.page.aside(weight, 6);
}

void write_end(const Report& c, End end) {
  const Resistance target = c.e.target.ends()[end];
  c.page.heading(fmt::format("Compared for {} ({})", c.target(target), word(c.e.target.basis)));
  static constexpr std::array<std::string_view, 5> kHeads = {"new depth", "working R", "it takes",
                                                             "material", "fits"};
  c.page.head("", kHeads, kCellWidth);
  for (const CompareRow& row : c.e.compare) write_row(c, row, row.ends[end]);
}

bool said(const std::vector<Caution>& list, const Caution& caution) {
  return std::any_of(list.begin(), list.end(), [&](const Caution& x) {
    return x.row == caution.row && x.where == caution.where;
  });
}

/// Cautions that the report does not say anyway, with the values of this row.
void write_own_cautions(const Report& c, const CompareRow& row) {
  bool first = true;
  for (const Caution& caution : row.cautions) {
    if (said(c.findings.cautions, caution) && caution.values.empty()) continue;
    const std::string words = caution_words(caution, c.tables.cautions.at(caution.row), c.units);
    const auto same = [&](const Caution& x) {
      return x.row == caution.row && x.where == caution.where &&
             caution_words(x, c.tables.cautions.at(x.row), c.units) == words;
    };
    if (std::any_of(c.findings.cautions.begin(), c.findings.cautions.end(), same)) continue;
    if (first) c.page.paragraph(row.name + " also:", 2);
    first = false;
    c.page.item(fmt::format("{}: {}", word(caution.level), words), 4);
  }
}

}  // namespace

void write_compare(const Report& c) {
  if (c.e.compare.empty()) return;
  if (!c.one_target()) write_end(c, End::low);
  write_end(c, End::high);
  c.page.paragraph(
      "Depth, R and weight are those of the largest floor; the first row is the survey's "
      "own proposal.",
      2);
  for (std::size_t i = 1; i < c.e.compare.size(); ++i) write_own_cautions(c, c.e.compare[i]);
}

}  // namespace overjoist::io
