// SPDX-License-Identifier: MIT
#pragma once
#include <optional>
#include <vector>

#include "overjoist/materials.hpp"
#include "overjoist/units.hpp"

/// Vents that an attic needs (method 17d), and counts of what goes in beside the fill (method 17c).
/// Pure and thread safe.
namespace overjoist {

/// What is known of an attic's vents. Net free areas, passive vents only.
struct Vents {
  Area attic;                    ///< area that is ventilated, > 0
  std::optional<Area> high;      ///< within 3 ft of the highest point
  std::optional<Area> low;       ///< at the eaves
  std::optional<int> zone;       ///< climate zone 0..8
  std::optional<bool> retarder;  ///< a vapor retarder of class I or II on the warm side
};

enum class VentVerdict { meets, short_of, unknown };

/// The verdict and what it rests on. More vents never stand in for sealing.
struct VentNeed {
  Area required, required_reduced;  ///< at `vent-ratio` and at `vent-ratio-reduced`
  VentVerdict verdict = VentVerdict::unknown;
  bool reduced = false;         ///< met at the reduced ratio only
  bool balanced = false;        ///< high and low both known and split as the reduced ratio asks
  std::optional<Area> present;  ///< high + low; empty unless both are known
  Area missing_high,
      missing_low;  ///< least vents to add for the reduced ratio; 0 unless both are known and short
  Area missing_any;                          ///< least vents to add anywhere for the full ratio
  bool need_high = false, need_low = false;  ///< not entered, and the verdict hangs on it
  bool need_zone = false, need_retarder = false;  ///< likewise
  bool retarder_missing = false;  ///< the reduced ratio fails for want of a retarder alone
  std::optional<bool> reduced_asks_retarder;  ///< the reduced ratio asks for a retarder in this
                                              ///< zone; empty: zone not known
};

/// Net free area against the code (IRC R806): 1/150 of the attic, or 1/300 where upper vents give
/// at least `vent-upper-low` and count up to `vent-upper-high` percent of it, the rest lying low,
/// and, from zone `vent-retarder-zone` on, with a vapor retarder. What is not entered is never
/// taken for granted: `unknown` unless the rest suffices.
/// @throws Error{out_of_range} attic not above 0, or a negative vent
VentNeed vent_need(const Vents& vents, const Tables& tables);

/// Baffles: one for each vented rafter bay, ceil(length / spacing).
/// @param vented_eave  length of all eaves with vents, >= 0  @param spacing  of rafters, > 0
/// @throws Error{out_of_range}
int baffle_count(Length vented_eave, Length spacing);

/// Depth markers: max(1, ceil(area / `marker-area`)).  @throws Error{out_of_range} negative area
int marker_count(Area blown, const Tables& tables);

/// An opening with a lid.
struct Lid {
  Length length, width;
};

/// What stands in an attic, as far as counts go.
struct JobFacts {
  Area blown;
  Length vented_eave;                    ///< all sides; 0 without vents
  std::optional<Length> rafter_spacing;  ///< none: no count of baffles where eaves are vented
  std::vector<Lid> lids;                 ///< hatches and pull-down stairs, each with a dam
  int flues = 0, equipment = 0,
      edges = 0;          ///< further dams: flues, equipment, open edges and changes of level
  int non_ic_lights = 0;  ///< kept, each under a cover
  int buried_boxes = 0;   ///< junction boxes under the fill
  Length level;           ///< initial level of the fill
};

/// Counts for the work order.
struct JobCounts {
  std::optional<int> baffles;   ///< empty: rafter spacing is not known
  int markers = 0;              ///< 0 where nothing is blown
  int dams = 0, flue_dams = 0;  ///< `dams` holds them all
  int light_covers = 0, flags = 0;
  Length dam_height;             ///< least, for dams that are not at flues: the blown level
  Length flue_dam_height;        ///< level + `dam-flue-margin`
  Area lid_board;                ///< as large as the lids
  double weatherstrip_ft = 0.0;  ///< rims + `weatherstrip-waste`
};

/// @throws Error{out_of_range} a negative count, length or area
JobCounts job_counts(const JobFacts& facts, const Tables& tables);

/// Rim of an opening with waste [ft].  @param waste  share, >= 0
double weatherstrip_ft(const Lid& lid, double waste);

}  // namespace overjoist
