// SPDX-License-Identifier: MIT
#include <fmt/core.h>

#include "overjoist/leakage.hpp"
#include "write/parts/plan.hpp"

// The words for the sealing list: each entry, what it takes, and what leaks there.
namespace overjoist::io {
namespace {

std::string quantity_words(const SealingItem& i, Units units) {
  if (!i.quantity) return "not measured";
  if (i.unit == BypassUnit::ft) return run_text(*i.quantity, units);
  if (i.unit == BypassUnit::ft2) return area_text(i.opening, units);
  const std::string count = number_text(*i.quantity, 0, Toward::up);
  return i.unit == BypassUnit::bay ? count + (*i.quantity == 1 ? " bay" : " bays") : count;
}

/// A bead is thin: hundredths of an inch, whole millimeters.
std::string width_text(Length width, Units units) {
  if (units == Units::si) return number_text(width.si() * 1000, 0) + " mm";
  return number_text(width.us(), 2) + " in.";
}

std::string metal_words(Area low, Area high, Units units) {
  return span_text(area_text(low, units), area_text(high, units)) + " of sheet metal";
}

std::vector<std::string> takes(const SealingItem& i, Units units) {
  std::vector<std::string> parts;
  if (i.bead_ft > 0 && i.bead_width)
    parts.push_back(
        fmt::format("{} of {} bead", run_text(i.bead_ft, units), width_text(*i.bead_width, units)));
  else if (i.tubes_small > 0)
    parts.push_back(fmt::format("{} small tube{} of sealant",
                                number_text(i.tubes_small, 1, Toward::up),
                                i.tubes_small > 1 ? "s" : ""));
  if (i.board > Area{}) parts.push_back(area_text(i.board, units) + " of board");
  if (i.metal_high > Area{}) parts.push_back(metal_words(i.metal_low, i.metal_high, units));
  if (i.weatherstrip_ft > 0)
    parts.push_back(run_text(i.weatherstrip_ft, units) + " of weatherstrip");
  if (i.covers > 0)
    parts.push_back(number_text(i.covers, 0, Toward::up) + (i.covers > 1 ? " covers" : " cover"));
  return parts;
}

std::string leak_of(const SealingItem& i, Units units) {
  if (!i.leak_typical || !i.leak_tight) return "Leakage not known.";
  return fmt::format("Leakage {}, sealed {} ({}).",
                     small_area_text(*i.leak_typical, units, Toward::nearest),
                     small_area_text(*i.leak_tight, units, Toward::nearest), i.leak_status);
}

/// The first letter of a table's words as a capital.
std::string sentence(std::string text) {
  if (text.empty()) return text;
  if (text[0] >= 'a' && text[0] <= 'z') text[0] = static_cast<char>(text[0] - 'a' + 'A');
  if (text.back() != '.') text += '.';
  return text;
}

std::string heat_text(Energy heat, Units units) {
  if (units == Units::si) return number_text(heat.si() / 1e9, 2, Toward::up) + " GJ";
  return number_text(heat.us() / 1e6, 2, Toward::up) + " MMBtu";
}

std::string heat_span(const HeatSpan& heat, Units units) {
  const bool si = units == Units::si;
  const auto text = [&](Energy e, Toward toward) {
    return number_text(si ? e.si() / 1e9 : e.us() / 1e6, 1, toward);
  };
  return fmt::format("{} to {} {}", text(heat.low, Toward::down), text(heat.high, Toward::up),
                     si ? "GJ" : "MMBtu");
}

std::string heat_words(const LeakHeat& leak, Units units) {
  if (!leak.found || !leak.sealed)
    return " Heat: not worked out; give the site's outdoor mean and spread, or degree days and "
           "heating days.";
  return fmt::format(
      " Heat that they carry in a year: some {}, sealed {}: wind and the house's other leaks make "
      "the span.",
      heat_span(*leak.found, units), heat_span(*leak.sealed, units));
}

std::string house_words(const std::optional<HouseAir>& house, Units units) {
  if (!house) return {};
  const bool fell = house->after && house->before && *house->after < *house->before;
  std::string out = fmt::format(" Blower door: {:g} cfm at 50 Pa", house->cfm50_before);
  if (house->cfm50_after) out += fmt::format(", after sealing {:g}", *house->cfm50_after);
  if (house->before)
    out += fmt::format("; all air of the house carries some {} a year",
                       heat_text(*house->before, units));
  if (fell) out += fmt::format(", after sealing {}", heat_text(*house->after, units));
  return out + '.';
}

/// The holes that are in no figure, for they may be the biggest.
std::string unknown_holes(const std::vector<SealingItem>& items) {
  std::vector<std::string> names;
  for (const SealingItem& item : items)
    if (!item.leak_typical && std::find(names.begin(), names.end(), item.name) == names.end())
      names.push_back(item.name);
  return names.empty() ? "" : "Leakage not known, in no figure here: " + join(names, "; ") + ". ";
}

}  // namespace

std::string item_words(const SealingItem& item, Units units) {
  std::string out = fmt::format("{}{}{}: {}", item.name, item.where.empty() ? "" : ", ", item.where,
                                quantity_words(item, units));
  const auto parts = takes(item, units);
  if (!parts.empty()) out += "; takes " + join(parts);
  out += ". " + sentence(item.seal_with) + ' ' + leak_of(item, units);
  if (!item.fire_rule.empty()) out += " Fire: " + item.fire_rule;
  return out;
}

std::string no_leaks_words(const Plan& plan, std::string_view what) {
  if (!plan.readiness.looked.bypasses)
    return fmt::format("no {} was entered: look for them before anything is covered.", what);
  return fmt::format("looked for, and no {} was found{}.", what,
                     plan.sealing.items.empty() ? "" : " beside what is named here");
}

std::string leak_words(const Report& c) {
  const SealingTotals& t = c.e.plan.sealing.totals;
  if (c.e.plan.sealing.items.empty()) return {};
  const std::string house = house_words(c.e.plan.house, c.units);
  if (t.leaks_known == 0) return "not known for any entry: no sum, no heat." + house;
  std::string out = unknown_holes(c.e.plan.sealing.items);
  out += fmt::format("{} at 4 Pa over {} entr{}, sealed {}.",
                     small_area_text(t.leak_typical, c.units, Toward::nearest), t.leaks_known,
                     t.leaks_known == 1 ? "y" : "ies",
                     small_area_text(t.leak_tight, c.units, Toward::nearest));
  if (t.leak_from_memory > Area{})
    out += fmt::format(" {:.0f} % of it by figures from memory.",
                       100.0 * (t.leak_from_memory / t.leak_typical));
  return out + heat_words(c.e.plan.leak, c.units) + house;
}

std::vector<std::string> sealing_goods(const SealingTotals& t, Units units) {
  std::vector<std::string> goods;
  const auto whole = [](double n) { return number_text(n, 0, Toward::up); };
  const double tubes = t.foam_cans ? t.tubes_small_with_foam : t.tubes_small;
  if (t.foam_cans && *t.foam_cans > 0)
    goods.push_back(
        fmt::format("one-part foam: {} can{}", whole(*t.foam_cans), *t.foam_cans > 1 ? "s" : ""));
  if (tubes > 0 && t.foam_cans)
    goods.push_back(fmt::format("caulk: {} small tube{}", whole(tubes), tubes > 1 ? "s" : ""));
  else if (tubes > 0)
    goods.push_back(fmt::format("caulk: {} small or {} large tube{}", whole(tubes),
                                whole(t.tubes_large), t.tubes_large > 1 ? "s" : ""));
  if (t.heat_tubes_small > 0)
    goods.push_back(fmt::format("high-temperature non-combustible sealant: {} small tube{}",
                                whole(t.heat_tubes_small), t.heat_tubes_small > 1 ? "s" : ""));
  if (t.board > Area{})
    goods.push_back(fmt::format("rigid board: {} in {} sheet{} of 4 x 8 ft",
                                area_text(t.board, units), whole(t.sheets),
                                t.sheets > 1 ? "s" : ""));
  if (t.metal_high > Area{}) goods.push_back(metal_words(t.metal_low, t.metal_high, units));
  if (t.weatherstrip_ft > 0) goods.push_back("weatherstrip: " + run_text(t.weatherstrip_ft, units));
  return goods;
}

}  // namespace overjoist::io
