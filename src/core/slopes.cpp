// SPDX-License-Identifier: MIT
#include "overjoist/slopes.hpp"

#include <fmt/format.h>
#include <algorithm>
#include <cmath>

#include "overjoist/diagnostics.hpp"

namespace overjoist {

Length fitting_depth(const Cavity& cavity) {
  const double depth = cavity.depth.us(), gap = cavity.vent_gap.us();
  if (!(gap >= 0 && depth > gap && std::isfinite(depth)))
    throw Error(ErrorCode::out_of_range, "cavity", fmt::format("a vent gap of {:g} in. leaves nothing of a cavity of {:g} in.", gap, depth),
                "the depth must be above the gap, and the gap 0 or more");
  return cavity.depth - cavity.vent_gap;
}

namespace {

/// Thickness at which the layer lies in `room`.
Length thickness_in(const BuiltLayer& layer, Length room) {
  if (layer.batt && reaches(room.us(), (layer.label_thickness * kLeastSqueeze).us())) return std::min(layer.label_thickness, room);
  if (layer.board && reaches(room.us(), layer.thickness.us())) return layer.thickness;
  if (!layer.batt && !layer.board) return room;
  const Length given = layer.batt ? layer.label_thickness : layer.thickness;
  throw Error(
      ErrorCode::out_of_range, "cavity",
      fmt::format("a {} of {:g} in. does not fit in {:g} in.", layer.batt ? "batt" : "board", given.us(), room.us()),
      layer.batt ? "no data exist below half a batt's thickness; take a thinner one" : "boards do not compress; take a thinner one");
}

}  // namespace

CavityR cavity_r(const Cavity& cavity, const BuiltLayer& layer, std::optional<Density> density) {
  CavityR result;
  result.fill = thickness_in(layer, fitting_depth(cavity));
  Framing wood = cavity.framing;
  wood.depth = cavity.depth;
  if (!(wood.fraction >= 0 && wood.fraction < 1))
    throw Error(ErrorCode::out_of_range, "cavity", fmt::format("a framing share of {:g} is not 0 or more and below 1", wood.fraction),
                "give wood width / spacing");
  const PathEnds ends = {cavity.ends.below, cavity.ends.above + cavity.continuous};
  Column column;
  column.count = 1;
  column.thickness[0] = result.fill;
  const bool touched = cavity.closed && !(cavity.vent_gap > Length{});
  const SpotPaths paths = spot_paths(ends, wood, {&layer, 1}, column, touched);
  result.cavity = paths.bay;
  result.wood = paths.joist;
  result.u = spot_u(wood, paths);
  result.effective = inverse(result.u);
  result.working = paths.bay - cavity.ends.both();
  if (!density) return result;
  result.cavity_weight = *density * result.fill;
  result.weight = *result.cavity_weight * (1.0 - wood.fraction);
  return result;
}

LeastR against_least(const Cavity& cavity, const BuiltLayer& layer, Resistance least) {
  if (!(least > Resistance{}))
    throw Error(ErrorCode::out_of_range, "cavity", fmt::format("a least R of {:g} is not above 0", least.us()),
                "give the R that is asked for");
  LeastR result;
  result.found = cavity_r(cavity, layer);
  result.meets = reaches(result.found.working.us(), least.us());
  if (!result.meets) result.short_by = least - result.found.working;
  return result;
}

}  // namespace overjoist
