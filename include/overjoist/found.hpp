// SPDX-License-Identifier: MIT
#pragma once
#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "overjoist/cut.hpp"
#include "overjoist/ends.hpp"
#include "overjoist/ranges.hpp"
#include "overjoist/survey.hpp"

/// What was found, section by section. What is put into a slope or wall stands here too, since it
/// is the same whatever the target.
namespace overjoist {

/// One step of the way from the yardstick figure to the effective R.
struct LossStep {
  std::string_view
      code;  ///< yardstick | batts-squeezed | wet | uneven | bare | films-and-ceiling | framing
  Resistance change;  ///< what the step takes (negative) or adds
  Resistance after;   ///< R after the step
};

struct ExistingResult {
  Length mean_depth;
  Resistance yardstick_r, working_r, effective_r;
  Resistance effective_r_parallel, effective_r_planes, effective_r_mean,
      effective_r_two_column;  ///< by each framing method; effective_r is one of them
  std::optional<ResistanceRange> working_r_range, effective_r_range;
  std::optional<MassPerArea>
      weight;  ///< mean over the bays, high density; empty: a density is not known
  std::optional<MassPerArea> weight_greatest;
  std::optional<int> readings_needed,
      readings_more;  ///< of what is covered, for +-5 % of its U at 90 %, in all and beside those
                      ///< taken; empty: not known, or more than anybody takes
  bool measure_bare = false;  ///< first: the bare share is not measured, and moves U by over 5 %
  std::optional<Verdict> verdict;  ///< what was found, against the low end of the band
  std::vector<LossStep> steps;     ///< first is the yardstick figure, last gives effective_r
  bool unmeasured =
      false;  ///< depth of a fill that nobody may touch: it counts nothing, R is at least this
  bool in_doubt = false;  ///< a hazard calls one of several layers wet or soiled: nothing is
                          ///< planned before the survey says which
  std::optional<Resistance>
      spoiled_r{};  ///< of what lies on a lid, wet or soiled: it counts nothing

  BothR r() const { return {working_r, effective_r}; }
  const std::optional<ResistanceRange>& range_of(Basis basis) const {
    return basis == Basis::working ? working_r_range : effective_r_range;
  }
};

struct RemovalResult {
  std::string material;
  Area area;
  Volume volume;
  bool layers_above = false;  ///< of a floor: layers that stay lie on it
};

struct PatchResult {
  std::string kind, where;
  Area area;
  Resistance total_r;
};

/// Why nothing is put into a cavity.
enum class CavityStop { nothing, full, does_not_fit, not_named };

/// What a slope or knee wall takes.
struct CavityResult {
  std::string material;  ///< what is put in; "" where nothing fits or is needed
  Length room;           ///< depth that fits, of wood less the vent gap
  Length kept, added;    ///< thickness that stays, and that comes in as it lies
  CavityStop stop =
      CavityStop::nothing;  ///< why nothing comes in; `nothing` where something does or need not
  Resistance continuous_r;  ///< board across the wood
  std::optional<Density> density;           ///< as it lies, high end; empty: not known
  std::optional<MassPerArea> added_weight;  ///< lb/ft2 of the cavity itself
  std::optional<Mass> added_mass;           ///< wood taken out, before waste
};

/// A plane that lets little vapor through, in winter (method eq. 18a).
struct MoistureState {
  double plane_f = 0.0,
         r_share = 0.0;  ///< temperature of the plane; R below it over all R, through the bay
  bool wet_risk = false;
};
struct MoisturePlane {
  std::string layer;       ///< material under or in which the plane lies
  std::string_view plane;  ///< kraft facing | foil facing | warm face
  double dew_point_f = 0.0, safe_share = 0.0;
  std::optional<MoistureState> before, low,
      high;  ///< empty where the plane is not there: a board that is yet to be laid
  std::optional<std::size_t>
      survey_layer;  ///< of the section, from the ceiling up; empty for one that is yet to be laid
};

/// A section as found.
struct SectionResult {
  std::string name;
  SectionKind kind = SectionKind::flat;
  Area area;
  bool heated_below = true;
  Resistance ends;  ///< films, ceiling and deck: what working R leaves out
  ExistingResult existing;
  std::vector<RemovalResult> removals;
  std::vector<PatchResult> patches;
  std::vector<MoisturePlane> moisture;  ///< only with the survey's winter temperatures
  std::optional<CavityResult>
      cavity;  ///< slope and knee wall; what is done is the same for both ends of the band
  std::optional<SectionCut> cut;  ///< floors: what a drawing to scale shows
};

struct AtticState {
  Conductance ua;          ///< heated sections and their patches
  Resistance effective_r;  ///< area / UA
  std::optional<ResistanceRange> effective_r_range;
};

struct AtticResult {
  Area area;  ///< heated sections and patches
  AtticState existing;
};

}  // namespace overjoist
