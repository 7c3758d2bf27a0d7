// SPDX-License-Identifier: MIT
#pragma once
#include <optional>
#include <vector>

#include "evaluate/evidence.hpp"
#include "evaluate/floor.hpp"
#include "evaluate/offer.hpp"
#include "overjoist/strata.hpp"

/// A section with its materials at either side of what they leave open.
namespace overjoist::parts {

/// Layers at either side of their range; empty where they have none.
struct LayerSides {
  bool ranged = false;
  std::vector<BuiltLayer> low, high;
};
/// Every generic material at its low and its high R per inch; a label has no range, unless its batt
/// is squeezed or the goods are new.
/// True of a layer that comes in with a label of its own.
bool any_new_label(const BuiltSection& built);
LayerSides layer_sides(const BuiltSection& built, const RangePrior& prior);

/// Mean U of the section with other layers in its place.
TwoUs mean_u(const BuiltSection& built, const std::vector<BuiltLayer>& layers);

/// A floor and the fill that comes on it.
struct SideFloor {
  BaseFloor floor;
  NewFill fill;
};
/// As it is, with a bare place of no area behind its spots, and at either side.
struct FloorSides {
  SideFloor middle, low, high;
  std::optional<SideFloor>
      printed{};  ///< the low side with new labels as printed, where it differs
};
FloorSides floor_sides(const BuiltSection& built, const LayerSides& layers, const Blow& blow,
                       const RangePrior& prior);

}  // namespace overjoist::parts
