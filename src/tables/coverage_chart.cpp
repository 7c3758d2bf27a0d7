// SPDX-License-Identifier: MIT
#include "overjoist/coverage_chart.hpp"

#include <fmt/core.h>
#include <algorithm>
#include <cmath>
#include <cstddef>
#include <string>
#include <utility>

#include "overjoist/diagnostics.hpp"

namespace overjoist {
namespace {

/// Greatest share by which weight x coverage may miss the bag's net weight before a chart
/// contradicts itself.
constexpr double kChartSlack = 0.05;

[[noreturn]] void bad_row(const ChartRow& row, const std::string& what, const char* hint) {
  const std::string name = fmt::format("chart row R-{:g}", row.r.us());
  throw Error(ErrorCode::contradiction, name, fmt::format("{}: {}", name, what), hint);
}

void check_row(const ChartRow& row, const ChartRow* below, Mass bag_net) {
  constexpr const char* kCopyAgain = "copy the row again from the bag's label";
  if (row.initial && *row.initial < row.settled)
    bad_row(row,
            fmt::format("initial thickness {:g} in. is below settled thickness {:g} in.",
                        row.initial->us(), row.settled.us()),
            kCopyAgain);
  if (row.coverage) {
    const double lb = row.weight.us() * row.coverage->us();
    if (!(std::fabs(lb / bag_net.us() - 1.0) <= kChartSlack))
      bad_row(row,
              fmt::format("weight {:g} lb/ft2 x coverage {:g} ft2 = {:.1f} lb, but the bag holds "
                          "{:g} lb net (allowed: 5 % off)",
                          row.weight.us(), row.coverage->us(), lb, bag_net.us()),
              "coverage is the greatest net area of one bag; check it, the weight and the bag's "
              "net weight");
  }
  if (!below) return;
  if (!(row.settled > below->settled))
    bad_row(row, "settled thickness does not rise with R", kCopyAgain);
  if (!(row.weight > below->weight))
    bad_row(row, "weight per ft2 does not rise with R", kCopyAgain);
  if (row.initial && below->initial && !(*row.initial > *below->initial))
    bad_row(row, "initial thickness does not rise with R", kCopyAgain);
}

}  // namespace

CoverageChart::CoverageChart(std::vector<ChartRow> rows, Mass bag_net, double settling_share)
    : bag_net_(bag_net) {
  std::sort(rows.begin(), rows.end(),
            [](const ChartRow& a, const ChartRow& b) { return a.r < b.r; });
  const ChartRow* below = nullptr;
  for (const ChartRow& row : rows) {
    check_row(row, below, bag_net);
    const Length initial = row.initial ? *row.initial : row.settled / (1.0 - settling_share);
    if (!points_.empty() && !(initial > points_.back().initial))
      bad_row(row, "initial thickness does not rise with R",
              "give the initial thickness of every row");
    // The label rule asks for bag count and weight: the larger of the two counts, rounding against
    // us.
    const double by_weight = row.weight.us() / bag_net.us();
    const double bags = row.coverage ? std::max(by_weight, 1.0 / row.coverage->us()) : by_weight;
    points_.push_back({row.settled, initial, row.r, row.weight, bags});
    below = &row;
  }
}

namespace {

/// Index of the upper end of the segment that holds x among rising knots, with 0 as the knot before
/// the first.
template <class Points, class Get>
std::size_t segment(const Points& points, double x, Get get) {
  if (points.empty()) return 0;
  const auto last = points.end() - 1;
  const auto upper =
      std::partition_point(points.begin(), last, [&](const auto& p) { return x > get(p); });
  return static_cast<std::size_t>(upper - points.begin());
}

struct Line {
  double x0, y0, x1, y1;
  double at(double x) const { return y0 + (x - x0) * slope(); }
  double slope() const { return (y1 - y0) / (x1 - x0); }
};

/// The line that holds x; beyond the last knot it runs from 0 through the last one (the last row's
/// proportion).
template <class Points, class X, class Y>
Line line_at(const Points& points, double x, X gx, Y gy) {
  const std::size_t i = segment(points, x, gx);
  if (i == 0 || x > gx(points[i])) return {0.0, 0.0, gx(points[i]), gy(points[i])};
  return {gx(points[i - 1]), gy(points[i - 1]), gx(points[i]), gy(points[i])};
}

}  // namespace

ChartPoint CoverageChart::at(Length settled) const {
  if (points_.empty())
    throw Error(ErrorCode::missing, "chart", "the chart has no rows",
                "copy the rows from the bag's label");
  if (!reaches(last_settled().us(), settled.us()))
    throw Error(ErrorCode::out_of_range, "chart",
                fmt::format("settled thickness {:g} in. is beyond the chart's last row, {:g} in.",
                            settled.us(), last_settled().us()),
                "add the label's rows for higher R");
  const auto x = [](const Point& p) { return p.settled.us(); };
  const auto value = [&](auto y) { return line_at(points_, settled.us(), x, y).at(settled.us()); };
  return {r_value(value([](const Point& p) { return p.r.us(); })),
          inches(value([](const Point& p) { return p.initial.us(); })),
          MassPerArea::from_us(value([](const Point& p) { return p.weight.us(); })),
          value([](const Point& p) { return p.bags_per_ft2; })};
}

Length CoverageChart::settled_for_initial(Length initial) const {
  return inches(line_at(
                    points_, initial.us(), [](const Point& p) { return p.initial.us(); },
                    [](const Point& p) { return p.settled.us(); })
                    .at(initial.us()));
}
std::vector<CoverageChart::Knot> CoverageChart::knots() const {
  std::vector<Knot> list;
  for (const Point& p : points_) list.push_back({p.initial, p.settled, p.r});
  return list;
}
Length CoverageChart::initial_for_weight(MassPerArea weight) const {
  return inches(line_at(
                    points_, weight.us(), [](const Point& p) { return p.weight.us(); },
                    [](const Point& p) { return p.initial.us(); })
                    .at(weight.us()));
}
double CoverageChart::settled_slope(Length initial) const {
  return line_at(
             points_, initial.us(), [](const Point& p) { return p.initial.us(); },
             [](const Point& p) { return p.settled.us(); })
      .slope();
}
Resistance CoverageChart::r_at(Length settled) const {
  return r_value(line_at(
                     points_, settled.us(), [](const Point& p) { return p.settled.us(); },
                     [](const Point& p) { return p.r.us(); })
                     .at(settled.us()));
}
Resistivity CoverageChart::r_slope(Length settled) const {
  return r_per_inch(line_at(
                        points_, settled.us(), [](const Point& p) { return p.settled.us(); },
                        [](const Point& p) { return p.r.us(); })
                        .slope());
}

}  // namespace overjoist
