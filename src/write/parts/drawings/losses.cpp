// SPDX-License-Identifier: MIT
#include <fmt/core.h>
#include <algorithm>

#include "write/parts/drawings/drawings.hpp"

// The way from the yardstick figure to the effective R: a bar for where each step ends, and what it
// takes or adds.
namespace overjoist::io {
namespace {

constexpr double kLossesWide = 460.0, kLossesLeft = 8.0, kLossesRight = 440.0, kLossesRow = 40.0,
                 kLossesBar = 14.0, kLossesFirst = 14.0, kLossesAxis = 36.0;

double shown(Resistance r, Units units) { return units == Units::us ? r.us() : r.si(); }

/// A step, or where the steps have led to.
struct Row {
  std::string words, value;
  double from = 0.0, to = 0.0;
  std::string_view css_class;
};

Row total_row(const HtmlReport& h, std::string_view words, Resistance r,
              std::string_view css_class) {
  return {std::string(words), r_cell(r, h.c.units), 0.0, shown(r, h.c.units), css_class};
}

/// The steps that change something, as in the table of the text report; the working R where the
/// insulation ends, the effective R last.
std::vector<Row> rows_of(const HtmlReport& h, const ExistingResult& x) {
  const std::vector<LossStep>& steps = x.steps;
  std::vector<Row> rows = {
      total_row(h, loss_words(steps.front().code), steps.front().after, "bar fill-old edged")};
  for (std::size_t i = 1; i < steps.size(); ++i) {
    if (steps[i].code == "films-and-ceiling")
      rows.push_back(total_row(h, "the insulation alone (working)", x.working_r,
                               "total bar-working fill-old edged"));
    const std::string change = r_change(
        r_shown(steps[i].after, h.c.units) - r_shown(steps[i - 1].after, h.c.units), h.c.units);
    if (change == "0") continue;
    rows.push_back({std::string(loss_words(steps[i].code)),
                    fmt::format("{} to {}", change, r_cell(steps[i].after, h.c.units)),
                    shown(steps[i - 1].after, h.c.units), shown(steps[i].after, h.c.units),
                    change[0] == '-' ? "bar fill-loss edged" : "bar fill-gain edged"});
  }
  rows.push_back(total_row(h, "what it is worth in all (effective)", x.effective_r,
                           "total bar-effective fill-new edged"));
  return rows;
}

void draw_row(Svg& svg, const Row& row, const Scale& scale, double y, bool last) {
  const bool total = row.css_class.substr(0, 5) == "total";
  svg.text(kLossesLeft, y, row.words, total ? "strong" : "");
  svg.text(kLossesRight, y, row.value, "strong", Anchor::end);
  const double from = scale(row.from), to = scale(row.to);
  svg.rect(std::min(from, to), y + 5.0, std::max(std::abs(to - from), 1.0), kLossesBar,
           row.css_class);
  if (!last) svg.line(to, y + 5.0, to, y + kLossesRow + 5.0, "quiet-line");
}

void draw_axis(Svg& svg, const HtmlReport& h, const Scale& scale, double y) {
  const double step = round_step(scale.to, 8);
  svg.group_begin("axis");
  svg.line(kLossesLeft, y, kLossesRight, y, "ink");
  for (double value = 0.0; value <= scale.to; value += step) {
    svg.line(scale(value), y, scale(value), y + 5.0, "tick ink");
    svg.text(scale(value), y + 18.0, tick_text(value, step), "tick-word said", Anchor::middle);
  }
  svg.text(kLossesRight, y + 32.0, h.c.units == Units::us ? "R" : "RSI, m2 K/W", "said",
           Anchor::end);
  svg.group_end();
}

}  // namespace

void html_losses(const HtmlReport& h, const SectionResult& s) {
  if (s.existing.steps.size() < 3) return;
  const std::vector<Row> rows = rows_of(h, s.existing);
  double most = 0.0;
  std::string words;
  for (const Row& row : rows) {
    most = std::max({most, row.from, row.to});
    words += fmt::format("{}{}: {}", words.empty() ? "" : "; ", row.words, row.value);
  }
  if (!(most > 0)) return;
  const Scale scale{0.0, most, kLossesLeft, kLossesRight};
  const double axis = kLossesFirst + 6.0 + kLossesRow * static_cast<double>(rows.size());
  h.html.open("figure", {{"class", "losses"}});
  h.html.paragraph("Where the yardstick figure goes", "small-head");
  {
    Svg svg(h.html, {kLossesWide, axis + kLossesAxis}, "From the yardstick to the real figure",
            words + '.');
    for (std::size_t i = 0; i < rows.size(); ++i)
      draw_row(svg, rows[i], scale, kLossesFirst + kLossesRow * static_cast<double>(i),
               i + 1 == rows.size());
    draw_axis(svg, h, scale, axis);
  }
  h.html.element("figcaption",
                 "The working figure is the one to hold against a code or a label; the effective "
                 "one is what the bill feels.");
  h.html.close();
}

}  // namespace overjoist::io
