// SPDX-License-Identifier: MIT
#pragma once
#include <optional>
#include <string>
#include <string_view>

/// What a quote says about an attic, and how it compares with what was worked out. Plain structs: a
/// claim is in R [h·ft2·°F/Btu], inches, bags, percent or money by its kind. Filled by `evaluate`
/// from the survey's `claims`.
namespace overjoist {

enum class ClaimKind {
  existing_r,
  final_r,
  added_in,
  initial_in,
  settled_in,
  bags,
  percent_saved,
  annual_saving,
  price
};
/// `label`: thickness times R per inch, unevenness and framing left out; of the existing insulation
/// only.
enum class ClaimBasis { working, effective, label };

struct Claim {
  ClaimKind kind = ClaimKind::final_r;
  double value = 0.0;               ///< in the unit of the kind
  std::string where;                ///< name of a section; "" if not given
  std::optional<ClaimBasis> basis;  ///< of an R; not given: working
  std::string said_by;
};

/// A claim of one section, which may name it.
constexpr bool is_of_section(ClaimKind kind) { return kind <= ClaimKind::bags; }
constexpr bool is_r(ClaimKind kind) { return kind <= ClaimKind::final_r; }
constexpr bool is_thickness(ClaimKind kind) {
  return kind >= ClaimKind::added_in && kind <= ClaimKind::settled_in;
}

enum class ClaimVerdict { agrees, disagrees, too_close, not_judged };

/// A claim held against the figures of both ends of the target band, or of the end that the quote
/// sells.
struct ClaimResult {
  Claim claim;
  std::optional<double> computed_low, computed_high;  ///< in the unit of the kind; empty: not known
  std::optional<double> range_low,
      range_high;  ///< between these the claim is too close to call; empty: no range
  ClaimVerdict verdict = ClaimVerdict::not_judged;
  std::string_view why;  ///< code; the writers have the words
};

}  // namespace overjoist
