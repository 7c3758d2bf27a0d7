// SPDX-License-Identifier: MIT
#pragma once
#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "overjoist/sealing.hpp"
#include "overjoist/ventilation.hpp"

/// The plan beside the fill: is the attic ready, what is sealed, what the leaks carry away, which
/// tests, vents and counts (method 17). Plain data, filled by `evaluate`; the writers and
/// `overjoist order` show it. Example: examples/full-plan.json.
namespace overjoist {

/// One thing that must be done before insulation may start: a row of Tables::cautions says who
/// clears it and how.
struct MissingItem {
  std::size_t row = 0;
  std::string where;
};

/// Ready when hazards, the air leaks of every floor, vents low and high and the ends of fans were
/// looked at, no caution of level stop or fix-first stands and no bypass waits to be sealed.
struct Readiness {
  bool ready = false;
  LookedAt looked;  ///< what of an unvented attic is not asked for counts as looked at
  std::vector<MissingItem> missing;  ///< in the order of the cautions, sealing last
  std::vector<std::string>
      unseen_floors;  ///< where nobody looked for air leaks, though they were looked for elsewhere
  int cleared = 0;    ///< hazards that person, date and paper have cleared
};

enum class LeakMethod { none, bins, degree_days };

/// Heat of a year, as far as it can be told.
struct HeatSpan {
  Energy low, high;
};

/// Heat that the leaks of known size carry away in a year.
struct LeakHeat {
  LeakMethod method = LeakMethod::none;  ///< none: no leak of known size, or no winter figures
  Length height;                         ///< of the leaks above the neutral level
  double indoor_f = 0.0, balance_f = 0.0, elevation_ft = 0.0;
  double air_heat = 0.0;                  ///< Btu/(h cfm F), corrected for altitude
  std::optional<Energy> typical, tight;   ///< by stack alone: as found; still left when sealed
  std::optional<HeatSpan> found, sealed;  ///< what they may be, the house's other leaks and wind in
                                          ///< mind; no more than all air of a tested house carries
};

/// The whole house by its blower door.
struct HouseAir {
  double cfm50_before = 0.0;
  std::optional<double> cfm50_after;
  int storeys = 1;
  Area ela_before;
  std::optional<Area> ela_after;
  std::optional<Energy> before, after;  ///< heat of a year; empty without winter figures
};

enum class TestTime { before_sealing, after_sealing };

/// A test that belongs to sealing; a row of Tables::cautions says what it is and who does it.
struct PlanTest {
  std::size_t row = 0;
  TestTime when = TestTime::before_sealing;
};

struct VentilationPlan {
  bool entered = false;  ///< the survey says something of vents
  Area attic;            ///< all sections and patches
  std::optional<Area> high, low;
  VentNeed need;
};

/// What is counted for one job. Empty: the survey does not say how many.
struct PlanCounts {
  std::optional<int> baffles, dams, flue_dams, light_covers;  ///< `dams` holds all dams
  int markers = 0, edge_dams = 0, flags = 0;
  Length dam_height, flue_dam_height;  ///< least; 0 where nothing is blown
  Area lid_board;                      ///< as large as the lids, or the box over a stair
  double weatherstrip_ft = 0.0;        ///< with waste
};

struct Plan {
  Readiness readiness;
  SealingList sealing;
  int entered = 0;  ///< items that the survey names; the rest stand for hatches
  LeakHeat leak;
  std::optional<HouseAir> house;  ///< empty: no blower door
  std::vector<PlanTest> tests;
  std::vector<Equipment> equipment;  ///< as entered
  bool unvented = false;             ///< no vents are asked for
  std::optional<VentilationPlan> ventilation;
};

}  // namespace overjoist
