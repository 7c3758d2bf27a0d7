// SPDX-License-Identifier: MIT
#pragma once
#include <optional>

#include "overjoist/units.hpp"

/// Heat balance of the air in a vented attic (method eq. 13c): heat through the ceiling warms it,
/// so less goes through than to outdoors. Steady; sun, night sky and gables left out, and so is air
/// that leaks up (outdoor air makes it good). R and UA of the ceiling itself stay what they are:
/// only savings of conduction use the balance. Not validated by measured attic temperatures. Pure
/// and thread safe; defaults are figures of `data/bypasses.json`.
namespace overjoist {

/// An attic under a plain gable roof.
struct AtticShape {
  Area floor;                   ///< all that lies under this roof; > 0
  std::optional<Length> width;  ///< shorter side, along the rafters; empty: sqrt(floor/1.5)
  double rise_in_12 = 0.0;      ///< figure `attic-pitch` unless given; >= 0
};

/// Shorter side: as given, else that of a floor 1.5 times as long as wide.
/// @throws Error{out_of_range} naming the value
Length attic_width(const AtticShape& shape);
/// Area of the roof over the floor, floor/cos(pitch); no overhang.  @throws as attic_width
Area roof_area(const AtticShape& shape);
/// Volume of air: floor times half the rise, the rise over half the width.  @throws as attic_width
Volume attic_volume(const AtticShape& shape);

/// The way of heat from the attic's air to outdoors.
struct AtticLoss {
  Area roof;                 ///< > 0
  Resistance roof_r;         ///< film to film; figure `attic-roof-r` unless given; > 0
  Volume volume;             ///< >= 0
  double air_changes = 0.0;  ///< an hour; figure `attic-air-changes` unless given; >= 0
  double air_heat = 0.0;     ///< Btu/(h cfm F), air_heat_factor(elevation); >= 0
};

/// S = A/R of the roof + air heat x cfm [Btu/(h F)], cfm = air changes x volume / 60.
/// @throws Error{out_of_range} naming the value
Conductance attic_conductance(const AtticLoss& loss);

/// UA of ceilings to outdoors through the air of one attic: UA·S/(UA + S). One S serves all heated
/// floors under one roof: give their UA as a sum, so that what one loses warms the air over all.
/// Floors over rooms without heat add none.
/// @param ceilings  sum of UA, >= 0  @param attic  > 0  @throws Error{out_of_range}
Conductance ua_through_attic(Conductance ceilings, Conductance attic);

}  // namespace overjoist
