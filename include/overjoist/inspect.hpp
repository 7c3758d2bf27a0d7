// SPDX-License-Identifier: MIT
#pragma once
#include <algorithm>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "overjoist/evaluate.hpp"
#include "overjoist/record.hpp"

/// The inspection of a finished job (method eq. 19): bags used and depths read held against the
/// plan that was sold, the R that was really built, what was ticked off, the receipt and the rebate
/// packet. Plain data; writers translate it and never compute. Command line: `overjoist inspect`.
/// Example: examples/inspect/.
namespace overjoist {

enum class Met { yes, no, not_judged };

/// Of a section, and of the whole job: the worst of its sections; an open stop comes before what
/// they lack.
enum class BuiltVerdict {
  nothing_planned,  ///< the plan puts no fill here
  pass,             ///< weight and depth both meet the plan
  incomplete,       ///< what was recorded meets the plan, but weight or depth was not recorded
  not_judged,       ///< nothing was recorded, or it is not blown
  read_again,    ///< bags or depths that cannot be meant: neither passed nor short until they are
                 ///< read again
  stop_open,     ///< a stop stands that no paper clears, whatever weight and depth say
  uneven,        ///< weight and mean depth are met, some readings are below the minimum
  over_dense,    ///< weight met, depth not
  fluffed,       ///< depth met, weight not
  below_target,  ///< all that the plan takes, but the plan is only what fits: what was sold is not
                 ///< reached
  short_of       ///< neither is met, or the one that was recorded is not
};
constexpr bool fails(BuiltVerdict v) { return v >= BuiltVerdict::uneven; }
/// Short, or not shown to be enough: what a script that pays must not pass.
constexpr bool unproven(BuiltVerdict v) { return v >= BuiltVerdict::incomplete; }

/// Bags used against the bags that the plan takes. Counts carry no range.
struct WeightCheck {
  Met met = Met::not_judged;
  double waste = 0.0;  ///< share of the bags that is taken not to have stayed
  bool shared =
      false;  ///< only the sum of several sections was recorded: judged on the sum, spread by need
  std::optional<double> used;    ///< in this section; of a shared count its part
  std::optional<double> needed;  ///< not rounded, after waste; empty: density not known
  std::optional<double>
      by_tag;               ///< that the tag states, for the R that was sold; only without a chart
  bool tag_scaled = false;  ///< `by_tag` is in proportion to the R, since the tag states another R
  std::optional<double>
      lightest;          ///< of the lightest that the material comes, where a tag tells no bags
  std::string_view why;  ///< not judged: not-recorded | bag-unknown | plan-unknown | by-tag |
                         ///< by-range | read-again
  std::optional<double>
      short_bags;  ///< whole bags; 0 where met; empty where shared (see the totals) or not judged
  std::optional<MassPerArea> weight;  ///< on the bays, of the bags used less waste
  std::optional<MassPerArea>
      least;  ///< the chart's minimum at the planned thickness, mean over the bays
};

/// Depths read, from the ceiling up, against the least that the plan allows.
struct DepthCheck {
  Met met = Met::not_judged;
  bool mean_met = false;
  DepthKind kind = DepthKind::initial;
  bool kind_known = false;
  std::size_t count = 0, below = 0;  ///< readings; those below the least allowed
  Length least, mean, greatest;
  Length needed_least, needed_mean;
  std::optional<Length>
      tag_mean;  ///< needed by the tag's own R per inch, where no chart is known and a tag tells it
  std::optional<Length>
      best_mean;         ///< needed at the material's best, where a tag tells no R of a thickness
  std::string_view why;  ///< not judged: not-recorded | by-tag | by-range | read-again
  bool settled_for_initial =
      false;  ///< the depth reaches the plan's settled level, but was to reach the initial one
};

/// The new layer as an even layer of the product by itself.
struct NewLayerBuilt {
  std::optional<Resistance> by_weight, by_thickness, r;  ///< r is the lower of what is known
  std::optional<Resistance>
      most;  ///< by the one that is known, at the best end of the material's range
  std::optional<Length> settled;  ///< of `r`
  std::optional<Length> initial;  ///< as read, mean of the new layer; only of initial readings
  bool beyond_chart = false;      ///< more than the chart's last row: the last row's R is taken
};

struct BuiltR {
  Resistance working, effective;
  std::optional<ResistanceRange> working_range, effective_range;
  Verdict verdict = Verdict::too_close;  ///< of the basis value against the target, by its range
  bool reached = false;                  ///< central value against the target
  bool at_most = false;  ///< only weight or only depth was recorded: it may lie packed, or hold air
};

/// A lid as it was left.
struct LidCheck {
  bool done = false;
  std::optional<Resistance> insulation_r;
  std::optional<bool> weatherstripped, latched;
};

struct SectionInspection {
  std::string name;
  SectionKind kind = SectionKind::flat;
  Area area;  ///< as insulated
  BuiltVerdict verdict = BuiltVerdict::not_judged;
  std::optional<Area> built_area;  ///< as insulated, where the record says so
  bool lacks_area = false;         ///< part of what was sold is not insulated
  std::string_view read_again;     ///< why: many-bags | too-deep | too-thin | many-inches |
                                   ///< below-before; "" where nothing is to be read again
  TopUp plan;  ///< what the target that was sold takes, with the fill that was used and the
               ///< area as insulated
  std::optional<Length>
      sold;  ///< the flat level that the quote sells, where its inches are what was sold
  Resistance existing_r;
  WeightCheck weight;
  DepthCheck depth;
  NewLayerBuilt layer;
  std::optional<BuiltR> built;  ///< empty: not known
  std::optional<LidCheck> lid;
  std::optional<bool> done;  ///< of a slope or knee wall
};

/// What a tag says, held against chart and plan.
struct TagCheck {
  std::string_view what;  ///< r-at-initial | r-at-settled | initial | settled | bags | r-alone
  double claimed = 0.0;   ///< in the unit of `what`
  std::optional<double> found,
      found_high;  ///< the second is the high end of the material's range, of an R without a chart
  ClaimVerdict verdict = ClaimVerdict::not_judged;
  std::string_view why;  ///< code of a reason where it is not judged
};

enum class CountState { met, short_of, not_counted, plan_unknown, none_needed };
struct CountCheck {
  std::string_view item;  ///< markers | baffles | dams | covers | flags
  std::optional<int> planned, found;
  CountState state = CountState::not_counted;
};

struct SealCheck {
  std::string kind, name, where;
  bool planned = true;  ///< false: sealed beside the plan
  bool ticked = false;
};

struct HazardCheck {
  std::string kind, where;
  bool cleared = false;
  std::string by, trade, date, paper;
  std::string but;  ///< said to be cleared, but: why it is not; "" if it is, or nothing is said
};

/// A year's saving through the ceiling.
struct SavingCheck {
  Energy heat;
  double fuel_units = 0.0;
  std::optional<double> money;
};

struct InspectionTotals {
  std::optional<double> bags_used, bags_needed;  ///< needed: whole bags
  std::optional<double> bags_needed_exact;       ///< the same, not rounded
  std::optional<double> short_bags;
  std::optional<double> bags_unplaced;  ///< recorded, but for no section that takes fill
  int counts_open = 0;                  ///< short, or not counted though the plan asks for some
  int seals_open = 0, hazards_open = 0, papers_missing = 0;
  int stops_open = 0;  ///< cautions of level stop that stand
  int lids_open =
      0;  ///< not insulated as planned, weatherstripped and latched, as far as the record tells
};

/// One part of the house on the receipt (16 CFR 460.17). Empty: a labelled blank.
struct ReceiptPart {
  std::string name;
  Area area;
  std::optional<Length> initial, settled;
  std::optional<Resistance> r;  ///< of the new product alone, from its chart
  std::optional<double> bags;
  std::optional<Density> density;  ///< as installed
  Resistance existing;             ///< what was there before, an estimate of the survey
  std::string_view blank_r, blank_initial, blank_settled, blank_bags,
      blank_density;  ///< codes of why they are blank; "" where filled
};

struct Receipt {
  std::string product, maker, type;  ///< "" is a blank
  std::optional<Mass> bag_net;
  bool chart = false;
  Installer installer;
  std::string date;
  std::vector<ReceiptPart> parts;       ///< sections that take fill, never summed
  std::optional<double> bags_together;  ///< counted for several parts at once
  std::vector<std::string> left_out;  ///< parts that got batts, boards, foam or packed fill: their
                                      ///< receipt is not made here
};

struct PaperCheck {
  std::string paper;
  bool have = false;
};
struct RebatePacket {
  std::string name;
  std::optional<RebateEnd> built;  ///< the rule held against what was built; empty: not known
  std::vector<PaperCheck> papers;
};

struct Inspection {
  std::string id, label, record_id, currency;
  std::string date;
  Installer installer;
  End sold = End::high;
  bool sold_by_quote = false;  ///< the quote of the survey names the R that was sold, and the
                               ///< record no end of the band
  bool bag_known = false;      ///< net weight of a bag, in the survey or the record
  Resistance target;
  Basis basis = Basis::working;
  std::string fill;  ///< words for what was blown in
  Method method = Method::blown;
  BuiltVerdict verdict = BuiltVerdict::not_judged;
  std::vector<SectionInspection> sections;
  InspectionTotals totals;
  std::vector<TagCheck> tag;
  std::vector<CountCheck> counts;
  std::vector<SealCheck> sealing;
  std::vector<HazardCheck> hazards;
  std::vector<std::string> changes;
  std::optional<AtticState> attic_planned,
      attic_built;  ///< built is empty where a section is not known
  std::optional<SavingCheck> saving_planned, saving_built;
  std::string fuel_unit;
  bool saving_at_most = false;  ///< a section's weight was not recorded
  Receipt receipt;
  std::vector<RebatePacket> rebates;
  Findings findings;  ///< every one of the survey, and what was found after the job
  std::vector<std::pair<std::string, std::string>> survey_keys,
      record_keys;         ///< x_ keys and raw JSON
  bool hands_off = false;  ///< as of an evaluation
  bool stays_off() const {
    return hands_off || totals.stops_open > 0;
  }  ///< a stop is open: no word asks for work
  bool stopped() const { return findings.stopped(); }
  /// A section fails by weight or depth, whatever stop is open.
  bool falls_short() const {
    return std::any_of(sections.begin(), sections.end(),
                       [](const SectionInspection& s) { return fails(s.verdict); });
  }
};

/// Holds a record against its survey (method eq. 19). Pure; same input, same result.
/// @throws Error where the survey cannot be computed with what was used
Inspection inspect(const Survey& survey, const Record& record, const Tables& tables);

}  // namespace overjoist
