// SPDX-License-Identifier: MIT
#pragma once
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "overjoist/ranges.hpp"

/// A rebate's rules as data, and what they give for one attic (method eq. 14a). A rule says nothing
/// of a real scheme: it is read from the survey or a file. Pure and thread safe.
namespace overjoist {

/// One bracket of the existing R, from `from` up to but not including `below`.
struct RebateBracket {
  Resistance from, below;
  std::optional<double> per_ft2, percent;  ///< exactly one of them
};

struct RebateRule {
  std::string name;
  std::optional<Resistance> existing_below;  ///< the existing R must be below this
  std::optional<Resistance> final_least;     ///< the final R must reach this
  std::vector<RebateBracket> brackets;       ///< rising, without hole or overlap; at least one
  std::optional<double> cap;
  std::vector<std::string> fuels;   ///< ids of the fuel table; empty: any
  std::vector<std::string> papers;  ///< that the record must hold
};

enum class RebateVerdict { eligible, not_eligible, too_close };

/// An R with its range at 90 %, where there is one.
struct RangedR {
  Resistance r;
  std::optional<ResistanceRange> range;
};

struct RebateInput {
  RangedR existing, final_r;
  Area area;                   ///< to be insulated
  std::optional<double> cost;  ///< what a percentage is taken of
  std::string_view fuel;       ///< "" if not known
};

/// One condition of a rule held against the figures.
struct RebateReason {
  std::string_view
      code;  ///< existing-below | final-least | bracket | fuel | fuel-unknown | nothing-done
  RebateVerdict verdict = RebateVerdict::eligible;
  std::optional<Resistance> limit, found;
};

/// What a rule gives for one end of the target band.
struct RebateEnd {
  RebateVerdict verdict = RebateVerdict::eligible;  ///< the worst of the reasons
  std::vector<RebateReason> reasons;
  std::optional<double>
      amount;  ///< by the central figures; empty: not eligible, or a percentage of an unknown cost
  std::optional<double>
      amount_least;  ///< the least that the ranges leave: 0 where it is too close to call
};

/// Holds a rule against one end.
RebateEnd hold_rebate(const RebateRule& rule, const RebateInput& input);

/// A rule with what it gives and what the record still lacks.
struct RebateResult {
  std::string name;
  RebateEnd low, high;
  std::vector<std::string> papers_have, papers_lacking;
};

}  // namespace overjoist
