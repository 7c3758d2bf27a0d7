// SPDX-License-Identifier: MIT
#pragma once
#include <optional>
#include <string>
#include <vector>

#include "overjoist/leakage.hpp"
#include "overjoist/survey.hpp"

/// The sealing list: what closes the leaks of the attic floor, and how large they are (method 17a).
/// Pure and thread safe. Figures come from `Tables::bypasses` and `Tables::figures`.
namespace overjoist {

/// Volume of one foot of full round bead [in3]: 12 pi/4 w^2.  @param width  > 0
double bead_volume_per_ft(Length width);

/// What the list is worked out with.
struct SealingOptions {
  double waste = 0.0;  ///< share added to sealant, 0 <= waste < 1
  std::optional<double>
      board_ft_per_can;  ///< one-part foam, from the can's label, > 0; none: cans are not counted
  std::optional<Length> joist_spacing;  ///< turns a wall's length into bays, > 0
};

/// One line of the list. Feet, tubes and areas are without waste and not rounded.
struct SealingItem {
  std::string kind, where, name, seal_with, fire_rule;
  int rank = 1;
  BypassUnit unit = BypassUnit::each;
  Sealant sealant = Sealant::foam_or_caulk;
  std::optional<double>
      quantity;  ///< in `unit`; empty: the survey does not say how much, then all below is 0
  Area opening;  ///< of all of them together, 0 if not known
  bool inferred = false;  ///< nobody entered it: stands for a hatch, its leakage is not known
  bool size_from_table = false;  ///< the opening is the table's common one
  bool rim_is_least =
      false;  ///< only an area was given: the rim is that of a square, the least there can be
  double bead_ft = 0.0;
  std::optional<Length> bead_width;
  double weatherstrip_ft = 0.0;
  double tubes_small = 0.0, tubes_large = 0.0;  ///< either the one or the other size does it all
  Area board, metal_low, metal_high;
  double covers = 0.0;
  std::optional<Area> leak_typical,
      leak_tight;  ///< effective leakage area at 4 Pa; empty: not known
  std::string leak_status;
};

/// Feet of bead of one width.
struct BeadTotal {
  Length width;
  double feet = 0.0;
};

/// What to buy. Sealant, cans and sheets are whole and hold their waste.
struct SealingTotals {
  std::vector<BeadTotal> beads;                 ///< by width, narrow first, without waste
  double tubes_small = 0.0, tubes_large = 0.0;  ///< ordinary sealant: one size or the other
  double heat_tubes_small = 0.0;                ///< high-temperature and non-combustible
  std::optional<double>
      foam_cans;  ///< in place of tubes where foam is allowed; empty: no yield given
  double tubes_small_with_foam = 0.0;  ///< ordinary tubes that are still needed beside the cans
  Area board, metal_low, metal_high;   ///< without waste
  double sheets = 0.0;                 ///< of board, 4 x 8 ft
  double covers = 0.0, weatherstrip_ft = 0.0;  ///< weatherstrip with its own waste
  Area leak_typical, leak_tight;               ///< of the known ones only
  Area leak_from_memory;  ///< the part of leak_typical whose figures no document was read for
  int leaks_known = 0, leaks_unknown = 0;  ///< items; an unknown leakage is left out of the sum
  int not_measured = 0;                    ///< items without a quantity: not in any sum
};

struct SealingList {
  std::vector<SealingItem>
      items;  ///< biggest holes first: rank, then opening, quantity, kind, place
  SealingTotals totals;
};

/// Works out the list. Quantities: each = count (none given: 1); ft = length x count; ft2 = area x
/// count; bay = count, else length / spacing rounded up. Cans hold 144 in3 a board foot; tubes and
/// cans are filled by the bead's volume. Does not model gaps filled beyond a round bead, nor
/// two-part foam.
/// @throws Error{unknown_name} a kind that no row has (nearest named); Error{out_of_range} a figure
/// that is negative or not
///   finite, waste outside 0..1, yield or spacing not above 0
SealingList sealing_list(const std::vector<Bypass>& bypasses, const Tables& tables,
                         const SealingOptions& options = {});

}  // namespace overjoist
