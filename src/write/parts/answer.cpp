// SPDX-License-Identifier: MIT
#include <algorithm>
#include <cmath>
#include <vector>

#include <fmt/core.h>

#include "write/parts/parts.hpp"

namespace overjoist::io {
namespace {

std::string_view limit_words(LimitedBy limit) {
  switch (limit) {
    case LimitedBy::headroom:
      return "the headroom";
    case LimitedBy::deck:
      return "the deck";
    case LimitedBy::chart:
      return "the last row of the bag's chart";
    case LimitedBy::cavity:
      return "the depth of the cavity";
    case LimitedBy::fill:
      return "what goes into the cavity";
    case LimitedBy::products:
      return "the list of products";
    case LimitedBy::nothing:
      break;
  }
  return "the space";
}

// The section that stands for the attic in the first line: the largest floor above heated rooms.
const SectionResult* main_section(const Evaluation& e) {
  const SectionResult* best = nullptr;
  for (const SectionResult& s : e.sections)
    if (s.heated_below && is_floor(s.kind) && (best == nullptr || s.area > best->area)) best = &s;
  return best;
}

std::string have_words(const Report& c) {
  std::string out;
  if (c.e.attic.area.us() > 0)
    out = fmt::format("{}{} over the whole attic (effective: films, ceiling and joists count){}. ",
                      left_unmeasured(c.e) ? "at least " : "", c.r(c.e.attic.existing.effective_r),
                      range_words(c, c.e.attic.existing.effective_r_range));
  else
    out =
        "no section over heated rooms, so no saving is worked out. Is there a heated room above "
        "one of them? Then its floor is not "
        "worked out here, and needs insulation all the same. ";
  const SectionResult* s = main_section(c.e);
  if (s == nullptr) return out;
  const std::string where =
      c.e.sections.size() > 1 && !s->name.empty() ? " in " + s->name : std::string();
  if (s->existing.unmeasured)
    return out + fmt::format(
                     "The insulation alone{} is worth at least {} (working): a depth was not "
                     "measured, and must not be.",
                     where, c.r(s->existing.working_r));
  return out + fmt::format("The insulation alone{} is worth {} (working){}, {} deep on average.",
                           where, c.r(s->existing.working_r),
                           range_words(c, s->existing.working_r_range),
                           depth_text(s->existing.mean_depth, c.units, Toward::down));
}

std::string want_words(const Report& c) {
  const TargetBand& t = c.e.target;
  const std::string own = own_target_words(c);
  std::string out = own.empty() ? span_text(c.target(t.low), c.target(t.high)) : own;
  out += t.basis == Basis::working ? " for the insulation alone (working)" : " in all (effective)";
  if (!t.zone.empty()) out += ", climate zone " + t.zone;
  return out + '.';
}

std::string end_words(const Report& c, const TopUp& t) {
  const std::string target = c.target(t.target_r);
  if (!t.batts.empty()) {
    const std::string laid = laid_words(c, t);
    if (t.status != TopUpStatus::unreachable)
      return fmt::format("{} for {} (gives {})", laid, target, c.r(t.after()));
    return fmt::format("{} is out of reach, {} allows {}, which gives {} ({})", target,
                       limit_words(t.limited_by), laid, c.r(t.after()), word(t.basis));
  }
  if (t.status == TopUpStatus::met) return fmt::format("nothing for {}, which is met now", target);
  if (t.status == TopUpStatus::needed)
    return t.initial_level ? fmt::format("to {} for {}{}", planned_level_text(t, c.units), target,
                                         field_words(c, t))
                           : fmt::format("{} needs more insulation", target);
  if (t.status == TopUpStatus::not_applicable) return {};
  const std::string best = fmt::format("{} ({})", c.r(t.after()), word(t.basis));
  if (!t.initial_level)
    return fmt::format("{} is out of reach, {} leaves no room and it stays at {}", target,
                       limit_words(t.limited_by), best);
  return fmt::format("{} is out of reach, {} allows {}, which gives {}", target,
                     limit_words(t.limited_by), planned_level_text(t, c.units), best);
}

std::string add_words(const Report& c, const SectionEnds& s) {
  if (c.one_target() || c.target(s.low.target_r) == c.target(s.high.target_r))
    return end_words(c, s.high);
  if (s.low.status == TopUpStatus::met && s.high.status == TopUpStatus::met)
    return fmt::format("nothing, {} and {} are met now", c.target(s.low.target_r),
                       c.target(s.high.target_r));
  const std::string low = end_words(c, s.low);
  const std::string high = end_words(c, s.high);
  return low.empty() || high.empty() ? low + high : low + "; " + high;
}

/// The whole answer where floors take nothing.
void write_add_nothing(const Report& c, const SectionEnds* floor) {
  const bool heated = std::any_of(c.e.sections.begin(), c.e.sections.end(),
                                  [](const SectionResult& s) { return s.heated_below; });
  if (floor == nullptr && !heated)
    return c.page.text(
        "Add",
        "not worked out: what lies below is said to be unheated. Is there a heated room above it?",
        kHang);
  bool first = true;
  for (const SectionResult& s : c.e.sections) {
    if (!fills_cavity(s)) continue;
    if (first)
      c.page.text("Add", into_cavity(c, s) + '.', kHang);
    else
      c.page.text("            - ", into_cavity(c, s) + '.', kHang + 2);
    first = false;
  }
  const auto open =
      std::find_if(c.e.sections.begin(), c.e.sections.end(), [](const SectionResult& s) {
        return s.cavity && (s.cavity->stop == CavityStop::not_named ||
                            s.cavity->stop == CavityStop::does_not_fit);
      });
  const bool doubt = std::any_of(c.e.sections.begin(), c.e.sections.end(),
                                 [](const SectionResult& s) { return s.existing.in_doubt; });
  const std::string none =
      doubt              ? std::string(kLayerInDoubt)
      : floor != nullptr ? add_words(c, *floor) + '.'
      : open == c.e.sections.end()
          ? "nothing: no section here takes new fill."
          : fmt::format("nothing yet: {} has room, but nothing was named that fits.", open->name);
  if (first)
    c.page.text("Add", none, kHang);
  else if (floor != nullptr)
    c.page.text("            - ", floor->found.name + ": " + none, kHang + 2);
}

/// While hands are kept off nothing is added: the level is what the plan comes to once the fill is
/// cleared.
void write_add_once_cleared(const Report& c) {
  c.page.text("Add", "nothing before the fill is cleared by the asbestos professional.", kHang);
  for (const SectionEnds& s : c.e.with_ends())
    if (takes_fill(s) && !c.e.added_material.empty())
      c.page.text("            - ",
                  fmt::format("once cleared, {}: {}, {}.", s.found.name, c.e.added_material,
                              add_words(c, s)),
                  kHang + 2);
}

void write_add(const Report& c) {
  if (c.e.hands_off) return write_add_once_cleared(c);
  const std::vector<SectionEnds> sections = c.e.with_ends();
  const auto count = std::count_if(sections.begin(), sections.end(), takes_fill);
  if (c.e.added_material.empty())
    return c.page.text("Add", "not worked out: no material to add was named.", kHang);
  if (count == 0) return write_add_nothing(c, nullptr);
  if (count == 1) {
    const SectionEnds& s = *std::find_if(sections.begin(), sections.end(), takes_fill);
    if (nothing_to_do(c.e)) return write_add_nothing(c, &s);
    c.page.text("Add",
                c.e.added_material + ": " + add_words(c, s) +
                    (c.e.method == Method::blown  ? " (as blown, from the ceiling up)."
                     : c.e.method == Method::laid ? " (across the joists, from below up)."
                                                  : " (sprayed on the bare ceiling)."),
                kHang);
  } else {
    c.page.text(
        "Add",
        c.e.added_material + (c.e.method == Method::blown  ? ", as blown, from the ceiling up:"
                              : c.e.method == Method::laid ? ", across the joists, from below up:"
                                                           : ", sprayed on the bare ceiling:"),
        kHang);
    for (const SectionEnds& s : sections)
      if (takes_fill(s))
        c.page.text("            - ", s.found.name + ": " + add_words(c, s) + '.', kHang + 2);
  }
  for (const SectionResult& s : c.e.sections)
    if (fills_cavity(s)) c.page.text("            - ", into_cavity(c, s) + '.', kHang + 2);
}

std::string bags_words(const Report& c, const Planned& planned) {
  const Totals& t = planned.totals;
  const bool fits = !floor_out_of_reach(c.e, planned);
  const std::string end =
      (fits ? " for " : " as far as it fits towards ") + c.target(planned.target);
  if (const std::string packages = packages_words(t); !packages.empty()) return packages + end;
  if (c.e.method != Method::blown) return "nothing" + end;
  if (!t.bags) return "an unknown number of bags" + end;
  if (*t.bags == 0) return "no bags" + end;
  const std::string size =
      t.bag_net ? " of " + mass_text(*t.bag_net, c.units, Toward::nearest) : std::string();
  return fmt::format("{} bag{}{}{}", number_text(*t.bags, 0, Toward::up), *t.bags == 1 ? "" : "s",
                     size, end);
}

/// ", of it the insulation $1952 and $2299", the cost that the steps speak of; "" where it is all.
std::string measure_words(const Report& c) {
  const auto part = [&](const Totals& t) { return measure_cost_text(t, c.e.currency); };
  const std::string low = part(c.e.planned.low.totals), high = part(c.e.planned.high.totals);
  if (high.empty() || (!c.one_target() && low.empty())) return {};
  return ", of it the insulation " + (c.one_target() ? high : low + " and " + high);
}

std::string cost_words(const Report& c) {
  const auto price = [&](const Totals& t) {
    return t.cost ? money_text(*t.cost, c.e.currency) : std::string("not priced");
  };
  if (!c.e.planned.low.totals.cost && !c.e.planned.high.totals.cost) return "Cost: not priced.";
  const std::string without = unpriced_words(c.e);
  const std::string tail = measure_words(c) + (without.empty() ? "." : " (" + without + ").");
  if (c.one_target()) return fmt::format("Cost: {}{}", price(c.e.planned.high.totals), tail);
  return fmt::format("Cost: {} for {}, {} for {}{}", price(c.e.planned.low.totals),
                     c.target(c.e.target.low), price(c.e.planned.high.totals),
                     c.target(c.e.target.high), tail);
}

void write_takes(const Report& c) {
  if (c.e.added_material.empty() || nothing_to_do(c.e)) return;
  std::string out;
  if (c.e.method == Method::blown && !c.e.planned.low.totals.bags &&
      !c.e.planned.high.totals.bags) {
    out = "a number of bags that is not known";
  } else {
    if (!c.one_target()) out = bags_words(c, c.e.planned.low) + ", ";
    out += bags_words(c, c.e.planned.high);
  }
  c.page.text("It takes", (c.e.hands_off ? "once cleared, " : "") + out + ". " + cost_words(c),
              kHang);
}

}  // namespace

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

std::string own_target_words(const Report& c) {
  std::optional<Resistance> low, high;
  for (const auto& [s, at_low, at_high] : c.e.with_ends()) {
    if (!s.heated_below || is_lid(s.kind)) continue;
    if (at_low.target_r == c.e.target.low && at_high.target_r == c.e.target.high) return {};
    low = low ? std::min(*low, at_low.target_r) : at_low.target_r;
    high = high ? std::max(*high, at_high.target_r) : at_high.target_r;
  }
  if (!low) return {};
  return span_text(c.target(*low), c.target(*high)) + ", as the sections ask,";
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
  const std::string low = c.r(range->low), high = range->high ? c.r(*range->high) : std::string();
  if (low == high) return {};  // a label, evenly deep: nothing to tell
  return high.empty() ? fmt::format(", at 90 % {} or more", low)
                      : fmt::format(", at 90 % {} to {}", low, high);
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
  if (s.high.status == TopUpStatus::met && s.low.status == TopUpStatus::met)
    return fmt::format("nothing, {} is met now.", c.target(s.high.target_r));
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
  if (s.low.target_r != s.high.target_r) out += lacks(c, s.low);
  return out + lacks(c, s.high);
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
  return e.planned.low.totals.bags && e.planned.high.totals.bags &&
         *e.planned.low.totals.bags == 0 && *e.planned.high.totals.bags == 0;
}

bool takes_fill(const SectionEnds& s) {
  return is_floor(s.found.kind) && (s.low.status != TopUpStatus::not_applicable ||
                                    s.high.status != TopUpStatus::not_applicable);
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

void write_answer(const Report& c) {
  c.page.blank();
  c.page.text("You have", have_words(c), kHang);
  c.page.text("You want", want_words(c), kHang);
  write_add(c);
  write_takes(c);
  if (const std::string never = never_pays_words(c.e); !never.empty())
    c.page.text("Pays back", never, kHang);
  const std::string first = short_list(c, CautionLevel::fix_first);
  if (first.empty()) return;
  if (c.e.added_material.empty() || nothing_to_do(c.e))
    return c.page.text("Fix first", first + ". More below.", kHang);
  c.page.text("Before that", "fix first: " + first + ". More below.", kHang);
}

}  // namespace overjoist::io
