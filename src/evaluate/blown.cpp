// SPDX-License-Identifier: MIT
#include <fmt/core.h>
#include <algorithm>
#include <limits>

#include "evaluate/blown.hpp"
#include "evaluate/eave.hpp"
#include "evaluate/floor.hpp"
#include "evaluate/found.hpp"
#include "evaluate/laid.hpp"
#include "evaluate/offer.hpp"
#include "overjoist/diagnostics.hpp"

namespace overjoist::parts {

bool is_foam(const Material& m) {
  constexpr std::string_view kDamp = "cellulose";  // sprayed damp, and no foam
  return m.form == Form::spray && m.id.find(kDamp) == std::string::npos &&
         m.name.find(kDamp) == std::string::npos;
}

bool weight_known(const BuiltSection& built) {
  for (const Piece& p : built.pieces)
    for (std::size_t i = 0; i < p.column.count; ++i) {
      const BuiltLayer& layer = built.layers[i];
      if (!layer.comes_out() && p.column.thickness[i] > Length{} && !layer.material->density_high)
        return false;
    }
  return true;
}

BaseFloor base_floor(const BuiltSection& built) {
  BaseFloor floor;
  floor.ends = built.ends;
  floor.framing = built.framing;
  floor.under_deck = built.under_deck;
  const bool any_out = std::any_of(built.layers.begin(), built.layers.end(),
                                   [](const BuiltLayer& l) { return l.comes_out(); });
  floor.spots.reserve(built.pieces.size());
  for (const Piece& p : built.pieces) {
    const Length top = surface_of(built.layers, p.column, built.framing.depth);
    BaseSpot spot{p.share, std::max(p.depth, top), p.paths.bay, p.paths.joist, {},
                  p.spot,  p.paths.planes};
    Column column = p.column;
    if (any_out) {
      for (std::size_t i = 0; i < column.count; ++i)
        if (built.layers[i].comes_out()) column.thickness[i] = Length{};
      const Length stays = surface_of(built.layers, column, built.framing.depth);
      spot.surface = spot.surface - top + stays;  // a reading above the layers keeps its excess
      const SpotPaths paths =
          spot_paths(built.ends, built.framing, built.layers, column, built.under_deck);
      spot.bay = paths.bay;
      spot.joist = paths.joist;
      spot.planes = paths.planes;
    }
    for (std::size_t i = 0; i < column.count; ++i)
      spot.weight +=
          built.layers[i].material->density_high.value_or(Density{}) * column.thickness[i];
    floor.spots.push_back(spot);
  }
  return floor;
}

namespace {

/// True if the upper layer lies where the lower one does, at one spot or more.
bool lies_on(const BuiltSection& built, std::size_t upper, std::size_t lower) {
  return std::any_of(built.pieces.begin(), built.pieces.end(), [&](const Piece& p) {
    return p.column.thickness[upper] > Length{} && p.column.thickness[lower] > Length{};
  });
}

}  // namespace

std::vector<RemovalResult> removals(const BuiltSection& built) {
  std::vector<RemovalResult> list;
  for (std::size_t i = 0; i < built.layers.size(); ++i) {
    if (!built.layers[i].comes_out()) continue;
    RemovalResult r{built.layers[i].material->name, {}, {}};
    for (const Piece& p : built.pieces) {
      if (!(p.column.thickness[i] > Length{})) continue;
      const Area here = built.survey->area * p.share;
      r.area += here;
      r.volume += here * p.column.thickness[i];
    }
    for (std::size_t k = i + 1; k < built.layers.size() && is_floor(built.survey->kind); ++k)
      r.layers_above = r.layers_above || (!built.layers[k].comes_out() && lies_on(built, k, i));
    list.push_back(std::move(r));
  }
  return list;
}

namespace {

const Material* proposal_material(const Proposal& proposal, const Survey& survey,
                                  const Tables& tables) {
  if (proposal.material.empty()) return nullptr;
  const Material* m = survey.material(tables, proposal.material);
  if (!m)
    throw Error(ErrorCode::unknown_name, "proposal",
                fmt::format("material '{}' is not known", proposal.material),
                "see the materials command");
  return m;
}

void fill_from_row(Blow& blow, const Material& m, const Tables& tables, Notes& notes) {
  if (m.existing_only || tables.hands_off(m))
    throw Error(ErrorCode::contradiction, "proposal",
                fmt::format("'{}' is found in attics, it is not blown in", m.id),
                "name a loose-fill material that is sold");
  if (m.form != Form::loose && m.form != Form::spray)
    throw Error(ErrorCode::contradiction, "proposal", fmt::format("'{}' is not blown in", m.id),
                "name a loose fill, or list batts");
  if (!m.central())
    throw Error(ErrorCode::missing, "proposal",
                fmt::format("no R per inch is known for '{}'", m.id), "define it under materials");
  if (m.form == Form::spray) blow.method = Method::sprayed;
  const auto settling = m.form == Form::spray ? std::optional(0.0)
                        : m.settling_high     ? m.settling_high
                                              : m.settling_low;
  if (!settling)
    throw Error(ErrorCode::missing, "proposal",
                fmt::format("no settling is known for '{}', so it is not blown open", m.id),
                "name a loose fill with a settling figure, or define it under materials with "
                "settling_high_percent");
  blow.fill.rho = *m.central();
  blow.fill.settling = *settling;
  blow.fill.density = m.density_high ? m.density_high : m.density_low;
  notes.assume(rho_code(m), "", {{"material", m.name}, {"value", blow.fill.rho}});
  if (blow.method == Method::blown)
    notes.assume("settling", "", {{"material", m.name}, {"value", *settling * 100.0}});
  if (blow.fill.density)
    notes.assume("density-high", "", {{"material", m.name}, {"value", *blow.fill.density}});
  else
    notes.caution("no-density", "proposal", {{"material", m.name}});
  if (is_foam(m))
    notes.caution("spray-foam", "proposal", {{"material", m.name}});
  else
    notes.caution("generic-product", "proposal", {{"material", m.name}});
}

void fill_from_chart(Blow& blow, const Product& product, Notes& notes) {
  const bool all_initial = std::all_of(product.chart.begin(), product.chart.end(),
                                       [](const ChartRow& r) { return r.initial.has_value(); });
  const auto settling = !blow.material                 ? std::nullopt
                        : blow.material->settling_high ? blow.material->settling_high
                                                       : blow.material->settling_low;
  if (!all_initial && !settling)
    throw Error(ErrorCode::missing, "proposal",
                "the chart lacks initial thicknesses and no material names a settling",
                "copy initial_thickness_in from the label, or name the product's material");
  const double settling_share = settling.value_or(0.0);
  blow.chart = CoverageChart(product.chart, blow.bag_net, settling_share);
  blow.fill.chart = &blow.chart;
  blow.chart_deducts_framing = product.chart_deducts_framing;
  if (all_initial)
    notes.assume("settling-of-chart", "", {{"material", blow.name}});
  else
    notes.assume("settling", "",
                 {{"material", blow.material->name}, {"value", settling_share * 100.0}});
  notes.assume(product.chart_deducts_framing ? "chart-net-of-framing" : "framing-deducted", "");
}

}  // namespace

void prepare_blow(Blow& blow, const Proposal& proposal, const Job& job) {
  if (!proposal.batts.empty()) return prepare_batts(blow, proposal, job);
  blow.material = proposal_material(proposal, job.survey, job.tables);
  if (blow.material) job.notes.use_sources(blow.material->sources);
  if (proposal.product && !proposal.bag_net)
    throw Error(ErrorCode::missing, "proposal", "a product with a chart needs its bag's net weight",
                "give bag_net_lb");
  blow.bag_net = proposal.bag_net.value_or(job.tables.default_bag);
  blow.waste = proposal.waste_percent.value_or(0.0) / 100.0;
  blow.price_per_bag = proposal.price_per_bag;
  if (!proposal.waste_percent) job.notes.assume("no-waste");
  if (proposal.product) {
    blow.name = proposal.product->name;
    fill_from_chart(blow, *proposal.product, job.notes);
  } else if (blow.material) {
    blow.name = blow.material->name;
    fill_from_row(blow, *blow.material, job.tables, job.notes);
    blow.price_per_board_ft = proposal.price_per_board_ft;
    if (blow.method == Method::sprayed) return job.notes.assume("board-feet");
    if (!proposal.bag_net) job.notes.assume("default-bag", "", {{"value", job.tables.default_bag}});
    job.notes.assume("framing-deducted", "");
  } else {
    throw Error(ErrorCode::missing, "proposal", "nothing is proposed",
                "name a material or a product with its chart");
  }
  job.notes.assume("even-blow");
}

namespace {

struct Limit {
  LimitedBy by = LimitedBy::nothing;
  double level = 1e9;  ///< inches
};

/// The greatest initial level that room and chart allow.
Limit level_limit(const BuiltSection& built, const BaseFloor& floor, const Blow& blow) {
  Limit limit;
  const auto take = [&](LimitedBy by, Length level) {
    if (level.us() < limit.level) limit = {by, level.us()};
  };
  if (built.under_deck) take(LimitedBy::deck, built.framing.depth);
  if (built.survey->headroom) take(LimitedBy::headroom, *built.survey->headroom);
  if (const auto strip = strip_of(built))
    take(LimitedBy::headroom, std::max(Length{}, strip_room(*strip)));
  if (blow.fill.chart) {
    Length lowest = floor.spots.front().surface;
    for (const BaseSpot& spot : floor.spots) lowest = std::min(lowest, spot.surface);
    take(LimitedBy::chart, lowest + blow.chart.at(blow.chart.last_settled()).initial);
  }
  return limit;
}

}  // namespace

Length level_room(const BuiltSection& built, const BaseFloor& floor, const Blow& blow) {
  return inches(level_limit(built, floor, blow).level);
}

namespace {

std::optional<CeilingWeight> fill_in(TopUp& t, const BuiltSection& built, const BaseFloor& floor,
                                     const Blow& blow, Length level) {
  const FloorR after = floor_r(floor, blow.fill, level);
  t.initial_level = level;
  t.working_r = after.working;
  t.effective_r = after.effective;
  const FillQuantity q = fill_quantity(floor, blow.fill, level, built.survey->area,
                                       {blow.bag_net, blow.chart_deducts_framing});
  t.settled_level = q.settled_level;
  t.new_depth = NewDepth{q.least, q.mean, q.greatest};
  t.new_depth_initial = NewDepth{q.initial_least, q.initial_mean, q.initial_greatest};
  t.added_mass = q.mass;
  t.added_weight = q.added_weight;
  if (blow.method == Method::sprayed)
    t.board_ft_exact = built.survey->area.us() * q.mean.us() *
                       (1.0 + blow.waste);  // 1 ft2 by 1 in., wood not taken out
  else if (q.bags)
    t.bags_exact = *q.bags * (1.0 + blow.waste);
  return q.ceiling;
}

void weigh(TopUp& t, const CeilingWeight& w, const BuiltSection& built, const BaseFloor& floor,
           const Blow& blow) {
  const bool known = weight_known(built);
  t.weight = w.mean;
  if (t.eave && t.added_weight && t.eave->weight_field)
    *t.weight += *t.added_weight - *t.eave->weight_field;
  t.weight_greatest = w.greatest;
  t.weight_at_least = !known;
  if (!t.weight_limit || reaches(t.weight_limit->us(), w.greatest.us())) return;
  const auto level = known
                         ? level_within_weight(floor, blow.fill, *t.initial_level, *t.weight_limit)
                         : std::nullopt;
  if (!level) return;
  const auto strip = strip_of(built);
  const StripR r = strip_r(floor, blow.fill, strip ? &*strip : nullptr, *level);
  t.within_weight = WithinWeight{*level, r.working, r.effective};
}

/// What a level gives: R, depths, amounts and weight, with the eave in them.
void blow_to(TopUp& t, const BuiltSection& built, const BaseFloor& floor, const Blow& blow,
             Length level) {
  const auto ceiling = fill_in(t, built, floor, blow, level);
  apply_eave(t, built, floor, blow);
  if (t.bags_exact) t.bags = round_up(*t.bags_exact, 1.0);
  if (ceiling) weigh(t, *ceiling, built, floor, blow);
}

// The level that the target takes, on an open floor the joist tops at least, both rounded up. Where
// that does not fit, the room itself, whatever the target: one whose exact level fits is reached,
// and a higher target never takes less.
Length planned_level(TopUp& t, const BuiltSection& built, const BaseFloor& floor,
                     const Blow& blow) {
  double level = t.level_exact ? round_up(t.level_exact->us(), kLevelStep)
                               : std::numeric_limits<double>::infinity();
  if (blow.method == Method::blown && !built.under_deck && built.framing.fraction > 0)
    level = std::max(level, round_up(built.framing.depth.us(), kLevelStep));
  const Limit room = level_limit(built, floor, blow);
  if (reaches(room.level, level)) return inches(level);
  if (!t.level_exact || !reaches(room.level, t.level_exact->us())) {
    t.status = TopUpStatus::unreachable;
    t.limited_by = room.by;
  }
  return inches(std::max(0.0, room.level));
}

TopUp planned(const BuiltSection& built, const BaseFloor& floor, const FloorR& now,
              const Blow& blow, const Aim& aim) {
  TopUp t;
  t.target_r = aim.target;
  t.basis = aim.basis;
  if (aim.limit) t.weight_limit = aim.limit->limit;
  t.working_r = now.working;
  t.effective_r = now.effective;
  if (reaches(now.of(aim.basis).us(), t.target_r.us())) {
    t.status = TopUpStatus::met;
    t.bags = t.bags_exact = 0.0;
    return t;
  }
  if (blow.method == Method::laid) {
    lay_batts(t, built, floor, blow);
    return t;
  }
  if (blow.method == Method::sprayed) check_bare(built, floor);
  t.level_exact = level_for(floor, blow.fill, aim.basis, t.target_r);
  blow_to(t, built, floor, blow, planned_level(t, built, floor, blow));
  return t;
}

}  // namespace

TopUp top_up(const BuiltSection& built, const BaseFloor& floor, const FloorR& now, const Blow& blow,
             const Aim& aim) {
  TopUp t = planned(built, floor, now, blow, aim);
  t.reached = reaches(t.after().us(), t.target_r.us());
  return t;
}

TopUp topped_up(const BuiltSection& built, const BaseFloor& floor, const Blow& blow, const Aim& aim,
                Length level) {
  TopUp t;
  t.target_r = aim.target;
  t.basis = aim.basis;
  if (aim.limit) t.weight_limit = aim.limit->limit;
  const bool adds = std::any_of(floor.spots.begin(), floor.spots.end(),
                                [&](const BaseSpot& spot) { return level > spot.surface; });
  if (adds) {
    blow_to(t, built, floor, blow, level);
  } else {
    const FloorR now = floor_r(floor, blow.fill, Length{});
    t.working_r = now.working;
    t.effective_r = now.effective;
    t.bags = t.bags_exact = 0.0;
  }
  t.reached = reaches(t.after().us(), t.target_r.us());
  t.status = t.reached ? TopUpStatus::met : TopUpStatus::needed;
  return t;
}

}  // namespace overjoist::parts
