// SPDX-License-Identifier: MIT
#pragma once
#include <string>
#include <utility>
#include <vector>

#include "words/words.hpp"

/// Figures that are held against each other, with digits enough that their printed order is the
/// order of the verdict: never "2.33, the plan takes 2.34: met".
namespace overjoist::io {

/// A figure in the unit that is shown, and its usual text.
struct HeldFigure {
  double value = 0.0;
  std::string usual;
};
/// Index of a figure, and of the one that it is to reach.
using HeldPair = std::pair<std::size_t, std::size_t>;
/// What stands before and after a number: "R-", " in.".
struct HeldUnit {
  std::string_view before, after;
};

/// The usual texts, or all of them with as many decimals as the order of the pairs takes.
std::vector<std::string> held_texts(const std::vector<HeldFigure>& figures,
                                    const std::vector<HeldPair>& pairs, HeldUnit unit);

/// Two figures: one, and the one that it is to reach.
struct HeldTexts {
  std::string value, limit;
};
HeldTexts held_text(const HeldFigure& value, const HeldFigure& limit, HeldUnit unit);
/// An R that was worked out against one that was asked for.
HeldTexts held_r(Resistance value, Resistance limit, Units units);
/// Two weights, the first rounded down and the second up.
HeldTexts held_weight(MassPerArea value, MassPerArea limit, Units units);
/// A length in the unit that is shown.
double shown_unit(Length l, Units units);

}  // namespace overjoist::io
