// SPDX-License-Identifier: MIT
#pragma once
#include <array>
#include <optional>
#include <string>
#include <vector>

#include "overjoist/cautions.hpp"
#include "overjoist/claims.hpp"
#include "overjoist/cut.hpp"
#include "overjoist/money.hpp"
#include "overjoist/plan.hpp"
#include "overjoist/ranges.hpp"
#include "overjoist/rebate.hpp"
#include "overjoist/savings.hpp"
#include "overjoist/survey.hpp"

/// The one function that runs the chain, and its result. Every face (assess, quick, batch, reports)
/// calls it; writers translate what stands here and never compute.
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
  Resistance effective_r_parallel, effective_r_planes,
      effective_r_mean;  ///< by each framing method; effective_r is one of them
  std::optional<ResistanceRange> working_r_range, effective_r_range;
  std::optional<MassPerArea>
      weight;  ///< mean over the bays, high density; empty: a density is not known
  std::optional<MassPerArea> weight_greatest;
  std::optional<int> readings_needed,
      readings_more;  ///< for +-5 % of U at 90 %, in all and beside those taken; empty: not known
  bool measure_bare = false;  ///< more readings than anybody takes: measure the bare area instead;
                              ///< readings_more is empty
  std::optional<Verdict> verdict;  ///< what was found, against the low end of the band
  std::vector<LossStep> steps;     ///< first is the yardstick figure, last gives effective_r
  bool unmeasured =
      false;  ///< depth of a fill that nobody may touch: it counts nothing, R is at least this
  bool in_doubt = false;  ///< a hazard calls one of several layers wet or soiled: nothing is
                          ///< planned before the survey says which
  std::optional<Resistance>
      spoiled_r{};  ///< of what lies on a lid, wet or soiled: it counts nothing
};

enum class TopUpStatus { needed, met, unreachable, not_applicable };
enum class LimitedBy {
  nothing,
  headroom,
  deck,
  chart,
  cavity,
  products,
  fill
};  // fill: what goes into a cavity leaves room, or is not known
/// Why nothing is put into a cavity.
enum class CavityStop { nothing, full, does_not_fit, not_named };

/// Of the whole section, its eave included: the mean by area, and the least and the greatest
/// anywhere.
struct NewDepth {
  Length least, mean, greatest;
};

/// The best that stays within the ceiling's weight limit.
struct WithinWeight {
  Length initial_level;
  Resistance working_r, effective_r;
};

/// The strip at the eave where the roof is too low for the full level (method eq. 10a). Old fill is
/// taken as read there too.
struct EaveResult {
  Length width, bare_width;  ///< from the plate's outer edge, horizontal; outermost part without
                             ///< room for any fill
  Area area;                 ///< width x length of the eaves
  Resistance working_field, working_wedge;  ///< away from the eave; the strip by itself
  std::optional<Length> met_from;  ///< distance at which the target is reached; empty: nowhere
  std::optional<double>
      share_short;        ///< of the section's area that stays below the target; empty: all of it
  Conductance ua_added;   ///< more heat than with full depth all over
  Transmittance u_added;  ///< the same on the section's U
  Length least_field;     ///< least new settled thickness away from the eave
  Length mean_field, initial_mean_field;    ///< mean new thickness there, settled and as blown
  std::optional<MassPerArea> weight_field;  ///< mean weight of the new fill there, on the bays
  bool no_field = false;                    ///< the strip is the whole section
  std::optional<double> bags_less;          ///< that find no room, not rounded
};

/// One layer of batt or board that is laid across the joists.
struct LaidLayer {
  std::string name;
  Length thickness;
  Resistance label_r;
  double packages_exact = 0.0;  ///< for the section, after waste
  bool tight = false;           ///< of a material that lets little vapor through
};

struct TopUpResult {
  Resistance target_r;
  Basis basis = Basis::working;
  TopUpStatus status = TopUpStatus::needed;  ///< of the field, where the section has an eave
  bool reached = false;                      ///< R after, eaves included, is the target's at least
  LimitedBy limited_by = LimitedBy::nothing;
  std::optional<Length> initial_level, level_exact, confident_level, settled_level;
  std::optional<NewDepth> new_depth_initial, new_depth;  ///< new_depth is settled
  Resistance working_r,
      effective_r;  ///< after, eaves included; the existing ones where nothing is added
  std::optional<EaveResult>
      eave;  ///< where the section has one and the level does not fit over the plate
  std::optional<ResistanceRange> working_r_range, effective_r_range;
  std::optional<Mass> added_mass;                      ///< before waste
  std::optional<double> bags_exact;                    ///< after waste, not rounded
  std::optional<double> bags;                          ///< rounded up
  std::optional<MassPerArea> added_weight;             ///< mean over the bays
  std::optional<MassPerArea> weight, weight_greatest;  ///< existing plus new
  bool weight_at_least = false;  ///< the density of an old layer is not known: left out
  std::optional<MassPerArea> weight_limit;
  std::optional<WithinWeight> within_weight;  ///< given where the limit is passed
  std::vector<LaidLayer> batts;               ///< from below up; empty where nothing is laid
  std::optional<Resistance> overshoot;   ///< above the target, of the basis; of batts that meet it
  std::optional<double> board_ft_exact;  ///< sprayed foam, after waste

