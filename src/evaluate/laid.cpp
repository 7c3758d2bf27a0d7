// SPDX-License-Identifier: MIT
#include <fmt/core.h>
#include <algorithm>
#include <cmath>
#include <tuple>

#include "evaluate/blown.hpp"
#include "evaluate/floor.hpp"
#include "evaluate/found.hpp"
#include "evaluate/laid.hpp"
#include "evaluate/offer.hpp"
#include "evaluate/worked.hpp"
#include "overjoist/diagnostics.hpp"

// Batts and boards laid across the joists, and foam sprayed on the ceiling (model 10): instead of a
// level, the thinnest that meets.
namespace overjoist::parts {
namespace {

const Material* row_of(const BattProduct& p, const Survey& survey, const Tables& tables) {
  const Material* m = survey.material(tables, p.material);
  if (!m)
    throw Error(ErrorCode::unknown_name, "proposal",
                fmt::format("material '{}' is not known", p.material), "see the materials command");
  if (m->form != Form::batt && m->form != Form::board)
    throw Error(ErrorCode::contradiction, "proposal",
                fmt::format("'{}' is neither a batt nor a board", m->id),
                "name a batt or board for each product of the list");
  if (p.faced)
    throw Error(ErrorCode::contradiction, "proposal",
                fmt::format("'{}' is faced: a layer on top is unfaced", p.name),
                "list unfaced ones");
  return m;
}

/// R per inch times thickness; a sheet with a printed R in proportion.
std::optional<Resistance> table_r(const Material& m, Length thickness) {
  if (m.resistance && m.thickness) return *m.resistance * (thickness / *m.thickness);
  const auto rho = m.central_at(thickness);
  return rho ? std::optional(*rho * thickness) : std::nullopt;
}

/// A stack of one product.
Stack single(BattProduct& p, std::size_t index, const Material& m, Notes& notes) {
  Stack s{{index}, p.thickness, {}, {}, {}, {}, {}, {}};
  if (!p.label_r) {
    p.label_r = table_r(m, p.thickness);
    if (!p.label_r)
      throw Error(ErrorCode::missing, "proposal", fmt::format("the R of '{}' is not known", p.name),
                  "give its label_r");
    notes.assume("label-r", p.name, {{"material", m.name}, {"value", *p.label_r}});
    s.r_low = std::min(*p.label_r, !m.resistance && m.low ? *m.low * p.thickness : *p.label_r);
    s.r_high = std::max(*p.label_r, !m.resistance && m.high ? *m.high * p.thickness : *p.label_r);
  } else {
    s.r_low = s.r_high = *p.label_r;
  }
  s.r = *p.label_r;
  if (p.package_weight)
    s.weight = MassPerArea::from_us(p.package_weight->us() / p.coverage.us());
  else if (m.density_high)
    s.weight = *m.density_high * p.thickness;
  else
    notes.caution("batt-weight-unknown", "proposal", {{"material", p.name}});
  if (p.price) s.price_per_ft2 = *p.price / p.coverage.us();
  return s;
}

/// Two layers, the thicker one below.
Stack pair_of(const Stack& a, const Stack& b) {
  const bool swap = b.thickness > a.thickness;
  const Stack &below = swap ? b : a, &above = swap ? a : b;
  Stack s{{below.products[0], above.products[0]},
          a.thickness + b.thickness,
          a.r + b.r,
          a.r_low + b.r_low,
          a.r_high + b.r_high,
          a.below_label + b.below_label,
          {},
          {}};
  if (a.weight && b.weight) s.weight = *a.weight + *b.weight;
  if (a.price_per_ft2 && b.price_per_ft2) s.price_per_ft2 = *a.price_per_ft2 + *b.price_per_ft2;
  return s;
}

/// By thickness to a millionth of an inch (a label in mm rounds in its last digit), then price
/// (none last), then names in order.
void sort_stacks(std::vector<Stack>& stacks, const std::vector<BattProduct>& products) {
  const auto key = [&](const Stack& s) {
    const bool two = s.products.size() > 1;
    return std::make_tuple(
        std::round(s.thickness.us() * 1e6), s.price_per_ft2.value_or(1e300),
        std::string_view(products[s.products[0]].name),
        two ? std::string_view(products[s.products[1]].name) : std::string_view());
  };
  std::stable_sort(stacks.begin(), stacks.end(),
                   [&](const Stack& a, const Stack& b) { return key(a) < key(b); });
}

/// Underside of what is laid: the joist tops, or the fill where it stands higher.
Length underside(const BaseFloor& floor, const BaseSpot& spot) {
  return std::max(spot.surface, floor.framing.depth);
}

BaseFloor raised(const BaseFloor& floor, Length thickness, Resistance r) {
  BaseFloor laid = floor;
  for (BaseSpot& spot : laid.spots) {
    spot.bay += r;
    spot.joist += r;
    spot.planes += r;
  }
  for (BayStack& stack : laid.stacks) stack.add_across(laid.framing, thickness, r);
  return laid;
}

FloorR stack_r(const BaseFloor& floor, const Stack& s) {
  return floor_r(raised(floor, s.thickness, s.r), NewFill{}, Length{});
}

/// Least room above what a stack lies on; very large where nothing limits it.
Length laid_room(const BuiltSection& built, const BaseFloor& floor) {
  if (!built.survey->headroom) return inches(1e9);
  Length highest;
  for (const BaseSpot& spot : floor.spots) highest = std::max(highest, underside(floor, spot));
  return std::max(Length{}, *built.survey->headroom - highest);
}

struct Choice {
  const Stack* stack = nullptr;
  LimitedBy limited_by = LimitedBy::nothing;
};

/// The thinnest single product that meets and fits, else the thinnest pair; else the one of most R
/// that fits.
Choice choose(const TopUp& t, const BuiltSection& built, const BaseFloor& floor, const Blow& blow) {
  Choice best;
  if (built.under_deck) return {nullptr, LimitedBy::deck};
  const Length room = laid_room(built, floor);
  best.limited_by = LimitedBy::products;
  for (const Stack& s : blow.stacks) {
    const bool meets = reaches(stack_r(floor, s).of(t.basis).us(), t.target_r.us());
    const bool fits = reaches(room.us(), s.thickness.us());
    if (meets && fits) return {&s, LimitedBy::nothing};
    if (meets) best.limited_by = LimitedBy::headroom;
    // Of like R the earlier, a single before a pair; a last digit that a unit rounds away is no
    // more R.
    if (fits && (!best.stack || !reaches(best.stack->r.us(), s.r.us()))) best.stack = &s;
  }
  if (!best.stack) best.limited_by = LimitedBy::headroom;
  return best;
}

void weigh_stack(TopUp& t, const BaseFloor& floor, const Stack& s, bool known) {
  if (!s.weight) return;
  t.added_weight = s.weight;
  MassPerArea mean, greatest;
  for (const BaseSpot& spot : floor.spots) {
    mean += (spot.weight + *s.weight) * spot.share;
    greatest = std::max(greatest, spot.weight + *s.weight);
  }
  t.weight = mean;
  t.weight_greatest = greatest;
  t.weight_at_least = !known;
}

const Stack* stack_of(const Blow& blow, const TopUp& t) {
  for (const Stack& s : blow.stacks) {
    bool same = s.products.size() == t.batts.size();
    for (std::size_t i = 0; same && i < t.batts.size(); ++i)
      same = blow.products[s.products[i]].name == t.batts[i].name;
    if (same) return &s;
  }
  return nullptr;
}

}  // namespace

void prepare_batts(Blow& blow, const Proposal& proposal, const Job& job) {
  blow.method = Method::laid;
  blow.name = proposal.batts.size() == 1 ? proposal.batts[0].name : "batts of the list";
  blow.waste = proposal.waste_percent.value_or(job.tables.figure("batt-waste")) / 100.0;
  if (!proposal.waste_percent)
    job.notes.assume("batt-waste", "", {{"value", job.tables.figure("batt-waste")}});
  blow.products = proposal.batts;
  const double below_label = job.tables.figure("range-label") / 100.0;
  std::vector<Stack> pairs;
  for (std::size_t i = 0; i < blow.products.size(); ++i) {
    const Material* m = row_of(blow.products[i], job.survey, job.tables);
    job.notes.use_sources(m->sources);
    blow.rows.push_back(m);
    const bool labelled = blow.products[i].label_r.has_value();
    blow.stacks.push_back(single(blow.products[i], i, *m, job.notes));
    if (Stack& s = blow.stacks.back(); labelled) s.below_label = s.r * below_label;
    for (std::size_t k = 0; k <= i; ++k) pairs.push_back(pair_of(blow.stacks[k], blow.stacks[i]));
  }
  sort_stacks(blow.stacks, blow.products);
  sort_stacks(pairs, blow.products);
  blow.stacks.insert(blow.stacks.end(), pairs.begin(), pairs.end());
  job.notes.assume("batts-across");
}

void lay_batts(TopUp& t, const BuiltSection& built, const BaseFloor& floor, const Blow& blow) {
  const Choice choice = choose(t, built, floor, blow);
  t.limited_by = choice.limited_by;
  if (choice.limited_by != LimitedBy::nothing) t.status = TopUpStatus::unreachable;
  if (!choice.stack) return;
  const Stack& s = *choice.stack;
  const FloorR after = stack_r(floor, s);
  t.working_r = after.working;
  t.effective_r = after.effective;
  if (choice.limited_by == LimitedBy::nothing)
    t.overshoot = std::max(Resistance{}, after.of(t.basis) - t.target_r);
  t.new_depth = NewDepth{s.thickness, s.thickness, s.thickness};
  Length top;
  for (const BaseSpot& spot : floor.spots)
    top += (underside(floor, spot) + s.thickness) * spot.share;
  t.settled_level = top;
  const double area = built.survey->area.us() * (1.0 + blow.waste);
  for (std::size_t index : s.products) {
    const BattProduct& p = blow.products[index];
    t.batts.push_back(
        {p.name, p.thickness, *p.label_r, area / p.coverage.us(), blow.rows[index]->tight});
  }
  if (s.weight) t.added_mass = Mass::from_us(s.weight->us() * built.survey->area.us());
  weigh_stack(t, floor, s, weight_known(built));
}

BaseFloor laid_floor(const BaseFloor& floor, const Blow& blow, const TopUp& t, LaidSide side) {
  const Stack* s = stack_of(blow, t);
  if (!s) return floor;
  const Resistance r = side == LaidSide::middle ? s->r
                       : side == LaidSide::high ? s->r_high
                       : side == LaidSide::low  ? s->r_low - s->below_label
                                                : s->r_low;
  return raised(floor, s->thickness, r);
}

void laid_cautions(const BuiltSection& built, const WorkedSection& result, const Blow& blow,
                   Notes& notes) {
  const std::string& where = result.found.name;
  bool laid = false, board = false;
  for (const TopUp* t : each(result.planned))
    if (const Stack* s = t->batts.empty() ? nullptr : stack_of(blow, *t)) {
      laid = true;
      for (std::size_t index : s->products) board = board || blow.rows[index]->form == Form::board;
    }
  if (!laid) return;
  Length gap;
  for (const Piece& p : built.pieces) {
    Column stays = p.column;
    for (std::size_t i = 0; i < stays.count; ++i)
      if (built.layers[i].comes_out()) stays.thickness[i] = Length{};
    gap = std::max(gap, built.framing.depth - surface_of(built.layers, stays, built.framing.depth));
  }
  if (built.framing.fraction > 0 && gap.us() > 1e-9)
    notes.caution("gap-below-batt", where, {{"gap", gap}});
  notes.caution("batts-crosswise", where);
  const bool at_eaves =
      result.found.kind == SectionKind::flat || result.found.kind == SectionKind::side_attic_floor;
  if (at_eaves && !built.unvented) notes.caution("wind-wash", where);
  if (board) notes.caution("foam-board-cover", where);
  // Where the air of winter is known, the dew point at the board's warm face is told instead of the
  // rule of thumb.
  const auto& planes = result.found.moisture;
  const bool told = std::any_of(planes.begin(), planes.end(),
                                [](const MoisturePlane& m) { return !m.survey_layer; });
  if (board && !told) notes.caution("board-cold-side", where);
  if (built.survey->eave) notes.caution("batts-at-eave", where);
}

void check_bare(const BuiltSection& built, const BaseFloor& floor) {
  for (const BaseSpot& spot : floor.spots)
    if (spot.surface > Length{})
      throw Error(
          ErrorCode::contradiction, built.survey->name,
          fmt::format("foam is sprayed on the bare ceiling, but {:g} in. of fill stays there",
                      spot.surface.us()),
          "give the old layers the condition remove, or propose a loose fill or batts on top of "
          "them");
}

}  // namespace overjoist::parts
