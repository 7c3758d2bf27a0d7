// SPDX-License-Identifier: MIT
#include <algorithm>
#include <cmath>

#include "evaluate/floor.hpp"
#include "evaluate/found.hpp"
#include "inspect/parts.hpp"
#include "overjoist/cautions.hpp"

// One section held against its plan (method eq. 19): its bags, its depths, the verdict, and how it
// was left.
namespace overjoist::parts {

namespace {

/// @param bag_known  false: the net weight of a bag is an assumption, and weight cannot be judged
/// by it
WeightCheck check_weight(const BlownFloor& f, const BagCount& bags, const Bags& all,
                         bool bag_known) {
  WeightCheck w;
  w.needed = f.plan.bags_exact;
  w.least = f.plan.field_weight();
  w.used = bags.used;
  w.shared = bags.shared;
  w.waste = f.blow.waste;
  w.why = !w.used ? "not-recorded" : !w.needed ? "plan-unknown" : !bag_known ? "bag-unknown" : "";
  if (f.tag_bags) {
    w.by_tag = f.tag_bags->bags;
    w.tag_scaled = f.tag_bags->scaled;
  } else if (f.by_tag) {
    w.lightest = least_bags(f.plan, f.by_tag);
  }
  if (!w.why.empty()) return w;
  w.weight = weight_of_bags(f, *w.used);
  const double used = bags.shared ? *all.rest : *w.used;
  const double needed = bags.shared ? *all.rest_needed : *w.needed;
  const double least =
      bags.shared ? all.rest_least : w.by_tag.value_or(least_bags(f.plan, f.by_tag));
  const bool stated =
      w.by_tag && !bags.shared;  // fewer than its own tag says is not shown to be enough either
  if (reaches(used, needed) != reaches(used, least) && (stated || reaches(used, least))) {
    w.why = stated ? "by-tag" : "by-range";
    return w;
  }
  w.met = reaches(used, needed) ? Met::yes : Met::no;
  if (!bags.shared) w.short_bags = bags_short(used, std::min(needed, least));
  return w;
}

// ---- Depths

/// What depths must reach: least and mean of them.
struct DepthNeed {
  Length least, mean;
};

/// Over each spot the surface after settling, the lowest one.
DepthNeed settled_need(const BlownFloor& f, const TopUp& plan, const NewFill& fill) {
  DepthNeed need{{}, *plan.settled_level};
  bool first = true;
  for (const BaseSpot& spot : f.floor.spots) {
    const Length surface = spot.surface + new_settled(spot, fill, *plan.initial_level);
    need.least = first ? surface : std::min(need.least, surface);
    first = false;
  }
  return need;
}

DepthNeed need_of(const BlownFloor& f, DepthKind kind, bool by_tag) {
  const TopUp& plan = by_tag ? *f.by_tag : f.plan;
  if (!by_tag)
    return kind == DepthKind::initial ? DepthNeed{*plan.initial_level, *plan.initial_level}
                                      : settled_need(f, plan, f.blow.fill);
  TopUp exact = plan;  // a tag promises its own figure, not one rounded to a tape
  if (plan.level_exact && *plan.level_exact < *plan.initial_level) {
    exact.settled_level =
        *plan.settled_level - (1.0 - f.tag_settling) * (*plan.initial_level - *plan.level_exact);
    exact.initial_level = plan.level_exact;
  }
  if (kind == DepthKind::initial) return {*exact.initial_level, *exact.initial_level};
  NewFill fill = f.blow.fill;
  fill.settling = f.tag_settling;
  return settled_need(f, exact, fill);
}

std::size_t readings_below(const BlownFloor& f, const RecordSection& record, Length least) {
  std::size_t below = 0;
  for (const Reading& r : record.depths) {
    const Length low = r.flush ? f.built.framing.depth : std::min(r.depth, r.depth_to);
    below += reaches(low.us(), least.us()) ? 0U : 1U;
  }
  return below;
}

DepthCheck check_depths(const BlownFloor& f, const RecordSection& record, const DepthsRead& read,
                        bool kind_known) {
  DepthCheck d;
  d.kind = read.kind;
  d.kind_known = kind_known;
  d.count = record.depths.size();
  d.least = read.spots.front().depth;
  d.greatest = read.spots.back().depth;
  d.mean = mean_depth(read.spots);
  const DepthNeed need = need_of(f, read.kind, false);
  d.needed_mean = need.mean;
  d.needed_least = need.least;
  d.below = readings_below(f, record, need.least);
  d.mean_met = reaches(d.mean.us(), need.mean.us());
  const bool met = d.mean_met && d.below == 0;
  d.met = met ? Met::yes : Met::no;
  d.settled_for_initial = read.kind == DepthKind::initial && !d.mean_met &&
                          reaches(d.mean.us(), f.plan.settled_level->us());
  if (!f.by_tag) return d;
  // Our R per inch says one thing, the product's tag another: neither is a chart.
  const DepthNeed tag = need_of(f, read.kind, true);
  (f.tag_rated ? d.tag_mean : d.best_mean) = tag.mean;
  const bool met_by_tag =
      reaches(d.mean.us(), tag.mean.us()) && readings_below(f, record, tag.least) == 0;
  if (met_by_tag == met) return d;
  d.met = Met::not_judged;
  d.why = f.tag_rated ? "by-tag" : "by-range";
  d.settled_for_initial = false;
  return d;
}

/// True where our figures and the tag's, or the range of the material, say two things.
bool between(std::string_view why) { return why == "by-tag" || why == "by-range"; }

BuiltVerdict verdict_of_section(const WeightCheck& w, const DepthCheck& d) {
  if (w.met == Met::not_judged && d.met == Met::not_judged)
    return between(w.why) || between(d.why) ? BuiltVerdict::incomplete : BuiltVerdict::not_judged;
  if (w.met == Met::not_judged || d.met == Met::not_judged)
    return w.met == Met::no || d.met == Met::no ? BuiltVerdict::short_of : BuiltVerdict::incomplete;
  if (w.met == Met::no) return d.mean_met ? BuiltVerdict::fluffed : BuiltVerdict::short_of;
  if (d.met == Met::yes) return BuiltVerdict::pass;
  return d.mean_met ? BuiltVerdict::uneven : BuiltVerdict::over_dense;
}

// ---- Bags and depths that cannot be meant

/// Why bags or depths are to be read again; "" where they may be right. Thresholds:
/// data/bypasses.json.
std::string_view read_again(const Judge& j, const BlownFloor& f, const SectionInspection& s,
                            const DepthsRead* read) {
  const double many = j.w.tables.figure("read-again-bags"),
               factor = j.w.tables.figure("read-again-density");
  const WeightCheck& w = s.weight;
  const bool counted = w.used && w.needed && *w.needed > 0;
  const double used = w.shared ? *j.bags.rest : w.used.value_or(0.0),
               needed = w.shared ? *j.bags.rest_needed : w.needed.value_or(0.0);
  if (counted && used >= many * needed) return "many-bags";
  if (!read) return "";
  Length level = s.depth.needed_mean * (counted && w.weight ? std::max(1.0, used / needed) : 1.0);
  Length found = f.floor.spots.front().surface;
  for (const BaseSpot& spot : f.floor.spots) {
    level = std::max(level, spot.surface);
    found = std::min(found, spot.surface);
  }
  if (!reaches((s.depth.least + inches(j.w.tables.figure("read-again-tape"))).us(), found.us()))
    return "below-before";
  if (s.depth.greatest > level * factor) return "many-inches";
  if (!w.weight || w.shared) return "";
  const Length slack = inches(j.w.tables.figure("read-again-slack")),
               lies = layer_of_depths(f, *read);
  const LayerOfBags weighed = layer_of_bags(f, *w.used);
  if (lies > weighed.most * factor + slack) return "too-deep";
  return weighed.least > (lies + slack) * factor ? "too-thin" : "";
}

/// Nothing is judged by what is to be read again.
void set_aside(SectionInspection& s) {
  s.verdict = BuiltVerdict::read_again;
  s.weight.met = s.depth.met = Met::not_judged;
  s.weight.why = s.depth.why = "read-again";
  s.weight.short_bags.reset();
  s.depth.settled_for_initial = false;
}

/// However thick the rest lies, an area that was sold and not insulated is a shortfall.
BuiltVerdict held_to_area(BuiltVerdict v, const SectionInspection& s) {
  return s.lacks_area && v != BuiltVerdict::nothing_planned && !fails(v) ? BuiltVerdict::short_of
                                                                         : v;
}

/// What was sold rules: a plan that is only what fits is not met by carrying it out.
BuiltVerdict held_to_target(BuiltVerdict v, const TopUp& plan, const TopUp* by_tag) {
  const bool full = plan.status == TopUpStatus::unreachable &&
                    !(by_tag && by_tag->status != TopUpStatus::unreachable);
  return full && (v == BuiltVerdict::pass || v == BuiltVerdict::incomplete)
             ? BuiltVerdict::below_target
             : v;
}

// ---- A section

void say_depths(const Judge& j, const SectionInspection& s) {
  if (!s.depth.kind_known) j.notes.assume("built-depths-initial", s.name);
  const Length least = s.plan.eave ? s.plan.eave->least_field : s.plan.new_depth->least;
  if (s.depth.kind == DepthKind::settled && least < s.plan.new_depth->greatest)
    j.notes.assume("built-settled-pairs", s.name);
  if (s.plan.eave) j.notes.assume("built-field-depths", s.name);
}

/// More weight than the board may carry: fill that is packed too tight weighs what its bags weigh,
/// whatever its depth.
void weigh_bags(const Judge& j, const BlownFloor& f, const SectionInspection& s) {
  const CeilingLimit* limit =
      f.built.thin_board ? nullptr : ceiling_limit(j.w.tables, f.built.board, f.built.spacing);
  if (!limit || !f.plan.weight_greatest || !s.weight.weight || !f.plan.field_weight()) return;
  const MassPerArea most = *f.plan.weight_greatest - *f.plan.field_weight() + *s.weight.weight;
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
std::optional<Length> judge_floor(const Judge& j, SectionInspection& s, BlownFloor f,
                                  std::size_t index) {
  const RecordSection* record = recorded(j.w.record, s.name);
  const bool bag_known = j.w.survey.proposal && j.w.survey.proposal->bag_net;
  s.weight = check_weight(f, j.bags.sections[index], j.bags, bag_known);
  if (s.weight.used && !bag_known) j.notes.assume("built-bag-unknown", s.name);
  std::optional<DepthsRead> read;
  s.depth.why = "not-recorded";
  if (record && !record->depths.empty()) {
    read = DepthsRead{merge_readings(record->depths, f.built.framing.depth),
                      j.w.record.depths_are.value_or(DepthKind::initial)};
    s.depth = check_depths(f, *record, *read, j.w.record.depths_are.has_value());
    say_depths(j, s);
  }
  if (s.weight.weight) weigh_bags(j, f, s);
  s.verdict = held_to_target(verdict_of_section(s.weight, s.depth), f.plan, f.by_tag);
  if (record && record->area) {
    const double slack = j.w.tables.figure("built-area-slack") / 100.0;
    s.built_area = *record->area;
    s.lacks_area = *record->area < s.area * (1.0 - slack);
  }
  s.verdict = held_to_area(s.verdict, s);
  if (between(s.weight.why) || between(s.depth.why)) j.notes.assume("built-by-tag", s.name);
  s.read_again = read_again(j, f, s, read ? &*read : nullptr);
  if (!s.read_again.empty()) {
    set_aside(s);
    return {};
  }
  const bool weighed = s.weight.weight.has_value();
  f.lightest = !read || f.by_tag;
  std::optional<Length> level;
  if (weighed) level = level_of_bags(f, *s.weight.used);
  if (read) level = level ? std::min(*level, level_of_depths(f, *read)) : level_of_depths(f, *read);
  s.layer = new_layer_built(f, weighed ? s.weight.used : std::nullopt, read ? &*read : nullptr);
  if (level && s.layer.by_weight.has_value() != s.layer.by_thickness.has_value())
    s.layer.most = most_of_level(f, *level);
  if (s.layer.beyond_chart) j.notes.assume("built-beyond-chart", s.name);
  return level;
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
  const bool planned = s.plan.adds();
  if (!planned) {
    s.verdict = BuiltVerdict::nothing_planned;
    return {};
  }
  if (!is_blown(s.plan) || j.w.blow.method != Method::blown)
    return {{}, false};  // laid or sprayed: not by bags
  Notes unused(j.w.tables);
  BuiltSection built = build_section(j.w.survey.sections[index], {j.w.survey, j.w.tables, unused});
  const BaseFloor floor = base_floor(built);
  BlownFloor blown{built, floor, j.w.blow, s.plan};
  if (j.w.by_tag && is_blown(j.w.by_tag->sections[index]))
    blown.by_tag = &j.w.by_tag->sections[index];
  blown.tag_settling = j.w.tag_settling;
  blown.tag_rated = j.w.tag_rated;
  blown.tag_bags = bags_by_tag(j.w, blown);
  const auto level = judge_floor(j, s, blown, index);
  return {{level, false}, level.has_value()};
}

}  // namespace overjoist::parts
