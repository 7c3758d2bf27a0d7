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

/// One of the equal strips along the eave that a wedge is cut into.
struct WedgeStrip {
  double share = 0.0;  ///< of the wedge's area
  Length depth;        ///< mean depth: the right volume and mass
  Length even_depth;   ///< even depth of the same mean U: the right heat; never above `depth`
};

/// A wedge as a list of spots, from the plate inwards, both depths from exact integrals, so that any number of strips has the whole
/// wedge's volume and U. Taking `depth` for the heat as well overstates R; more strips lessen that.
/// @param count  >= 1  @returns empty where there is no wedge  @throws Error{out_of_range}
std::vector<WedgeStrip> wedge_strips(const Eave& eave, const EaveFill& fill, std::size_t count);

/// What the wedge lacks against full depth.
struct EaveLoss {
  Area area;                   ///< eave length x width
  Conductance ua;              ///< more heat than the same area at full depth
  Volume volume;               ///< fill that finds no room
  std::optional<Mass> mass;    ///< of that fill; empty without a density
  std::optional<double> bags;  ///< not rounded; empty without a density or a bag's weight
};

/// Loss along an eave. No framing is deducted from the volume: what is missing lies on top, above the joists.
/// @param eave_length  > 0  @param density  settled, with settled depths (in general, that of the depths)  @throws Error{out_of_range}
/// naming the length
EaveLoss eave_loss(const EaveWedge& wedge, Length eave_length, std::optional<Density> density, std::optional<Mass> bag_net);

/// The floor that an eave belongs to.
struct EaveFloor {
  Length eave_length;  ///< all eaves of this kind together; > 0
  Area area;           ///< whole floor, wedge included
};

/// 'Met in the field, not at the eave': working R at each place, and where the target is reached.
struct FieldAndEave {
  Resistance field, wedge, at_plate, whole;
  bool field_meets = false;        ///< full depth
  bool plate_meets = false;        ///< the least depth, over the plate: met everywhere
  bool whole_meets = false;        ///< area-weighted by U
  std::optional<Length> met_from;  ///< distance from the plate's outer edge at which it is reached; empty if nowhere
  double share_short = 0.0;        ///< share of the floor's area that stays below the target
};

/// @param target  working R, > 0  @throws Error{contradiction} if the wedge is larger than the floor
FieldAndEave field_and_eave(const Eave& eave, const EaveFill& fill, const EaveFloor& floor, Resistance target);

}  // namespace overjoist
