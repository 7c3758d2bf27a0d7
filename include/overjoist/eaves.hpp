// SPDX-License-Identifier: MIT
#pragma once
#include <functional>
#include <optional>
#include <vector>

#include "overjoist/framing.hpp"

/// The wedge at the eave, where the roof comes down below the level of the fill (model 4 and 10, method eq. 10a).
/// Depths count from the ceiling's upper face, which is taken to lie level with the top of the outer wall's plate;
/// horizontal distances from the plate's outer edge. The heat paths are those of the bay, film to film.
/// Not modelled: wind washing, corners where two eaves meet (counted in both), heat that flows sideways, a wedge that
/// reaches the ridge. Pure and thread safe. Reached by a section's `eave` in `assess`.
namespace overjoist {

/// The edge of one roof slope.
struct Eave {
  Length heel;                    ///< top of the outer wall's plate to the underside of the deck, at the plate's outer edge; >= 0
  double rise_in_12 = 0.0;        ///< roof pitch, inches of rise in 12 of run; > 0
  Length vent_gap = inches(1.0);  ///< air under the deck, upright; 0 only without vents; default IRC R806.3, published
  Length baffle;                  ///< thickness of the baffle below that gap, upright; >= 0
};

/// Room for fill at a horizontal distance inside the plate's outer edge: heel + x·pitch/12 - gap - baffle, never below 0.
/// Gap and baffle are taken upright; a gap measured square to the deck is larger upright, 1.05 times at 4 in 12 and 1.41 times at 12 in 12.
/// @param from_plate  >= 0  @throws Error{out_of_range} naming the value
Length eave_room(const Eave& eave, Length from_plate);

/// An even fill of one R per inch. Fill that settles: `level` is the initial one and `rho` the settled R per inch
/// times (1 - settling), since the eave limits what can be blown.
struct EaveFill {
  Length level;     ///< depth in the field, away from the eave; > 0
  Resistivity rho;  ///< > 0
  Resistance ends;  ///< films, ceiling and deck: everything in the path but the fill; > 0
};

/// The strip from the plate's outer edge to where the full level fits.
struct EaveWedge {
  Length width;                ///< horizontal; 0 if the full level fits over the plate
  Length bare_width;           ///< its outermost part, where no fill fits at all
  Length level;                ///< depth in the field
  Length mean_depth;           ///< in the wedge; the level if the width is 0
  Transmittance u, field_u;    ///< film to film, bay: mean of the wedge; full depth
  Resistance working_r;        ///< 1/u - ends: the wedge by itself
  Resistance field_working_r;  ///< rho·level
};

/// Size and worth of the wedge, in closed form: `u·width = bare/S + ln((S + ρL)/(S + ρa₀))·12/(ρ·pitch)`, S = ends.
/// @throws Error{out_of_range} for an eave or a fill outside the ranges above
EaveWedge eave_wedge(const Eave& eave, const EaveFill& fill);

/// Mean U of the wedge for a fill that is not one R per inch (batts, a label's chart, new over old, joists counted):
/// adaptive Simpson over the depth, within 1e-10 of U where `u_at` is smooth or has kinks, 1e-6 where it has jumps.
/// @param u_at  whole path's U at a depth from 0 to `level`  @returns u_at(level) where there is no wedge
/// @throws Error{out_of_range} for an eave or a level outside the ranges above, and what `u_at` throws
Transmittance wedge_u(const Eave& eave, Length level, const std::function<Transmittance(Length)>& u_at);

}  // namespace overjoist
