// SPDX-License-Identifier: MIT
#include "overjoist/inspect.hpp"

#include <algorithm>
#include <cmath>
#include <tuple>

#include "evaluate/chain.hpp"
#include "evaluate/offer.hpp"
#include "inspect/parts.hpp"
#include "overjoist/cautions.hpp"
#include "overjoist/clearing.hpp"

// The inspection (method eq. 19): the plan that was sold is worked out with the fill that was used,
// then bags and depths are turned into the level that they make, and the attic is worked out once
// more with those levels.
namespace overjoist {
namespace parts {
namespace {

// ---- The attic as built

void take_built(SectionInspection& s, const TopUp& t, const Section& survey) {
  BuiltR b{
      t.working_r, t.effective_r, t.working_r_printed, t.effective_r_printed, Verdict::too_close,
      false,       false};
  b.reached = reaches(t.after().us(), t.target_r.us());
  const auto& range = t.printed_after();
  const bool unevenness_known = effective_count(survey.readings) >= 2.0 || survey.layers.empty();
  if (range)
    b.verdict = verdict_of(*range, t.target_r, unevenness_known);
  else
    b.verdict = b.reached ? Verdict::meets : Verdict::short_of;
  // By depth alone there may be air in it, by bags alone it may lie packed: either way R is at most
  // this.
  b.at_most = is_floor(s.kind) && (s.depth.count > 0) != s.weight.weight.has_value();
  s.built = b;
}

std::optional<SavingCheck> saving_of(const Totals& t) {
  const auto& year = t.year_by_bills ? t.year_by_bills
                                     : t.year;  // where the bills refute the one worked out, theirs
  if (!year) return {};
  return SavingCheck{year->heat, year->fuel.units, year->fuel.money};
}

void add_totals(Inspection& in, const Bags& bags) {
  InspectionTotals& t = in.totals;
  double needed = 0.0;
  bool all_needed = true, all_used = true, any = false;
  for (std::size_t i = 0; i < in.sections.size(); ++i) {
    const SectionInspection& s = in.sections[i];
    if (!is_blown(s.plan)) continue;
    any = true;
    all_needed = all_needed && s.plan.bags_exact;
    all_used = all_used && s.weight.used;
    needed += s.plan.bags_exact.value_or(0.0);
    if (s.weight.used) t.bags_used = t.bags_used.value_or(0.0) + *s.weight.used;
    if (s.weight.short_bags) t.short_bags = t.short_bags.value_or(0.0) + *s.weight.short_bags;
  }
  if (bags.rest) {  // counted together: the sum as it was written, not its parts added up again
    double own = 0.0;
    for (const SectionInspection& s : in.sections)
      own += s.weight.shared ? 0.0 : s.weight.used.value_or(0.0);
    t.bags_used = own + *bags.rest;
    t.short_bags = t.short_bags.value_or(0.0) +
                   bags_short(*bags.rest, std::min(*bags.rest_needed, bags.rest_least));
  }
  t.bags_unplaced = bags.unplaced;
  if (any && all_needed) t.bags_needed = round_up(needed, 1.0);
  if (any && all_needed) t.bags_needed_exact = needed;
  if (!all_used) t.short_bags.reset();
}

/// Insulated as planned at least, weatherstripped and latched, by the record.
bool lid_done(const SectionInspection& s) {
  const bool insulated =
      s.lid->insulation_r ? reaches(s.lid->insulation_r->us(), s.plan.working_r.us()) : s.lid->done;
  return insulated && s.lid->weatherstripped.value_or(false) && s.lid->latched.value_or(false);
}

/// What the lists leave open.
void add_open(Inspection& in) {
  InspectionTotals& t = in.totals;
  for (const CountCheck& c : in.counts)
    t.counts_open += c.state == CountState::short_of || c.state == CountState::not_counted ? 1 : 0;
  for (const SealCheck& s : in.sealing) t.seals_open += s.ticked ? 0 : 1;
  for (const HazardCheck& h : in.hazards) t.hazards_open += h.cleared ? 0 : 1;
  for (const SectionInspection& s : in.sections) t.lids_open += s.lid && !lid_done(s) ? 1 : 0;
  for (const RebatePacket& p : in.rebates)
    for (const PaperCheck& paper : p.papers) t.papers_missing += paper.have ? 0 : 1;
}

/// Cautions of all evaluations and of the inspection itself, each thing once, in the usual order.
void join_cautions(Inspection& in, const Evaluation& sold,
                   const std::vector<const Evaluation*>& more, Notes& notes) {
  in.findings.cautions = sold.findings.cautions;
  const auto add = [&](const Caution& c) {
    const bool there =
        std::any_of(in.findings.cautions.begin(), in.findings.cautions.end(),
                    [&](const Caution& x) { return x.row == c.row && x.where == c.where; });
    if (!there) in.findings.cautions.push_back(c);
  };
  for (const Caution& c : notes.take_cautions()) add(c);
  for (const Evaluation* e : more)
    for (const Caution& c : e->findings.cautions) add(c);
  std::stable_sort(in.findings.cautions.begin(), in.findings.cautions.end(),
                   [](const Caution& a, const Caution& b) {
                     return std::tie(a.level, a.row) < std::tie(b.level, b.row);
                   });
}

/// Over a stop that stands nothing passes: it is the verdict of the job, and of each section that
/// does not fail by bags and depths.
void hold_stops(Inspection& in, const Tables& tables) {
  in.totals.stops_open = static_cast<int>(
      std::count_if(in.findings.cautions.begin(), in.findings.cautions.end(),
                    [](const Caution& c) { return c.level == CautionLevel::stop; }));
  if (in.totals.stops_open == 0) return;
  // A stop that no listed hazard says, such as of a bypass, is open beside those.
  in.totals.hazards_open += static_cast<int>(std::count_if(
      in.findings.cautions.begin(), in.findings.cautions.end(), [&](const Caution& c) {
        return c.level == CautionLevel::stop &&
               std::none_of(in.hazards.begin(), in.hazards.end(), [&](const HazardCheck& h) {
                 const CautionRow* row =
                     caution_row(Hazard{h.kind, h.where, "", "", "", false}, tables);
                 return !h.cleared && row == &tables.cautions[c.row] &&
                        (h.where.empty() ? c.where == "attic" : h.where == c.where);
               });
      }));
  in.verdict = BuiltVerdict::stop_open;
  for (RebatePacket& packet : in.rebates) packet.built.reset();  // nothing is paid on it
  for (SectionInspection& s : in.sections)
    if (s.verdict == BuiltVerdict::pass || s.verdict == BuiltVerdict::incomplete ||
        (in.hands_off && s.verdict == BuiltVerdict::read_again))
      s.verdict = BuiltVerdict::stop_open;
}

void join_notes(Inspection& in, const Evaluation& plan, const Tables& tables, Notes& notes) {
  in.findings.assumptions = plan.findings.assumptions;
  for (Assumption& a : notes.take_assumptions()) in.findings.assumptions.push_back(std::move(a));
  in.findings.sources = plan.findings.sources;
  if (const SourceRow* rule = tables.source("16-cfr-460"))
    in.findings.sources.push_back(static_cast<std::size_t>(rule - tables.sources.data()));
  for (const std::size_t row : notes.take_sources()) in.findings.sources.push_back(row);
  std::sort(in.findings.sources.begin(), in.findings.sources.end());
  in.findings.sources.erase(std::unique(in.findings.sources.begin(), in.findings.sources.end()),
                            in.findings.sources.end());
}

void add_rebates(Inspection& in, const Evaluation& built, bool known) {
  for (const RebateResult& r : built.rebates) {
    RebatePacket packet{r.name, known ? std::optional(r.high) : std::nullopt, {}};
    for (const std::string& paper : r.papers_have) packet.papers.push_back({paper, true});
    for (const std::string& paper : r.papers_lacking) packet.papers.push_back({paper, false});
    in.rebates.push_back(std::move(packet));
  }
}

void head(Inspection& in, const Survey& survey, const Record& record, const Evaluation& sold) {
  in.id = survey.id;
  in.label = survey.label;
  in.record_id = record.id;
  in.currency = sold.currency;
  in.date = record.date;
  in.installer = record.installer;
  in.sold = record.sold.value_or(End::high);
  in.target = sold.planned[in.sold].target;
  in.basis = sold.target.basis;
  in.hands_off = sold.hands_off;
  in.changes = record.changes;
  in.survey_keys = survey.extras;
  in.record_keys = record.extras;
}

SectionInspection begin_section(const SectionResult& r, const TopUp& plan) {
  SectionInspection s;
  s.name = r.name;
  s.kind = r.kind;
  s.area = r.area;
  s.plan = plan;
  s.existing_r = r.existing.working_r;
  return s;
}

/// How every section was left.
struct AllLeft {
  std::vector<LeftAs> as;
  std::vector<bool> known;
  bool all_known() const { return std::find(known.begin(), known.end(), false) == known.end(); }
};

AllLeft judge_all(const Judge& judge, Inspection& in, Survey& built_survey) {
  AllLeft all;
  for (std::size_t i = 0; i < in.sections.size(); ++i) {
    const Left left = judge_section(judge, in.sections[i], i, built_survey.sections[i]);
    all.as.push_back(left.as);
    all.known.push_back(left.known);
    in.verdict = i == 0 ? in.sections[i].verdict : std::max(in.verdict, in.sections[i].verdict);
  }
  return all;
}

/// R, UA and saving of the attic as planned and as built; the latter only where every section is
/// known.
void add_attic(Inspection& in, const Evaluation& sold, const Evaluation& built, const Survey& used,
               const AllLeft& left) {
  for (std::size_t i = 0; i < in.sections.size(); ++i)
    if (left.known[i]) take_built(in.sections[i], built.planned.high.sections[i], used.sections[i]);
  in.attic_planned = sold.planned[in.sold].attic;
  in.saving_planned = saving_of(sold.planned[in.sold].totals);
  if (sold.heating) in.fuel_unit = sold.heating->unit;
  const auto at_most = [](const SectionInspection& s) {
    return (s.built && s.built->at_most) || s.lacks_area;
  };
  in.saving_at_most = std::any_of(in.sections.begin(), in.sections.end(), at_most);
  if (!left.all_known()) return;
  in.attic_built = built.planned.high.attic;
  in.saving_built = saving_of(built.planned.high.totals);
}

void add_lists(Inspection& in, const InspectWork& work) {
  in.counts = check_counts(work);
  in.sealing = check_sealing(work);
  in.hazards = check_hazards(work);
  in.tag = check_tag(work);
  in.receipt = make_receipt(work, in);
}

/// The survey with the one target that was sold.
Survey with_one_target(const Survey& survey, Resistance target) {
  Survey s = survey;
  set_both(s.target, target);
  return s;
}

}  // namespace
}  // namespace parts

Inspection inspect(const Survey& survey, const Record& record, const Tables& tables) {
  using namespace parts;
  Survey base = with_record(survey, record, tables);
  const bool quoted = sell_quote(base, survey.claims, record);
  Survey used = base;
  const bool changed = use_record(used, record);
  const SoldLevels base_levels = sell_inches(base, survey.claims, record, tables);
  const SoldLevels levels = sell_inches(used, survey.claims, record, tables);
  const Evaluation sold = sold_plan(base, tables, base_levels);
  const Evaluation plan = changed ? sold_plan(used, tables, levels) : sold;
  Inspection in;
  head(in, survey, record, sold);
  in.sold_by_quote = quoted;
  in.bag_known = used.proposal && used.proposal->bag_net;
  Notes notes(tables), unused(tables);
  notes.keep_hands_off(sold.hands_off);
  Blow blow;
  Proposal proposal = used.proposal.value_or(Proposal{});
  if (!used.proposal) proposal.material = "cellulose-loose";  // as `evaluate` takes it
  prepare_blow(blow, proposal, {used, tables, unused});
  in.fill = plan.added_material;
  in.method = plan.method;

  const Planned& job = plan.planned[in.sold];
  for (std::size_t i = 0; i < plan.sections.size(); ++i)
    in.sections.push_back(begin_section(plan.sections[i], job.sections[i]));
  for (std::size_t i = 0; i < levels.size(); ++i) in.sections[i].sold = levels[i];
  const auto tag = tagged_fill(used, record, blow);
  const auto by_tag = tag ? std::optional(sold_plan(tag->survey, tables, levels)) : std::nullopt;
  const InspectWork work{used,
                         record,
                         tables,
                         plan,
                         job,
                         by_tag ? &by_tag->planned[in.sold] : nullptr,
                         tag ? tag->settling : 0.0,
                         tag && tag->rated,
                         blow};
  const Bags bags = place_bags(work, in.sections);
  Survey built_survey = with_one_target(used, in.target);
  const AllLeft left = judge_all({work, bags, notes}, in, built_survey);
  const Evaluation built = evaluate_left(built_survey, tables, &left.as);
  add_attic(in, sold, built, used, left);
  add_totals(in, bags);
  add_lists(in, work);
  add_rebates(in, built, left.all_known() && !in.saving_at_most);
  add_open(in);
  say_terms(in, record, bags, blow, notes);
  say_differences(base, record, notes);
  join_cautions(in, sold, {&plan, &built}, notes);
  hold_stops(in, tables);
  join_notes(in, plan, tables, notes);
  return in;
}

}  // namespace overjoist
