// SPDX-License-Identifier: MIT
#include "overjoist/report_inspect.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/core.h>

#include "write/parts/held.hpp"
#include "write/parts/inspection.hpp"
#include "write/parts/parts.hpp"

// The inspection as text: the verdict, each section, what was counted and ticked off, tag, saving,
// papers, then cautions.
namespace overjoist {
namespace {

using io::Page;
using io::Sheet;
using io::Toward;

/// What the page is written with, and the inspection that is shown.
struct View {
  const Sheet& c;
  const Inspection& in;
  void line(std::string_view text) const { c.page.text("  ", text, 2); }
  void item(std::string_view text) const { c.page.text("  - ", text, 4); }
  void box(bool ticked, std::string_view text) const {
    c.page.text(ticked ? "  [x] " : "  [ ] ", text, 6);
  }
};

std::string depth(const View& v, Length d, Toward toward) {
  return io::depth_text(d, v.c.units, toward);
}

// ---- Head

std::string who_words(const Installer& who) {
  std::string out = who.name.empty() ? "not recorded" : who.name;
  if (!who.address.empty()) out += ", " + who.address;
  if (!who.license.empty()) out += ", license " + who.license;
  return out;
}

std::string sold_words(const View& v) {
  const std::string whose = v.in.sold_by_quote
                                ? "final R of the quote"
                                : fmt::format("{} end of the band", io::word(v.in.sold));
  std::string words,
      target = fmt::format("{} ({}, {})", v.c.target(v.in.target), whose, io::word(v.in.basis));
  bool others = false;
  for (const SectionInspection& s : v.in.sections) {
    others = others || (!s.sold && s.plan.initial_level);
    if (s.sold)
      words += fmt::format("{}{} to {} as blown", words.empty() ? "" : ", ", s.name,
                           depth(v, *s.sold, Toward::nearest));
  }
  if (words.empty()) return target;
  words += " (inches of the quote)";
  return others ? words + "; else " + target : words;
}

void write_head(const View& v) {
  const Inspection& in = v.in;
  Page& page = v.c.page;
  page.title("Inspection: " +
             (in.label.empty() ? in.id.empty() ? std::string("attic") : in.id : in.label));
  if (!in.label.empty() && !in.id.empty()) page.text("", in.id, 0);
  page.text("sold        ", sold_words(v), io::kHang);
  page.text("fill        ", in.fill, io::kHang);
  page.text("installer   ", who_words(in.installer), io::kHang);
  page.text("date        ", in.date.empty() ? std::string("not recorded") : in.date, io::kHang);
}

/// What fails by weight or depth, under the verdict of an open stop.
std::string failing_words(const Inspection& in) {
  std::string names;
  for (const SectionInspection& s : in.sections)
    if (fails(s.verdict))
      names += fmt::format("{}{} is {}", names.empty() ? "" : ", ", s.name, io::word(s.verdict));
  return "by weight and depth, whatever clears the stop: " + names + ".";
}

void write_verdict(const View& v) {
  Page& page = v.c.page;
  const InspectionTotals& t = v.in.totals;
  page.blank();
  if (fails(v.in.verdict) || v.in.verdict == BuiltVerdict::stop_open)
    page.alarm(io::verdict_line(v.in));
  else
    page.title(io::verdict_line(v.in));
  std::string words(io::verdict_words(v.in.verdict, v.in.stays_off()));
  words[0] = static_cast<char>(words[0] - 'a' + 'A');
  page.text("", words, 0);
  if (v.in.verdict == BuiltVerdict::stop_open && v.in.falls_short())
    page.text("", "Besides, " + failing_words(v.in), 0);
  if (t.bags_needed) {
    const io::HeldFigure whole{t.bags_needed_exact.value_or(*t.bags_needed),
                               io::number_text(*t.bags_needed, 0, Toward::up)};
    const auto held =
        t.bags_used ? io::held_text({*t.bags_used, io::number_text(*t.bags_used, 2)}, whole, {})
                    : io::HeldTexts{"not recorded", whole.usual};
    page.text(
        "",
        fmt::format("Bags in all: {}; the plan takes {}{}.", held.value, held.limit,
                    v.in.bag_known ? "" : " of a weight that we assume, since none is recorded"),
        0);
  }
  if (t.counts_open + t.seals_open + t.hazards_open + t.lids_open > 0)
    page.text("",
              fmt::format("Still open below: counts {}, seals {}, hazards {}, lids {}.",
                          t.counts_open, t.seals_open, t.hazards_open, t.lids_open),
              0);
}

// ---- A section

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
    const std::string bags = io::number_text(*w.by_tag, w.tag_scaled ? 1 : 2, Toward::up);
    return fmt::format(" ({} by its tag{})", bags,
                       w.tag_scaled ? "'s bags, in proportion to the R" : "");
  }
  if (!w.lightest || !w.needed || !(*w.lightest < *w.needed)) return {};
  return fmt::format(" ({} if it is as light as such fill comes)",
                     io::number_text(*w.lightest, 1, Toward::up));
}

