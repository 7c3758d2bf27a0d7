// SPDX-License-Identifier: MIT
#include <fmt/format.h>
#include <algorithm>

#include "io/report_html.hpp"

// The way from the yardstick figure to the effective R: a bar for where each step ends, and what it takes or adds.
namespace overjoist::io {
namespace {

constexpr double kWide = 460.0, kLeft = 8.0, kRight = 440.0, kRow = 40.0, kBar = 14.0, kAxis = 36.0;

double shown(Resistance r, Units units) { return units == Units::us ? r.us() : r.si(); }

struct Row {
  const LossStep* step = nullptr;
  double from = 0.0, to = 0.0;
  std::string change;  ///< "" for the first
};

/// The steps that change something, as in the table of the text report.
std::vector<Row> rows_of(const HtmlReport& h, const std::vector<LossStep>& steps) {
  std::vector<Row> rows;
  for (std::size_t i = 0; i < steps.size(); ++i) {
    if (i == 0) {
      rows.push_back({steps.data(), 0.0, shown(steps[0].after, h.c.units), ""});
      continue;
    }
    const std::string change = r_change(r_shown(steps[i].after, h.c.units) - r_shown(steps[i - 1].after, h.c.units), h.c.units);
    if (change != "0") rows.push_back({&steps[i], shown(steps[i - 1].after, h.c.units), shown(steps[i].after, h.c.units), change});
  }
  return rows;
}

void draw_bar(Svg& svg, double from, double to, double y, std::string_view css_class) {
  svg.rect(std::min(from, to), y, std::max(std::abs(to - from), 1.0), kBar, css_class);
}

void draw_row(Svg& svg, const HtmlReport& h, const Row& row, const Scale& scale, double y) {
  svg.text(kLeft, y, loss_words(row.step->code), "row-word");
  const std::string value =
      row.change.empty() ? r_cell(row.step->after, h.c.units) : fmt::format("{} to {}", row.change, r_cell(row.step->after, h.c.units));
  svg.text(kRight, y, value, "strong", Anchor::end);
  const std::string_view fill = row.change.empty()     ? "bar fill-old edged"
                                : row.change[0] == '-' ? "bar fill-loss edged"
                                                       : "bar fill-gain edged";
  draw_bar(svg, scale(row.from), scale(row.to), y + 5.0, fill);
  svg.line(scale(row.to), y + 5.0, scale(row.to), y + kRow + 5.0, "quiet-line");
}

void draw_axis(Svg& svg, const HtmlReport& h, const Scale& scale, double y) {
  const double step = round_step(scale.to, 8);
  svg.group_begin("axis");
  svg.line(kLeft, y, kRight, y, "ink");
  for (double value = 0.0; value <= scale.to; value += step) {
    svg.line(scale(value), y, scale(value), y + 5.0, "tick ink");
    svg.text(scale(value), y + 18.0, number_text(value, step < 1.0 ? 1 : 0), "tick-word said", Anchor::middle);
  }
  svg.text(kRight, y + 32.0, h.c.units == Units::us ? "R" : "RSI, m2 K/W", "said", Anchor::end);
  svg.group_end();
}

}  // namespace

void html_losses(const HtmlReport& h, const SectionResult& s) {
  if (s.existing.steps.size() < 3) return;
  const std::vector<Row> rows = rows_of(h, s.existing.steps);
  double most = 0.0;
  std::string words;
  for (const Row& row : rows) {
    most = std::max({most, row.from, row.to});
    words += fmt::format("{}{}: {}{}", words.empty() ? "" : "; ", loss_words(row.step->code), row.change.empty() ? "" : row.change + " to ",
                         r_cell(row.step->after, h.c.units));
  }
  if (!(most > 0)) return;
  const Scale scale{0.0, most, kLeft, kRight};
  const double axis = 20.0 + kRow * static_cast<double>(rows.size() + 1);
  h.html.open("figure", {{"class", "losses"}});
  h.html.paragraph("Where the yardstick figure goes", "small-head");
  {
    Svg svg(h.html, {kWide, axis + kAxis}, "From the yardstick to the real figure", words + '.');
    for (std::size_t i = 0; i < rows.size(); ++i) draw_row(svg, h, rows[i], scale, 14.0 + kRow * static_cast<double>(i));
    const double y = 14.0 + kRow * static_cast<double>(rows.size());
    svg.text(kLeft, y, "what it is worth in all (effective)", "strong");
    svg.text(kRight, y, r_cell(s.existing.effective_r, h.c.units), "strong", Anchor::end);
    draw_bar(svg, scale(0.0), scale(shown(s.existing.effective_r, h.c.units)), y + 5.0, "bar-effective fill-new edged");
    draw_axis(svg, h, scale, axis);
  }
  h.html.element("figcaption",
                 fmt::format("The insulation alone is worth {} (working): that is the figure to hold against a code or a label.",
                             r_text(s.existing.working_r, h.c.units)));
  h.html.close();
}

}  // namespace overjoist::io
