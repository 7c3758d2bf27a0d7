// SPDX-License-Identifier: MIT
#pragma once
#include <string>
#include <string_view>
#include <vector>

#include "write/document/html.hpp"

/// Drawings inside a page, made from numbers of a result. Coordinates are in the drawing's own
/// units, x to the right and y down, written with two decimals; a page scales the whole to its
/// width. Colours and lines are classes of the style sheet:
///   fills  fill-old fill-new fill-wood fill-board fill-soft fill-loss fill-gain
///   lines  ink quiet level mark dash
/// Words in a drawing are ours; texts of a survey go into title and description, or into the page
/// beside it.
namespace overjoist::io {

/// A coordinate or length as SVG takes it: "12.5", never "1e-3".
std::string svg_number(double value);

struct SvgSize {
  double width = 0.0, height = 0.0;
};

enum class Anchor { start, middle, end };

class Svg {
 public:
  /// Opens the picture. `title` names it, `description` says in words what it shows: both are what
  /// a screen reader reads.
  Svg(Html& page, SvgSize size, std::string_view title, std::string_view description);
  ~Svg() { page_.close(); }
  Svg(const Svg&) = delete;
  Svg& operator=(const Svg&) = delete;

  void rect(double x, double y, double width, double height, std::string_view css_class);
  /// Marks over a fill, so that it is known without its colour: dots, or slanted strokes. Once
  /// `with_hatches` was called.
  enum class Hatch { dots, strokes };
  void hatch(double x, double y, double width, double height, Hatch kind);
  void with_hatches();
  void line(double x1, double y1, double x2, double y2, std::string_view css_class);
  void circle(double x, double y, double radius, std::string_view css_class);
  /// Corners joined by straight lines, closed: x, y, x, y ...
  void polygon(const std::vector<double>& corners, std::string_view css_class);
  void text(double x, double y, std::string_view words, std::string_view css_class = {},
            Anchor anchor = Anchor::start);
  void group_begin(std::string_view css_class);
  void group_end() { page_.close(); }

 private:
  Html& page_;
  std::string dots_, strokes_;
};

/// Numbers on a line of the drawing: `from` lies at `at_from`, `to` at `at_to`.
struct Scale {
  double from = 0.0, to = 1.0, at_from = 0.0, at_to = 1.0;
  double operator()(double value) const {
    return at_from + (value - from) * (at_to - at_from) / (to - from);
  }
};
/// A round step that divides 0 to `greatest` into at most `most` parts: 1, 2, 5, 10 ...
double round_step(double greatest, int most);
/// The number at a tick, with as many decimals as steps of this size need.
std::string tick_text(double value, double step);

}  // namespace overjoist::io