/// Bags used and needed, in order.
io::HeldTexts bag_words(const WeightCheck& w) {
  const std::string needed = w.needed ? io::number_text(*w.needed, 1, Toward::up) : "not known";
  if (!w.used) return {"not recorded", needed};
  const std::string used = io::number_text(*w.used, w.shared ? 1 : 2, Toward::down);
  if (!w.needed || w.shared) return {used, needed};
  return io::held_text({*w.used, used}, {*w.needed, needed}, {});
}

void write_bags(const View& v, const SectionInspection& s) {
  const WeightCheck& w = s.weight;
  const io::HeldTexts held = bag_words(w);
  std::string needed = held.limit + (v.in.bag_known ? other_bags(w) : " of an assumed weight");
  if (!w.used)
    return v.c.page.text("  bags      ", fmt::format("not recorded; the plan takes {}", needed),
                         io::kHang);
  std::string words =
      fmt::format("{}{}, the plan takes {}", held.value,
                  w.shared ? " (its part of what was counted together)" : "", needed);
  if (w.met != Met::not_judged)
    words += w.short_bags && *w.short_bags > 0
                 ? ": " + io::short_words(*w.short_bags)
                 : fmt::format(": {}{}", w.shared ? "their sum is " : "", io::word(w.met));
  else
    words += fmt::format(": not judged, {}", why_words(w.why));
  v.c.page.text("  bags      ", words, io::kHang);
  if (!w.weight || !w.least) return;
  const io::HeldTexts weights = io::held_weight(*w.weight, *w.least, v.c.units);
  v.c.page.text("  weight    ",
                fmt::format("{} on the bays{}, the plan takes {}", weights.value,
                            w.waste > 0 ? fmt::format(", {} % waste taken off",
                                                      io::number_text(w.waste * 100.0, 1))
                                        : "",
                            weights.limit),
                io::kHang);
}

/// A reading in quarters of an inch where it was read so, else to a tenth, rounded down: never more
/// than was read.
std::string reading_text(const View& v, Length l) {
  const double quarters = l.us() * 4.0;
  return v.c.units == Units::us && std::fabs(quarters - std::round(quarters)) < 1e-9
             ? io::level_text(l, v.c.units, Toward::down)
             : depth(v, l, Toward::down);
}

/// Readings and what they are held against, in order.
struct DepthTexts {
  std::string low, high, mean, needed_least, needed_mean, other;
};

DepthTexts depth_texts(const View& v, const DepthCheck& d) {
  const Units units = v.c.units;
  const bool even = reading_text(v, d.least) == reading_text(v, d.greatest);
  const std::string least = d.kind == DepthKind::settled
                                ? depth(v, d.needed_least, Toward::up)
                                : io::level_text(d.needed_least, units, Toward::up);
  const std::string need =
      d.kind == DepthKind::settled ? depth(v, d.needed_mean, Toward::up) : least;
  const auto figure = [&](Length l, const std::string& usual) {
    return io::HeldFigure{io::shown_unit(l, units), usual};
  };
  const Length other = d.tag_mean ? *d.tag_mean : d.best_mean.value_or(d.needed_mean);
  const std::string mean = even ? reading_text(v, d.mean) : depth(v, d.mean, Toward::down);
  std::vector<io::HeldPair> pairs = {{0, 3}, {2, 4}};
  if (d.tag_mean || d.best_mean) pairs.emplace_back(2, 5);
  const auto t = io::held_texts(
      {figure(d.least, reading_text(v, d.least)), figure(d.greatest, reading_text(v, d.greatest)),
       figure(d.mean, mean), figure(d.needed_least, least), figure(d.needed_mean, need),
       figure(other, depth(v, other, Toward::up))},
      pairs, {"", units == Units::us ? " in." : " cm"});
  return {t[0], t[1], t[2], t[3], t[4], t[5]};
}

