// SPDX-License-Identifier: MIT
#include "overjoist/report_inspect.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/core.h>

#include "write/parts/held.hpp"
#include "write/parts/inspected_section.hpp"
#include "write/parts/inspection.hpp"
#include "write/parts/parts.hpp"

// The inspection as text: the verdict, each section, what was counted and ticked off, tag, saving,
// papers, then cautions.
namespace overjoist {
namespace {

using io::Page;
using io::Sheet;
using io::Toward;
using View = io::InspectionView;

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
  if (!in.label.empty() && !in.id.empty()) page.paragraph(in.id);
  page.fact("sold", sold_words(v), io::kHang);
  page.fact("fill", in.fill, io::kHang);
  page.fact("installer", who_words(in.installer), io::kHang);
  page.fact("date", in.date.empty() ? std::string("not recorded") : in.date, io::kHang);
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
  page.paragraph(words);
  if (v.in.verdict == BuiltVerdict::stop_open && v.in.falls_short())
    page.paragraph("Besides, " + failing_words(v.in));
  if (t.bags_needed) {
    const io::HeldFigure whole{t.bags_needed_exact.value_or(*t.bags_needed),
                               io::number_text(*t.bags_needed, 0, Toward::up)};
    const auto held =
        t.bags_used ? io::held_text({*t.bags_used, io::number_text(*t.bags_used, 2)}, whole, {})
                    : io::HeldTexts{"not recorded", whole.usual};
    page.paragraph(
        fmt::format("Bags in all: {}; the plan takes {}{}.", held.value, held.limit,
                    v.in.bag_known ? "" : " of a weight that we assume, since none is recorded"));
  }
  if (t.counts_open + t.seals_open + t.hazards_open + t.lids_open > 0)
    page.paragraph(fmt::format("Still open below: counts {}, seals {}, hazards {}, lids {}.",
                               t.counts_open, t.seals_open, t.hazards_open, t.lids_open));
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
      v.c.page.tick(paper.paper + (paper.have ? ": have" : ": missing"), 4, paper.have);
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
  for (const SectionInspection& s : in.sections) io::write_inspected_section(view, s);
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
