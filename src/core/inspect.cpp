// SPDX-License-Identifier: MIT
#include "overjoist/inspect.hpp"

#include <algorithm>
#include <cmath>
#include <tuple>

#include "inspect_parts.hpp"

// The inspection (method eq. 19): the plan that was sold is worked out with the fill that was used, then bags and depths are turned
// into the level that they make, and the attic is worked out once more with those levels.
namespace overjoist {
namespace parts {
namespace {

/// The survey with what the record says of hazards and papers.
Survey with_record(const Survey& survey, const Record& record) {
  Survey s = survey;
  s.compare.clear();
  s.claims.clear();
  for (Hazard& h : s.hazards)
    for (const ClearedHazard& c : record.cleared) {
      if (h.cleared() || c.kind != h.kind || (!c.where.empty() && c.where != h.where)) continue;
      h.cleared_by = c.by + ", " + c.trade;
      h.cleared_date = c.date;
      h.cleared_paper = c.paper;
    }
  s.papers.insert(s.papers.end(), record.papers.begin(), record.papers.end());
  const auto any = [&](auto has) { return std::any_of(record.sections.begin(), record.sections.end(), has); };
  if (record.bags || any([](const RecordSection& x) { return x.bags.has_value(); })) s.papers.emplace_back("bag-count");
  if (any([](const RecordSection& x) { return !x.depths.empty(); })) s.papers.emplace_back("depth-readings");
  return s;
}

const RecordSection* recorded(const Record& record, const std::string& name) {
  for (const RecordSection& s : record.sections)
    if (s.name == name) return &s;
  return nullptr;
}

/// The survey with the fill that was used and the areas as insulated.  @returns false if neither differs
bool use_record(Survey& s, const Record& record) {
  bool changed = record.product || !record.material.empty() || record.bag_net || record.waste_percent;
  if (changed) s.proposal = used_proposal(s, record);
  for (Section& section : s.sections)
    if (const RecordSection* r = recorded(record, section.name); r && r->area) {
      section.area = *r->area;
      changed = true;
    }
  return changed;
}

// ---- Bags

/// Bags of each section: its own count, or its part of what was counted together.
struct BagCount {
  std::optional<double> used;
  bool shared = false;
};

struct Bags {
  std::vector<BagCount> sections;
  std::optional<double> rest, rest_needed;  ///< counted together, and what those sections take
  std::optional<double> unplaced;
};

/// Own counts first; what the whole count holds beyond them belongs to the other sections that take fill, by need.
Bags place_bags(const Record& record, const std::vector<SectionInspection>& sections) {
  Bags bags;
  bags.sections.resize(sections.size());
  double own = 0.0, need = 0.0;
  bool need_known = true;
  std::vector<std::size_t> others;
  for (std::size_t i = 0; i < sections.size(); ++i) {
    const RecordSection* r = recorded(record, sections[i].name);
    if (r && r->bags) {
      bags.sections[i].used = r->bags;
      own += *r->bags;
      if (!is_blown(sections[i].plan)) bags.unplaced = bags.unplaced.value_or(0.0) + *r->bags;
    } else if (is_blown(sections[i].plan)) {
      others.push_back(i);
      need_known = need_known && sections[i].plan.bags_exact;
      need += sections[i].plan.bags_exact.value_or(0.0);
    }
  }
  if (!record.bags) return bags;
  const double rest = std::max(0.0, *record.bags - own);
  if (others.empty() && rest > 0) bags.unplaced = bags.unplaced.value_or(0.0) + rest;
  if (others.empty() || !need_known || !(need > 0)) return bags;
  for (const std::size_t i : others) bags.sections[i] = {rest * (*sections[i].plan.bags_exact / need), others.size() > 1};
  if (others.size() == 1) bags.sections[others.front()].used = rest;
  if (others.size() == 1) return bags;
  bags.rest = rest;
  bags.rest_needed = need;
  return bags;
}

/// Whole bags that are missing, with the slack of `reaches`.
double bags_short(double used, double needed) {
  if (reaches(used, needed)) return 0.0;
  return std::max(1.0, std::ceil(needed - used - 1e-9 * std::fmax(1.0, needed)));
}

WeightCheck check_weight(const BlownFloor& f, const BagCount& bags, const Bags& all) {
  WeightCheck w;
  w.needed = f.plan.bags_exact;
  w.least = f.plan.added_weight;
  w.used = bags.used;
  w.shared = bags.shared;
  if (!w.used || !w.needed) return w;
  w.weight = weight_of_bags(f, *w.used);
  const bool met = bags.shared ? reaches(*all.rest, *all.rest_needed) : reaches(*w.used, *w.needed);
  w.met = met ? Met::yes : Met::no;
  if (!bags.shared) w.short_bags = bags_short(*w.used, *w.needed);
  return w;
}

// ---- Depths

Length settled_least(const BlownFloor& f) {
  Length least;
  bool first = true;
  for (const BaseSpot& spot : f.floor.spots) {
    const Length surface = spot.surface + new_settled(spot, f.blow.fill, *f.plan.initial_level);
    least = first ? surface : std::min(least, surface);
    first = false;
  }
  return least;
}

DepthCheck check_depths(const BlownFloor& f, const RecordSection& record, const DepthsRead& read, bool kind_known) {
  DepthCheck d;
  d.kind = read.kind;
  d.kind_known = kind_known;
  d.count = record.depths.size();
  d.least = read.spots.front().depth;
  d.greatest = read.spots.back().depth;
  d.mean = mean_depth(read.spots);
  const bool settled = read.kind == DepthKind::settled;
  d.needed_mean = settled ? *f.plan.settled_level : *f.plan.initial_level;
  d.needed_least = settled ? settled_least(f) : *f.plan.initial_level;
  for (const Reading& r : record.depths) {
    const Length low = r.flush ? f.built.framing.depth : std::min(r.depth, r.depth_to);
    d.below += reaches(low.us(), d.needed_least.us()) ? 0U : 1U;
  }
  d.mean_met = reaches(d.mean.us(), d.needed_mean.us());
  d.met = d.mean_met && d.below == 0 ? Met::yes : Met::no;
  d.settled_for_initial = !settled && !d.mean_met && reaches(d.mean.us(), f.plan.settled_level->us());
  return d;
}

BuiltVerdict verdict_of_section(const WeightCheck& w, const DepthCheck& d) {
  if (w.met == Met::not_judged && d.met == Met::not_judged) return BuiltVerdict::not_judged;
  if (w.met == Met::not_judged || d.met == Met::not_judged)
    return w.met == Met::no || d.met == Met::no ? BuiltVerdict::short_of : BuiltVerdict::incomplete;
  if (w.met == Met::no) return d.mean_met ? BuiltVerdict::fluffed : BuiltVerdict::short_of;
  if (d.met == Met::yes) return BuiltVerdict::pass;
  return d.mean_met ? BuiltVerdict::uneven : BuiltVerdict::over_dense;
}

// ---- A section

/// Everything that a section is judged with.
struct Judge {
  const InspectWork& w;
  const Bags& bags;
  Notes& notes;
};

void say_depths(const Judge& j, const SectionInspection& s) {
  if (!s.depth.kind_known) j.notes.assume("built-depths-initial", s.name);
  if (s.depth.kind == DepthKind::settled && s.plan.new_depth->least < s.plan.new_depth->greatest)
    j.notes.assume("built-settled-pairs", s.name);
  if (s.plan.eave) j.notes.assume("built-field-depths", s.name);
}

/// More weight than the board may carry: fill that is packed too tight weighs what its bags weigh, whatever its depth.
void weigh_bags(const Judge& j, const BlownFloor& f, const SectionInspection& s) {
  const CeilingLimit* limit = f.built.thin_board ? nullptr : ceiling_limit(j.w.tables, f.built.board, f.built.spacing);
  if (!limit || !f.plan.weight_greatest || !s.weight.weight || !f.plan.added_weight) return;
  const MassPerArea most = *f.plan.weight_greatest - *f.plan.added_weight + *s.weight.weight;
  if (reaches(limit->limit.us(), most.us())) return;
  const Material* board = j.w.tables.material(f.built.board);
  j.notes.caution("ceiling-weight", s.name,
                  {{"when", std::string("as built, by the bags used")},
                   {"weight", most},
                   {"limit", limit->limit},
                   {"board", board ? board->name : f.built.board},
                   {"spacing", f.built.spacing}});
}

/// Judges a floor that was to be blown.  @returns the level that was built; empty: not known
std::optional<Length> judge_floor(const Judge& j, SectionInspection& s, const BlownFloor& f, std::size_t index) {
  const RecordSection* record = recorded(j.w.record, s.name);
  s.weight = check_weight(f, j.bags.sections[index], j.bags);
  std::optional<DepthsRead> read;
  if (record && !record->depths.empty()) {
    read = DepthsRead{merge_readings(record->depths, f.built.framing.depth), j.w.record.depths_are.value_or(DepthKind::initial)};
    s.depth = check_depths(f, *record, *read, j.w.record.depths_are.has_value());
    say_depths(j, s);
  }
  s.verdict = verdict_of_section(s.weight, s.depth);
  const bool weighed = s.weight.met != Met::not_judged;
  s.layer = new_layer_built(f, weighed ? s.weight.used : std::nullopt, read ? &*read : nullptr);
  if (s.layer.beyond_chart) j.notes.assume("built-beyond-chart", s.name);
  std::optional<Length> level;
  if (weighed) level = level_of_bags(f, *s.weight.used);
  if (read) level = level ? std::min(*level, level_of_depths(f, *read)) : level_of_depths(f, *read);
  if (weighed) weigh_bags(j, f, s);
  return level;
}

void judge_lid(const Judge& j, SectionInspection& s, Section& built) {
  const RecordSection* record = recorded(j.w.record, s.name);
  s.verdict = BuiltVerdict::nothing_planned;
  s.lid = LidCheck{};
  if (record)
    s.lid =
        LidCheck{record->done.value_or(record->insulation_r.has_value()), record->insulation_r, record->weatherstripped, record->latched};
  if (s.lid->insulation_r)
    built.after_insulation_r = s.lid->insulation_r;
  else if (!s.lid->done && built.after_insulation_r) {
    built.after_insulation_r.reset();
    j.notes.assume("built-as-found", s.name);
  }
}

/// A section of the record, and how the attic was left.
struct Left {
  LeftAs as;
  bool known = true;
};

Left judge_section(const Judge& j, SectionInspection& s, std::size_t index, Section& built_survey) {
  if (is_lid(s.kind)) {
    judge_lid(j, s, built_survey);
    return {};
  }
  if (is_cavity(s.kind)) {
    const RecordSection* record = recorded(j.w.record, s.name);
    s.done = record && record->done.value_or(false);
    s.verdict = BuiltVerdict::nothing_planned;
    if (!*s.done && j.w.plan.sections[index].cavity) j.notes.assume("built-as-found", s.name);
    return {{{}, *s.done}, true};
  }
  const bool planned = s.plan.new_depth && s.plan.new_depth->greatest > Length{};
  if (!planned) {
    s.verdict = BuiltVerdict::nothing_planned;
    return {};
  }
  if (!is_blown(s.plan) || j.w.blow.method != Method::blown) return {{}, false};  // laid or sprayed: not by bags
  Notes unused(j.w.tables);
  BuiltSection built = build_section(j.w.survey.sections[index], j.w.survey, j.w.tables, unused);
  const BaseFloor floor = base_floor(built);
  const auto level = judge_floor(j, s, {built, floor, j.w.blow, s.plan}, index);
  return {{level, false}, level.has_value()};
}

// ---- The attic as built

void take_built(SectionInspection& s, const SectionResult& r, const Section& survey) {
  const TopUpResult& t = r.high;
  BuiltR b{t.working_r, t.effective_r, t.working_r_range, t.effective_r_range, Verdict::too_close, false, false};
  const Resistance value = t.basis == Basis::working ? t.working_r : t.effective_r;
  b.reached = reaches(value.us(), t.target_r.us());
  const auto& range = t.basis == Basis::working ? b.working_range : b.effective_range;
  const bool unevenness_known = effective_count(survey.readings) >= 2.0 || survey.layers.empty();
  if (range)
    b.verdict = verdict_of(*range, t.target_r, unevenness_known);
  else
    b.verdict = b.reached ? Verdict::meets : Verdict::short_of;
  b.at_most = is_floor(s.kind) && s.depth.met != Met::not_judged && s.weight.met == Met::not_judged;
  s.built = b;
}

std::optional<SavingCheck> saving_of(const TotalsResult& t) {
  if (!t.year) return {};
  return SavingCheck{t.year->heat, t.year->fuel.units, t.year->fuel.money};
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
    for (const SectionInspection& s : in.sections) own += s.weight.shared ? 0.0 : s.weight.used.value_or(0.0);
    t.bags_used = own + *bags.rest;
    t.short_bags = t.short_bags.value_or(0.0) + bags_short(*bags.rest, *bags.rest_needed);
  }
  t.bags_unplaced = bags.unplaced;
  if (any && all_needed) t.bags_needed = round_up(needed, 1.0);
  if (!all_used) t.short_bags.reset();
}

/// What the lists leave open.
void add_open(Inspection& in) {
  InspectionTotals& t = in.totals;
  for (const CountCheck& c : in.counts) t.counts_open += c.state == CountState::short_of || c.state == CountState::not_counted ? 1 : 0;
  for (const SealCheck& s : in.sealing) t.seals_open += s.ticked ? 0 : 1;
  for (const HazardCheck& h : in.hazards) t.hazards_open += h.cleared ? 0 : 1;
  for (const RebatePacket& p : in.rebates)
    for (const PaperCheck& paper : p.papers) t.papers_missing += paper.have ? 0 : 1;
}

/// Cautions of all evaluations and of the inspection itself, each thing once, in the usual order.
void join_cautions(Inspection& in, const Evaluation& sold, const std::vector<const Evaluation*>& more, Notes& notes) {
  in.cautions = sold.cautions;
  const auto add = [&](const Caution& c) {
    const bool there =
        std::any_of(in.cautions.begin(), in.cautions.end(), [&](const Caution& x) { return x.row == c.row && x.where == c.where; });
    if (!there) in.cautions.push_back(c);
  };
  for (const Caution& c : notes.take_cautions()) add(c);
  for (const Evaluation* e : more)
    for (const Caution& c : e->cautions) add(c);
  std::stable_sort(in.cautions.begin(), in.cautions.end(),
                   [](const Caution& a, const Caution& b) { return std::tie(a.level, a.row) < std::tie(b.level, b.row); });
}

void join_notes(Inspection& in, const Evaluation& plan, const Tables& tables, Notes& notes) {
  in.assumptions = plan.assumptions;
  for (Assumption& a : notes.take_assumptions()) in.assumptions.push_back(std::move(a));
  in.sources = plan.sources;
  if (const SourceRow* rule = tables.source("16-cfr-460")) in.sources.push_back(static_cast<std::size_t>(rule - tables.sources.data()));
  for (const std::size_t row : notes.take_sources()) in.sources.push_back(row);
  std::sort(in.sources.begin(), in.sources.end());
  in.sources.erase(std::unique(in.sources.begin(), in.sources.end()), in.sources.end());
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
  in.sold = record.sold.value_or(SoldEnd::high);
  in.target = in.sold == SoldEnd::low ? sold.target.low : sold.target.high;
  in.basis = sold.target.basis;
  in.changes = record.changes;
  in.survey_keys = survey.extras;
  in.record_keys = record.extras;
}

void say_terms(const Inspection& in, const Record& record, const Bags& bags, const Blow& blow, Notes& notes) {
  if (!record.sold) notes.assume("built-sold-high", "", {{"value", in.target}});
  if (!record.product && record.material.empty()) notes.assume("built-fill-as-proposed", "", {{"value", blow.name}});
  if (blow.method == Method::blown && blow.waste > 0) notes.assume("built-waste", "", {{"value", blow.waste * 100.0}});
  if (bags.rest) notes.assume("built-bags-shared");
  if (bags.unplaced && *bags.unplaced > 0) notes.assume("built-bags-unplaced", "", {{"value", *bags.unplaced}});
  const bool layer = std::any_of(in.sections.begin(), in.sections.end(), [](const SectionInspection& s) { return s.layer.r.has_value(); });
  if (layer) notes.assume("built-even-layer");
  if (layer && !blow.fill.chart) notes.assume("built-no-chart");
}

SectionInspection begin_section(const SectionResult& r, SoldEnd sold) {
  SectionInspection s;
  s.name = r.name;
  s.kind = r.kind;
  s.area = r.area;
  s.plan = sold == SoldEnd::low ? r.low : r.high;
  s.existing_r = r.existing.working_r;
  return s;
}

/// The survey with the one target that was sold.
Survey with_one_target(const Survey& survey, Resistance target) {
  Survey s = survey;
  s.target.low = s.target.high = target;
  return s;
}

}  // namespace
}  // namespace parts

