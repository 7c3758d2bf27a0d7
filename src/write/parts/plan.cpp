// SPDX-License-Identifier: MIT
#include "write/parts/plan.hpp"

#include <fmt/format.h>
#include <algorithm>

#include "overjoist/ends.hpp"
#include "overjoist/leakage.hpp"

namespace overjoist::io {
namespace {

std::string vents_entered(const VentilationPlan& v, Units units) {
  const auto side = [&](const std::optional<Area>& a) {
    return a ? small_area_text(*a, units, Toward::down) : std::string("not entered");
  };
  if (!either(v, kKnown)) return "No vents were entered";
  return fmt::format("Found: high {}, low {}", side(v.high), side(v.low));
}

std::string vents_lack(const VentNeed& n, Units units) {
  const auto up = [&](Area a) { return small_area_text(a, units, Toward::up); };
  if (n.retarder_missing)
    return fmt::format(
        "short: in this climate zone the smaller figure also asks for a vapor retarder. Add {}, or "
        "a retarder",
        up(n.missing_any));
  return fmt::format(
      "short: add {} high and {} low for the smaller figure, or {} anywhere for the larger",
      up(n.missing_high), up(n.missing_low), up(n.missing_any));
}

std::string vents_unclear(const VentNeed& n) {
  std::vector<std::string> parts;
  if (n.need_high) parts.emplace_back("high vents");
  if (n.need_low) parts.emplace_back("low vents");
  if (n.need_zone) parts.emplace_back("climate zone");
  if (n.need_retarder) parts.emplace_back("vapor retarder");
  return "whether that is enough is not known: give " + join(parts);
}

void write_tests(const Report& c) {
  for (const TestTime when : {TestTime::before_sealing, TestTime::after_sealing}) {
    std::string out;
    for (const PlanTest& test : c.e.plan.tests) {
      if (test.when != when) continue;
      const CautionRow& row = c.tables.cautions.at(test.row);
      out += fmt::format("{}{} ({})", out.empty() ? "" : "; ",
                         row.brief.empty() ? row.code : row.brief, row.who);
    }
    if (out.empty()) continue;
    const std::string words = fmt::format("{}: {}.", word(when), out);
    if (when == TestTime::before_sealing)
      c.page.fact("  test", words, kHang);
    else
      c.page.aside(words, kHang);
  }
}

void write_sealing(const Report& c) {
  const SealingList& list = c.e.plan.sealing;
  c.page.fact("  seal",
              c.e.plan.entered > 0 ? std::string("biggest holes first:")
                                   : no_leaks_words(c.e.plan, "bypass"),
              kHang);
  if (list.items.empty()) return;
  int number = 0;
  for (const SealingItem& item : list.items)
    c.page.numbered(++number, item_words(item, c.units), kHang + 4);
  const auto goods = sealing_goods(list.totals, c.units);
  if (!goods.empty()) c.page.fact("  takes", join(goods) + '.', kHang);
  c.page.fact("  leakage", leak_words(c), kHang);
}

/// A number of the counts, "0" where there are none.
std::string count_cell(const std::optional<int>& n, Units) { return count_text(n); }
std::string count_cell(int n, Units) { return count_text(n); }
std::string count_cell(Length height, Units units) {
  return height > Length{} ? level_text(height, units, Toward::up) : std::string("0");
}
std::string count_cell(Area board, Units units) {
  return board > Area{} ? area_text(board, units) : std::string("0");
}
std::string count_cell(double feet, Units units) {
  return feet > 0 ? run_text(feet, units) : std::string("0");
}

/// A row of one of the counts; none where there is nothing to count at either end.
template <class T>
void count_row(const Report& c, std::string_view label, T PlanCounts::*which, bool below = false) {
  const auto cells =
      map(c.e.planned, [&](const Planned& p) { return count_cell(p.counts.*which, c.units); });
  const auto cell = [](const std::string& text) { return std::string_view(text); };
  if (both(cells, [](const std::string& text) { return text == "0"; })) return;
  if (below)
    Columns(c).below(label, cells, cell);
  else
    Columns(c).row(label, cells, cell);
}

void write_counts(const Report& c) {
  const PlanCounts& most = c.e.planned.high.counts;
  const auto row = [&](std::string_view label, auto which) { count_row(c, label, which); };
  const auto below = [&](std::string_view label, auto which) { count_row(c, label, which, true); };
  row("baffles", &PlanCounts::baffles);
  row("dams", &PlanCounts::dams);
  if (most.dams.value_or(0) > most.flue_dams.value_or(0))
    below("at least this high", &PlanCounts::dam_height);
  below("of them at flues and chimneys", &PlanCounts::flue_dams);
  if (most.flue_dams.value_or(0) > 0)
    below("those at least this high", &PlanCounts::flue_dam_height);
  row("depth markers", &PlanCounts::markers);
  row("covers over lights", &PlanCounts::light_covers);
  row("flags over buried boxes", &PlanCounts::flags);
  row("board on lids", &PlanCounts::lid_board);
  row("weatherstrip", &PlanCounts::weatherstrip_ft);
}

}  // namespace

std::string equipment_words(const Equipment& x, Units units) {
  std::string out(word(x.kind));
  if (!x.where.empty()) out += ", " + x.where;
  if (x.length) out += ": " + run_text(x.length->us() / 12.0, units);
  if (x.r) out += ", " + r_text(*x.r, units);
  if (x.sealed) out += *x.sealed ? ", joints sealed" : ", joints not sealed";
  if (x.ends_outdoors) out += *x.ends_outdoors ? ", ends outdoors" : ", ends in the attic";
  return out;
}

std::string_view word(TestTime when) {
  return when == TestTime::before_sealing ? "before sealing" : "after sealing";
}

std::string small_area_text(Area area, Units units, Toward toward) {
  const double value = units == Units::us ? in_square_inches(area) : area.si() * 1e4;
  return number_text(value, value < 100 ? 1 : 0, toward) + (units == Units::us ? " in2" : " cm2");
}

std::string run_text(double feet, Units units) {
  if (units == Units::si) return number_text(inches(12 * feet).si(), 1, Toward::up) + " m";
  return number_text(feet, feet < 10 ? 1 : 0, Toward::up) + " ft";
}

std::string count_text(const std::optional<int>& n) {
  return n ? std::to_string(*n) : std::string("not known");
}

namespace {

/// "hazards, air leaks, vents", as far as nobody looked for them; "" if all were looked at.
std::string not_looked_at(const Plan& plan) {
  const Readiness& r = plan.readiness;
  std::vector<std::string> parts;
  if (!r.looked.hazards) parts.emplace_back("hazards");
  if (!r.looked.bypasses)
    parts.push_back(r.unseen_floors.empty()
                        ? "air leaks"
                        : fmt::format("air leaks of {}", fmt::join(r.unseen_floors, " and ")));
  const bool low = plan.ventilation && plan.ventilation->low,
             high = plan.ventilation && plan.ventilation->high;
  if (!r.looked.vents) parts.emplace_back(low ? "high vents" : high ? "low vents" : "vents");
  if (!r.looked.fan_ends) parts.emplace_back("where a fan ends");
  return join(parts);
}

/// What the smaller vent figure asks for beside the split, as far as the climate zone tells.
std::string retarder_words(const VentNeed& n, const Tables& tables) {
  if (n.reduced_asks_retarder)
    return *n.reduced_asks_retarder ? " and the ceiling has a vapor retarder on its warm side" : "";
  return fmt::format(
      " and, from climate zone {} on, the ceiling has a vapor retarder on its warm side",
      number_text(tables.figure("vent-retarder-zone"), 0));
}

}  // namespace

std::string ready_words(const Report& c) {
  const Readiness& r = c.e.plan.readiness;
  const std::string cleared =
      r.cleared > 0 ? fmt::format(" Hazards cleared on paper: {}.", r.cleared) : std::string();
  if (r.ready) return "ready to insulate, as far as this survey tells." + cleared;
  const std::string unseen = not_looked_at(c.e.plan);
  if (r.missing.empty())
    return fmt::format(
        "not looked at: {}. Nothing is said here of whether the work may start; an empty list in "
        "the survey says that {}.{}",
        unseen, "nothing was found", cleared);
  std::vector<std::string> parts;
  for (const MissingItem& m : r.missing) {
    const CautionRow& row = c.tables.cautions.at(m.row);
    std::string part = row.brief.empty() ? row.code : row.brief;
    if (m.where != "attic") part += ", " + m.where;
    const std::string& who = said_of(c.e, m.row).who(row);
    if (!who.empty()) part += " (" + who + ")";
    if (std::find(parts.begin(), parts.end(), part) == parts.end())
      parts.push_back(std::move(part));
  }
  return fmt::format("not ready to insulate. Missing: {}.{}{}", fmt::join(parts, "; "),
                     unseen.empty() ? "" : " Not looked at: " + unseen + ".", cleared);
}

std::string vent_words(const Report& c) {
  if (c.e.plan.unvented) return "unvented attic: none are asked for, and none are to be cut.";
  if (!c.e.plan.ventilation) return "not worked out.";
  const VentilationPlan& v = *c.e.plan.ventilation;
  const VentNeed& n = v.need;
  std::string out = fmt::format(
      "{} of attic asks for {} of net free area, or {} where it is split high and low{}. ",
      area_text(v.attic, c.units), small_area_text(n.required, c.units, Toward::up),
      small_area_text(n.required_reduced, c.units, Toward::up), retarder_words(n, c.tables));
  out += vents_entered(v, c.units);
  if (n.verdict == VentVerdict::meets)
    return out + (n.reduced ? ": enough, by the smaller figure." : ": enough.");
  out +=
      n.verdict == VentVerdict::short_of ? ": " + vents_lack(n, c.units) : "; " + vents_unclear(n);
  return out + ". More vents never stand in for sealing.";
}

void write_plan(const Report& c) {
  c.page.heading("The plan: make safe, seal, vent, insulate");
  c.page.fact("  ready?", ready_words(c), kHang);
  if (c.e.hands_off) return c.page.fact("  then", std::string(kNothingElse), kHang);
  write_sealing(c);
  write_tests(c);
  std::string equipment;
  for (const Equipment& x : c.e.plan.equipment)
    equipment += (equipment.empty() ? "" : "; ") + equipment_words(x, c.units);
  if (!equipment.empty()) c.page.fact("  in it", equipment + ".", kHang);
  c.page.fact("  vents", vent_words(c), kHang);
  write_counts(c);
}

}  // namespace overjoist::io
