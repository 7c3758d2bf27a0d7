// SPDX-License-Identifier: MIT
#include <algorithm>

#include "evaluate/floor.hpp"
#include "evaluate/found.hpp"
#include "overjoist/two_column.hpp"

namespace overjoist::parts {
namespace {

/// Share-weighted mean of a function of the piece.
template <class F>
double mean_over(const std::vector<Piece>& pieces, F value) {
  double sum = 0.0;
  for (const Piece& p : pieces) sum += p.share * value(p);
  return sum;
}

/// What most people would say: label R of each batt, mean depth x R per inch of the rest.
double yardstick(const BuiltSection& built) {
  double sum = 0.0;
  for (std::size_t i = 0; i < built.layers.size(); ++i) {
    const BuiltLayer& layer = built.layers[i];
    if (layer.batt) {
      sum += layer.label_r.us();
      continue;
    }
    double depth = 0.0;
    for (const Piece& p : built.pieces) depth += p.share * p.column.thickness[i].us();
    sum += layer.rho.us() * depth / (1.0 - layer.void_share);  // pieces already left the voids out
  }
  return sum;
}

/// What squeezing and missing batts take from the labels, over the spots that are not bare.
double squeezed_loss(const BuiltSection& built) {
  double loss = 0.0;
  const double covered =
      mean_over(built.pieces, [](const Piece& p) { return p.depth > Length{} ? 1.0 : 0.0; });
  if (!(covered > 0)) return 0.0;
  for (std::size_t i = 0; i < built.layers.size(); ++i) {
    const BuiltLayer& layer = built.layers[i];
    if (!layer.batt) continue;
    const double mean = mean_over(
        built.pieces, [&](const Piece& p) { return layer.dry_r(p.column.thickness[i]).us(); });
    loss += layer.label_r.us() - mean / covered / (1.0 - layer.void_share);
  }
  return loss;
}

/// What wet and soiled layers would have counted if dry.
double wet_loss(const BuiltSection& built) {
  double loss = 0.0;
  for (std::size_t i = 0; i < built.layers.size(); ++i)
    if (built.layers[i].counts_nothing())
      loss += mean_over(built.pieces,
                        [&](const Piece& p) {
                          return built.layers[i].dry_r(p.column.thickness[i]).us();
                        }) /
              (1.0 - built.layers[i].void_share);
  return loss;
}

/// Loss by uneven depth among the spots that have any insulation: share x (arithmetic mean -
/// working R) of them.
double uneven_loss(const BuiltSection& built) {
  const double ends = built.ends.both().us();
  double share = 0, sum = 0, u = 0;
  for (const Piece& p : built.pieces) {
    if (!(p.insulation > Resistance{})) continue;
    share += p.share;
    sum += p.share * p.insulation.us();
    u += p.share / p.paths.bay.us();
  }
  if (!(share > 0)) return 0.0;
  return sum - share * (share / u - ends);
}

// The way down: every step is a loss, and they add up to the working R exactly; then films, ceiling
// and deck are added and the framing taken off (model 6, 7).
std::vector<LossStep> steps(const BuiltSection& built, const ExistingResult& r) {
  std::vector<LossStep> list;
  list.reserve(7);
  double at = yardstick(built);
  list.push_back({"yardstick", {}, r_value(at)});
  const auto step = [&](std::string_view code, double to) {
    to = std::max(0.0, to);  // rounding noise where all that lies there counts nothing
    list.push_back({code, r_value(to - at), r_value(to)});
    at = to;
  };
  step("batts-squeezed", at - squeezed_loss(built));
  step("wet", at - wet_loss(built));
  step("uneven", at - uneven_loss(built));
  step("bare", r.working_r.us());
  step("films-and-ceiling", (r.working_r + built.ends.both()).us());
  step("framing", r.effective_r.us());
  return list;
}

ExistingResult hatch_result(const BuiltSection& built) {
  const Section& s = *built.survey;
  ExistingResult r;
  const bool by_total = s.total_r && !built.spoiled_lid;
  r.working_r = by_total ? std::max(Resistance{}, *s.total_r - built.ends.both())
                         : s.insulation_r.value_or(Resistance{});
  if (built.spoiled_lid) {
    r.spoiled_r = s.total_r ? std::max(Resistance{}, *s.total_r - built.ends.both()) : r.working_r;
    r.working_r = Resistance{};
  }
  r.effective_r = by_total ? *s.total_r : r.working_r + built.ends.both();
  r.effective_r_parallel = r.effective_r_planes = r.effective_r_mean = r.effective_r;
  r.effective_r_two_column = r.effective_r;
  r.yardstick_r = r.working_r;
  r.weight = r.weight_greatest = MassPerArea{};
  r.steps = {{"yardstick", {}, r.yardstick_r},
             {"films-and-ceiling", r.effective_r - r.working_r, r.effective_r}};
  return r;
}

}  // namespace

Resistance columns_r(const BuiltSection& built) {
  Transmittance u;
  for (const Piece& p : built.pieces)
    u +=
        inverse(two_column_r(built.ends, built.framing, built.layers, p.column, built.under_deck)) *
        p.share;
  return inverse(u);
}

void use_columns(BuiltSection& built) {
  built.framing.method = FramingMethod::two_column;
  for (Piece& p : built.pieces)
    p.paths = spot_paths(built.ends, built.framing, built.layers, p.column, built.under_deck);
}

ExistingResult existing_result(const BuiltSection& built) {
  if (built.survey->insulation_r || built.survey->total_r) return hatch_result(built);
  const Framing& framing = built.framing;
  ExistingResult r;
  r.mean_depth = mean_depth(built.spots);
  r.yardstick_r = r_value(yardstick(built));
  Transmittance u_bay, u, u_parallel, u_planes, u_mean;
  for (const Piece& p : built.pieces) {
    u_bay += inverse(p.paths.bay) * p.share;
    const Transmittance upper = parallel(framing, p.paths);
    u += spot_u(framing, p.paths) * p.share;
    u_parallel += upper * p.share;
    u_planes += inverse(p.paths.planes) * p.share;
    u_mean += iso_mean(upper, p.paths) * p.share;
  }
  r.working_r =
      std::max(Resistance{},
               inverse(u_bay) - built.ends.both());  // method eq. 7; rounding noise on a bare floor
  r.effective_r = inverse(u);                        // method eq. 6
  r.effective_r_parallel = inverse(u_parallel);
  r.effective_r_planes = inverse(u_planes);
  r.effective_r_mean = inverse(u_mean);
  r.effective_r_two_column = columns_r(built);
  r.unmeasured = built.unmeasured;
  r.in_doubt = std::any_of(built.layers.begin(), built.layers.end(),
                           [](const BuiltLayer& l) { return l.in_doubt; });
  r.weight = built.weight;
  r.weight_greatest = built.weight_greatest;
  r.steps = steps(built, r);
  return r;
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
    spot.stack = floor.spots.size();
    spot.bare = p.bare;
    for (std::size_t i = 0; i < column.count; ++i)
      spot.weight +=
          built.layers[i].material->density_high.value_or(Density{}) * column.thickness[i];
    floor.spots.push_back(spot);
  }
  return floor.framing.method == FramingMethod::two_column ? in_columns(built, floor) : floor;
}

BaseFloor in_columns(const BuiltSection& built, const BaseFloor& floor) {
  BaseFloor columns = floor;
  columns.framing.method = FramingMethod::two_column;
  columns.stacks.clear();
  columns.stacks.reserve(built.pieces.size());
  for (const Piece& p : built.pieces) {
    Column stays = p.column;
    for (std::size_t i = 0; i < stays.count; ++i)
      if (built.layers[i].comes_out()) stays.thickness[i] = Length{};
    columns.stacks.push_back(bay_stack(built.framing, built.layers, stays, built.under_deck));
  }
  return columns;
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

}  // namespace overjoist::parts
