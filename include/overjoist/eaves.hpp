// SPDX-License-Identifier: MIT
#pragma once
#include <functional>
#include <optional>
#include <vector>

#include "overjoist/framing.hpp"

/// The wedge at the eave, where the roof comes down below the level of the fill (model 4 and 10,
/// method eq. 10a). Depths count from the ceiling's upper face, which is taken to lie level with
/// the top of the outer wall's plate; horizontal distances from the plate's outer edge. The heat
/// paths are those of the bay, film to film. Not modelled: wind washing, corners where two eaves
/// meet (counted in both). Heat that flows sideways counts by `arc_factor`. Pure and thread safe.
/// Reached by a section's `eave` in `assess`.
namespace overjoist {

/// The edge of one roof slope.
struct Eave {
  Length heel;  ///< top of the outer wall's plate to the underside of the deck, at the plate's
                ///< outer edge; >= 0
  double rise_in_12 = 0.0;  ///< roof pitch, inches of rise in 12 of run; > 0
  Length vent_gap = inches(
      1.0);  ///< air under the deck, upright; 0 only without vents; default IRC R806.3, published
  Length baffle;  ///< thickness of the baffle below that gap, upright; >= 0
};

/// Horizontal distance from the plate's outer edge at which the room, heel + x·pitch/12 - gap -
/// baffle, reaches a depth; 0 if it does over the plate. Gap and baffle are taken upright; a gap
/// measured square to the deck is larger upright, 1.05 times at 4 in 12 and 1.41 times at 12 in 12.
/// @param depth  >= 0  @throws Error{out_of_range} naming the value
Length eave_distance(const Eave& eave, Length depth);

/// Length of the way that heat takes through the wedge's fill over the upright depth there:
/// φ/tan φ, φ = atan(pitch/12). It leaves square to the deck and comes in square to the ceiling, so
/// it runs along arcs about the line where both would meet: x·φ long where x·tan φ is the depth.
/// 0.96 at 4 in 12, 0.79 at 12 in 12. R of what lies in the wedge counts times this: then 18 wedges
/// with 24 in. of field beside them are within 2 % of two dimensions (tests/oracle).
/// @throws Error{out_of_range} naming the value
double arc_factor(const Eave& eave);

/// Mean U of the wedge, the strip from the plate's outer edge to where the full level fits, by the
/// depth that fits: adaptive Simpson over the depth, within 1e-10 of U where `u_at` is smooth or
/// has kinks, 1e-6 where it has jumps. It ends after at most 10,000 pieces, whatever the function.
/// Of a floor `wedge_means` gives the same in steps that grow with its spots only.
/// @param u_at  whole path's U at a depth from 0 to `level`  @returns u_at(level) where there is no
/// wedge
/// @throws Error{out_of_range} for an eave or a level outside the ranges above, for a U that is not
/// finite, and what `u_at` throws
Transmittance wedge_u(const Eave& eave, Length level,
                      const std::function<Transmittance(Length)>& u_at);

}  // namespace overjoist
