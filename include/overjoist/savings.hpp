// SPDX-License-Identifier: MIT
#pragma once
#include <optional>

#include "overjoist/materials.hpp"
#include "overjoist/units.hpp"

/// Energy that a lower ceiling UA saves in a year (model 13): heat, fuel, money, CO2; cooling as a
/// range; bills as a check. Pure and thread safe; numbers that a person could dispute come in from
/// `data/fuels.json` and `data/money.json`.
namespace overjoist {

/// Heating season of a place. HDD and days are counted at the same base, the temperature below
/// which the house needs heat.
struct DegreeDays {
  double hdd_f_day = 0.0;  ///< heating degree days of a year [°F·day], >= 0
  double base_f = 0.0;     ///< base of the count [°F]; always to be printed beside the result
  std::optional<double> days_below_base;  ///< days of a year with a mean below the base, 0..366
};

/// plain: degree days alone (usually low, not a bound); full: with the indoor term.
enum class SavingForm { plain, full };

struct HeatingLoad {
  Energy load;  ///< heat not needed in the rooms, per year; negative where UA rises
  SavingForm form = SavingForm::plain;
};

/// UA of heated ceilings by the air above them; each >= 0.
struct CeilingUa {
  Conductance attic;  ///< floors, lids and their patches under the main roof
  Conductance side;   ///< knee walls and floors of side attics
  Conductance slope;  ///< against outdoors
  Conductance sum() const { return attic + side + slope; }
};

/// What lies above the ceiling.
struct AtticAir {
  bool vented = true;                ///< its air by `attic` and `side`
  std::optional<Resistance> roof_r;  ///< unvented only: roof, its films and air space
  std::optional<Area> roof_area;     ///< unvented only
  std::optional<Conductance> attic{},
      side{};  ///< vented: from the air there to outdoors (eq. 13c); empty: it is outdoor air
};

/// UA from the rooms to outdoors [Btu/h·°F], method eq. 13. Vented: each part through the air above
/// it (eq. 13c), slopes as they are. Unvented, or a UA alone: see below.
/// @throws as below, and for a way to outdoors that is not above 0
std::optional<Conductance> ua_to_outdoors(const CeilingUa& ceilings, const AtticAir& attic);

/// The same of one UA. Vented: as it is. Unvented: ceiling and roof in series, `1/UA = 1/UA_ceiling
/// + R_roof/A_roof` (derivation); no gables, no leaks, no sun.
/// @returns empty for an unvented attic whose roof R or area is not known: such an attic has no
/// savings figure
/// @throws Error{out_of_range} for a UA below 0, a roof R or a roof area that is not above 0
std::optional<Conductance> ua_to_outdoors(Conductance ceiling, const AtticAir& attic);

/// Heat saved in a year by lowering UA [Btu], method eq. 13: `24 (UA_b - UA_a) (HDD + (t_i - t_b)
/// N_b)`. The second term, which needs the days below base and the indoor temperature, is left out
/// where either is missing (plain degree-day figure). Steady state; free heat of sun, lights and
/// people is in the base alone. First order in the change of UA: within 1.2 % of the exact sum
/// where UA falls by 12 % (tests), while the plain form is 15 to 41 % low.
/// @throws Error{out_of_range} for UA or HDD below 0, days outside 0..366, an indoor temperature
/// below the base;
///   Error{contradiction} for degree days above 0 in no days
HeatingLoad heating_load_saved(Conductance ua_before, Conductance ua_after,
                               const DegreeDays& season, std::optional<double> indoor_f);

/// Heat delivered per heat bought: a furnace's seasonal efficiency as a fraction, or a heat pump's
/// COP declared as such.
struct Efficiency {
  double value = 0.0;
  bool is_cop = false;
};

/// The fuel bought, with what the user knows of it.
struct FuelTerms {
  const Fuel* fuel = nullptr;
  std::optional<double> price_per_unit;   ///< in the survey's currency; empty: not priced
  std::optional<double> co2_lb_per_unit;  ///< the user's own factor, used instead of the table's
};

struct FuelSaved {
  double units = 0.0;            ///< in the fuel's unit
  std::optional<double> money;   ///< empty: no price given
  std::optional<double> co2_lb;  ///< empty: no factor known
};

/// Energy bought as billed units, money and CO2. Linear in the energy.
/// @throws Error{missing} without a fuel; Error{out_of_range} for heat content not above 0, price
/// or factor below 0
FuelSaved fuel_for(Energy bought, const FuelTerms& terms);

/// Fuel not bought for a heat load not needed: `load / efficiency`, then as fuel_for. Linear in the
/// load.
/// @throws Error{out_of_range} for an efficiency not above 0; above 1.1 unless it is declared a COP
/// ('COP used as efficiency');
///   a COP above 8 (more likely a rating in Btu per Wh); and as fuel_for
FuelSaved fuel_saved(Energy load, Efficiency efficiency, const FuelTerms& terms);

/// Cooling season. Either sum may be missing: then its part is left out, and the result says so.
struct CoolingSeason {
  std::optional<double> degree_hours_f_h;  ///< sum of outdoor minus indoor temperature over cooling
                                           ///< hours [°F·h], >= 0
  std::optional<double> hours;             ///< cooling hours of a year, 0..8784
  double rise_low_f =
      0.0;  ///< daily mean of attic above outdoor air, low end [°F], >= 0 (`data/money.json`)
  double rise_high_f = 0.0;  ///< high end
};

/// Electricity not bought for cooling, between two stated attic rises. Never to be added silently
/// to a heating figure.
struct CoolingSaved {
  Energy low, high;
  bool counts_outdoor = false;  ///< degree hours were given
  bool counts_rise =
      false;  ///< hours were given; without them the range has no width and is a floor
  bool low_confidence = true;  ///< always: no published seasonal factor for attics is known
};

/// Cooling saved in a year as a range [Btu bought], method eq. 13: `(UA_b - UA_a) (degree hours +
/// rise · hours) / COP`. No sun on the ceiling, no storage, no moisture.
/// @throws Error{missing} where neither sum is given; Error{out_of_range} for sums or rises below
/// 0, rises not in order, a COP
///   not above 0 or above 8 (a seasonal rating in Btu per Wh is 3.412 times the COP)
CoolingSaved cooling_saved(Conductance ua_before, Conductance ua_after, const CoolingSeason& season,
                           double cop);

/// A year of bills for the heating fuel.
struct Bills {
  double units_per_year = 0.0;  ///< billed, in the fuel's unit
  double base_units =
      0.0;  ///< of these for hot water, cooking and the rest, from the summer months
  double ceiling_share =
      0.0;  ///< most of the heating that the ceiling may account for, 0..1 (`data/money.json`)
};

struct Calibration {
  double factor = 1.0;  ///< 0..1, to be multiplied with the saving (load, fuel, money, CO2 alike)
  double computed_share = 0.0;  ///< computed loss / heat billed; above `ceiling_share` the bills do
                                ///< not support the figure
  Energy billed_heat;           ///< heat delivered to the rooms according to the bills
  Energy computed_loss;         ///< ceiling before the work, plain degree-day form
};

/// Holds the computed ceiling against the bills: `factor = min(1, share · billed heat / computed
/// loss)`. In the plain form both sides are a UA times the same 24·HDD, so computed loss / billed
/// heat is the ceiling's share of the house's whole UA. A ceiling that would account for more than
/// `ceiling_share` of all heating shows that the season, the efficiency, the set-point or the
/// readings are too bold for this house; the saving is then scaled down in proportion, so that the
/// loss before the work is just that share. It is never scaled up: the other losses of the house
/// are not known, and a small share is no sign of a fault. One factor holds for both forms, as it
/// corrects the UA and the season together.
/// @throws Error{out_of_range} for negative units, share outside 0..1 or 0, and as fuel_saved and
/// heating_load_saved;
///   Error{contradiction} where the base load leaves nothing for heating
Calibration calibrate(Conductance ua_before, const DegreeDays& season, const Bills& bills,
                      Energy delivered_per_unit);

/// Heat delivered to the rooms by one billed unit [Btu]: heat content x efficiency.  @throws as
/// fuel_saved
Energy delivered_per_unit(Efficiency efficiency, const Fuel& fuel);

}  // namespace overjoist
