// SPDX-License-Identifier: MIT
#pragma once
#include <array>
#include <span>
#include <vector>

#include "overjoist/readings.hpp"
#include "overjoist/survey.hpp"

/// Layers in series at one spot (model 2 and 3): how thick each layer is, and what it is worth
/// there.
namespace overjoist {

/// Still-air term of the squeezed-batt law [h·ft2·°F/Btu per inch, inverted]: fitted by least
/// squares to the 17 compressed points of a published label table (method eq. 2).
inline constexpr double kBattConstant = 0.1724;
/// Most R per inch that a squeezed batt is taken to have: no batt of the published label table has
/// more.
inline constexpr double kDensestBatt = 4.3;
/// The constant of the federal rule for squeezed batts (24 CFR 3280.509(c)) written in the form of
/// eq. 2: low end of the range.
inline constexpr double kFederalSqueeze = 0.647;
inline constexpr double kHalfLabel =
    0.5;  ///< share of the label thickness below which no label tells an R
inline constexpr double kLeastSqueeze = 0.3;  ///< and below which R falls in proportion to depth
inline constexpr std::size_t kMostLayers = 8;

/// Which end of a squeezed batt's range.
enum class BattSide { low, center, high };

/// R of a batt lying at `thickness` [h·ft2·°F/Btu] (method eq. 2). High: R = L / (a + (L0/R0 -
/// a)·L/L0). Center: the same, but never above 4.3 per inch (or the label's own), and below 0.3 L0
/// in proportion to depth. Low: the federal rule or the center, whichever is less. Thicker than its
/// label gives the label R: fluffing adds nothing. Within 1.0 R of the published table, RMS 0.42.
/// @param label_r R0 > 0  @param label_thickness L0 > 0, L0/R0 > 0.1724  @param thickness L > 0
/// @throws Error{out_of_range} naming the value
Resistance squeezed_batt_r(Resistance label_r, Length label_thickness, Length thickness,
                           BattSide side = BattSide::center);

/// A survey layer with its material found and every default filled in.
struct BuiltLayer {
  const Material* material = nullptr;
  bool batt = false;
  bool board = false;       ///< never compresses: boards and sprayed foam
  bool takes_rest = false;  ///< has no thickness of its own
  Length thickness;         ///< fixed thickness; 0 if it takes the rest
  Resistance label_r;       ///< batts only
  Length label_thickness;   ///< batts only
  bool label_from_table =
      false;  ///< the label R was not given: it has the range of the material's row
  BattSide side = BattSide::center;
  Resistivity rho;        ///< R per inch of all but batts
  bool labelled = false;  ///< of all but batts: `rho` is that of a label and has no range
  Lies lies = Lies::between;
  Condition condition = Condition::sound;
  double void_share = 0.0;
  bool comes_in = false;  ///< with the work: its label is that of new goods
  bool in_doubt =
      false;  ///< one of several layers of which a hazard does not say which is wet or soiled

  bool spoiled() const { return condition == Condition::wet || condition == Condition::soiled; }
  bool counts_nothing() const { return spoiled() || in_doubt; }
  bool comes_out() const { return spoiled() || condition == Condition::remove; }
  /// R at `t`, dry and without voids.
  Resistance dry_r(Length t) const;
  /// True for a batt that lies thinner than its label says.
  bool squeezed_at(Length t) const {
    return batt && t > Length{} && !reaches(t.us(), label_thickness.us());
  }
};

/// Thickness of each layer at one spot.
struct Column {
  std::array<Length, kMostLayers> thickness{};
  std::size_t count = 0;
  std::size_t missing = 0;  ///< layers that the reading leaves no room for
  bool excess = false;      ///< the reading is above the sum and nothing takes the rest
  Length fill() const;      ///< sum of the thicknesses
};

/// Height of the column's surface above the ceiling: a layer across the joists lies on their tops,
/// whatever the bay holds.
Length surface_of(std::span<const BuiltLayer> layers, const Column& column, Length joist_depth);

/// Shares a total depth out over the layers (model 3). Compressible layers give way from the top
/// down, each batt to half its label thickness; where that is not enough, they give way from the
/// top down again, as far as it takes.
/// @throws Error{out_of_range} if the depth is below the boards alone
Column column_at(std::span<const BuiltLayer> layers, Length depth);
/// A column from per-layer depths; `depths` has one entry for each layer.
Column column_of(std::span<const BuiltLayer> layers, std::span<const Length> depths);

/// Two or more heat paths in series are a sum; this names it: R of the layers in the column as
/// found (wet and soiled count nothing).
Resistance insulation_r(std::span<const BuiltLayer> layers, const Column& column);

}  // namespace overjoist
