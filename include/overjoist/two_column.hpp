// SPDX-License-Identifier: MIT
#pragma once
#include <array>
#include <cstddef>
#include <span>

#include "overjoist/framing.hpp"

/// Joist and bay as two columns that are coupled sideways (model 1, method eq. 5a): within 1 % of
/// two dimensions for wood of 1.5 in., nothing fitted. Half a bay is cut in two: a = w/2 over the
/// wood and b = (s - w)/2 beside it. Pure, thread safe, no allocation; some 0.2 microseconds a
/// spot.
namespace overjoist {

/// R of a closed gap beside wood in this method [h·ft2·°F/Btu]: air between fill and deck, or under
/// a batt that lies across. Assumption, from memory of tables of plane air spaces, heat flowing up.
/// The parallel path keeps R 0.
inline constexpr double kClosedGapR = 0.8;
/// A gap below this height [in.] has that R in proportion, so that R does not step where a gap
/// closes.
inline constexpr double kFullGap = 0.5;

/// One slice of a bay, from the ceiling up. 0 R per inch: conducts without limit.
struct BaySlice {
  Length height;
  Resistivity over_wood;  ///< in the column over the wood: the wood itself below the joist top
  Resistivity beside;     ///< in the column beside it
};

/// A bay as the method sees it.
struct TwoColumnBay {
  Length width;    ///< of the wood; > 0
  Length spacing;  ///< center to center; > width
  PathEnds ends;   ///< below: 0 or more; above: 0 or more
  std::span<const BaySlice> slices;
  Length proud;           ///< height of the joist above the surface, bare on top and sides; >= 0
  Resistivity wood;       ///< of that part; > 0 if `proud` is
  double coupling = 1.0;  ///< times the conductance sideways: 0 is the parallel path, 1e12 as good
                          ///< as isothermal planes
};

/// R of a bay film to film, by the two coupled columns. Conductance sideways per inch of height
/// 1/(a/(3·k1) + b/(3·k2)), mean to edge of a parabolic profile; swept from the top down, so that
/// it is bounded at any depth. Derivation: method page.
/// @throws Error{out_of_range} naming the value
Resistance two_column_r(const TwoColumnBay& bay);

/// The slices of one spot; what is blown or laid on it later comes on top.
struct BayStack {
  std::array<BaySlice, 3 * kMostLayers> slices{};
  std::size_t count = 0;
  Length surface;           ///< height above the ceiling
  bool under_deck = false;  ///< what is empty below the joist top is a closed gap

  /// A layer that lies on the surface. @param r  of its whole thickness, >= 0 @param cut  gives the
  /// joist nothing above its top
  void add_loose(const Framing& framing, Length thickness, Resistance r, bool cut = false);
  /// A layer that lies on the joist tops, or on what stands higher; a closed gap lies below it.
  void add_across(const Framing& framing, Length thickness, Resistance r);
  /// What is empty below the joist tops becomes a closed gap.
  void close_gap(const Framing& framing);

 private:
  void push(Length height, Resistivity over_wood, Resistivity beside);
};

/// The slices of one column, by the rules of `spot_paths` (method eq. 4), but for gaps.
BayStack bay_stack(const Framing& framing, std::span<const BuiltLayer> layers, const Column& column,
                   bool under_deck);

/// R of a spot film to film: width and spacing of the wood as in the framing; what stands proud is
/// a fin, or has a closed gap beside it under a deck. Without wood the sum of the bay.
Resistance two_column_r(const PathEnds& ends, const Framing& framing, const BayStack& stack);
/// The same from what `spot_paths` takes.
Resistance two_column_r(const PathEnds& ends, const Framing& framing,
                        std::span<const BuiltLayer> layers, const Column& column, bool under_deck);

}  // namespace overjoist
