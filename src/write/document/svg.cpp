// SPDX-License-Identifier: MIT
#include "write/document/svg.hpp"

#include <cmath>

#include "words/words.hpp"

namespace overjoist::io {

std::string svg_number(double value) { return number_text(value, 2); }

Svg::Svg(Html& page, SvgSize size, std::string_view title, std::string_view description)
    : page_(page) {
  const std::string number = std::to_string(page.next_id());
  const std::string title_id = "t" + number, text_id = "d" + number;
  page.open("svg", {{"role", "img"},
                    {"aria-labelledby", title_id + " " + text_id},
                    {"viewBox", "0 0 " + svg_number(size.width) + " " + svg_number(size.height)}});
  page.element_plain("title", title, {{"id", title_id}});
  page.element_plain("desc", description, {{"id", text_id}});
}

void Svg::rect(double x, double y, double width, double height, std::string_view css_class) {
  page_.leaf("rect", {{"x", svg_number(x)},
                      {"y", svg_number(y)},
                      {"width", svg_number(width)},
                      {"height", svg_number(height)},
                      {"class", css_class}});
}

void Svg::with_hatches() {
  const std::string number = std::to_string(page_.next_id());
  dots_ = "dots" + number;
  strokes_ = "strokes" + number;
  page_.open("defs");
  page_.open("pattern",
             {{"id", dots_}, {"width", "7"}, {"height", "7"}, {"patternUnits", "userSpaceOnUse"}});
  circle(1.5, 1.5, 0.8, "hatch-dot");
  circle(5.0, 5.0, 0.8, "hatch-dot");
  page_.close();
  page_.open(
      "pattern",
      {{"id", strokes_}, {"width", "8"}, {"height", "8"}, {"patternUnits", "userSpaceOnUse"}});
  line(0, 8, 8, 0, "hatch-line");
  page_.close();
  page_.close();
}

void Svg::hatch(double x, double y, double width, double height, Hatch kind) {
  page_.leaf("rect", {{"x", svg_number(x)},
                      {"y", svg_number(y)},
                      {"width", svg_number(width)},
                      {"height", svg_number(height)},
                      {"fill", "url(#" + (kind == Hatch::dots ? dots_ : strokes_) + ")"}});
}

void Svg::line(double x1, double y1, double x2, double y2, std::string_view css_class) {
  page_.leaf("line", {{"x1", svg_number(x1)},
                      {"y1", svg_number(y1)},
                      {"x2", svg_number(x2)},
                      {"y2", svg_number(y2)},
                      {"class", css_class}});
}

void Svg::circle(double x, double y, double radius, std::string_view css_class) {
  page_.leaf("circle", {{"cx", svg_number(x)},
                        {"cy", svg_number(y)},
                        {"r", svg_number(radius)},
                        {"class", css_class}});
}

void Svg::polygon(const std::vector<double>& corners, std::string_view css_class) {
  std::string points;
  for (std::size_t i = 0; i + 1 < corners.size(); i += 2)
    points += (i == 0 ? "" : " ") + svg_number(corners[i]) + "," + svg_number(corners[i + 1]);
  page_.leaf("polygon", {{"points", points}, {"class", css_class}});
}

void Svg::text(double x, double y, std::string_view words, std::string_view css_class,
               Anchor anchor) {
  static constexpr std::string_view kAnchors[] = {"", "middle", "end"};
  page_.element_plain("text", words,
                      {{"x", svg_number(x)},
                       {"y", svg_number(y)},
                       {"text-anchor", kAnchors[static_cast<std::size_t>(anchor)]},
                       {"class", css_class}});
}

void Svg::group_begin(std::string_view css_class) { page_.open("g", {{"class", css_class}}); }

double round_step(double greatest, int most) {
  double step = std::pow(10.0, std::floor(std::log10(greatest / most)));
  for (const double factor : {1.0, 2.0, 5.0, 10.0})
    if (step * factor * most >= greatest) return step * factor;
  return step * 10.0;
}

std::string tick_text(double value, double step) {
  int decimals = 0;
  for (double s = step; s < 0.99 && decimals < 4; s *= 10.0) ++decimals;
  return number_text(value, decimals);
}

}  // namespace overjoist::io
