// SPDX-License-Identifier: MIT
#pragma once
#include <array>
#include <string_view>
#include <type_traits>

#include "overjoist/claims.hpp"
#include "overjoist/materials.hpp"
#include "overjoist/record.hpp"
#include "overjoist/survey.hpp"

/// The words of each enum that a survey, a record or a table may say, once: the reader takes them
/// and the writers say them. In the order of the enum.
namespace overjoist::io {

template <std::size_t N>
using WordList = std::array<std::string_view, N>;

/// The words of the enum E; there is a list for each enum that stands in a text.
template <class E>
inline constexpr int kWords = 0;

/// The word of one value, as every format writes it.
template <class E, class = std::enable_if_t<std::is_enum_v<E>>>
constexpr std::string_view word(E value) {
  return kWords<E>[static_cast<std::size_t>(value)];
}

// The attic and its sections
template <>
inline constexpr WordList<2> kWords<AtticKind> = {"vented", "unvented"};
template <>
inline constexpr WordList<2> kWords<AtticConvention> = {"balance", "outdoors"};
template <>
inline constexpr WordList<8> kWords<SectionKind> = {
    "flat",      "decked",          "hatch",          "slope",
    "knee-wall", "pull-down-stair", "dropped-soffit", "side-attic-floor"};
template <>
inline constexpr WordList<2> kWords<Below> = {"heated", "unheated"};
template <>
inline constexpr WordList<2> kWords<overjoist::Member> = {"joist", "truss-chord"};
template <>
inline constexpr WordList<2> kWords<Lies> = {"between", "across"};
template <>
inline constexpr WordList<4> kWords<Facing> = {"none", "kraft", "foil", "unknown"};
template <>
inline constexpr WordList<2> kWords<FacingSide> = {"ceiling", "attic"};
template <>
inline constexpr WordList<5> kWords<Condition> = {"sound", "voids", "wet", "soiled", "remove"};
template <>
inline constexpr WordList<2> kWords<Basis> = {"working", "effective"};
template <>
inline constexpr WordList<4> kWords<EquipmentKind> = {"duct", "air-handler", "pipe", "fan"};

// Money and claims
template <>
inline constexpr WordList<4> kWords<CostPart> = {"insulation", "safety", "sealing", "removal"};
template <>
inline constexpr WordList<2> kWords<TaxOn> = {"goods", "all"};
template <>
inline constexpr WordList<9> kWords<ClaimKind> = {"existing_r",    "final_r",       "added_in",
                                                  "initial_in",    "settled_in",    "bags",
                                                  "percent_saved", "annual_saving", "price"};
template <>
inline constexpr WordList<3> kWords<ClaimBasis> = {"working", "effective", "label"};

// The record of the finished job
template <>
inline constexpr WordList<2> kWords<DepthKind> = {"initial", "settled"};
template <>
inline constexpr WordList<2> kWords<End> = {"low", "high"};

// The tables
template <>
inline constexpr WordList<6> kWords<Form> = {"loose", "batt", "board", "spray", "ceiling", "wood"};
template <>
inline constexpr WordList<4> kWords<CautionLevel> = {"stop", "fix-first", "care", "note"};
template <>
inline constexpr WordList<4> kWords<BypassUnit> = {"each", "ft", "ft2", "bay"};
template <>
inline constexpr WordList<4> kWords<Sealant> = {"foam-or-caulk", "caulk", "heat", "weatherstrip"};
template <>
inline constexpr WordList<4> kWords<FramingMethod> = {"parallel", "planes", "mean", "two-column"};

/// Papers that rebates ask for (trade practice; which of them is a matter of each rule).
inline constexpr WordList<17> kPapers = {
    "itemized-invoice",       "paid-receipt",     "product-sheet", "coverage-chart",
    "insulation-certificate", "signed-statement", "before-r",      "after-r",
    "depth-photos",           "bag-photos",       "bag-count",     "depth-readings",
    "contractor-license",     "pre-approval",     "inspection",    "proof-of-ownership",
    "proof-of-income"};

}  // namespace overjoist::io
