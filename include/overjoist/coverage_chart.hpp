// SPDX-License-Identifier: MIT
#pragma once
#include <optional>
#include <vector>

#include "overjoist/units.hpp"

/// The coverage chart of a bag's label. Immutable once made; safe to share between threads.
namespace overjoist {

/// One row of a bag label's coverage chart (16 CFR 460.12(b)(2)).
struct ChartRow {
  Resistance r;
  Length settled;                 ///< minimum settled thickness
  std::optional<Length> initial;  ///< initial installed thickness
  std::optional<Area> coverage;   ///< maximum net coverage of one bag
  MassPerArea weight;             ///< minimum weight per ft2
};

/// What the new layer is at one settled thickness, from a chart.
struct ChartPoint {
  Resistance r;
  Length initial;
  MassPerArea weight;
  double bags_per_ft2 = 0.0;
};

/// A bag label's chart: functions of the new layer's own settled thickness, linear between rows,
/// proportional from zero below the first row, refused beyond the last (model 11).
class CoverageChart {
 public:
  CoverageChart() = default;
  /// @param rows  one or more, any order
  /// @param bag_net  net weight of a bag, > 0
  /// @param settling_share  used for rows without an initial thickness, 0 <= share < 1
  /// @throws Error{contradiction} naming the row (R of the row) where weight x coverage is more
  /// than 5 % off
  ///   the bag's net weight, or thickness or weight does not rise with R, or initial < settled
  CoverageChart(std::vector<ChartRow> rows, Mass bag_net, double settling_share);

  bool empty() const { return points_.empty(); }
  /// @param settled  0 .. last row's thickness  @throws Error{out_of_range} beyond the last row
  ChartPoint at(Length settled) const;
  /// Settled thickness of a layer blown to `initial`; beyond the last row it goes on in the last
  /// row's proportion so that a solver can step outside; `last_settled()` says where the chart
  /// ends.
  Length settled_for_initial(Length initial) const;
  /// The rows in rising order: between them every figure of a layer runs straight.
  struct Knot {
    Length initial, settled;
    Resistance r;
  };
  std::vector<Knot> knots() const;
  /// Initial thickness of a layer that weighs `weight`, extended like settled_for_initial.
  Length initial_for_weight(MassPerArea weight) const;
  /// R and its slope dR/d(settled) [R per inch], extended like settled_for_initial.
  Resistance r_at(Length settled) const;
  Resistivity r_slope(Length settled) const;
  double settled_slope(Length initial) const;  ///< d settled / d initial
  Length first_settled() const { return points_.empty() ? Length{} : points_.front().settled; }
  Length last_settled() const { return points_.empty() ? Length{} : points_.back().settled; }
  Mass bag_net() const { return bag_net_; }

 private:
  struct Point {
    Length settled, initial;
    Resistance r;
    MassPerArea weight;
    double bags_per_ft2;
  };
  std::vector<Point> points_;
  Mass bag_net_;
};

}  // namespace overjoist
