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
  std::string out = target_words(c);
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
  const auto targets = map(s, [&](const TopUp& t) { return c.target(t.target_r); });
  if (c.one_target() || same(targets)) return end_words(c, s.high);
  if (both(s, is_met)) return fmt::format("nothing, {} are met now", join(targets, " and "));
  return join(map(s, [&](const TopUp& t) { return end_words(c, t); }), "; ");
}

/// The whole answer where floors take nothing.
void write_add_nothing(const Report& c, const SectionEnds* floor) {
  const bool heated = std::any_of(c.e.sections.begin(), c.e.sections.end(),
                                  [](const SectionResult& s) { return s.heated_below; });
  if (floor == nullptr && !heated)
    return c.page.fact(
        "Add",
        "not worked out: what lies below is said to be unheated. Is there a heated room above it?",
        kHang);
  bool first = true;
  for (const SectionResult& s : c.e.sections) {
    if (!fills_cavity(s)) continue;
    if (first)
      c.page.fact("Add", into_cavity(c, s) + '.', kHang);
    else
      c.page.item(into_cavity(c, s) + '.', 12);
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
    c.page.fact("Add", none, kHang);
  else if (floor != nullptr)
    c.page.item(floor->found.name + ": " + none, 12);
}

/// While hands are kept off nothing is added: the level is what the plan comes to once the fill is
/// cleared.
void write_add_once_cleared(const Report& c) {
  c.page.fact("Add", "nothing before the fill is cleared by the asbestos professional.", kHang);
  for (const SectionEnds& s : c.e.with_ends())
    if (takes_fill(s) && !c.e.added_material.empty())
      c.page.item(fmt::format("once cleared, {}: {}, {}.", s.found.name, c.e.added_material,
                              add_words(c, s)),
                  12);
}

void write_add(const Report& c) {
  if (c.e.hands_off) return write_add_once_cleared(c);
  const std::vector<SectionEnds> sections = c.e.with_ends();
  const auto count = std::count_if(sections.begin(), sections.end(), takes_fill);
  if (c.e.added_material.empty())
    return c.page.fact("Add", "not worked out: no material to add was named.", kHang);
  if (count == 0) return write_add_nothing(c, nullptr);
  if (count == 1) {
    const SectionEnds& s = *std::find_if(sections.begin(), sections.end(), takes_fill);
    if (nothing_to_do(c.e)) return write_add_nothing(c, &s);
    c.page.fact("Add",
                c.e.added_material + ": " + add_words(c, s) +
                    (c.e.method == Method::blown  ? " (as blown, from the ceiling up)."
                     : c.e.method == Method::laid ? " (across the joists, from below up)."
                                                  : " (sprayed on the bare ceiling)."),
                kHang);
  } else {
    c.page.fact(
        "Add",
        c.e.added_material + (c.e.method == Method::blown  ? ", as blown, from the ceiling up:"
                              : c.e.method == Method::laid ? ", across the joists, from below up:"
                                                           : ", sprayed on the bare ceiling:"),
        kHang);
    for (const SectionEnds& s : sections)
      if (takes_fill(s)) c.page.item(s.found.name + ": " + add_words(c, s) + '.', 12);
  }
  for (const SectionResult& s : c.e.sections)
    if (fills_cavity(s)) c.page.item(into_cavity(c, s) + '.', 12);
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
  std::string parts;
  for (const End end : c.ends()) {
    const std::string part = measure_cost_text(c.e.planned[end].totals, c.e.currency);
    if (part.empty()) return {};
    parts += (parts.empty() ? "" : " and ") + part;
  }
  return ", of it the insulation " + parts;
}

std::string cost_words(const Report& c) {
  const auto price = [&](const Totals& t) {
    return t.cost ? money_text(*t.cost, c.e.currency) : std::string("not priced");
  };
  if (!either(c.totals(), &Totals::cost)) return "Cost: not priced.";
  const std::string without = unpriced_words(c.e);
  const std::string tail = measure_words(c) + (without.empty() ? "." : " (" + without + ").");
  if (c.one_target()) return fmt::format("Cost: {}{}", price(c.e.planned.high.totals), tail);
  const auto end_price = [&](const Planned& p) {
    return price(p.totals) + " for " + c.target(p.target);
  };
  return "Cost: " + join(map(c.e.planned, end_price), ", ") + tail;
}

void write_takes(const Report& c) {
  if (c.e.added_material.empty() || nothing_to_do(c.e)) return;
  std::string out;
  if (c.e.method == Method::blown && !either(c.totals(), &Totals::bags))
    out = "a number of bags that is not known";
  else
    for (const End end : c.ends())
      out += (out.empty() ? "" : ", ") + bags_words(c, c.e.planned[end]);
  c.page.fact("It takes", (c.e.hands_off ? "once cleared, " : "") + out + ". " + cost_words(c),
              kHang);
}

}  // namespace

void write_answer(const Report& c) {
  c.page.blank();
  c.page.fact("You have", have_words(c), kHang);
  c.page.fact("You want", want_words(c), kHang);
  write_add(c);
  write_takes(c);
  if (const std::string never = never_pays_words(c.e); !never.empty())
    c.page.fact("Pays back", never, kHang);
  const std::string first = short_list(c, CautionLevel::fix_first);
  if (first.empty()) return;
  if (c.e.added_material.empty() || nothing_to_do(c.e))
    return c.page.fact("Fix first", first + ". More below.", kHang);
  c.page.fact("Before that", "fix first: " + first + ". More below.", kHang);
}

}  // namespace overjoist::io
