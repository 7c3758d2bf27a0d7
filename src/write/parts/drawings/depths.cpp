// SPDX-License-Identifier: MIT
#include <fmt/core.h>
#include <algorithm>
#include <cmath>

#include "write/parts/drawings/drawings.hpp"

// The depth readings on a line, as large as their share of the area, with the average and the
// levels to blow to.
namespace overjoist::io {
namespace {

constexpr double kDepthsWide = 460.0, kDepthsLeft = 14.0, kDepthsRight = 446.0,
                 kDepthsFirstRow = 14.0, kDepthsRow = 16.0, kDepthsStrip = 34.0, kDepthsAxis = 34.0;

struct Mark {
  Length at;
  std::string words;
  std::string_view css_class;
};

std::vector<Mark> marks_of(const HtmlReport& h, const SectionEnds& s) {
  std::vector<Mark> marks;
  const auto level = [&](const TopUp& t, std::string_view css_class) {
    if (t.initial_level) marks.push_back({*t.initial_level, level_words(h, t), css_class});
  };
  level(s.high, "mark-high level");
  if (!same(s, &TopUp::initial_level)) level(s.low, "mark-low level dash");
  marks.push_back(
      {s.found.existing.mean_depth,
       "yardstick average " + depth_text(s.found.existing.mean_depth, h.c.units, Toward::down),
       "mark-mean mark dash"});
  marks.push_back({s.found.cut->joist_depth,
                   "joist top " + depth_text(s.found.cut->joist_depth, h.c.units, Toward::nearest),
                   "mark-joist ink"});
  return marks;
}

/// Room for the words on the side of the line where there is more of it.
void draw_mark(Svg& svg, const Mark& mark, double x, double y, double axis) {
  svg.line(x, y - 10.0, x, axis, mark.css_class);
  const bool right = x < (kDepthsLeft + kDepthsRight) / 2.0;
  svg.text(right ? x + 4.0 : x - 4.0, y, mark.words, "mark-word",
           right ? Anchor::start : Anchor::end);
}

void draw_axis(Svg& svg, const Scale& scale, double y, Units units) {
  const double step = round_step(scale.to, 10);
  svg.group_begin("axis");
  svg.line(kDepthsLeft, y, kDepthsRight, y, "ink");
  for (double value = 0.0; value <= scale.to; value += step) {
    svg.line(scale(value), y, scale(value), y + 5.0, "tick ink");
    svg.text(scale(value), y + 18.0, tick_text(value, step), "tick-word said", Anchor::middle);
  }
  svg.text(kDepthsRight, y + 31.0,
           units == Units::us ? "depth above the ceiling, in." : "depth above the ceiling, cm",
           "said", Anchor::end);
  svg.group_end();
}

std::string description(const HtmlReport& h, const SectionEnds& s, const std::vector<Mark>& marks) {
  std::string out = "Depths read, with their share of the area: ";
  for (const DepthShare& d : s.found.cut->depths)
    out += fmt::format("{} {} %, ", depth_text(d.depth, h.c.units, Toward::down),
                       number_text(d.share * 100.0, 0));
  out += "marked: ";
  for (std::size_t i = 0; i < marks.size(); ++i) out += (i == 0 ? "" : ", ") + marks[i].words;
  return out.back() == '.' ? out : out + '.';  // "in." ends it already
}

}  // namespace

void html_depths(const HtmlReport& h, const SectionEnds& s) {
  if (!s.found.cut || s.found.cut->depths.empty()) return;
  const std::vector<Mark> marks = marks_of(h, s);
  double greatest = axis_length(s.found.cut->depths.back().depth, h.c.units);
  for (const Mark& m : marks) greatest = std::max(greatest, axis_length(m.at, h.c.units));
  const Scale scale{0.0, greatest, kDepthsLeft, kDepthsRight - 2.0};
  const double axis =
      kDepthsFirstRow + kDepthsRow * static_cast<double>(marks.size()) + kDepthsStrip;
  h.html.open("figure", {{"class", "depths"}});
  h.html.paragraph("The readings", "small-head");
  {
    Svg svg(h.html, {kDepthsWide, axis + kDepthsAxis}, "The depth readings",
            description(h, s, marks));
    for (std::size_t i = 0; i < marks.size(); ++i)
      draw_mark(svg, marks[i], scale(axis_length(marks[i].at, h.c.units)),
                kDepthsFirstRow + kDepthsRow * static_cast<double>(i), axis);
    draw_axis(svg, scale, axis, h.c.units);
    for (const DepthShare& d : s.found.cut->depths)
      svg.circle(scale(axis_length(d.depth, h.c.units)), axis - kDepthsStrip / 2.0,
                 3.0 + 16.0 * std::sqrt(d.share) * 0.9, "reading fill-old edged");
  }
  h.html.element(
      "figcaption",
      "Each dot is a depth that was read; the larger the dot, the more of the area it stands for.");
  h.html.close();
}

}  // namespace overjoist::io
