// SPDX-License-Identifier: MIT
#pragma once
#include <optional>

#include "evaluate/floor.hpp"
#include "evaluate/offer.hpp"
#include "overjoist/evaluation.hpp"
#include "overjoist/quantities.hpp"
#include "overjoist/wedge.hpp"

/// The strip along the eaves of a floor.
namespace overjoist::parts {

/// The strip along the eaves of a floor; empty without.
std::optional<EaveStrip> strip_of(const BuiltSection& built);
/// Takes the eave's wedge into R, mass, bags and least depth of a top-up that has its level.
void apply_eave(TopUp& t, const BuiltSection& built, const BaseFloor& floor, const Blow& blow);

}  // namespace overjoist::parts
