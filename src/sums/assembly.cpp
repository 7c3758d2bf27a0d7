// SPDX-License-Identifier: MIT
#include "overjoist/assembly.hpp"

#include <fmt/core.h>
#include <algorithm>

#include "overjoist/diagnostics.hpp"

namespace overjoist {

namespace {

/// What the law and its bounds are for one batt, as R over thickness.
struct BattLaw {
  double r0, l0;
  // Mass per area is fixed while a batt is squeezed, so conduction through gas stays and that
  // through fibres and radiation rises with density: k = a + (L0/R0 - a)·L0/L at density ratio
  // L0/L; R = L/k (method eq. 2).
  double law(double l) const { return l / (kBattConstant + (l0 / r0 - kBattConstant) * l / l0); }
  double center(double l) const { return std::min(law(l), std::max(kDensestBatt, r0 / l0) * l); }
  double low(double l) const {
    return std::min(center(l), r0 * l / l0 / (kFederalSqueeze + (1 - kFederalSqueeze) * l / l0));
  }
};

}  // namespace

Resistance squeezed_batt_r(Resistance label_r, Length label_thickness, Length thickness,
                           BattSide side) {
  const double r0 = label_r.us(), l0 = label_thickness.us(), l = thickness.us();
  if (!(r0 > 0) || !(l0 > 0) || !(l0 / r0 > kBattConstant))
    throw Error(ErrorCode::out_of_range, "layer",
                fmt::format("a batt of R-{:g} in {:g} in. is thinner for its R than the "
                            "squeezed-batt law allows (more than {:g} in. per R)",
                            r0, l0, kBattConstant),
                "check the label's R and thickness; a board is not a batt");
  if (!(l > 0))
    throw Error(ErrorCode::out_of_range, "layer",
                fmt::format("a batt of {:g} in. cannot lie {:g} in. thick", l0, l),
                "leave it out where it is missing");
  if (l >= l0) return label_r;
  const BattLaw batt{r0, l0};
  if (side == BattSide::high) return r_value(batt.law(l));
  const double lawful = std::max(
      l, kLeastSqueeze * l0);  // below it in proportion to depth: the R per inch there stays
  return r_value((side == BattSide::low ? batt.low(lawful) : batt.center(lawful)) * (l / lawful));
}

Resistance BuiltLayer::dry_r(Length t) const {
  if (!(t > Length{})) return {};
  return batt ? squeezed_batt_r(label_r, label_thickness, t, side) : rho * t;
}

Length Column::fill() const {
  Length sum;
  for (std::size_t i = 0; i < count; ++i) sum += thickness[i];
  return sum;
}

Length surface_of(std::span<const BuiltLayer> layers, const Column& column, Length joist_depth) {
  Length z;
  for (std::size_t i = 0; i < column.count; ++i) {
    if (!(column.thickness[i] > Length{})) continue;
    if (layers[i].lies == Lies::across) z = std::max(z, joist_depth);
    z += column.thickness[i];
  }
  return z;
}

namespace {

/// What a layer keeps while those below it have not given way either: a board all, a batt half of
/// its label thickness.
Length kept_at_first(const BuiltLayer& layer) {
  if (layer.board) return layer.thickness;
  return layer.batt ? std::min(layer.thickness, layer.label_thickness * kHalfLabel) : Length{};
}

Length kept_at_last(const BuiltLayer& layer) { return layer.board ? layer.thickness : Length{}; }

/// The layers give way from the top down, each as far as `kept` says.  @returns what is still too
/// much
Length give_way(Column& column, std::span<const BuiltLayer> layers, Length too_much,
                Length (*kept)(const BuiltLayer&)) {
  for (std::size_t top = column.count; top > 0 && too_much > Length{}; --top) {
    const std::size_t i = top - 1;
    const Length give =
        std::min(too_much, std::max(Length{}, column.thickness[i] - kept(layers[i])));
    column.thickness[i] = column.thickness[i] - give;
    too_much = too_much - give;
  }
  return too_much;
}

}  // namespace

Column column_at(std::span<const BuiltLayer> layers, Length depth) {
  Column column;
  column.count = layers.size();
  Length boards;
  for (const BuiltLayer& layer : layers) boards += layer.board ? layer.thickness : Length{};
  if (depth > Length{} && !reaches(depth.us(), boards.us()))
    throw Error(
        ErrorCode::out_of_range, "readings",
        fmt::format("depth {:g} in. is below the boards alone, {:g} in.", depth.us(), boards.us()),
        "boards do not compress; write 0 for a bare spot");
  if (!(depth > Length{})) return column;

  Length fixed;
  for (std::size_t i = 0; i < layers.size(); ++i)
    fixed += column.thickness[i] = layers[i].thickness;
  if (fixed > depth) {
    const Length left = give_way(column, layers, fixed - depth, kept_at_first);
    if (!reaches(0.0, left.us())) give_way(column, layers, left, kept_at_last);
    for (std::size_t i = 0; i < layers.size(); ++i)
      column.missing +=
          layers[i].thickness > Length{} && !(column.thickness[i] > Length{}) && layers[i].batt ? 1
                                                                                                : 0;
    return column;
  }
  const Length rest = depth - fixed;
  if (!(rest > Length{})) return column;
  const auto taker =
      std::find_if(layers.begin(), layers.end(), [](const BuiltLayer& l) { return l.takes_rest; });
  if (taker != layers.end())
    column.thickness[static_cast<std::size_t>(taker - layers.begin())] = rest;
  else
    column.excess = !reaches(fixed.us(), depth.us());
  return column;
}

Column column_of(std::span<const BuiltLayer> layers, std::span<const Length> depths) {
  Column column;
  column.count = layers.size();
  for (std::size_t i = 0; i < layers.size(); ++i) {
    if (layers[i].board && depths[i] > Length{} &&
        !reaches(depths[i].us(), layers[i].thickness.us()))
      throw Error(ErrorCode::out_of_range, "readings",
                  fmt::format("depth {:g} in. of a board that is {:g} in. thick", depths[i].us(),
                              layers[i].thickness.us()),
                  "boards do not compress; write 0 where it is missing");
    column.thickness[i] = depths[i];
  }
  return column;
}

Resistance insulation_r(std::span<const BuiltLayer> layers, const Column& column) {
  Resistance sum;
  for (std::size_t i = 0; i < column.count; ++i)
    if (!layers[i].counts_nothing()) sum += layers[i].dry_r(column.thickness[i]);
  return sum;
}

}  // namespace overjoist
