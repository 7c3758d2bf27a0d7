// SPDX-License-Identifier: MIT
#pragma once
#include "evaluate/year.hpp"
#include "overjoist/evaluation.hpp"

/// The range of the yearly saving that follows from those of R as found and after (method eq. 15c).
namespace overjoist::parts {

/// UA to outdoors of what changes, and how far either end of 90 % lies from it [Btu/(h·°F)].
struct UaEnds {
  double ua = 0.0, up = 0.0, down = 0.0;
};

/// UA as found and after the work, in the money's terms.
struct SavedUa {
  UaEnds found, after;
  double bills = 0.0;  ///< UA as found that the bills bear; 0: no bills are given

  double saved() const { return found.ua - after.ua; }
  /// What a fall of UA counts at either end, no more than the bills bear of an attic as it is then.
  double share() const { return share_at(found.ua); }
  double low_share() const { return share_at(found.ua - found.down); }
  double high_share() const { return share_at(found.ua + found.up); }

 private:
  double share_at(double ua) const { return bills > 0 && ua > bills ? bills / ua : 1.0; }
};
/// @param paid  what has no price counts as found
SavedUa saved_ua(const Evaluation& e, const SavingsWork& work, const Planned& planned, bool paid);

/// Ends of a fall of UA, each weighed by the bills; readings and materials as found know nothing of
/// how the work turns out.
Ends<double> saved_ends(const SavedUa& ua);

/// Payback, SIR and present value at both ends of the saving, of all lines that have one.
void add_worth_ranges(Evaluation& e);
/// Of one line.
WorthRange worth_range(const Ends<double>& saving, std::optional<double> cost,
                       const MoneyTerms& terms);

}  // namespace overjoist::parts