void write_depths(const View& v, const SectionInspection& s) {
  const DepthCheck& d = s.depth;
  if (d.count == 0)
    return v.c.page.text("  depth     ",
                         "not recorded; the plan blows flat to " +
                             io::level_text(*s.plan.initial_level, v.c.units, Toward::up),
                         io::kHang);
  const DepthTexts t = depth_texts(v, d);
  const std::string mean = t.low == t.high ? "" : ", mean " + t.mean;
  std::string words =
      fmt::format("{} {}, {}{}; at least {} ({}{})", d.count, d.count == 1 ? "reading" : "readings",
                  io::span_text(t.low, t.high), mean, t.needed_least, io::word(d.kind),
                  d.kind_known ? "" : ", not said when read");
  if (d.kind == DepthKind::settled) words += fmt::format(", mean at least {}", t.needed_mean);
  if (d.tag_mean) words += fmt::format(", {} at its tag's R per inch", t.other);
  if (d.best_mean) words += fmt::format(", {} if it is as good as its material may be", t.other);
  words += d.met == Met::not_judged ? fmt::format(": not judged, {}", why_words(d.why))
                                    : fmt::format(": {}", io::word(d.met));
  if (d.below > 0 && d.met != Met::not_judged)
    words += fmt::format(", {} of {} below", d.below, d.count);
  v.c.page.text("  depth     ", words, io::kHang);
  if (d.settled_for_initial)
    v.c.page.text("            ",
                  "It is the depth that the plan has once settled: the settled thickness seems to "
                  "have been taken for the initial one.",
                  io::kHang);
}

void write_layer(const View& v, const SectionInspection& s) {
  const NewLayerBuilt& l = s.layer;
  if (!l.r) return;
  std::string words = v.c.r(l.most.value_or(*l.r));
  if (l.by_weight && l.by_thickness)
    words += fmt::format(": {} by weight, {} by thickness, the lower one rules",
                         v.c.r(*l.by_weight), v.c.r(*l.by_thickness));
  else
    words += l.by_weight ? " by weight alone: at most, since it may lie packed"
                         : " by thickness alone: at most, since depth can be fluffed with air";
  v.c.page.text("  new layer ", words, io::kHang);
}

/// R of the basis, at its best where it is a most, and the target, in order.
io::HeldTexts built_and_target(const View& v, const SectionInspection& s) {
  const BuiltR& b = *s.built;
  const bool working = s.plan.basis == Basis::working;
  const Resistance r = working ? b.working : b.effective;
  const auto& range = working ? b.working_range : b.effective_range;
  return io::held_r(b.at_most && range && range->high ? std::max(r, *range->high) : r,
                    s.plan.target_r, v.c.units);
}

