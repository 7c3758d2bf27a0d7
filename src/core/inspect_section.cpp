// SPDX-License-Identifier: MIT
#include <algorithm>
#include <cmath>

#include "inspect_parts.hpp"

// One section held against its plan (method eq. 19): its bags, its depths, the verdict, and how it was left.
namespace overjoist::parts {

const RecordSection* recorded(const Record& record, const std::string& name) {
  for (const RecordSection& s : record.sections)
    if (s.name == name) return &s;
  return nullptr;
}

namespace {

/// True if the record says that loose fill went into a slope or wall, whose bags nobody counts by themselves.
bool packs_a_cavity(const Record& record, const Evaluation& plan) {
  return std::any_of(plan.sections.begin(), plan.sections.end(), [&](const SectionResult& s) {
    const RecordSection* r = recorded(record, s.name);
    return s.cavity && s.cavity->added > Length{} && s.cavity->added_mass && r && r->done.value_or(false);
  });
}

}  // namespace

/// Own counts first; what the whole count holds beyond them belongs to the other sections that take fill, by need.
Bags place_bags(const Record& record, const std::vector<SectionInspection>& sections, const Evaluation& plan) {
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
  bags.with_cavity = packs_a_cavity(record, plan);
  if (bags.with_cavity) return bags;
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

namespace {

/// @param bag_known  false: the net weight of a bag is an assumption, and weight cannot be judged by it
WeightCheck check_weight(const BlownFloor& f, const BagCount& bags, const Bags& all, bool bag_known) {
  WeightCheck w;
  w.needed = f.plan.bags_exact;
  w.least = f.plan.added_weight;
  w.used = bags.used;
  w.shared = bags.shared;
  w.waste = f.blow.waste;
  if (!w.used || !w.needed || !bag_known) return w;
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
  const bool bag_known = j.w.survey.proposal && j.w.survey.proposal->bag_net;
  s.weight = check_weight(f, j.bags.sections[index], j.bags, bag_known);
  if (s.weight.used && !bag_known) j.notes.assume("built-bag-unknown", s.name);
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

}  // namespace

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

}  // namespace overjoist::parts
