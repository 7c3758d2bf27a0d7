// SPDX-License-Identifier: MIT
#include "overjoist/savings.hpp"

#include <fmt/core.h>
#include <algorithm>
#include <cmath>

#include "overjoist/attic_air.hpp"
#include "overjoist/diagnostics.hpp"

namespace overjoist {
namespace {

constexpr double kHoursPerDay = 24.0;
/// No fuel gives more than its gross heat; figures on the net heat of a condensing boiler reach
/// about 1.1. What lies above is a COP.
constexpr double kMostEfficiency = 1.1;
/// Above the COP of any machine; ratings in Btu per Wh (3.412 times the COP) lie above it.
constexpr double kMostCop = 8.0;
constexpr double kMostDays = 366.0, kMostHours = 8784.0;  // of a leap year

[[noreturn]] void refuse(const char* where, const std::string& message, const char* hint) {
  throw Error(ErrorCode::out_of_range, where, message, hint);
}

void check_range(const char* where, const char* what, double value, double most, const char* hint) {
  if (!(value >= 0 && value <= most && std::isfinite(value)))
    refuse(where,
           std::isfinite(most) ? fmt::format("{} of {:g} is outside 0 to {:g}", what, value, most)
                               : fmt::format("{} of {:g} is not 0 or more", what, value),
           hint);
}

void check_ua(Conductance ua) {
  check_range("savings", "UA", ua.us(), INFINITY, "give the area and R of every section");
}

void check_above_zero(const char* where, const char* what, double value, const char* hint) {
  if (!(value > 0 && std::isfinite(value)))
    refuse(where, fmt::format("{} of {:g} is not above 0", what, value), hint);
}

void check_season(const DegreeDays& season) {
  check_range("heating", "degree days", season.hdd_f_day, INFINITY,
              "give the heating degree days of a year, in F day");
  if (!season.days_below_base) return;
  check_range("heating", "days below base", *season.days_below_base, kMostDays,
              "give days of one year");
  if (season.hdd_f_day > 0 && !(*season.days_below_base > 0))
    throw Error(ErrorCode::contradiction, "heating",
                fmt::format("{:g} degree days cannot fall in 0 days", season.hdd_f_day),
                "count days and degree days at the same base");
}

void check_cop(const char* where, double cop) {
  check_above_zero(where, "COP", cop, "a COP is heat moved per energy bought, such as 3");
  if (cop > kMostCop)
    refuse(where, fmt::format("COP of {:g} is above {:g}", cop, kMostCop),
           "a seasonal rating in Btu per Wh must be divided by 3.412");
}

void check_efficiency(const Efficiency& e) {
  if (e.is_cop) return check_cop("heating", e.value);
  check_above_zero("heating", "efficiency", e.value, "give a fraction, such as 0.80");
  if (e.value > kMostEfficiency)
    refuse("heating",
           fmt::format("COP used as efficiency: {:g} is above {:g}", e.value, kMostEfficiency),
           "declare it a COP if this is a heat pump; write 80 % as 0.80");
}

/// Degree hours of a year [°F·h] and whether they hold the indoor term.
struct SeasonSum {
  double degree_hours;
  SavingForm form;
};

// The sum of (t_i - t_o) over the days below base is Σ(t_b - t_o) + Σ(t_i - t_b) = HDD + (t_i -
// t_b)·N_b: a saved Btu per hour and degree is saved on the whole difference to the rooms, though
// free heat covers part of the house's loss.
SeasonSum season_sum(const DegreeDays& season, std::optional<double> indoor_f) {
  check_season(season);
  if (!season.days_below_base || !indoor_f)
    return {kHoursPerDay * season.hdd_f_day, SavingForm::plain};
  const double over_base = *indoor_f - season.base_f;
  if (!(over_base >= 0 && std::isfinite(over_base)))
    refuse(
        "heating",
        fmt::format("indoor temperature of {:g} F is below the base of the degree days, {:g} F",
                    *indoor_f, season.base_f),
        "a house needs heat only below its indoor temperature: give degree days at a lower base");
  return {kHoursPerDay * (season.hdd_f_day + over_base * *season.days_below_base),
          SavingForm::full};
}

}  // namespace

std::optional<Conductance> ua_to_outdoors(const CeilingUa& ceilings, const AtticAir& attic) {
  if (!attic.vented || (!attic.attic && !attic.side)) return ua_to_outdoors(ceilings.sum(), attic);
  const auto through = [](Conductance ua, const std::optional<Conductance>& air) {
    return air ? ua_through_attic(ua, *air) : ua;
  };
  check_ua(ceilings.slope);
  return through(ceilings.attic, attic.attic) + through(ceilings.side, attic.side) + ceilings.slope;
}

std::optional<Conductance> ua_to_outdoors(Conductance ceiling, const AtticAir& attic) {
  check_ua(ceiling);
  if (attic.vented) return ceiling;
  if (!attic.roof_r || !attic.roof_area) return {};
  check_above_zero("savings", "roof R", attic.roof_r->us(),
                   "give the R of the roof with its films and air space");
  check_above_zero("savings", "roof area", attic.roof_area->us(),
                   "give the area of the roof in ft2");
  // UA/(1 + UA·R_r/A_r): the same as the sum of resistances, but it also holds at UA 0.
  return Conductance::from_us(ceiling.us() /
                              (1.0 + ceiling.us() * attic.roof_r->us() / attic.roof_area->us()));
}

HeatingLoad heating_load_saved(Conductance ua_before, Conductance ua_after,
                               const DegreeDays& season, std::optional<double> indoor_f) {
  check_ua(ua_before);
  check_ua(ua_after);
  const SeasonSum sum = season_sum(season, indoor_f);
  return {Energy::from_us((ua_before - ua_after).us() * sum.degree_hours),
          sum.form};  // method eq. 13
}

FuelSaved fuel_for(Energy bought, const FuelTerms& terms) {
  if (!terms.fuel)
    throw Error(ErrorCode::missing, "heating", "no fuel is named",
                "name the fuel, such as natural-gas");
  check_above_zero("heating", "heat content", terms.fuel->btu_per_unit, "give Btu per unit");
  FuelSaved saved;
  saved.units = bought.us() / terms.fuel->btu_per_unit;
  if (terms.price_per_unit) {
    check_range("heating", "price", *terms.price_per_unit, INFINITY,
                "leave the price out where it is not known");
    saved.money = saved.units * *terms.price_per_unit;
  }
  if (const auto& factor =
          terms.co2_lb_per_unit ? terms.co2_lb_per_unit : terms.fuel->co2_lb_per_unit) {
    check_range("heating", "CO2 factor", *factor, INFINITY,
                "leave the factor out where it is not known");
    saved.co2_lb = saved.units * *factor;
  }
  return saved;
}

FuelSaved fuel_saved(Energy load, Efficiency efficiency, const FuelTerms& terms) {
  check_efficiency(efficiency);
  return fuel_for(load / efficiency.value, terms);
}

CoolingSaved cooling_saved(Conductance ua_before, Conductance ua_after, const CoolingSeason& season,
                           double cop) {
  constexpr const char* kWhere = "cooling";
  check_ua(ua_before);
  check_ua(ua_after);
  check_cop(kWhere, cop);
  if (!season.degree_hours_f_h && !season.hours)
    throw Error(ErrorCode::missing, kWhere,
                "neither cooling degree hours nor cooling hours are given",
                "give one of them, or both");
  const double outdoor = season.degree_hours_f_h.value_or(0.0), hours = season.hours.value_or(0.0);
  check_range(kWhere, "degree hours", outdoor, INFINITY,
              "give F h of a year, 24 times the degree days");
  check_range(kWhere, "hours", hours, kMostHours, "give hours of one year");
  check_range(kWhere, "attic rise", season.rise_high_f, INFINITY,
              "give the daily mean of attic above outdoor air, in F");
  check_range(kWhere, "low attic rise", season.rise_low_f, season.rise_high_f,
              "the low end comes first");
  const double saved_ua = (ua_before - ua_after).us() / cop;
  const double low = saved_ua * (outdoor + season.rise_low_f * hours),
               high = saved_ua * (outdoor + season.rise_high_f * hours);
  return {Energy::from_us(std::min(low, high)), Energy::from_us(std::max(low, high)),
          season.degree_hours_f_h.has_value(), season.hours.has_value(), true};
}

Energy delivered_per_unit(Efficiency efficiency, const Fuel& fuel) {
  check_efficiency(efficiency);
  check_above_zero("heating", "heat content", fuel.btu_per_unit, "give Btu per unit");
  return Energy::from_us(fuel.btu_per_unit * efficiency.value);
}

Calibration calibrate(Conductance ua_before, const DegreeDays& season, const Bills& bills,
                      Energy delivered_per_unit) {
  constexpr const char* kWhere = "bills";
  check_range(kWhere, "billed units", bills.units_per_year, INFINITY,
              "give the units of a whole year");
  check_range(kWhere, "base load", bills.base_units, INFINITY,
              "give the part that is not heating, from the summer months");
  check_above_zero(kWhere, "share", bills.ceiling_share,
                   "give the ceiling's greatest share of the heating, such as 0.5");
  check_range(kWhere, "share", bills.ceiling_share, 1.0, "give a fraction");
  check_above_zero(kWhere, "heat of a unit", delivered_per_unit.us(),
                   "give heat content and efficiency");
  if (!(bills.base_units < bills.units_per_year))
    throw Error(ErrorCode::contradiction, kWhere,
                "the base load leaves nothing of the bills for heating",
                "give the units of a whole year, and the base load of a whole year");
  Calibration c;
  c.billed_heat = delivered_per_unit * (bills.units_per_year - bills.base_units);
  c.computed_loss = heating_load_saved(ua_before, Conductance{}, season, {}).load;
  c.computed_share = c.computed_loss / c.billed_heat;
  if (c.computed_share > bills.ceiling_share) c.factor = bills.ceiling_share / c.computed_share;
  return c;
}

}  // namespace overjoist
