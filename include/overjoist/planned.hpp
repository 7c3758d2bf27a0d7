// SPDX-License-Identifier: MIT
#pragma once
#include <optional>
#include <string>
#include <vector>

#include "overjoist/ends.hpp"
#include "overjoist/found.hpp"
#include "overjoist/plan.hpp"
#include "overjoist/ranges.hpp"
#include "overjoist/savings.hpp"
#include "overjoist/survey.hpp"

/// One whole job: what every section gets to reach one target, and what that comes to. Either end
/// of the target band is one; whatever shows, ranks, orders or buys one job takes a `Planned`.
namespace overjoist {

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

/// What one section gets, and how it stands then.
struct TopUp {
  Resistance target_r;
  Basis basis = Basis::working;
  TopUpStatus status = TopUpStatus::needed;  ///< of the field, where the section has an eave
  bool reached = false;                      ///< R after, eaves included, is the target's at least
  LimitedBy limited_by = LimitedBy::nothing;
  std::optional<Length> initial_level, level_exact, confident_level, settled_level;
  std::optional<NewDepth> new_depth_initial, new_depth;  ///< new_depth is settled
  Resistance working_r,
      effective_r;  ///< after, eaves included; the existing ones where nothing is added
  Resistance effective_r_two_column;  ///< the same by two coupled columns (method eq. 5a); at an
                                      ///< eave they take the same share off as off the rest
  std::optional<EaveResult>
      eave;  ///< where the section has one and the level does not fit over the plate
  std::optional<ResistanceRange> working_r_range, effective_r_range;
  std::optional<ResistanceRange> working_r_printed,
      effective_r_printed;  ///< the same with new labels taken as printed, by which claims, rules
                            ///< and the finished job are judged
  std::optional<Mass> added_mass;                      ///< before waste
  std::optional<double> bags_exact;                    ///< after waste, not rounded
  std::optional<double> bags;                          ///< rounded up
  std::optional<MassPerArea> added_weight;             ///< mean over the bays
  std::optional<MassPerArea> weight, weight_greatest;  ///< existing plus new
  bool confident_too_heavy = false;  ///< the confident level weighs more than the ceiling's limit
  bool weight_at_least = false;      ///< the density of an old layer is not known: left out
  std::optional<MassPerArea> weight_limit;
  std::optional<WithinWeight> within_weight;  ///< given where the limit is passed
  std::vector<LaidLayer> batts;               ///< from below up; empty where nothing is laid
  std::optional<Resistance> overshoot;   ///< above the target, of the basis; of batts that meet it
  std::optional<double> board_ft_exact;  ///< sprayed foam, after waste
  Resistance short_by;  ///< of the target, after the work in a slope or wall; 0 if it is reached

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
  BothR r() const { return {working_r, effective_r}; }
  Resistance after() const { return r().of(basis); }
  const std::optional<ResistanceRange>& printed_after() const {
    return basis == Basis::working ? working_r_printed : effective_r_printed;
  }
  /// True if it puts anything down on a floor.
  bool adds() const { return new_depth && new_depth->greatest > Length{}; }
  /// The work ends below the target: it does not fit, or the eave takes too much.
  bool falls_short() const {
    return status == TopUpStatus::unreachable ||
           (status == TopUpStatus::needed && eave && !reached);
  }
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

/// What the 90 % ranges of the R as found and after leave of a saving; empty where it has no price.
/// A payback's low end belongs to the high saving; an empty one never comes.
struct WorthRange {
  double saving_low = 0.0, saving_high = 0.0;
  std::optional<double> payback_low, payback_high, present_low, present_high, sir_low, sir_high;
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
  std::optional<WorthRange> range{};
};

/// Packages of one product of the list.
struct PackageCount {
  std::string name;
  double exact = 0.0, count = 0.0;  ///< count is rounded up over all sections together
};

struct Totals {
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
  std::optional<double> saving_low, saving_high;  ///< money of a year, what the 90 % ranges leave
  std::optional<double> attic_air_percent;  ///< of the saving that the warmth of the attic's air
                                            ///< takes off; empty: not counted, or nothing saved
  std::optional<CoolingRange> cooling;
  bool worse = false;          ///< the attic loses more heat than as found: nothing is saved
  WorthLine measure, package;  ///< insulation by itself; everything, with the sealing saving only
                               ///< where it is given or accepted
};

struct Planned {
  Resistance target;            ///< of the attic; a section may have one of its own
  AtticState attic;             ///< after the work
  std::vector<TopUp> sections;  ///< one for each section of the survey, in its order
  Totals totals;
  PlanCounts counts;
};

}  // namespace overjoist
