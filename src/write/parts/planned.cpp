// SPDX-License-Identifier: MIT
#include <fmt/format.h>
#include <algorithm>
#include <cmath>
#include <vector>

#include "write/parts/parts.hpp"

// What is planned, in words that several parts and pages use.
namespace overjoist::io {

std::string bags_cell(const std::optional<double>& bags) {
  return bags ? number_text(*bags, 0, Toward::up) : std::string(kNone);
}

std::string bags_text(double count) {
  const std::string number = number_text(count, 0, Toward::up);
  return number + (number == "1" ? " bag" : " bags");
}

std::string planned_level_text(const TopUp& t, Units units) {
  const double quarters = t.initial_level->us() * 4.0;
  const bool on_tape = std::fabs(quarters - std::round(quarters)) < 1e-6;
  if (units == Units::us && !on_tape) return depth_text(*t.initial_level, units, Toward::down);
  return level_text(*t.initial_level, units,
                    on_tape && t.status != TopUpStatus::unreachable ? Toward::up : Toward::down);
}

std::string join(const std::vector<std::string>& parts, std::string_view between) {
  return fmt::format("{}", fmt::join(parts, between));
}

std::string join(const Ends<std::string>& ends, std::string_view between) {
  const bool parted = both(ends, [](const std::string& text) { return !text.empty(); });
  return fmt::format("{}{}{}", ends.low, parted ? between : "", ends.high);
}

namespace {

/// The least and the greatest target that a section asks for; empty where one goes by the attic's.
std::optional<Ends<Resistance>> own_band(const Evaluation& e) {
  std::optional<Ends<Resistance>> band;
  for (const SectionEnds& s : e.with_ends()) {
    if (!s.found.heated_below || is_lid(s.found.kind)) continue;
    const Ends<Resistance> asked = map(s, [](const TopUp& t) { return t.target_r; });
    if (asked == e.target.ends()) return {};
    band = band ? Ends<Resistance>{std::min(band->low, asked.low), std::max(band->high, asked.high)}
                : asked;
  }
  return band;
}

}  // namespace

std::string target_words(const Report& c) {
  const std::optional<Ends<Resistance>> own = own_band(c.e);
  const auto target = [&](Resistance r) { return c.target(r); };
  return own ? span_text(map(*own, target)) + ", as the sections ask,"
             : span_text(map(c.e.target, target));
}

std::string field_words(const Report& c, const TopUp& t) {
  if (!t.eave || t.reached || t.status != TopUpStatus::needed) return {};
  if (t.eave->no_field)
    return fmt::format(" where it is deepest (over the whole section {})", c.r(t.after()));
  return fmt::format(" in the field (with the eave {})", c.r(t.after()));
}

std::string measure_cost_text(const Totals& t, std::string_view currency) {
  if (!t.cost || !t.measure.cost) return {};
  const std::string all = money_text(*t.cost, currency),
                    part = money_text(*t.measure.cost, currency);
  return all == part ? std::string() : part;
}

std::string range_words(const Sheet& c, const std::optional<ResistanceRange>& range) {
  if (!range) return {};
  const std::string text = range_text(*range, c.units, [&](Resistance r) { return c.r(r); });
  if (text == c.r(range->low)) return {};  // a label, evenly deep: nothing to tell
  return ", at 90 % " + text;
}

std::string into_cavity(const Report& c, const SectionResult& s) {
  const CavityResult& x = *s.cavity;
  std::string out = s.name + ": ";
  if (x.added > Length{})
    out += fmt::format("{} of {}", depth_text(x.added, c.units, Toward::down), x.material);
  if (x.continuous_r > Resistance{})
    out += fmt::format("{}{} of board across the wood", x.added > Length{} ? " and " : "",
                       c.r(x.continuous_r));
  return out;
}

bool fills_cavity(const SectionResult& s) {
  return s.cavity && (s.cavity->added > Length{} || s.cavity->continuous_r > Resistance{});
}

namespace {

/// Why nothing goes between the wood.
std::string stop_words(const Report& c, const CavityResult& x) {
  const std::string left = depth_text(x.room - x.kept, c.units, Toward::down);
  switch (x.stop) {
    case CavityStop::full:
      return "nothing between the wood: what lies there fills it";
    case CavityStop::does_not_fit:
      return fmt::format(
          "nothing between the wood: what was named is thicker than the {} that are left", left);
    case CavityStop::not_named:
      return fmt::format(
          "nothing yet: {} of room are left, but the proposal has nothing that goes in there; name "
          "it under add",
          left);
    case CavityStop::nothing:
      break;
  }
  return "nothing between the wood";
}

/// " R-38 does not fit: short by ."; "" where the target is reached.
std::string lacks(const Report& c, const TopUp& t) {
  if (!(t.short_by > Resistance{})) return {};
  return fmt::format(
      " {} {}: short by {}.", c.target(t.target_r),
      t.limited_by == LimitedBy::cavity ? "does not fit" : "is not reached with that",
      c.target(t.short_by));
}

}  // namespace

std::string cavity_words(const Report& c, const SectionEnds& s) {
  if (!s.found.cavity) return {};
  const CavityResult& x = *s.found.cavity;
  if (both(s, is_met)) return fmt::format("nothing, {} is met now.", c.target(s.high.target_r));
  std::string out;
  if (x.added > Length{}) {
    out = fmt::format("{} of {} in the {} that fit", depth_text(x.added, c.units, Toward::down),
                      x.material, depth_text(x.room, c.units, Toward::down));
    if (x.kept > Length{})
      out += fmt::format(" ({} stay)", depth_text(x.kept, c.units, Toward::down));
    if (x.added_weight)
      out += fmt::format(", {} of cavity", weight_text(*x.added_weight, c.units, Toward::up));
    if (x.added_mass)
      out += fmt::format(", {} in all", mass_text(*x.added_mass, c.units, Toward::up));
    if (!x.density) out += ", density not known: by its label";
    if (x.kept + x.added < x.room && !reaches((x.kept + x.added).us(), x.room.us()))
      out += fmt::format("; {} stay free",
                         depth_text(x.room - x.kept - x.added, c.units, Toward::down));
  } else {
    out = stop_words(c, x);
  }
  if (x.continuous_r > Resistance{})
    out += fmt::format("; {} of board across the wood", c.r(x.continuous_r));
  out += fmt::format("; then {} working, {} effective.", c.r(s.high.working_r),
                     c.r(s.high.effective_r));
  const auto lack = [&](const TopUp& t) { return lacks(c, t); };
  return out + (same(s, &TopUp::target_r) ? lack(s.high) : join(map(s, lack), ""));
}

std::string laid_words(const Report& c, const TopUp& t) {
  std::string out;
  for (const LaidLayer& layer : t.batts)
    out +=
        fmt::format("{}{} ({}, {})", out.empty() ? "" : " + ", layer.name,
                    depth_text(layer.thickness, c.units, Toward::nearest), c.target(layer.label_r));
  return out;
}

std::string packages_words(const Totals& t) {
  if (t.board_ft && *t.board_ft > 0)
    return number_text(*t.board_ft, 0, Toward::up) + " board feet of foam";
  std::string out;
  for (const PackageCount& n : t.packages)
    out += fmt::format("{}{} package{} of {}", out.empty() ? "" : " and ",
                       number_text(n.count, 0, Toward::up), n.count == 1 ? "" : "s", n.name);
  return out;
}

std::string eave_words(const Report& c, const TopUp& t) {
  if (!t.eave) return {};
  const EaveResult& e = *t.eave;
  const std::string target = c.target(t.target_r);
  std::string out;
  if (e.met_from && *e.met_from > Length{})
    out = fmt::format(
        "{} is met {} ({} working), not at the eave: the outer {} ({} % of the section) stay below "
        "it. ",
        target, e.no_field ? "where the fill is deepest" : "in the field", c.r(e.working_field),
        depth_text(*e.met_from, c.units, Toward::up),
        number_text(*e.share_short * 100.0, 1, Toward::up));
  if (e.no_field)
    out += fmt::format(
        "The roof is low over the whole section, {} wide: {} working at its deepest, {} over all "
        "of it.",
        depth_text(e.width, c.units, Toward::up), c.r(e.working_field), c.r(t.working_r));
  else
    out += fmt::format(
        "Full depth does not fit on the outer {}, {}: {} working there, {} over the whole section.",
        depth_text(e.width, c.units, Toward::up), area_text(e.area, c.units), c.r(e.working_wedge),
        c.r(t.working_r));
  if (e.bags_less)
    out += fmt::format(" {} bags that find no room there are left out already.",
                       number_text(*e.bags_less, 1, Toward::down));
  return out;
}

bool left_unmeasured(const Evaluation& e) {
  return std::any_of(e.sections.begin(), e.sections.end(), [](const SectionResult& s) {
    return s.heated_below && s.existing.unmeasured;
  });
}

std::string spoiled_lid_words(const Sheet& c, Resistance r) {
  return c.r(r) + ", wet or soiled, which counts nothing";
}

bool nothing_to_do(const Evaluation& e) {
  return both(e.planned, [](const Planned& p) { return p.totals.bags && *p.totals.bags == 0; });
}

bool takes_fill(const SectionEnds& s) {
  return is_floor(s.found.kind) &&
         either(s, [](const TopUp& t) { return t.status != TopUpStatus::not_applicable; });
}

bool out_of_reach(const Planned& planned) {
  return std::any_of(planned.sections.begin(), planned.sections.end(),
                     [](const TopUp& t) { return t.falls_short(); });
}

bool floor_out_of_reach(const Evaluation& e, const Planned& planned) {
  for (std::size_t i = 0; i < e.sections.size(); ++i)
    if (is_floor(e.sections[i].kind) && planned.sections[i].falls_short()) return true;
  return false;
}

}  // namespace overjoist::io
