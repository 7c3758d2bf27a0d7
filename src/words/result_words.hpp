// SPDX-License-Identifier: MIT
#pragma once
#include "overjoist/evaluate.hpp"
#include "overjoist/goods.hpp"
#include "overjoist/inspect.hpp"
#include "words/survey_words.hpp"

/// The words of each enum of a result, once, for every format.
namespace overjoist::io {

template <>
inline constexpr WordList<4> kWords<TopUpStatus> = {"needed", "met", "unreachable",
                                                    "not-applicable"};
template <>
inline constexpr WordList<7> kWords<LimitedBy> = {"",       "headroom", "deck", "chart",
                                                  "cavity", "products", "fill"};
template <>
inline constexpr WordList<4> kWords<CavityStop> = {"", "full", "does-not-fit", "not-named"};
template <>
inline constexpr WordList<3> kWords<Method> = {"blown", "laid", "sprayed"};
template <>
inline constexpr WordList<3> kWords<Verdict> = {"meets", "short", "too-close"};
template <>
inline constexpr WordList<3> kWords<VentVerdict> = {"meets", "short", "unknown"};
template <>
inline constexpr WordList<3> kWords<LeakMethod> = {"", "bins", "degree-days"};
template <>
inline constexpr WordList<4> kWords<ClaimVerdict> = {"agrees", "disagrees", "too-close",
                                                     "not-judged"};
template <>
inline constexpr WordList<3> kWords<RebateVerdict> = {"eligible", "not-eligible", "too-close"};
template <>
inline constexpr WordList<10> kWords<GoodUnit> = {
    "bag", "piece", "small tube", "can", "sheet", "ft", "ft2", "lb", "package", "board foot"};

// After the job
template <>
inline constexpr WordList<3> kWords<Met> = {"met", "short", "not-judged"};
template <>
inline constexpr WordList<11> kWords<BuiltVerdict> = {
    "nothing-planned", "pass",       "incomplete", "not-judged",   "read-again", "stop-open",
    "uneven",          "over-dense", "fluffed",    "below-target", "short"};
template <>
inline constexpr WordList<5> kWords<CountState> = {"met", "short", "not-counted", "plan-unknown",
                                                   "none-needed"};

}  // namespace overjoist::io
