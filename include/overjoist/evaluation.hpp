// SPDX-License-Identifier: MIT
#pragma once
#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "overjoist/claims.hpp"
#include "overjoist/ends.hpp"
#include "overjoist/findings.hpp"
#include "overjoist/found.hpp"
#include "overjoist/money.hpp"
#include "overjoist/plan.hpp"
#include "overjoist/planned.hpp"
#include "overjoist/rebate.hpp"
#include "overjoist/savings.hpp"
#include "overjoist/survey.hpp"

/// The result of `evaluate`: what was found, and the job that each end of the target band takes.
namespace overjoist {

struct ExtraCost {
  std::string what;
  double price = 0.0;
};

/// The bills held against the computed heat loss of the ceiling before the work (model 13).
struct BillCheck {
  double factor = 1.0;  ///< what the saving is multiplied with; 1: the bills bear the figure
  double computed_share = 0.0;  ///< of the billed heat
  double allowed_share = 0.0;
  double percent = 0.0;  ///< computed_share in whole percent, up: the one that is shown
};

/// How the house is heated, as it was reckoned.
struct HeatingTerms {
  std::string fuel, fuel_name, unit;
  Efficiency efficiency;
  std::optional<double> price_per_unit;
  DegreeDays season;
  std::optional<double> indoor_f;
  SavingForm form = SavingForm::plain;
  Conductance ua_before;  ///< to outdoors, attic as found; wet or soiled fill at its dry high R,
                          ///< which rounds the saving against us
  Conductance ceiling_ua_before;  ///< the same without roof and attic air
  bool unvented = false;
  std::optional<BillCheck> bills;
  AtticAir air{};  ///< what lies above the ceiling
};

/// What sealing saves in a year, in the package's line alone.
struct SealingSaving {
  double per_year = 0.0;
  bool tested = false;  ///< by the blower door before and after; else as given
};

/// One row of the next-step table: what this step alone adds to the row before it.
struct StepResult {
  std::string_view step;  ///< existing | low | middle | high | beyond
  std::optional<Resistance> target_r;
  bool reached = true;     ///< every floor over heated rooms reaches its target
  Resistance effective_r;  ///< of the attic after it
  Length added;            ///< settled, mean over the area that any step fills
  std::optional<double> bags, cost,
      fixed_cost;  ///< whole bags, as bought; fixed_cost is part of cost: labor and extras
  std::optional<double> rebate;
  std::optional<double> fuel_units, annual_saving, payback, sir;
  std::optional<WorthRange> range{};  ///< of this step alone
  std::optional<bool>
      earns_cost;  ///< it has a cost of its own and a SIR of 1 or more; empty: not known
  std::optional<double> cost_so_far,
      saving_so_far;  ///< of all steps up to here; empty where one of them is not known
  std::optional<double>
      sir_so_far;  ///< of all steps up to here: the average that can hide a poor last inch
};

struct TargetBand {
  Resistance low, high;
  Basis basis = Basis::working;
  std::string zone;  ///< its number, "1" to "8", or "" if not known

  Ends<Resistance> ends() const { return {low, high}; }
};

/// How a material or product is put in.
enum class Method { blown, laid, sprayed };

/// One end of the band of one row of a comparison. Depth, weight and R are those of the largest
/// floor over heated rooms.
struct CompareEnd {
  TopUpStatus status = TopUpStatus::not_applicable;  ///< unreachable if any floor is
  LimitedBy limited_by = LimitedBy::nothing;
  std::string limited_section;                 ///< where that is; "" where nothing limits
  std::optional<Length> initial_level, depth;  ///< depth is settled, mean, of what is added
  std::optional<MassPerArea> weight, weight_limit;
  std::optional<bool> over_weight;
  bool reached = false;               ///< every floor over heated rooms reaches its target
  Resistance working_r, effective_r;  ///< effective_r is the attic's
  Totals totals;
};

struct CompareRow {
  std::string name;
  Method method = Method::blown;
  Ends<CompareEnd> ends;
  std::vector<Caution> cautions;
};

/// A section as found, with what it gets at either end of the band.
struct SectionEnds {
  const SectionResult& found;
  const TopUp &low, &high;
};

struct Evaluation {
  std::string id, label, currency;
  std::string surveyed_by, surveyed_date;  ///< as the survey says; "" without
  FramingMethod framing_method = FramingMethod::parallel;
  TargetBand target;
  std::string added_material;  ///< words for what is blown in; "" if nothing was proposed
  AtticResult attic;
  std::vector<SectionResult> sections;  ///< as found
  Ends<Planned> planned;                ///< the job of either end of the band
  std::vector<ExtraCost> extra_costs;
  Method method = Method::blown;
  std::vector<CompareRow> compare;      ///< the survey's own proposal first; empty without a list
  std::optional<double> price_per_bag;  ///< empty: not priced
  Plan plan;                            ///< make safe, seal, vent, count
  std::optional<HeatingTerms> heating;  ///< empty: no yearly saving
  std::optional<MoneyTerms> money;      ///< empty: the saving has no price
  std::optional<SealingSaving> sealing_saving;  ///< empty: not counted
  std::vector<StepResult>
      steps;  ///< next-step table, existing first; empty without a yearly saving
  std::string_view last_worthwhile;  ///< last step that earns its cost; "" if none or not known
  std::string_view last_worthwhile_low{};  ///< the same at the low end of the saving; "" if none
  bool never_pays = false;                 ///< every step has a price, and none earns its cost
  std::vector<std::string>
      unpriced;                     ///< sections whose work has no price: their saving is left out
  std::vector<ClaimResult> claims;  ///< of the quote, as the survey lists them
  std::vector<RebateResult> rebates;
  Findings findings;
  std::vector<std::pair<std::string, std::string>> user_keys;  ///< x_ keys and raw JSON
  bool hands_off =
      false;  ///< fill taken as asbestos is not cleared: nothing that would stir it is asked for

  /// A section with what it gets at either end.  @param i  < sections.size()
  SectionEnds section(std::size_t i) const {
    return {sections[i], planned.low.sections[i], planned.high.sections[i]};
  }
  std::vector<SectionEnds> with_ends() const {
    std::vector<SectionEnds> list;
    list.reserve(sections.size());
    for (std::size_t i = 0; i < sections.size(); ++i) list.push_back(section(i));
    return list;
  }
  bool stopped() const { return findings.stopped(); }
};

}  // namespace overjoist
