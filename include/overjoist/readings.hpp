// SPDX-License-Identifier: MIT
#pragma once
#include <string>
#include <vector>

#include "overjoist/units.hpp"

/// Depth readings, and the merged list of spots that every sum runs over.
namespace overjoist {

/// One depth reading (model 1): from the upper face of the ceiling to the top of the insulation.
/// 0 is a bare spot and is kept. A span ("4 to 6") is stored as its two ends, each of half weight.
struct Reading {
  Length depth;         ///< total depth; the sum of `layer_depths` if those are given
  Length depth_to;      ///< other end of a span; equal to `depth` otherwise
  double share = -1.0;  ///< share of the section's area; < 0 if not given
  bool flush =
      false;  ///< "flush": depth is the joist depth, filled in when the section is evaluated
  std::vector<Length>
      layer_depths;  ///< from the ceiling up, one for each layer; empty if not given
  std::string where;
};

/// A distinct depth (or distinct set of layer depths) with its share of the area.
struct Spot {
  double share = 0.0;
  Length depth;
  const std::vector<Length>* layer_depths =
      nullptr;  ///< into the readings; null if only a total depth is known
};

/// Spots sorted by depth, equal ones merged, shares adding to 1: order of readings cannot matter
/// (design 2). `flush` readings take `joist_depth`.
/// @throws Error{contradiction} if only some readings carry a share, or shares do not add to 1
/// within 0.01
std::vector<Spot> merge_readings(const std::vector<Reading>& readings, Length joist_depth);

/// Area-weighted mean depth.
Length mean_depth(const std::vector<Spot>& spots);

}  // namespace overjoist
