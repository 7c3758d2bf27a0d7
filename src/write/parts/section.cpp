// SPDX-License-Identifier: MIT
#include <fmt/core.h>
#include <algorithm>
#include <cmath>

#include "write/parts/parts.hpp"
#include "write/parts/plan.hpp"
#include "write/parts/quote.hpp"

// One section: what was found, what is done, what it is worth then.
namespace overjoist::io {
namespace {

std::string range_cell(const Report& c, const std::optional<ResistanceRange>& range) {
  if (!range) return std::string(kNone);
  const auto bare = [&](Resistance r) {
    const std::string text = r_cell(r, c.units);
    return text.substr(text.find_first_of("0123456789"));
  };
  return range_text(*range, c.units, bare);
}

void range_row(const Report& c, Columns& table, const SectionEnds& s,
               std::optional<ResistanceRange> TopUp::*range) {
  table.below("at 90 %" + r_unit(c), s, [&](const TopUp& t) { return range_cell(c, t.*range); });
}

/// Why what was found is too close to the low end of the band to call.
std::string_view close_words(const SectionEnds& s) {
  const auto& range = s.found.existing.range_of(s.low.basis);
  const bool all_above = range && reaches(range->low.us(), s.low.target_r.us());
  return all_above ? "not sure: the whole range reaches it, but how uneven it lies is not known."
                   : "too close to call: the range lies on both sides.";
}

/// What would narrow the range: the bare area before any more readings.
std::string advice_words(const ExistingResult& x) {
  const int more = x.readings_more.value_or(0);
  const std::string readings = fmt::format("{} more reading{}", more, more == 1 ? "" : "s");
  if (x.measure_bare)
    return " Measure the bare area" +
           (more > 0 ? fmt::format(" first, then take {} on the fill.", readings) : ".");
  if (more > 0) return fmt::format(" {} on the fill would bring its U within 5 %.", readings);
  if (!x.readings_more) return {};
  return " Enough readings: U is known within 5 %, but for the material.";
}

/// What was found against the low end of the band, and how many readings would sharpen it.
void write_certainty(const Report& c, const SectionEnds& s) {
  const ExistingResult& x = s.found.existing;
  if (!x.verdict || !s.found.heated_below) return;
  const std::string target = c.target(s.low.target_r);
  std::string out = fmt::format("{}: ", target);
  if (*x.verdict == Verdict::meets)
    out += "met, even at the low end of the range.";
  else if (*x.verdict == Verdict::short_of)
    out += "not met, even at the high end of the range.";
  else
    out += close_words(s);
  if (c.e.hands_off) return c.page.fact("  certain?", out, kHang);  // no word on readings
  out += advice_words(x);
  c.page.fact("  certain?", out, kHang);
}

void write_found(const Report& c, const SectionEnds& s) {
  const ExistingResult& x = s.found.existing;
  std::string out;
  if (x.unmeasured) out = "depth not measured, and it must not be; at least ";
  if (x.spoiled_r) out = spoiled_lid_words(c, *x.spoiled_r) + "; ";
  if (x.mean_depth > Length{} && !x.unmeasured)
    out += depth_text(x.mean_depth, c.units, Toward::down) + " on average; ";
  out += fmt::format("{} working{}, {} effective{}.", c.r(x.working_r),
                     range_words(c, x.working_r_range), c.r(x.effective_r),
                     range_words(c, x.effective_r_range));
  if (x.weight && x.weight_greatest && *x.weight_greatest > MassPerArea{})
    out += fmt::format(" Weight {}, at most {}.", weight_text(*x.weight, c.units, Toward::up),
                       weight_text(*x.weight_greatest, c.units, Toward::up));
  c.page.fact("  found", out, kHang);
  write_certainty(c, s);
  for (const RemovalResult& r : s.found.removals)
    c.page.fact(c.e.hands_off ? "  stays" : "  take out",
                fmt::format("{}: {}, {}, {}.", r.material, area_text(r.area, c.units),
                            volume_text(r.volume, c.units),
                            c.e.hands_off ? "as it lies, before the fill is cleared"
                                          : "before anything is added"),
                kHang);
  for (const PatchResult& p : s.found.patches)
    c.page.fact("  left bare",
                fmt::format("{}{}{}: {}, {} from air to air.", p.kind, p.where.empty() ? "" : ", ",
                            p.where, area_text(p.area, c.units), c.r(p.total_r)),
                kHang);
}

std::string status_cell(const Report& c, const TopUp& t) {
  switch (t.status) {
    case TopUpStatus::needed:
      return c.e.hands_off ? "once cleared" : t.falls_short() ? "eave short" : "to do";
    case TopUpStatus::met:
      return "met now";
    case TopUpStatus::unreachable:
      return "out of reach";
    case TopUpStatus::not_applicable:
      break;
  }
  return "no fill here";
}

std::string level_cell(const Report& c, const std::optional<Length>& level, Toward toward) {
  return level ? level_text(*level, c.units, toward) : std::string(kNone);
}

std::string weight_cell(const Report& c, const std::optional<MassPerArea>& weight, Toward toward,
                        bool at_least) {
  if (!weight) return std::string(kNone);
  return (at_least ? "over " : "") + weight_text(*weight, c.units, toward);
}

std::string depth_cell(const Report& c, const TopUp& t, Length NewDepth::*which) {
  return t.new_depth ? depth_text((*t.new_depth).*which, c.units, Toward::up) : std::string(kNone);
}

void write_within_weight(const Report& c, const SectionEnds& s, Columns& table) {
  const auto r = [&](Resistance WithinWeight::*which) {
    return [&c, which](const TopUp& t) {
      return t.within_weight ? r_cell((*t.within_weight).*which, c.units) : std::string(kNone);
    };
  };
  // Within the limit a level is rounded down: a quarter more would pass it.
  table.row("best level within that weight", s, [&](const TopUp& t) {
    if (t.within_weight) return level_text(t.within_weight->initial_level, c.units, Toward::down);
    if (!t.weight_greatest || !t.weight_limit ||
        reaches(t.weight_limit->us(), t.weight_greatest->us()))
      return std::string(kNone);
    return std::string(t.weight_at_least ? "not known" : "none");
  });
  table.below("working R there" + r_unit(c), s, r(&WithinWeight::working_r));
  table.below("effective R there" + r_unit(c), s, r(&WithinWeight::effective_r));
}

void write_weights(const Report& c, const SectionEnds& s, Columns& table) {
  const auto weight = [&](std::optional<MassPerArea> TopUp::*which) {
    return [&c, which](const TopUp& t) {
      return weight_cell(c, t.*which, Toward::up, t.weight_at_least);
    };
  };
  table.row("weight on the ceiling, mean", s, weight(&TopUp::weight));
  table.row("weight on the ceiling, greatest", s, weight(&TopUp::weight_greatest));
  table.row("what the ceiling may carry", s,
            [&](const TopUp& t) { return weight_cell(c, t.weight_limit, Toward::down, false); });
  write_within_weight(c, s, table);
}

std::string_view stopped_cell(const TopUp& t) {
  return t.limited_by == LimitedBy::nothing ? kNone : word(t.limited_by);
}

std::string over_cell(const Report& c, const TopUp& t) {
  const bool shown = t.overshoot && r_shown(*t.overshoot, c.units) > 0;
  return shown ? r_cell(*t.overshoot, c.units) : std::string(kNone);
}

/// Up to where new fill goes, when it is put in and later.
void write_levels(const Report& c, const SectionEnds& s, Columns& table) {
  const auto planned = [&](const TopUp& t) {
    return t.initial_level ? planned_level_text(t, c.units) : std::string(kNone);
  };
  table.row(c.e.hands_off                   ? "once cleared: new fill up to, above the ceiling"
            : c.e.method == Method::sprayed ? "foam to this level above the ceiling"
                                            : "blow to this level above the ceiling",
            s, planned);
  table.row("level that is sure to reach it", s, [&](const TopUp& t) {
    return t.confident_level == t.initial_level ? planned(t)
                                                : level_cell(c, t.confident_level, Toward::up);
  });
  const bool settles = c.e.method == Method::blown;  // what is laid or sprayed does not
  table.row(settles ? "level after settling, mean" : "level after the work, mean", s,
            [&](const TopUp& t) {
              return t.settled_level ? depth_text(*t.settled_level, c.units, Toward::up)
                                     : std::string(kNone);
            });
  const auto depths = [&](std::string_view which, Length NewDepth::*depth) {
    table.row(fmt::format("{}, {}", settles ? "new fill after settling" : "new layer", which), s,
              [&](const TopUp& t) { return depth_cell(c, t, depth); });
  };
  depths("least", &NewDepth::least);
  depths("mean", &NewDepth::mean);
  depths("greatest", &NewDepth::greatest);
}

void write_top_up(const Report& c, const SectionEnds& s) {
  Columns table(c);
  const std::string unit = r_unit(c);
  const auto r = [&](Resistance TopUp::*which) {
    return [&c, which](const TopUp& t) { return r_cell(t.*which, c.units); };
  };
  table.head("target (" + std::string(word(s.low.basis)) + ")" + unit, s,
             [&](const TopUp& t) { return r_given_cell(t.target_r, c.units); });
  table.row("status", s, [&](const TopUp& t) { return status_cell(c, t); });
  table.row("stopped by", s, stopped_cell);
  write_levels(c, s, table);
  table.row("working R after" + unit, s, r(&TopUp::working_r));
  range_row(c, table, s, &TopUp::working_r_range);
  table.row("effective R after" + unit, s, r(&TopUp::effective_r));
  range_row(c, table, s, &TopUp::effective_r_range);
  table.row("bags", s, [](const TopUp& t) { return bags_cell(t.bags); });
  table.row("above the target by" + unit, s, [&](const TopUp& t) { return over_cell(c, t); });
  table.row("board feet of foam", s, [](const TopUp& t) {
    return t.board_ft_exact ? number_text(*t.board_ft_exact, 0, Toward::up) : std::string(kNone);
  });
  write_weights(c, s, table);
  if (either(s, [](const TopUp& t) { return t.confident_too_heavy; }))
    c.page.fact("  too heavy", "the ceiling does not carry the level that is sure to reach it.",
                kHang);
  for (const End end : c.ends())
    if (const TopUp& t = at(s, end); !t.batts.empty())
      c.page.fact(c.e.hands_off ? "  cleared?" : "  lay",
                  fmt::format("for {}: {}", c.target(t.target_r), laid_words(c, t)), kHang);
  for (const End end : c.ends())
    if (const TopUp& t = at(s, end); t.eave) c.page.fact("  at eave", eave_words(c, t), kHang);
}

std::string cavity_range(const Report& c, const SectionEnds& s) {
  return fmt::format("after the work {} effective, {} working.",
                     range_cell(c, s.high.effective_r_range),
                     range_cell(c, s.high.working_r_range));
}

}  // namespace

void write_section(const Report& c, const SectionEnds& s) {
  c.page.heading(fmt::format("{} ({}, {}{})", cut_to(s.found.name, 44), word(s.found.kind),
                             area_text(s.found.area, c.units),
                             s.found.heated_below ? "" : ", unheated below"));
  write_found(c, s);
  write_moisture(c, s.found);
  if (takes_fill(s)) return write_top_up(c, s);
  if (s.found.cavity) {
    c.page.fact(c.e.hands_off ? "  cleared?" : "  put in",
                (c.e.hands_off ? "then " : "") + cavity_words(c, s), kHang);
    return c.page.fact("  at 90 %", cavity_range(c, s), kHang);
  }
  std::string after = "as it is; no loose fill goes here.";
  if (s.found.existing.unmeasured)
    after = "as it is; nothing is planned here before the fill is cleared.";
  if (s.found.existing.in_doubt) after = "as it is; " + std::string(kLayerInDoubt);
  if (!s.found.heated_below)
    after =
        "as it is: nothing is planned over a space that is said to be unheated. Is there a heated "
        "room above it?";
  else if (s.high.effective_r > s.found.existing.effective_r)
    after = fmt::format("{} effective; no loose fill goes here.", c.r(s.high.effective_r));
  c.page.fact("  after", after, kHang);
}

}  // namespace overjoist::io
