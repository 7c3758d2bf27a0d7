// SPDX-License-Identifier: MIT
#pragma once
#include "evaluate/floor.hpp"
#include "evaluate/offer.hpp"
#include "overjoist/evaluation.hpp"
#include "overjoist/quantities.hpp"

/// Floors that are blown or sprayed, to a target or to a level.
namespace overjoist::parts {

/// Foam is sprayed on a bare ceiling.  @throws Error{contradiction} where fill stays
void check_bare(const BuiltSection& built, const BaseFloor& floor);

/// What a top-up is to reach.
struct Aim {
  Resistance target;
  Basis basis = Basis::working;
  const CeilingLimit* limit = nullptr;  ///< of the ceiling; null: weight is held against none
};

/// @param now  R of the floor before the blow
TopUp top_up(const BuiltSection& built, const BaseFloor& floor, const FloorR& now, const Blow& blow,
             const Aim& aim);
/// A floor blown to a level that is given, not solved: what was really built. A level below every
/// spot adds nothing.
TopUp topped_up(const BuiltSection& built, const BaseFloor& floor, const Blow& blow, const Aim& aim,
                Length level);
/// The greatest initial level that room and chart allow [in.]; very large where nothing limits it.
Length level_room(const BuiltSection& built, const BaseFloor& floor, const Blow& blow);

}  // namespace overjoist::parts
