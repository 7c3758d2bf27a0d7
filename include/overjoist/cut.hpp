// SPDX-License-Identifier: MIT
#pragma once
#include <optional>
#include <string>
#include <vector>

#include "overjoist/survey.hpp"
#include "overjoist/units.hpp"

/// A floor as a cut across its joists shows it: what a drawing to scale needs, and nothing that is
/// not worked out. Filled by `evaluate`; the pages of `assess --format html` draw it. Plain data.
namespace overjoist {

struct CutLayer {
  std::string material;  ///< words
  Lies lies = Lies::between;
  bool loose =
      false;  ///< above the joists it lies over them too; a batt or board between them does not
  bool comes_out = false;  ///< before anything is added
};

/// What lies at one reading, and what comes on top of it.
struct CutSpot {
  Length reading;
  std::vector<Length> layers;  ///< thickness of each layer, from the ceiling up
  Length surface, stays;  ///< height above the ceiling, as found and once what comes out is gone
  Length new_low,
      new_high;  ///< new thickness once settled, for each end of the band; 0 where nothing is added
};

struct DepthShare {
  Length depth;
  double share = 0.0;  ///< of the section's area
};

struct SectionCut {
  Length joist_width, joist_depth, spacing;
  bool under_deck = false;
  std::string ceiling;                      ///< words for the board; "" if only its R is known
  std::optional<Length> ceiling_thickness;  ///< empty: not known
  std::vector<CutLayer> layers;             ///< from the ceiling up
  CutSpot least, greatest;                  ///< at the least and the greatest reading
  std::vector<DepthShare>
      depths;  ///< rising; at most `kMostDepths`: more are put together in equal steps of depth
};
inline constexpr std::size_t kMostDepths = 40;

}  // namespace overjoist