std::string verdict_on_target(const SectionInspection& s, const View& v) {
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

struct BuiltShown {
  bool at_most = false;
  Resistance r;
  const std::optional<ResistanceRange>& range;
};

/// R as built, "R-49.2 working, at 90 % ...". Where only bags or only depths are known the best end
/// of the range is the most that it can be, and no other figure is.
/// @param text  of the figure that is shown; "": as usual
std::string built_words(const View& v, std::string_view kind, const BuiltShown& b,
                        const std::string& text = "") {
  const auto& range = b.range;
  const Resistance shown = b.at_most && range && range->high ? std::max(b.r, *range->high) : b.r;
  const std::string words = text.empty() ? v.c.r(shown) : text;
  if (!b.at_most) return words + std::string(kind) + io::range_words(v.c, range);
  if (range && !range->high)
    return fmt::format("{} or less{}{}", words, kind, io::range_words(v.c, range));
  return fmt::format("at most {}{}", words, kind);
}

void write_built(const View& v, const SectionInspection& s) {
  if (!s.built) return v.c.page.text("  as built  ", "not known", io::kHang);
  const BuiltR& b = *s.built;
  const bool working = s.plan.basis == Basis::working;
  const std::string held = built_and_target(v, s).value;
  v.c.page.text(
      "  as built  ",
      fmt::format(
          "{}; {}. Planned {} working. {}.",
          built_words(v, " working", {b.at_most, b.working, b.working_range}, working ? held : ""),
          built_words(v, " effective", {b.at_most, b.effective, b.effective_range},
                      working ? "" : held),
          v.c.r(s.plan.working_r), verdict_on_target(s, v)),
      io::kHang);
}

std::string_view yes_no(const std::optional<bool>& flag) {
  return !flag ? "not recorded" : *flag ? "yes" : "no";
}

void write_lid(const View& v, const SectionInspection& s) {
  const LidCheck& lid = *s.lid;
  const std::string r = lid.insulation_r ? v.c.r(*lid.insulation_r)
                        : lid.done       ? "as planned"
                                         : "not recorded, counted as found";
  v.c.page.text(
      "  lid       ",
      fmt::format("insulation {}; planned {}. Weatherstrip: {}. Latch: {}.", r,
                  v.c.r(s.plan.working_r), yes_no(lid.weatherstripped), yes_no(lid.latched)),
      io::kHang);
}

void write_section(const View& v, const SectionInspection& s) {
  const bool named = s.verdict != BuiltVerdict::nothing_planned;
  v.c.page.heading(fmt::format("{}, {}{}{}", s.name, io::area_text(s.area, v.c.units),
                               named ? ": " : "", named ? io::word(s.verdict) : ""));
  if (s.lid) return write_lid(v, s);
  if (s.done)
    return v.line(*s.done ? "done as planned, by the record; bags and depths are not judged here."
                          : "not recorded as done: counted as found.");
  if (s.verdict == BuiltVerdict::nothing_planned) return v.line("The plan puts no fill here.");
  if (!s.plan.initial_level || !s.plan.batts.empty() || v.in.method != Method::blown)
    return v.line("What is laid or sprayed is not judged by bags and depths: look at it.");
  v.line(io::section_words(s, v.in.stays_off()));
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

// ---- Counts, sealing, hazards

void write_counts(const View& v) {
  v.c.page.heading("Counted");
  for (const CountCheck& count : v.in.counts) {
    const auto n = [](const std::optional<int>& x, std::string_view none) {
      return x ? std::to_string(*x) : std::string(none);
    };
    const bool fine = count.state == CountState::met || count.state == CountState::none_needed;
    v.box(fine, fmt::format("{}: {}, planned {}: {}", count.item, n(count.found, "not counted"),
                            n(count.planned, "not known"), io::word(count.state)));
  }
}

void write_sealing(const View& v) {
  if (v.in.sealing.empty()) return;
  v.c.page.heading("Sealed");
  for (const SealCheck& s : v.in.sealing)
    v.box(s.ticked, s.name + (s.where.empty() ? "" : ", " + s.where) +
                        (s.planned ? "" : " (not on the plan)") +
                        (s.ticked ? "" : ": not recorded"));
}

void write_hazards(const View& v) {
  if (v.in.hazards.empty()) return;
  v.c.page.heading("Hazards, and what cleared them");
  for (const HazardCheck& h : v.in.hazards) {
    std::string words = h.kind + (h.where.empty() ? "" : ", " + h.where);
    if (h.cleared)
      words += fmt::format(": cleared by {}{}, {}, {}", h.by,
                           h.trade.empty() ? "" : " (" + h.trade + ")", h.date, h.paper);
    else if (!h.but.empty())
      words += ": said to be cleared, but " + h.but;
    else
      words += ": no paper that clears it";
    v.box(h.cleared, words);
  }
}

// ---- Tag, changes, saving, papers

std::string tag_value(const View& v, const TagCheck& t, double value, bool claimed) {
  if (t.what == "r-at-initial" || t.what == "r-at-settled" || t.what == "r-alone")
    return claimed ? v.c.target(r_value(value)) : v.c.r(r_value(value));
  if (t.what == "bags") return io::number_text(value, 2) + " bags";
  return io::depth_text(inches(value), v.c.units, claimed ? Toward::nearest : Toward::up);
}

std::string_view tag_subject(std::string_view what) {
  if (what == "r-at-initial") return "R at its initial thickness";
  if (what == "r-at-settled") return "R at its settled thickness";
  if (what == "r-alone") return "R";
  if (what == "initial") return "initial thickness";
  return what == "settled" ? "settled thickness" : "bags";
}

std::string_view tag_why(std::string_view why) {
  if (why == "no-thickness")
    return "a tag with an R and no thickness says nothing that can be checked";
  if (why == "several-sections") return "several sections take fill: which one is meant?";
  if (why == "nothing-planned") return "the plan puts no fill here";
  if (why == "no-density") return "the plan knows no bags";
  if (why == "bag-unknown") return "the net weight of a bag is not recorded";
  if (why == "plan-below-target")
    return "the plan is only what fits, and does not reach what was sold";
  if (why == "by-tag") return "enough by the tag's own figures, not by our R per inch";
  if (why == "by-range")
    return "enough where the fill is as good and as light as its material may be";
  return why == "no-chart" ? "by the range of the material, for want of a chart" : why;
}

/// What the tag says and what it is held against, in order: of an R the fill is to reach the tag,
/// of all else the tag the plan.
io::HeldTexts tag_texts(const View& v, const TagCheck& t) {
  const std::string claimed = tag_value(v, t, t.claimed, true);
  if (!t.found) return {claimed, ""};
  if (t.what == "r-at-initial" || t.what == "r-at-settled")
    return io::held_r(r_value(t.found_high.value_or(*t.found)), r_value(t.claimed), v.c.units);
  const bool bags = t.what == "bags", us = v.c.units == Units::us;
  const auto shown = [&](double x) { return bags ? x : io::shown_unit(inches(x), v.c.units); };
  return io::held_text({shown(t.claimed), claimed},
                       {shown(*t.found), tag_value(v, t, *t.found, false)},
                       {"", bags ? " bags"
                            : us ? " in."
                                 : " cm"});
}

void write_tag(const View& v) {
  if (v.in.tag.empty()) return;
  v.c.page.heading("The tag, held against chart and plan");
  for (const TagCheck& t : v.in.tag) {
    const bool of_r = t.what == "r-at-initial" || t.what == "r-at-settled";
    const io::HeldTexts held = tag_texts(v, t);
    std::string words =
        fmt::format("{}: tag {}", tag_subject(t.what), of_r && t.found ? held.limit : held.value);
    if (t.found) {
      const std::string& best = of_r ? held.value : held.limit;
      words +=
          fmt::format(", {} {}", of_r ? "the fill gives" : "the plan takes",
                      t.found_high ? io::span_text(tag_value(v, t, *t.found, false), best) : best);
    }
    words += fmt::format(": {}", io::word(t.verdict));
    if (!t.why.empty()) words += fmt::format(" ({})", tag_why(t.why));
    v.item(words + ".");
  }
  v.line("A tag proves nothing by itself: bags and depths do.");
}

std::string saving_words(const View& v, const SavingCheck& s) {
  if (s.heat < Energy{}) return "nothing, the attic loses more heat than as found";
  std::string words = io::heat_text(s.heat, v.c.units);
  words += fmt::format(", {} {}", io::number_text(s.fuel_units, 1, Toward::down), v.in.fuel_unit);
  if (s.money) words += ", " + io::money_text(*s.money, v.in.currency, Toward::down);
  return words;
}

void write_saving(const View& v) {
  v.c.page.heading("Through the ceiling, a year");
  const Inspection& in = v.in;
  if (in.attic_planned) {
    std::string built = in.attic_built ? v.c.r(in.attic_built->effective_r) : "not known";
    if (in.attic_built && in.saving_at_most)
      built = built_words(v, "",
                          {true, in.attic_built->effective_r, in.attic_built->effective_r_range});
    v.line(fmt::format("Whole attic, effective: planned {}, as built {}.",
                       v.c.r(in.attic_planned->effective_r), built));
  }
  if (!in.saving_planned)
    return v.line("No yearly saving: the survey has no heating and degree days.");
  v.line("saved as planned: " + saving_words(v, *in.saving_planned) + ".");
  const std::string_view less =
      in.saving_at_most && in.saving_built && !(in.saving_built->heat < Energy{})
          ? ", or less: the fill may lie packed, or hold air."
          : ".";
  v.line("saved as built: " + (in.saving_built
                                   ? saving_words(v, *in.saving_built) + std::string(less)
                                   : std::string("not known, since a section is not judged.")));
}

void write_packets(const View& v) {
  if (v.in.rebates.empty()) return;
  v.c.page.heading("Rebate packet");
  for (const RebatePacket& p : v.in.rebates) {
    std::string words = p.name + ", as built: " +
                        (p.built ? std::string(io::word(p.built->verdict))
                         : v.in.verdict == BuiltVerdict::stop_open ? "held, since a stop is open"
                                                                   : "not known");
    if (p.built && p.built->amount)
      words += ", " + io::money_text(*p.built->amount, v.in.currency, Toward::down);
    v.item(words);
    for (const PaperCheck& paper : p.papers)
      v.c.page.text(paper.have ? "    [x] " : "    [ ] ",
                    paper.paper + (paper.have ? ": have" : ": missing"), 8);
  }
  v.line("The scheme decides, not this sheet.");
}

void write_changes(const View& v) {
  if (v.in.changes.empty()) return;
  v.c.page.heading("Changed on site");
  for (const std::string& change : v.in.changes) v.item(change);
}

}  // namespace

void write_inspection_text(std::string& out, const Inspection& in, const Tables& tables,
                           TextStyle style) {
  Page page(out, style.colour);
  const Sheet report{page, in.findings, tables, style.units};
  const View view{report, in};
  write_head(view);
  io::write_stop_banner(report);
  write_verdict(view);
  for (const SectionInspection& s : in.sections) write_section(view, s);
  write_counts(view);
  write_sealing(view);
  write_hazards(view);
  write_tag(view);
  write_changes(view);
  write_saving(view);
  write_packets(view);
  io::write_notes(report);
}

}  // namespace overjoist
