// SPDX-License-Identifier: MIT
#include "write/parts/inspected_section.hpp"

#include <fmt/core.h>
#include <algorithm>
#include <cmath>

#include "write/parts/held.hpp"
#include "write/parts/inspection.hpp"

namespace overjoist::io {

std::string depth(const InspectionView& v, Length d, Toward toward) {
  return depth_text(d, v.c.units, toward);
}

std::string built_words(const InspectionView& v, std::string_view kind, const BuiltShown& b,
                        const std::string& text) {
  const auto& range = b.range;
  const Resistance shown = b.at_most && range && range->high ? std::max(b.r, *range->high) : b.r;
  const std::string words = text.empty() ? v.c.r(shown) : text;
  if (!b.at_most) return words + std::string(kind) + range_words(v.c, range);
  if (range && !range->high)
    return fmt::format("{} or less{}{}", words, kind, range_words(v.c, range));
  return fmt::format("at most {}{}", words, kind);
}

namespace {

/// Why bags or depths are not judged.
std::string_view why_words(std::string_view why) {
  if (why == "bag-unknown") return "the net weight of a bag is not recorded";
  if (why == "by-tag") return "the tag and our figures differ";
  if (why == "by-range") return "the range of the material leaves it open";
  if (why == "read-again") return "such a figure cannot be meant";
  return why == "plan-unknown" ? "the plan knows no bags" : "not recorded";
}

/// What the tag states, or what the lightest such fill takes, beside the plan's own figure.
std::string other_bags(const WeightCheck& w) {
  if (w.by_tag) {
    const std::string bags = number_text(*w.by_tag, w.tag_scaled ? 1 : 2, Toward::up);
    return fmt::format(" ({} by its tag{})", bags,
                       w.tag_scaled ? "'s bags, in proportion to the R" : "");
  }
  if (!w.lightest || !w.needed || !(*w.lightest < *w.needed)) return {};
  return fmt::format(" ({} if it is as light as such fill comes)",
                     number_text(*w.lightest, 1, Toward::up));
}

/// Bags used and needed, in order.
HeldTexts bag_words(const WeightCheck& w) {
  const std::string needed = w.needed ? number_text(*w.needed, 1, Toward::up) : "not known";
  if (!w.used) return {"not recorded", needed};
  const std::string used = number_text(*w.used, w.shared ? 1 : 2, Toward::down);
  if (!w.needed || w.shared) return {used, needed};
  return held_text({*w.used, used}, {*w.needed, needed}, {});
}

void write_bags(const InspectionView& v, const SectionInspection& s) {
  const WeightCheck& w = s.weight;
  const HeldTexts held = bag_words(w);
  std::string needed = held.limit + (v.in.bag_known ? other_bags(w) : " of an assumed weight");
  if (!w.used)
    return v.c.page.fact("  bags", fmt::format("not recorded; the plan takes {}", needed), kHang);
  std::string words =
      fmt::format("{}{}, the plan takes {}", held.value,
                  w.shared ? " (its part of what was counted together)" : "", needed);
  if (w.met != Met::not_judged)
    words += w.short_bags && *w.short_bags > 0
                 ? ": " + short_words(*w.short_bags)
                 : fmt::format(": {}{}", w.shared ? "their sum is " : "", word(w.met));
  else
    words += fmt::format(": not judged, {}", why_words(w.why));
  v.c.page.fact("  bags", words, kHang);
  if (!w.weight || !w.least) return;
  const HeldTexts weights = held_weight(*w.weight, *w.least, v.c.units);
  v.c.page.fact(
      "  weight",
      fmt::format(
          "{} on the bays{}, the plan takes {}", weights.value,
          w.waste > 0 ? fmt::format(", {} % waste taken off", number_text(w.waste * 100.0, 1)) : "",
          weights.limit),
      kHang);
}

/// A reading in quarters of an inch where it was read so, else to a tenth, rounded down: never more
/// than was read.
std::string reading_text(const InspectionView& v, Length l) {
  const double quarters = l.us() * 4.0;
  return v.c.units == Units::us && std::fabs(quarters - std::round(quarters)) < 1e-9
             ? level_text(l, v.c.units, Toward::down)
             : depth(v, l, Toward::down);
}

/// Readings and what they are held against.
struct DepthTexts {
  std::string span;   ///< from the least to the greatest
  bool even = false;  ///< these are the same
  std::string mean, needed_least, needed_mean, other;
};

DepthTexts depth_texts(const InspectionView& v, const DepthCheck& d) {
  const Units units = v.c.units;
  const bool even = reading_text(v, d.least) == reading_text(v, d.greatest);
  const std::string least = d.kind == DepthKind::settled
                                ? depth(v, d.needed_least, Toward::up)
                                : level_text(d.needed_least, units, Toward::up);
  const std::string need =
      d.kind == DepthKind::settled ? depth(v, d.needed_mean, Toward::up) : least;
  const auto figure = [&](Length l, const std::string& usual) {
    return HeldFigure{shown_unit(l, units), usual};
  };
  const Length other = d.tag_mean ? *d.tag_mean : d.best_mean.value_or(d.needed_mean);
  const std::string mean = even ? reading_text(v, d.mean) : depth(v, d.mean, Toward::down);
  std::vector<HeldPair> pairs = {{0, 3}, {2, 4}};
  if (d.tag_mean || d.best_mean) pairs.emplace_back(2, 5);
  const auto t = held_texts(
      {figure(d.least, reading_text(v, d.least)), figure(d.greatest, reading_text(v, d.greatest)),
       figure(d.mean, mean), figure(d.needed_least, least), figure(d.needed_mean, need),
       figure(other, depth(v, other, Toward::up))},
      pairs, {"", units == Units::us ? " in." : " cm"});
  return {span_text(t[0], t[1]), t[0] == t[1], t[2], t[3], t[4], t[5]};
}

void write_depths(const InspectionView& v, const SectionInspection& s) {
  const DepthCheck& d = s.depth;
  if (d.count == 0)
    return v.c.page.fact("  depth",
                         "not recorded; the plan blows flat to " +
                             level_text(*s.plan.initial_level, v.c.units, Toward::up),
                         kHang);
  const DepthTexts t = depth_texts(v, d);
  const std::string mean = t.even ? "" : ", mean " + t.mean;
  std::string words = fmt::format(
      "{} {}, {}{}; at least {} ({}{})", d.count, d.count == 1 ? "reading" : "readings", t.span,
      mean, t.needed_least, word(d.kind), d.kind_known ? "" : ", not said when read");
  if (d.kind == DepthKind::settled) words += fmt::format(", mean at least {}", t.needed_mean);
  if (d.tag_mean) words += fmt::format(", {} at its tag's R per inch", t.other);
  if (d.best_mean) words += fmt::format(", {} if it is as good as its material may be", t.other);
  words += d.met == Met::not_judged ? fmt::format(": not judged, {}", why_words(d.why))
                                    : fmt::format(": {}", word(d.met));
  if (d.below > 0 && d.met != Met::not_judged)
    words += fmt::format(", {} of {} below", d.below, d.count);
  v.c.page.fact("  depth", words, kHang);
  if (d.settled_for_initial)
    v.c.page.aside(
        "It is the depth that the plan has once settled: the settled thickness seems to "
        "have been taken for the initial one.",
        kHang);
}

void write_layer(const InspectionView& v, const SectionInspection& s) {
  const NewLayerBuilt& l = s.layer;
  if (!l.r) return;
  std::string words = v.c.r(l.most.value_or(*l.r));
  if (l.by_weight && l.by_thickness)
    words += fmt::format(": {} by weight, {} by thickness, the lower one rules",
                         v.c.r(*l.by_weight), v.c.r(*l.by_thickness));
  else
    words += l.by_weight ? " by weight alone: at most, since it may lie packed"
                         : " by thickness alone: at most, since depth can be fluffed with air";
  v.c.page.fact("  new layer", words, kHang);
}

/// R of the basis, at its best where it is a most, and the target, in order.
HeldTexts built_and_target(const InspectionView& v, const SectionInspection& s) {
  const BuiltR& b = *s.built;
  const bool working = s.plan.basis == Basis::working;
  const Resistance r = working ? b.working : b.effective;
  const auto& range = working ? b.working_range : b.effective_range;
  return held_r(b.at_most && range && range->high ? std::max(r, *range->high) : r, s.plan.target_r,
                v.c.units);
}

std::string verdict_on_target(const SectionInspection& s, const InspectionView& v) {
  const BuiltR& b = *s.built;
  const std::string target_words = built_and_target(v, s).limit;
  const auto& range = s.plan.basis == Basis::working ? b.working_range : b.effective_range;
  const double target = s.plan.target_r.us();
  if (b.at_most) {
    const bool may = range ? !range->high || reaches(range->high->us(), target) : b.reached;
    return (may ? "May reach " : "Below ") + target_words;
  }
  const bool all_above = range && reaches(range->low.us(), target);
  const std::string_view close = all_above ? ", but how uneven the old fill lies is not known"
                                           : ", too close to call by its range";
  return fmt::format("{} {}{}", b.reached ? "Reaches" : "Below", target_words,
                     b.verdict == Verdict::too_close ? close : "");
}

void write_built(const InspectionView& v, const SectionInspection& s) {
  if (!s.built) return v.c.page.fact("  as built", "not known", kHang);
  const BuiltR& b = *s.built;
  const bool working = s.plan.basis == Basis::working;
  const std::string held = built_and_target(v, s).value;
  v.c.page.fact(
      "  as built",
      fmt::format(
          "{}; {}. Planned {} working. {}.",
          built_words(v, " working", {b.at_most, b.working, b.working_range}, working ? held : ""),
          built_words(v, " effective", {b.at_most, b.effective, b.effective_range},
                      working ? "" : held),
          v.c.r(s.plan.working_r), verdict_on_target(s, v)),
      kHang);
}

std::string_view yes_no(const std::optional<bool>& flag) {
  return !flag ? "not recorded" : *flag ? "yes" : "no";
}

void write_lid(const InspectionView& v, const SectionInspection& s) {
  const LidCheck& lid = *s.lid;
  const std::string r = lid.insulation_r ? v.c.r(*lid.insulation_r)
                        : lid.done       ? "as planned"
                                         : "not recorded, counted as found";
  v.c.page.fact(
      "  lid",
      fmt::format("insulation {}; planned {}. Weatherstrip: {}. Latch: {}.", r,
                  v.c.r(s.plan.working_r), yes_no(lid.weatherstripped), yes_no(lid.latched)),
      kHang);
}

}  // namespace

void write_inspected_section(const InspectionView& v, const SectionInspection& s) {
  const bool named = s.verdict != BuiltVerdict::nothing_planned;
  v.c.page.heading(fmt::format("{}, {}{}{}", s.name, area_text(s.area, v.c.units),
                               named ? ": " : "", named ? word(s.verdict) : ""));
  if (s.lid) return write_lid(v, s);
  if (s.done)
    return v.line(*s.done ? "done as planned, by the record; bags and depths are not judged here."
                          : "not recorded as done: counted as found.");
  if (s.verdict == BuiltVerdict::nothing_planned) return v.line("The plan puts no fill here.");
  if (!s.plan.initial_level || !s.plan.batts.empty() || v.in.method != Method::blown)
    return v.line("What is laid or sprayed is not judged by bags and depths: look at it.");
  v.line(section_words(s, v.in.stays_off()));
  if (s.weight.shared)
    v.line(
        "Bags were counted for several sections together: their sum is judged, not this section's "
        "own.");
  if (!v.in.receipt.chart)
    v.line("Held against the general table, not against the label of the bag.");
  write_bags(v, s);
  write_depths(v, s);
  write_layer(v, s);
  write_built(v, s);
}

}  // namespace overjoist::io
