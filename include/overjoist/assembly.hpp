// SPDX-License-Identifier: MIT
#pragma once
#include <array>
#include <span>
#include <vector>

#include "overjoist/readings.hpp"
#include "overjoist/survey.hpp"

/// Layers in series at one spot (model 2 and 3): how thick each layer is, and what it is worth there.
namespace overjoist {

/// Still-air term of the squeezed-batt law [h·ft2·°F/Btu per inch, inverted]: fitted by least squares to the 17
/// compressed points of a published label table (method eq. 2).
inline constexpr double kBattConstant = 0.1724;
inline constexpr double kLeastSqueeze = 0.5;  ///< the law's lower guard on thickness / label thickness
inline constexpr std::size_t kMostLayers = 8;

/// R of a batt lying at `thickness` [h·ft2·°F/Btu]: R = L / (a + (L0/R0 - a)·L/L0), method eq. 2.
/// Thicker than its label gives the label R: fluffing adds nothing. Within 1.0 R of the published table, RMS 0.42.
/// @param label_r R0 > 0  @param label_thickness L0 > 0, L0/R0 > 0.1724  @param thickness L >= 0.5 L0
/// @throws Error{out_of_range} naming the value
Resistance squeezed_batt_r(Resistance label_r, Length label_thickness, Length thickness);

/// A survey layer with its material found and every default filled in.
struct BuiltLayer {
  const Material* material = nullptr;
  bool batt = false;
  bool board = false;             ///< never compresses: boards and sprayed foam
  bool takes_rest = false;        ///< has no thickness of its own
  Length thickness;               ///< fixed thickness; 0 if it takes the rest
  Resistance label_r;             ///< batts only
  Length label_thickness;         ///< batts only
  bool label_from_table = false;  ///< the label R was not given: it has the range of the material's row
  Resistivity rho;                ///< R per inch of all but batts
  Lies lies = Lies::between;
  Condition condition = Condition::sound;
  double void_share = 0.0;

  bool counts_nothing() const { return condition == Condition::wet || condition == Condition::soiled; }
  bool comes_out() const { return counts_nothing() || condition == Condition::remove; }
  /// R at `t`, dry and without voids.
  Resistance dry_r(Length t) const;
};

/// Thickness of each layer at one spot.
struct Column {
  std::array<Length, kMostLayers> thickness{};
  std::size_t count = 0;
  std::size_t missing = 0;  ///< layers left out from the top because a batt would lie below half its thickness
  bool excess = false;      ///< the reading is above the sum and nothing takes the rest
  Length fill() const;      ///< sum of the thicknesses
};

/// Height of the column's surface above the ceiling: a layer across the joists lies on their tops, whatever the bay holds.
Length surface_of(std::span<const BuiltLayer> layers, const Column& column, Length joist_depth);

/// Shares a total depth out over the layers (model 3). Compressible layers give way from the top down, a batt not
/// below half its label thickness; below that the topmost layer is missing there.
/// @throws Error{out_of_range} if the depth is below the boards alone
Column column_at(std::span<const BuiltLayer> layers, Length depth);
/// A column from per-layer depths; `depths` has one entry for each layer.
Column column_of(std::span<const BuiltLayer> layers, std::span<const Length> depths);

/// Two or more heat paths in series are a sum; this names it: R of the layers in the column as found
/// (wet and soiled count nothing).
Resistance insulation_r(std::span<const BuiltLayer> layers, const Column& column);

}  // namespace overjoist
