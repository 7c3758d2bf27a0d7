// SPDX-License-Identifier: MIT
#include "overjoist/assembly.hpp"

#include <fmt/format.h>
#include <algorithm>

#include "overjoist/diagnostics.hpp"

namespace overjoist {

// Mass per area is fixed while a batt is squeezed, so conduction through gas stays and that through fibres and
// radiation rises with density: k = a + (L0/R0 - a)·L0/L at density ratio L0/L; R = L/k (method eq. 2).
Resistance squeezed_batt_r(Resistance label_r, Length label_thickness, Length thickness) {
  const double r0 = label_r.us(), l0 = label_thickness.us(), l = thickness.us();
  if (!(r0 > 0) || !(l0 > 0) || !(l0 / r0 > kBattConstant))
    throw Error(
        ErrorCode::out_of_range, "layer",
        fmt::format("a batt of R-{:g} in {:g} in. is thinner for its R than the squeezed-batt law allows (more than {:g} in. per R)", r0,
                    l0, kBattConstant),
        "check the label's R and thickness; a board is not a batt");
  if (!(l >= kLeastSqueeze * l0 * (1 - 1e-9)))
    throw Error(ErrorCode::out_of_range, "layer",
                fmt::format("a batt of {:g} in. squeezed to {:g} in. is below half its label thickness", l0, l),
                "no data exist below half; count it as missing there");
  if (l >= l0) return label_r;
  return r_value(l / (kBattConstant + (l0 / r0 - kBattConstant) * l / l0));
}

Resistance BuiltLayer::dry_r(Length t) const {
  if (!(t > Length{})) return {};
  return batt ? squeezed_batt_r(label_r, label_thickness, t) : rho * t;
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

/// Least thickness at which a layer is still there.
Length least_thickness(const BuiltLayer& layer) {
  if (layer.board) return layer.thickness;
  return layer.batt ? std::min(layer.thickness, layer.label_thickness * kLeastSqueeze) : Length{};
}

}  // namespace

Column column_at(std::span<const BuiltLayer> layers, Length depth) {
  Column column;
  column.count = layers.size();
  Length boards;
  for (const BuiltLayer& layer : layers) boards += layer.board ? layer.thickness : Length{};
  if (depth > Length{} && !reaches(depth.us(), boards.us()))
    throw Error(ErrorCode::out_of_range, "readings",
                fmt::format("depth {:g} in. is below the boards alone, {:g} in.", depth.us(), boards.us()),
                "boards do not compress; write 0 for a bare spot");
  if (!(depth > Length{})) return column;

  // How many layers, from the ceiling up, are there at all: the least that each needs must fit.
  std::size_t present = layers.size();
  const auto least_of = [&](std::size_t n) {
    Length sum;
    for (std::size_t i = 0; i < n; ++i) sum += least_thickness(layers[i]);
    return sum;
  };
  while (present > 0 && !reaches(depth.us(), least_of(present).us())) --present;
  column.missing = layers.size() - present;

  Length fixed;
  for (std::size_t i = 0; i < present; ++i) fixed += column.thickness[i] = layers[i].thickness;
  Length short_by = fixed - depth;
  for (std::size_t top = present; top > 0 && short_by > Length{}; --top) {
    const std::size_t i = top - 1;
    const Length give = std::min(short_by, column.thickness[i] - least_thickness(layers[i]));
    column.thickness[i] = column.thickness[i] - give;
    short_by = short_by - give;
  }
  const Length rest = depth - fixed;
  if (!(rest > Length{})) return column;
  const auto taker =
      std::find_if(layers.begin(), layers.begin() + static_cast<std::ptrdiff_t>(present), [](const BuiltLayer& l) { return l.takes_rest; });
  if (taker != layers.begin() + static_cast<std::ptrdiff_t>(present))
    column.thickness[static_cast<std::size_t>(taker - layers.begin())] = rest;
  else
    column.excess = !reaches(fixed.us(), depth.us());
  return column;
}

Column column_of(std::span<const BuiltLayer> layers, std::span<const Length> depths) {
  Column column;
  column.count = layers.size();
  for (std::size_t i = 0; i < layers.size(); ++i) {
    const bool too_thin = depths[i] > Length{} && !reaches(depths[i].us(), least_thickness(layers[i]).us());
    if (too_thin && layers[i].board)
      throw Error(ErrorCode::out_of_range, "readings",
                  fmt::format("depth {:g} in. of a board that is {:g} in. thick", depths[i].us(), layers[i].thickness.us()),
                  "boards do not compress; write 0 where it is missing");
    column.thickness[i] = too_thin ? Length{} : depths[i];
    column.missing += too_thin ? 1 : 0;
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
