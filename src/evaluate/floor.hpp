// SPDX-License-Identifier: MIT
#pragma once
#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "evaluate/job.hpp"
#include "overjoist/cautions.hpp"
#include "overjoist/quantities.hpp"

/// A section with every default filled in: layers, spots and pieces.
namespace overjoist::parts {

constexpr double kHair = 1e-9;  ///< inches: rounding noise

/// A column with its share of the area: one spot, or one combination of voids at that spot.
struct Piece {
  double share = 0.0;
  std::size_t spot = 0;  ///< index of the spot
  Length depth;          ///< reading at the spot
  Column column;
  SpotPaths paths;
  Resistance insulation;
  bool bare = false;  ///< the spot has too little to be insulation
};

/// A section with every default filled in.
struct BuiltSection {
  const Section* survey = nullptr;
  std::vector<BuiltLayer> layers;
  PathEnds ends;
  Framing framing;
  Length joist_width, spacing;   ///< 0 for a hatch
  std::string board;             ///< material id of the ceiling; "" if only its R is known
  bool under_deck = false;       ///< a deck or backing touches the wood
  Length vent_gap;               ///< under the deck, of a slope or an eave
  bool ceiling_assumed = false;  ///< board or spacing was not given
  bool unvented = false;         ///< the attic has no vents, and is to have none
  bool thin_board =
      false;  ///< thinner than the row of its material: that row's weight limit does not hold
  Length bare_below;  ///< depth of a spot that is taken as bare
  std::vector<Spot> spots;
  std::vector<Piece> pieces;
  std::optional<MassPerArea> weight, weight_greatest;
  bool unmeasured = false;         ///< the depth of a fill that nobody may touch is not known
  bool spoiled_lid = false;        ///< a hazard says that what lies on the lid is wet or soiled
  std::optional<BaseFloor> floor;  ///< what new fill would find; of floors over heated rooms alone
};

/// Defaults, layers, spots and pieces of a section.  @throws Error where it cannot be built
BuiltSection build_section(const Section& section, const Job& job);
/// Code of the assumption that names where a row's R per inch comes from.
inline std::string_view rho_code(const Material& m) {
  return m.typical ? "material-r" : m.middle ? "middle-of-range" : "low-of-range";
}

/// The row of a material.  @throws Error{unknown_name} where there is none
const Material& material_of(const Survey& survey, const Tables& tables, const std::string& id,
                            const std::string& where);
/// A layer with its material and defaults.
/// Whether a layer lay there before the job: then R is that of what is aged and settled.
enum class Lain { found, added };
BuiltLayer build_layer(const Layer& layer, const Job& job, const std::string& where, Lain lain);
/// Greatest height of a layer's upper face over the spots where it lies.
Length greatest_top(const BuiltSection& built, std::size_t layer);
/// Depth of a slope or wall that insulation may take.
Length fitting_room(const BuiltSection& built);
/// The same section with other layers in one column: a slope or wall after the work.
BuiltSection with_layers(const BuiltSection& built, std::vector<BuiltLayer> layers,
                         Resistance continuous);
/// True of a layer with paper or foil on it, as far as the survey says.
inline bool is_faced(const Layer& layer) {
  return layer.facing == Facing::kraft || layer.facing == Facing::foil ||
         layer.facing_side.has_value();
}

}  // namespace overjoist::parts
