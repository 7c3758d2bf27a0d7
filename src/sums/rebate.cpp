// SPDX-License-Identifier: MIT
#include "overjoist/rebate.hpp"

#include <algorithm>

namespace overjoist {
namespace {

RebateVerdict worst(RebateVerdict a, RebateVerdict b) {
  if (a == RebateVerdict::not_eligible || b == RebateVerdict::not_eligible)
    return RebateVerdict::not_eligible;
  return a == RebateVerdict::too_close || b == RebateVerdict::too_close ? RebateVerdict::too_close
                                                                        : RebateVerdict::eligible;
}

/// True if the limit lies inside the range: the central figure is on one side by chance.
bool straddles(const RangedR& r, Resistance limit) {
  return r.range && !reaches(r.range->low.us(), limit.us()) &&
         (!r.range->high || reaches(r.range->high->us(), limit.us()));
}

void add(RebateEnd& end, std::string_view code, RebateVerdict verdict,
         std::optional<Resistance> limit = {}, std::optional<Resistance> found = {}) {
  end.reasons.push_back({code, verdict, limit, found});
  end.verdict = worst(end.verdict, verdict);
}

RebateVerdict side(bool holds, bool close) {
  if (close) return RebateVerdict::too_close;
  return holds ? RebateVerdict::eligible : RebateVerdict::not_eligible;
}

const RebateBracket* bracket_of(const RebateRule& rule, Resistance r) {
  const auto b =
      std::find_if(rule.brackets.begin(), rule.brackets.end(), [&](const RebateBracket& row) {
        return reaches(r.us(), row.from.us()) && !reaches(r.us(), row.below.us());
      });
  return b == rule.brackets.end() ? nullptr : &*b;
}

std::optional<double> amount_of(const RebateRule& rule, const RebateBracket& bracket,
                                const RebateInput& in) {
  std::optional<double> amount;
  if (bracket.per_ft2)
    amount = *bracket.per_ft2 * in.area.us();
  else if (in.cost)
    amount = *in.cost * bracket.percent.value_or(0.0) / 100.0;
  if (amount && rule.cap) amount = std::min(*amount, *rule.cap);
  if (amount && in.cost) amount = std::min(*amount, *in.cost);
  return amount;
}

/// The brackets that the range of the existing R touches besides the central one make it too close
/// to call.
void hold_bracket(RebateEnd& end, const RebateRule& rule, const RebateInput& in) {
  const RebateBracket* bracket = bracket_of(rule, in.existing.r);
  std::optional<Resistance> limit;
  for (const RebateBracket& row : rule.brackets)
    for (const Resistance edge : {row.from, row.below})
      if (straddles(in.existing, edge)) limit = edge;
  if (!limit && !rule.brackets.empty())
    limit = bracket                                      ? bracket->below
            : in.existing.r < rule.brackets.front().from ? rule.brackets.front().from
                                                         : rule.brackets.back().below;
  const bool close = limit && straddles(in.existing, *limit);
  add(end, "bracket", side(bracket != nullptr, close), limit, in.existing.r);
}

/// The least and the greatest amount of the brackets that the range touches.
std::optional<double> least_amount(const RebateRule& rule, const RebateInput& in) {
  std::optional<double> least;
  for (const RebateBracket& row : rule.brackets) {
    const auto amount = amount_of(rule, row, in);
    const bool touched = bracket_of(rule, in.existing.r) == &row ||
                         straddles(in.existing, row.from) || straddles(in.existing, row.below);
    if (touched && amount && (!least || *amount < *least)) least = amount;
  }
  return least;
}

void hold_fuel(RebateEnd& end, const RebateRule& rule, std::string_view fuel) {
  if (rule.fuels.empty()) return;
  if (fuel.empty()) return add(end, "fuel-unknown", RebateVerdict::too_close);
  const bool in = std::find(rule.fuels.begin(), rule.fuels.end(), fuel) != rule.fuels.end();
  add(end, "fuel", side(in, false));
}

}  // namespace

RebateEnd hold_rebate(const RebateRule& rule, const RebateInput& in) {
  RebateEnd end;
  if (!(in.area > Area{})) {
    add(end, "nothing-done", RebateVerdict::not_eligible);
    return end;
  }
  if (rule.existing_below)
    add(end, "existing-below",
        side(!reaches(in.existing.r.us(), rule.existing_below->us()),
             straddles(in.existing, *rule.existing_below)),
        rule.existing_below, in.existing.r);
  if (rule.final_least)
    add(end, "final-least",
        side(reaches(in.final_r.r.us(), rule.final_least->us()),
             straddles(in.final_r, *rule.final_least)),
        rule.final_least, in.final_r.r);
  hold_fuel(end, rule, in.fuel);
  hold_bracket(end, rule, in);
  if (end.verdict == RebateVerdict::not_eligible) return end;
  if (const RebateBracket* bracket = bracket_of(rule, in.existing.r))
    end.amount = amount_of(rule, *bracket, in);
  if (end.amount)
    end.amount_least = end.verdict == RebateVerdict::eligible ? least_amount(rule, in) : 0.0;
  return end;
}

}  // namespace overjoist
