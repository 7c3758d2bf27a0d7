// SPDX-License-Identifier: MIT
#pragma once
#include <optional>

#include "overjoist/framing.hpp"

/// Cavities between rafters or studs: closed slopes and knee walls (model 2 to 5, method eq. 10b).
/// Depth counts square to the surface. Not modelled: wind in an open-backed wall, settling inside a cavity, the
/// triangle where slope and floor meet. Pure and thread safe. Reached by sections of those kinds in `assess`.
namespace overjoist {

/// One wall or slope of wood with something between.
struct Cavity {
  Length depth;           ///< actual rafter or stud depth; > 0
  Length vent_gap;        ///< air kept free under the deck; 0 where the cavity is filled whole
  Framing framing;        ///< share and R per inch of the wood; its own `depth` is not used
  PathEnds ends;          ///< below: inside film and board; above: what touches the cold side, and its film
  Resistance continuous;  ///< insulation that covers wood and cavity alike, part of the working R; 0 if none
  bool closed = true;     ///< a deck or backing touches the wood on the cold side
};

/// What a cavity is worth with one layer in it.
struct CavityR {
  Length fill;                               ///< thickness of the layer as it lies
  Resistance cavity, wood;                   ///< both paths, film to film
  Transmittance u;                           ///< parallel path of the two
  Resistance effective;                      ///< 1/u
  Resistance working;                        ///< layer as it lies + continuous: to be held against a code or label R
  std::optional<MassPerArea> cavity_weight;  ///< in the cavity itself; empty without a density
  std::optional<MassPerArea> weight;         ///< per ft2 of the whole face, wood taken out: for bags
};

/// Depth that fits: depth - vent gap [in.].  @throws Error{out_of_range} if nothing is left, or a length is below 0
Length fitting_depth(const Cavity& cavity);

/// Worth of a cavity. Loose fill takes the depth that fits; a batt is squeezed into it (method eq. 2) and never fluffed; a board keeps its
/// thickness. Wood counts whole where a deck or backing touches it and no gap is kept, else only up to the surface of
/// the layer (method eq. 4: what stands proud loses heat through its sides).
/// @param density  as it lies, for loose fill: the dense-pack row of the table, or the label's
/// @throws Error{out_of_range} if a board or a batt at half its thickness does not fit
CavityR cavity_r(const Cavity& cavity, const BuiltLayer& layer, std::optional<Density> density = {});

/// A cavity held against a least R of its insulation.
struct LeastR {
  CavityR found;
  bool meets = false;   ///< working R reaches it
  Resistance short_by;  ///< what is missing; 0 if met
};

/// @param least  working R, > 0. For a knee wall the trade often asks for R-19: common practice, no published source.
LeastR against_least(const Cavity& cavity, const BuiltLayer& layer, Resistance least);

}  // namespace overjoist
