// SPDX-License-Identifier: MIT
#pragma once
#include <optional>
#include <vector>

#include "overjoist/framing.hpp"
#include "overjoist/ranges.hpp"
#include "overjoist/two_column.hpp"

/// Top-up with loose fill blown flat to one initial level (model 10).
namespace overjoist {

inline constexpr double kLevelStep = 0.25;  ///< inch; levels are rounded up to it

/// The material that is blown in, from a table row or from a label's chart.
struct NewFill {
  Resistivity rho;        ///< R per inch settled; unused with a chart
  double settling = 0.0;  ///< share of the initial thickness, 0 <= s < 1; unused with a chart
  std::optional<Density> density;        ///< settled, high end; unused with a chart
  const CoverageChart* chart = nullptr;  ///< wins over the fields above
  double label_share = 1.0;              ///< of the R that the chart prints

  Length settled(Length initial) const;
  double settled_slope(Length initial) const;  ///< d settled / d initial
  Resistance r(Length settled_thickness) const;
  Resistivity r_slope(Length settled_thickness) const;
  std::optional<MassPerArea> weight(Length settled_thickness) const;
  /// Initial thickness whose weight is `weight`; 0 if the density is not known.
  Length initial_for_weight(MassPerArea weight) const;
};

/// One spot as the new fill finds it.
struct BaseSpot {
  double share = 0.0;
  Length surface;         ///< height of the old surface above the ceiling
  Resistance bay;         ///< film to film, what stays
  Resistance joist;       ///< film to film, what stays
  MassPerArea weight;     ///< of what stays, in the bay, high density
  std::size_t spot = 0;   ///< reading spot that it belongs to: voids make several of one
  Resistance planes{};    ///< film to film by isothermal planes, what stays; used by the framing
                          ///< methods planes and mean
  std::size_t stack = 0;  ///< index in the floor's stacks, where it has any
  bool bare = false;      ///< nothing lies there
};

/// The floor that is blown on.
struct BaseFloor {
  std::vector<BaseSpot> spots;  ///< shares add to 1
  PathEnds ends;
  Framing framing;
  bool under_deck = false;
  std::vector<BayStack> stacks{};  ///< of the spots; only for the framing method two_column
};

/// Both R-values of a floor, and their slopes with the level [R per inch].
struct FloorR {
  Resistance working, effective;
  Resistivity working_slope, effective_slope;
  Resistance of(Basis basis) const { return basis == Basis::working ? working : effective; }
  Resistivity slope_of(Basis basis) const {
    return basis == Basis::working ? working_slope : effective_slope;
  }
};

/// R of the floor after blowing to an initial level; a level below every surface adds nothing.
FloorR floor_r(const BaseFloor& floor, const NewFill& fill, Length level);

/// A level, and what is asked of it.
struct LevelOf {
  Basis basis;
  Length level;
};
/// Scatter of the local U over the spots after blowing to a level: of the bays for the working R,
/// of both paths for the effective R.
/// @param each  keeps the mean of each spot
CoveredScatter floor_scatter(const BaseFloor& floor, const NewFill& fill, const LevelOf& at,
                             bool each = false);

/// One spot after blowing to a level.
struct SpotAfter {
  double bay_r = 0.0, joist_r = 0.0;  ///< film to film
  double both_u = 0.0;                ///< of both paths, by the framing's method
};
SpotAfter spot_after(const BaseFloor& floor, const BaseSpot& spot, const NewFill& fill,
                     Length level);
/// The same under a new layer of that settled thickness and R.
SpotAfter spot_under(const BaseFloor& floor, const BaseSpot& spot, Length settled, Resistance r);

/// New settled thickness at a spot for an initial level.
Length new_settled(const BaseSpot& spot, const NewFill& fill, Length level);

/// Least initial level at which the basis value reaches `target`: a bracketed solve with the
/// derivative; the upper end of the bracket is returned, so the value there is never below the
/// target, and within 1e-7 R of it. No limit of room or chart is applied.  @returns empty if no
/// level reaches it: under a deck the joists cap effective R
/// @throws Error{out_of_range} if the fill adds no R
/// @param steps  if given, receives the number of evaluations (benchmarks)
std::optional<Length> level_for(const BaseFloor& floor, const NewFill& fill, Basis basis,
                                Resistance target, int* steps = nullptr);

}  // namespace overjoist
