// SPDX-License-Identifier: MIT
#pragma once
#include <optional>

#include "evaluate/evidence.hpp"
#include "evaluate/sides.hpp"
#include "evaluate/spread.hpp"
#include "overjoist/wedge.hpp"

/// Ranges of a floor after new fill.
namespace overjoist::parts {

/// What is covered before anything comes on it, by area.
struct CoveredFloor {
  TwoUs u;                  ///< mean
  Length surface;           ///< mean
  double r_per_inch = 0.0;  ///< of what lies there; 0: nothing
};
CoveredFloor covered_floor(const BaseFloor& floor);

/// What is known of a floor before any fill.
struct FloorEvidence {
  const Evidence& evidence;
  const TwoUs& bare;
  CoveredFloor covered;
};

/// A floor with both sides of its range; the strip, if any, is in every U of it.
class RangedFloor {
 public:
  /// @param least  of the levels that will be asked for
  RangedFloor(const FloorEvidence& found, const FloorSides& sides, const EaveStrip* strip,
              Length least);
  SpreadU at(const LevelOf& at) const;
  /// The same with new labels as printed.
  SpreadU printed(const LevelOf& at, SpreadU whole) const;
  /// The low end of R alone.
  Resistance low_r(const LevelOf& at) const;
  /// What the level weighs where it weighs most, with what stays; empty: a density is not known.
  std::optional<MassPerArea> greatest_weight(Length level) const;

  const SideFloor& middle() const { return sides_.middle; }
  bool known() const { return found_.evidence.known(); }

 private:
  ReadU read(const CoveredScatter& scatter, const LevelOf& at) const;
  double scale(const CoveredScatter& scatter, const LevelOf& at) const;

  const FloorEvidence& found_;
  const FloorSides& sides_;
  StripScatter middle_, low_, high_;
  std::optional<StripScatter> printed_;
};

/// Fills both ranges of a top-up and its confident level.
/// @param room  for a level  @returns the effective U
SpreadU top_up_range(TopUp& t, const RangedFloor& ranged, Length room);

}  // namespace overjoist::parts
