// SPDX-License-Identifier: MIT
#include "evaluate/saving_range.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>

#include "evaluate/attic_above.hpp"
#include "evaluate/money.hpp"
#include "evaluate/spread.hpp"
#include "overjoist/money.hpp"

namespace overjoist::parts {
namespace {

constexpr Conductance CeilingUa::*kParts[] = {&CeilingUa::attic, &CeilingUa::side,
                                              &CeilingUa::slope};
constexpr std::size_t kPartCount = std::size(kParts);

std::size_t part_of(SectionKind kind) {
  const Above air = above(kind);
  return air == Above::attic ? 0 : air == Above::side ? 1 : 2;
}

/// How far the UA of one air's ceilings may lie off: readings of one section know nothing of
/// another's, one material may lie in all of them.
struct Off {
  double read_up = 0.0, read_down = 0.0, up = 0.0, down = 0.0;

  /// @param ua  of the section, central  @param spread  of its U, as a share of its own central one
  void add(double ua, const SpreadU& spread) {
    const double scale = ua / spread.read.u;
    read_up = std::hypot(read_up, scale * (spread.read.high - spread.read.u));
    read_down = std::hypot(read_down, scale * (spread.read.u - spread.read.low));
    const ReadU whole = spread.whole();
    up += scale * std::sqrt(std::max(0.0, square(whole.high - spread.read.u) -
                                              square(spread.read.high - spread.read.u)));
    down += scale * std::sqrt(std::max(0.0, square(spread.read.u - whole.low) -
                                                square(spread.read.u - spread.read.low)));
  }
  double worse() const { return std::hypot(read_up, up); }
  double better() const { return std::hypot(read_down, down); }

 private:
  static double square(double x) { return x * x; }
};
using Offs = std::array<Off, kPartCount>;

/// To outdoors, with each air's ceilings at either end by themselves.
UaEnds ends_of(const CeilingUa& ua, const Offs& offs, const AtticAir& air) {
  const auto out = [&](const CeilingUa& c) { return ua_to_outdoors(c, air)->us(); };
  UaEnds ends{out(ua)};
  for (std::size_t i = 0; i < kPartCount; ++i) {
    CeilingUa worse = ua, better = ua;
    worse.*kParts[i] += Conductance::from_us(offs[i].worse());
    better.*kParts[i] =
        std::max(Conductance{}, better.*kParts[i] - Conductance::from_us(offs[i].better()));
    ends.up = std::hypot(ends.up, out(worse) - ends.ua);
    ends.down = std::hypot(ends.down, ends.ua - out(better));
  }
  return ends;
}

}  // namespace

SavedUa saved_ua(const Evaluation& e, const SavingsWork& work, const Planned& planned, bool paid) {
  const auto before = [&](std::size_t i) { return work.sections[i].before; };
  const auto after = [&](std::size_t i) {
    const Resistance r = planned.sections[i].effective_r;
    return paid ? paid_r(e, e.sections[i], before(i), r) : r;
  };
  const End end = &planned == &e.planned.low ? End::low : End::high;
  Offs found{}, done{};
  for (std::size_t i = 0; i < e.sections.size(); ++i) {
    const SectionResult& s = e.sections[i];
    const double was = 1.0 / before(i).us(), is = 1.0 / after(i).us();
    if (!s.heated_below || (reaches(was, is) && reaches(is, was))) continue;  // it cancels out
    const std::size_t part = part_of(s.kind);
    found[part].add(was * s.area.us(), work.spreads[i].existing);
    done[part].add(is * s.area.us(), work.spreads[i].planned[end]);
  }
  const AtticAir& air = e.heating->air;
  SavedUa ua{ends_of(ceiling_ua(e, before), found, air), ends_of(ceiling_ua(e, after), done, air)};
  if (const auto& bills = e.heating->bills; bills && bills->computed_share > 0)
    ua.bills = ua.found.ua * bills->allowed_share / bills->computed_share;
  return ua;
}

Ends<double> saved_ends(const SavedUa& ua) {
  const double saved = ua.saved(), central = saved * ua.share(), least = std::min(0.0, central);
  const double low = saved - std::hypot(ua.found.down, ua.after.up),
               high = saved + std::hypot(ua.found.up, ua.after.down);
  // Goods that are added never cost heat, however well the attic was found.
  return {std::clamp(low * ua.low_share(), least, central),
          std::max(central, high * ua.high_share())};
}

WorthRange worth_range(const Ends<double>& saving, std::optional<double> cost,
                       const MoneyTerms& terms) {
  WorthRange range{saving.low, saving.high, {}, {}, {}, {}, {}, {}};
  range.present_low = present_value(saving.low, terms);
  range.present_high = present_value(saving.high, terms);
  if (!cost) return range;
  range.sir_low = savings_to_investment(saving.low, *cost, terms);
  range.sir_high = savings_to_investment(saving.high, *cost, terms);
  range.payback_low = simple_payback(*cost, saving.high);
  range.payback_high = simple_payback(*cost, saving.low);
  return range;
}

void add_worth_ranges(Evaluation& e) {
  if (!e.money) return;
  for (Planned* planned : {&e.planned.low, &e.planned.high}) {
    const auto paid = planned->totals.measure;
    if (!paid.range || !paid.annual_saving) continue;
    for (WorthLine* line : {&planned->totals.measure, &planned->totals.package}) {
      if (!line->annual_saving) continue;
      const double more = *line->annual_saving - *paid.annual_saving;  // of the sealing
      line->range = worth_range({paid.range->saving_low + more, paid.range->saving_high + more},
                                line->cost, *e.money);
    }
  }
}

}  // namespace overjoist::parts