Inspection inspect(const Survey& survey, const Record& record, const Tables& tables) {
  using namespace parts;
  const Survey base = with_record(survey, record);
  Survey used = base;
  const bool changed = use_record(used, record);
  const Evaluation sold = evaluate_left(base, tables, nullptr);
  const Evaluation plan = changed ? evaluate_left(used, tables, nullptr) : sold;
  Inspection in;
  head(in, survey, record, sold);
  Notes notes(tables), unused(tables);
  Blow blow;
  Proposal proposal = used.proposal.value_or(Proposal{});
  if (!used.proposal) proposal.material = "cellulose-loose";  // as `evaluate` takes it
  prepare_blow(blow, proposal, used, tables, unused);
  in.fill = plan.added_material;
  in.method = plan.method;

  for (const SectionResult& r : plan.sections) in.sections.push_back(begin_section(r, in.sold));
  const Bags bags = place_bags(record, in.sections);
  const InspectWork work{used, record, tables, plan, blow, in.sold};
  const Judge judge{work, bags, notes};
  Survey built_survey = with_one_target(used, in.target);
  std::vector<LeftAs> left;
  std::vector<bool> known;
  for (std::size_t i = 0; i < in.sections.size(); ++i) {
    const Left l = judge_section(judge, in.sections[i], i, built_survey.sections[i]);
    left.push_back(l.as);
    known.push_back(l.known);
    in.verdict = i == 0 ? in.sections[i].verdict : std::max(in.verdict, in.sections[i].verdict);
  }
  const Evaluation built = evaluate_left(built_survey, tables, &left);
  for (std::size_t i = 0; i < in.sections.size(); ++i)
    if (known[i]) take_built(in.sections[i], built.sections[i], used.sections[i]);
  const bool all_known = std::find(known.begin(), known.end(), false) == known.end();
  add_totals(in, bags);
  const TotalsResult& planned = in.sold == SoldEnd::low ? sold.low : sold.high;
  in.attic_planned = in.sold == SoldEnd::low ? sold.attic.low : sold.attic.high;
  in.saving_planned = saving_of(planned);
  if (sold.heating) in.fuel_unit = sold.heating->unit;
  if (all_known) in.attic_built = built.attic.high;
  if (all_known) in.saving_built = saving_of(built.high);
  in.saving_at_most =
      std::any_of(in.sections.begin(), in.sections.end(), [](const SectionInspection& s) { return s.built && s.built->at_most; });
  in.counts = check_counts(work);
  in.sealing = check_sealing(work);
  in.hazards = check_hazards(survey, record);
  in.tag = check_tag(work);
  in.receipt = make_receipt(work, in);
  add_rebates(in, built, all_known);
  add_open(in);
  say_terms(in, record, bags, blow, notes);
  join_cautions(in, sold, {&plan, &built}, notes);
  join_notes(in, plan, tables, notes);
  return in;
}

}  // namespace overjoist
