// SPDX-License-Identifier: MIT
#include "evaluate/sides.hpp"

#include <algorithm>

#include "overjoist/two_column.hpp"

namespace overjoist::parts {
namespace {

enum class Side { low, high };

/// R per inch of one side of a material's range; the central one where the row has none.
Resistivity side_rho(const Material& m, Resistivity central, Side side) {
  if (m.resistance) return central;  // a sheet with a printed R
  return side == Side::low ? std::min(central, m.low.value_or(central))
                           : std::max(central, m.high.value_or(central));
}

bool has_label(const BuiltLayer& l) { return l.batt ? !l.label_from_table : l.labelled; }

std::vector<BuiltLayer> side_layers(const BuiltSection& built, Side side, double below_label) {
  std::vector<BuiltLayer> list = built.layers;
  for (BuiltLayer& layer : list) {
    layer.side = side == Side::low ? BattSide::low : BattSide::high;
    if (!has_label(layer)) {
      const Resistivity central = layer.batt ? *layer.material->central() : layer.rho;
      const Resistivity rho = side_rho(*layer.material, central, side);
      layer.rho = layer.batt ? layer.rho : rho;
      if (layer.batt) layer.label_r = rho * layer.label_thickness;
    } else if (layer.comes_in && side == Side::low) {
      layer.rho = layer.rho * (1.0 - below_label);
      layer.label_r = layer.label_r * (1.0 - below_label);
    }
  }
  return list;
}

bool has_range(const BuiltLayer& l) {
  if (has_label(l)) return l.comes_in;
  const Material& m = *l.material;
  return !m.resistance && m.central() && (m.low || m.high) && m.low != m.high;
}

bool any_range(const BuiltSection& built) {
  for (std::size_t i = 0; i < built.layers.size(); ++i) {
    const BuiltLayer& l = built.layers[i];
    if (has_range(l)) return true;
    if (std::any_of(built.pieces.begin(), built.pieces.end(),
                    [&](const Piece& p) { return l.squeezed_at(p.column.thickness[i]); }))
      return true;
  }
  return false;
}

/// What new fill leaves open: a labeled one its label's slack, any other the span of its row.
NewFill side_fill(const Blow& blow, Side side, double below_label) {
  NewFill fill = blow.fill;
  if (fill.chart)
    fill.label_share = side == Side::low ? 1.0 - below_label : 1.0;
  else if (blow.material)
    fill.rho = side_rho(*blow.material, fill.rho, side);
  return fill;
}

void take_paths(BaseSpot& spot, const SpotPaths& paths) {
  spot.bay = paths.bay;
  spot.joist = paths.joist;
  spot.planes = paths.planes;
}

/// A bare place of no area: what it would be if there were one.
void add_bare(BaseFloor& floor, const BuiltSection& built) {
  BaseSpot spot{};
  take_paths(spot, bare_paths(built));
  spot.spot = built.spots.size();
  spot.stack = floor.spots.size();
  spot.bare = true;
  floor.spots.push_back(spot);
  if (floor.stacks.empty()) return;
  Column nothing;
  nothing.count = built.layers.size();
  floor.stacks.push_back(bay_stack(built.framing, built.layers, nothing, built.under_deck));
}

/// The floor with other layers on it; what comes out of it is gone.
BaseFloor side_floor(const BuiltSection& built, const std::vector<BuiltLayer>& layers) {
  BaseFloor floor = *built.floor;
  for (std::size_t i = 0; i < floor.spots.size(); ++i) {
    Column column = built.pieces[i].column;  // one spot of the floor for each piece
    for (std::size_t k = 0; k < column.count; ++k)
      if (layers[k].comes_out()) column.thickness[k] = Length{};
    take_paths(floor.spots[i],
               spot_paths(built.ends, built.framing, layers, column, built.under_deck));
    if (!floor.stacks.empty())
      floor.stacks[i] = bay_stack(built.framing, layers, column, built.under_deck);
  }
  return floor;
}

}  // namespace

bool any_new_label(const BuiltSection& built) {
  return std::any_of(built.layers.begin(), built.layers.end(),
                     [](const BuiltLayer& l) { return l.comes_in && has_label(l); });
}

LayerSides layer_sides(const BuiltSection& built, const RangePrior& prior) {
  if (!any_range(built)) return {};
  return {true, side_layers(built, Side::low, prior.label_below),
          side_layers(built, Side::high, prior.label_below)};
}

TwoUs mean_u(const BuiltSection& built, const std::vector<BuiltLayer>& layers) {
  TwoUs u;
  for (const Piece& p : built.pieces) {
    const SpotPaths paths =
        spot_paths(built.ends, built.framing, layers, p.column, built.under_deck);
    u.bay += p.share / paths.bay.us();
    u.both += p.share * spot_u(built.framing, paths).us();
  }
  return u;
}

FloorSides floor_sides(const BuiltSection& built, const LayerSides& layers, const Blow& blow,
                       const RangePrior& prior) {
  FloorSides sides{{*built.floor, blow.fill},
                   {layers.ranged ? side_floor(built, layers.low) : *built.floor,
                    side_fill(blow, Side::low, prior.label_below)},
                   {layers.ranged ? side_floor(built, layers.high) : *built.floor,
                    side_fill(blow, Side::high, prior.label_below)}};
  add_bare(sides.middle.floor, built);
  if (blow.fill.chart) sides.printed = SideFloor{sides.low.floor, blow.fill};
  return sides;
}

}  // namespace overjoist::parts
