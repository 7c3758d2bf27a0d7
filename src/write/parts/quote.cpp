// SPDX-License-Identifier: MIT
#include "write/parts/quote.hpp"

#include <fmt/core.h>
#include <algorithm>
#include <array>

namespace overjoist::io {
namespace {

std::string_view said(ClaimVerdict v) {
  constexpr std::array<std::string_view, 4> kWords = {"agrees", "disagrees", "too close to call",
                                                      "cannot be judged"};
  return kWords[static_cast<std::size_t>(v)];
}
std::string_view said(RebateVerdict v) {
  constexpr std::array<std::string_view, 3> kWords = {"eligible", "not eligible",
                                                      "too close to call"};
  return kWords[static_cast<std::size_t>(v)];
}

/// Why a claim got its verdict, by code. "{range}" is what is too close to call.
struct Reason {
  std::string_view code, text;
  std::string_view asks{};  ///< in place of the full stop; left out while hands are kept off
};
constexpr Reason kClaimReasons[] = {
    {"as-computed", "The figure is the same."},
    {"within-range", "It lies within what the readings and the material leave open ({range}).",
     ": take more readings."},
    {"found-more",
     "More was found than the quote says: a low starting R makes the saving look larger."},
    {"found-less", "Less was found than the quote says."},
    {"reached", "The work that the survey states reaches it, at the unfavorable end too."},
    {"middle-only", "The middle of the range reaches it, its low end does not ({range} at 90 %)."},
    {"within-stated", "It lies within what the material leaves open ({range})."},
    {"within-half",
     "The work that the survey states gives less than half an R less: quotes speak of whole R."},
    {"stated-less", "The work that the survey states gives less."},
    {"unevenness-unknown", "It is reached, but how uneven it lies is not known.",
     ": give two readings or more."},
    {"not-worked-out",
     "Our plan is made to reach its own target and proves nothing of it: what the quote puts in "
     "must be worked out by itself."},
    {"mean-only", "It is enough for the mean alone; too close to call is {range}."},
    {"enough", "It is enough even at the unfavorable end at 90 %."},
    {"too-little", "Less than the target takes: ask for depth and bags by the label's chart."},
    {"not-sure",
     "It is enough for the mean; how far that may be off is not known, or cannot be made up for."},
    {"nothing-needed", "Nothing needs to be added here for the target."},
    {"not-more", "It is no more than was worked out."},
    {"saves-less",
     "More than was worked out, at the unfavorable end too ({range}): ask for the sum."},
    {"more-than-ceiling",
     "More than the whole loss through this ceiling falls: no bill can fall by more."},
    {"more-than-bills-bear",
     "Bills fall by no more than the ceiling's share of them, here {range} %."},
    {"percent-of-what",
     "Percent of what? Of this ceiling's loss it may be; of the bills not known, since none were "
     "given."},
    {"not-priced", "Prices or heating were not given."},
    {"not-known", "The figure was not worked out here."},
    {"which-section", "Several sections could be meant: name one."},
    {"within-a-bag", "The difference is less than one bag."},
    {"price-above", "Above the cost that was worked out: ask what else it holds."},
    {"price-below", "Below the cost that was worked out: ask what is left out."},
};

std::string figure_text(const Report& c, ClaimKind kind, double value,
                        std::optional<Toward> toward = {}) {
  if ((kind == ClaimKind::percent_saved || kind == ClaimKind::annual_saving) && value < 0)
    return "nothing";  // a loss is no saving
  if (is_r(kind)) return c.r(Resistance::from_us(value));
  if (is_thickness(kind)) return depth_text(inches(value), c.units, toward.value_or(Toward::up));
  if (kind == ClaimKind::bags) return number_text(value, 0, toward.value_or(Toward::up)) + " bags";
  if (kind == ClaimKind::percent_saved)
    return number_text(value, 1, toward.value_or(Toward::down)) + " %";
  return money_text(value, c.e.currency,
                    toward.value_or(kind == ClaimKind::price ? Toward::up : Toward::down));
}
/// As the quote has it: not rounded to one side.
std::string claimed_text(const Report& c, const Claim& claim) {
  if (is_r(claim.kind)) return c.target(Resistance::from_us(claim.value));
  if (is_thickness(claim.kind)) return depth_text(inches(claim.value), c.units, Toward::nearest);
  if (claim.kind == ClaimKind::percent_saved || claim.kind == ClaimKind::bags)
    return number_text(claim.value, 2) + (claim.kind == ClaimKind::bags ? " bags" : " %");
  return money_text(claim.value, c.e.currency, Toward::nearest);
}

std::string range_of(const Report& c, const ClaimResult& r) {
  if (!r.range_low) return "not known";
  if (!r.range_high) return fmt::format("{} or more", figure_text(c, r.claim.kind, *r.range_low));
  if (r.claim.kind == ClaimKind::percent_saved)
    return span_text(number_text(*r.range_low, 1, Toward::down),
                     number_text(*r.range_high, 1, Toward::up));
  // What is to be had at least starts at the figure itself, which is shown rounded up.
  const bool at_least = is_thickness(r.claim.kind) || r.claim.kind == ClaimKind::bags;
  return span_text(figure_text(c, r.claim.kind, *r.range_low, at_least ? Toward::up : Toward::down),
                   figure_text(c, r.claim.kind, *r.range_high, Toward::up));
}

std::string reason_text(const Report& c, const ClaimResult& r) {
  const auto reason = std::find_if(std::begin(kClaimReasons), std::end(kClaimReasons),
                                   [&](const Reason& row) { return row.code == r.why; });
  if (reason == std::end(kClaimReasons)) return "";
  std::string text(reason->text);
  if (!reason->asks.empty() && !c.e.hands_off) text.replace(text.size() - 1, 1, reason->asks);
  constexpr std::string_view kPlace = "{range}";
  const auto at = text.find(kPlace);
  if (at == std::string::npos) return text;
  std::string range = range_of(c, r);
  if (text.compare(at + kPlace.size(), 1, ".") == 0 && range.back() == '.')
    range.pop_back();  // "17 in." ends the sentence
  return text.replace(at, kPlace.size(), range);
}

constexpr std::string_view kKindWords[] = {"existing R",      "final R",        "inches added",
                                           "inches as blown", "inches settled", "bags",
                                           "percent saved",   "saving a year",  "price"};

std::string computed_words(const Report& c, const ClaimResult& r) {
  const auto& [low, high] = std::pair(r.computed_low, r.computed_high);
  if (!low && !high) return "";
  const std::string a = low ? figure_text(c, r.claim.kind, *low) : "not known",
                    b = high ? figure_text(c, r.claim.kind, *high) : "not known";
  return a == b ? fmt::format(", worked out {}", a)
                : fmt::format(", worked out {} (low end) and {} (high end)", a, b);
}

void write_claim(const Report& c, const ClaimResult& r) {
  const std::string_view yet = r.why == "not-worked-out" ? " yet" : "";
  std::string body = fmt::format(
      "{}: quote {}{}: {}{}. {}", kKindWords[static_cast<std::size_t>(r.claim.kind)],
      claimed_text(c, r.claim), computed_words(c, r), said(r.verdict), yet, reason_text(c, r));
  if (!r.claim.where.empty()) body = fmt::format("{}, {}", r.claim.where, body);
  if (!r.claim.said_by.empty()) body += fmt::format(" Said by: {}.", r.claim.said_by);
  c.page.item(body, 2);
}

// ---- Rebates

std::string reason_words(const Report& c, const RebateReason& r) {
  std::string words;
  const std::string limit = r.limit ? c.target(*r.limit) : "", found = r.found ? c.r(*r.found) : "";
  if (r.code == "existing-below")
    words = fmt::format("existing R must be below {}, found {}", limit, found);
  if (r.code == "final-least")
    words = fmt::format("final R must be at least {}, worked out {}", limit, found);
  if (r.code == "bracket")
    words = fmt::format("existing {} against the bracket's limit {}", found, limit);
  if (r.code == "fuel") words = "the heating fuel";
  if (r.code == "fuel-unknown") words = "the heating fuel is not given";
  if (r.code == "nothing-done") words = "nothing is insulated";
  return fmt::format("{}: {}", words, said(r.verdict));
}

std::string end_words(const Report& c, const RebateEnd& end) {
  std::string body = std::string(said(end.verdict));
  if (end.amount && end.amount_least && *end.amount == *end.amount_least)
    body += ", " + money_text(*end.amount, c.e.currency, Toward::down);
  else if (end.amount)
    body += fmt::format(", {}, of which {} is sure",
                        money_text(*end.amount, c.e.currency, Toward::down),
                        money_text(end.amount_least.value_or(0.0), c.e.currency, Toward::down));
  else if (end.verdict != RebateVerdict::not_eligible)
    body += ", amount not known";
  std::string reasons;
  for (const RebateReason& r : end.reasons)
    reasons += (reasons.empty() ? "" : "; ") + reason_words(c, r);
  return body + ". " + reasons + ".";
}

}  // namespace

void write_claims(const Report& c) {
  if (c.e.claims.empty()) return;
  c.page.heading("The quote, held against the figures");
  for (const ClaimResult& r : c.e.claims) write_claim(c, r);
}

void write_rebates(const Report& c) {
  if (c.e.rebates.empty()) return;
  c.page.heading("Rebate rules");
  for (const RebateResult& r : c.e.rebates) {
    c.page.item(r.name, 2);
    if (c.one_target())
      c.page.aside(end_words(c, r.high), 4);
    else
      for (const End end : c.ends())
        c.page.fact(fmt::format("    {} end:", word(end)), end_words(c, at(r, end)), 14);
    if (!r.papers_lacking.empty() && !c.e.hands_off)
      c.page.fact("    papers still lacking:", join(r.papers_lacking), 6);
    if (!r.papers_have.empty()) c.page.fact("    papers at hand:", join(r.papers_have), 6);
  }
  c.page.paragraph(
      "By the working R of the floors that take fill, and of slopes and knee walls that "
      "are filled or stay short. The scheme "
      "decides, not this sheet.",
      2);
}

void write_moisture(const Report& c, const SectionResult& s) {
  for (const MoisturePlane& m : s.moisture) {
    const auto state = [&](const std::optional<MoistureState>& x) {
      if (!x) return std::string("not there");
      return fmt::format("{}{}", temperature_text(x->plane_f, c.units),
                         x->wet_risk ? " (below the dew point)" : "");
    };
    const auto named = [&](End end) {
      return fmt::format("{} ({} end)", state(at(m, end)), word(end));
    };
    const std::string after = c.one_target() ? state(m.high) : join(each_end(named), ", ");
    c.page.fact(
        "  dew point",
        fmt::format("{} of {}: rooms' air {}; plane now {}, after {}. Safe up to {} of R below it.",
                    m.plane, m.layer, temperature_text(m.dew_point_f, c.units), state(m.before),
                    after, number_text(m.safe_share, 2, Toward::down)),
        kHang);
  }
}

}  // namespace overjoist::io