  /// Where the full level fits: what is read, promised and held against a depth.
  std::optional<Length> field_depth() const {
    return eave        ? std::optional(eave->mean_field)
           : new_depth ? std::optional(new_depth->mean)
                       : std::nullopt;
  }
  std::optional<Length> field_initial() const {
    return eave                ? std::optional(eave->initial_mean_field)
           : new_depth_initial ? std::optional(new_depth_initial->mean)
                               : std::nullopt;
  }
  std::optional<MassPerArea> field_weight() const {
    return eave ? eave->weight_field : added_weight;
  }
  Resistance after() const { return basis == Basis::working ? working_r : effective_r; }
  /// The work ends below the target: it does not fit, or the eave takes too much.
  bool falls_short() const {
    return status == TopUpStatus::unreachable ||
           (status == TopUpStatus::needed && eave && !reached);
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
  Resistance short_by,
      short_by_low;  ///< of the high and the low target, after the work; 0 if it is reached
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

struct SectionResult {
  std::string name;
  SectionKind kind = SectionKind::flat;
  Area area;
  bool heated_below = true;
  Resistance ends;  ///< films, ceiling and deck: what working R leaves out
  ExistingResult existing;
  TopUpResult low, high;
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
  AtticState existing, low, high;
};

struct ExtraCost {
  std::string what;
  double price = 0.0;
};

/// The bills held against the computed heat loss of the ceiling before the work (model 13).
struct BillCheck {
  double factor = 1.0;  ///< what the saving is multiplied with; 1: the bills bear the figure
  double computed_share = 0.0;  ///< of the billed heat
  double allowed_share = 0.0;
  double percent = 0.0;  ///< computed_share in whole percent, up: the one that is shown
};

/// How the house is heated, as it was reckoned.
struct HeatingTerms {
  std::string fuel, fuel_name, unit;
  Efficiency efficiency;
  std::optional<double> price_per_unit;
  DegreeDays season;
  std::optional<double> indoor_f;
  SavingForm form = SavingForm::plain;
  Conductance ua_before;  ///< to outdoors, attic as found; wet or soiled fill at its dry high R,
                          ///< which rounds the saving against us
  Conductance ceiling_ua_before;  ///< the same without the roof of an unvented attic
  bool unvented = false;
  std::optional<BillCheck> bills;
};

/// What sealing saves in a year, in the package's line alone.
struct SealingSaving {
  double per_year = 0.0;
  bool upper_bound = false;  ///< worked out from the leaks and accepted; else as given
};

/// Heat and fuel that a year does not take any more; negative where the plan loses more heat.
struct YearSaved {
  Energy heat;
  FuelSaved fuel;
};

/// Electricity for cooling that a year does not take any more, of low confidence. Never part of
/// another figure.
struct CoolingRange {
  double kwh_low = 0.0, kwh_high = 0.0;
  std::optional<double> money_low, money_high;
  bool counts_outdoor = false, counts_rise = false;
};

/// One line of model 14. Empty where a price or input is missing; a payback is empty too where it
/// never comes.
struct WorthLine {
  std::optional<double> annual_saving;    ///< that is set against the cost; the bills' where they
                                          ///< refute the one worked out
  std::optional<double> saving_unpriced;  ///< of work without a price, in nothing else here
  std::optional<double> cost, rebate;
  std::optional<double> present_value, sir;  ///< before any rebate
  std::optional<double> payback, payback_after_rebate, payback_discounted;
};

/// One row of the next-step table: what this step alone adds to the row before it.
struct StepResult {
  std::string_view step;  ///< existing | low | middle | high | beyond
  std::optional<Resistance> target_r;
  bool reached = true;     ///< every floor over heated rooms reaches its target
  Resistance effective_r;  ///< of the attic after it
  Length added;            ///< settled, mean over the area that any step fills
  std::optional<double> bags, cost,
      fixed_cost;  ///< whole bags, as bought; fixed_cost is part of cost: labor and extras
  std::optional<double> rebate;
  std::optional<double> fuel_units, annual_saving, payback, sir;
  std::optional<bool>
      earns_cost;  ///< it has a cost of its own and a SIR of 1 or more; empty: not known
  std::optional<double> cost_so_far,
      saving_so_far;  ///< of all steps up to here; empty where one of them is not known
  std::optional<double>
      sir_so_far;  ///< of all steps up to here: the average that can hide a poor last inch
};

/// Packages of one product of the list.
struct PackageCount {
  std::string name;
  double exact = 0.0, count = 0.0;  ///< count is rounded up over all sections together
};

struct TotalsResult {
  std::vector<PackageCount> packages;  ///< in the order of the list
  std::optional<double> board_ft;      ///< rounded up
  std::optional<double> bags;
  std::optional<Mass> bag_net;
  std::optional<Mass> added_mass;
  Area blown_area;                         ///< gross area of the sections that get new fill
  std::optional<double> material, labour;  ///< money; empty: not priced
  std::optional<double> extras;            ///< sum of the fixed extras; empty: none given
  std::optional<double> tax;   ///< part of the cost; empty: none given, or nothing to take it of
  std::optional<double> cost;  ///< empty unless material and labour are priced
  std::optional<YearSaved> year,
      year_by_bills;  ///< the second stands beside the first where the bills do not bear it
  std::optional<CoolingRange> cooling;
  bool worse = false;          ///< the attic loses more heat than as found: nothing is saved
  WorthLine measure, package;  ///< insulation by itself; everything, with the sealing saving only
                               ///< where it is given or accepted
};

struct TargetBand {
  Resistance low, high;
  Basis basis = Basis::working;
  std::string zone;  ///< its number, "1" to "8", or "" if not known
};

/// How a material or product is put in.
enum class Method { blown, laid, sprayed };

/// One end of the band of one row of a comparison. Depth, weight and R are those of the largest
/// floor over heated rooms.
struct CompareEnd {
  TopUpStatus status = TopUpStatus::not_applicable;  ///< unreachable if any floor is
  LimitedBy limited_by = LimitedBy::nothing;
  std::string limited_section;                 ///< where that is; "" where nothing limits
  std::optional<Length> initial_level, depth;  ///< depth is settled, mean, of what is added
  std::optional<MassPerArea> weight, weight_limit;
  std::optional<bool> over_weight;
  bool reached = false;               ///< every floor over heated rooms reaches its target
  Resistance working_r, effective_r;  ///< effective_r is the attic's
  TotalsResult totals;
};

struct CompareRow {
  std::string name;
  Method method = Method::blown;
  CompareEnd low, high;
  std::vector<Caution> cautions;
};

struct Evaluation {
  std::string id, label, currency;
  std::string surveyed_by, surveyed_date;  ///< as the survey says; "" without
  FramingMethod framing_method = FramingMethod::parallel;
  TargetBand target;
  std::string added_material;  ///< words for what is blown in; "" if nothing was proposed
  AtticResult attic;
  std::vector<SectionResult> sections;
  TotalsResult low, high;
  std::vector<ExtraCost> extra_costs;
  Method method = Method::blown;
  std::vector<CompareRow> compare;      ///< the survey's own proposal first; empty without a list
  std::optional<double> price_per_bag;  ///< empty: not priced
  Plan plan;                            ///< make safe, seal, vent, count
  std::optional<HeatingTerms> heating;  ///< empty: no yearly saving
  std::optional<MoneyTerms> money;      ///< empty: the saving has no price
  std::optional<SealingSaving> sealing_saving;  ///< empty: not counted
  std::vector<StepResult>
      steps;  ///< next-step table, existing first; empty without a yearly saving
  std::string_view last_worthwhile;  ///< last step that earns its cost; "" if none or not known
  bool never_pays = false;           ///< every step has a price, and none earns its cost
  std::vector<std::string>
      unpriced;                     ///< sections whose work has no price: their saving is left out
  std::vector<ClaimResult> claims;  ///< of the quote, as the survey lists them
  std::vector<RebateResult> rebates;
  std::vector<Caution> cautions;  ///< stop first, then fix-first, care, note; then table order
  std::vector<Assumption> assumptions;
  std::vector<std::size_t> sources;  ///< rows of Tables::sources, in order, no repeats
  std::vector<std::pair<std::string, std::string>> user_keys;  ///< x_ keys and raw JSON
  bool hands_off =
      false;  ///< fill taken as asbestos is not cleared: nothing that would stir it is asked for
  bool stopped() const { return !cautions.empty() && cautions.front().level == CautionLevel::stop; }
};

/// Runs model 1-14 and 16-18 over one survey. Pure; same input, same result.
/// @throws Error where the survey cannot be computed (the reader finds most faults before)
Evaluation evaluate(const Survey& survey, const Tables& tables);

}  // namespace overjoist
