// SPDX-License-Identifier: MIT
#pragma once
#include "overjoist/units.hpp"

/// Air through a leak of the ceiling, the stack that drives it, and the heat that it carries
/// (method 17b). Pure and thread safe. Effective leakage areas are those at 4 Pa.
namespace overjoist {

constexpr Area square_inches(double v) { return square_feet(v / 144.0); }
constexpr double in_square_inches(Area a) { return a.us() * 144.0; }

/// Flow through a leak [cfm]: `ELA sqrt(2 4/rho) (dp/4)^n`, discharge coefficient 1, rho 1.2 kg/m3
/// (orifice form at 4 Pa).
/// @param pascal  pressure difference, >= 0  @param exponent  figure `flow-exponent`, 0.5 .. 1
/// @throws Error{out_of_range} naming the value given
double leak_flow_cfm(Area ela, double pascal, double exponent);

/// Warm air between the neutral level and a leak above it.
struct StackColumn {
  double indoor_f = 70.0;
  Length height;  ///< of the leak above the neutral level, >= 0; an assumption that a result lists
};

/// Stack pressure at a leak [Pa]: `(rho_o - rho_i) g h`, rho = 1.2 x 293.15/T. 0 where it is not
/// colder outdoors. Wind, fans and the attic's own warmth are left out.
/// @param outdoor_f  -400 .. 400  @throws Error{out_of_range}
double stack_pressure_pa(const StackColumn& column, double outdoor_f);

/// A leak that the stack drives.
struct LeakPath {
  Area ela;
  StackColumn column;
  double exponent = 0.0;  ///< figure `flow-exponent`
  double air_heat = 0.0;  ///< Btu/(h cfm F), air_heat_factor(elevation)
};

/// Outdoor temperature over a year, taken as normal.
struct OutdoorNormal {
  double mean_f = 0.0;  ///< -60 .. 120
  double sd_f = 0.0;    ///< above 0, up to 40
};

/// Heat that the leak carries in a year: `sum air_heat Q(t) (indoor - t) hours(t)` over 1 F bins
/// below `balance_f` of a normal outdoor temperature, since the air that leaves is as warm as the
/// rooms. As if the leak were alone in the house and the neutral level stood where it is taken to
/// be: a middle figure, whose range the caller's table gives. Bins of 0.1 to 2 F agree within
/// 0.03 % in the reference case.
/// @param balance_f  up to which the rooms are heated, -60 .. 120  @throws Error{out_of_range}
Energy leak_heat_by_bins(const LeakPath& path, OutdoorNormal outdoor, double balance_f);

/// The same from degree days alone: `24 HDD air_heat Q(mean)`, Q at the mean outdoor temperature of
/// the heating season. In the reference case 12 to 14 % below the bins, since Q grows with the
/// cold.
/// @param hdd_f_day  counted from the rooms' temperature  @throws Error{out_of_range}
Energy leak_heat_simple(const LeakPath& path, double hdd_f_day, double season_mean_f);

struct Weather {
  double delta_f = 0.0;  ///< indoors above outdoors, >= 0
  double wind_mph = 0.0;
};
struct ShelterCoefficients {
  double stack = 0.0, wind = 0.0;  ///< cfm2/(in4 F), cfm2/(in4 mph2)
};

/// Air change of a whole house [cfm]: `A sqrt(Cs dT + Cw V^2)`, A in in2 (Sherman and Grimsrud
/// 1980). The caller brings both coefficients: none are built in.  @throws Error{out_of_range}
double whole_house_flow_cfm(Area ela, Weather weather, ShelterCoefficients coefficients);

/// Effective leakage area of a house whose blower door moves `cfm50` at 50 Pa: 0.0549 in2 a cfm at
/// an exponent of 0.65.  @throws Error{out_of_range}
Area tested_leakage_area(double cfm50, double exponent);

/// A house as its blower door found it.
struct TestedHouse {
  Area ela;  ///< tested_leakage_area()
  double indoor_f = 70.0, wind_mph = 0.0;
  ShelterCoefficients coefficients;
  double air_heat = 0.0;  ///< Btu/(h cfm F), air_heat_factor(elevation)
};

/// Heat of all its air in a year, by the bins of leak_heat_by_bins and whole_house_flow_cfm.
/// @throws Error{out_of_range}
Energy house_heat_by_bins(const TestedHouse& house, OutdoorNormal outdoor, double balance_f);

/// The same from degree days, as leak_heat_simple.  @throws Error{out_of_range}
Energy house_heat_simple(const TestedHouse& house, double hdd_f_day, double season_mean_f);

/// Air pressure at an elevation over that at sea level: `(1 - 6.8754e-6 Z)^5.2559` (standard
/// atmosphere, ASHRAE).
/// @param elevation_ft  -1,500 .. 30,000  @throws Error{out_of_range}
double air_pressure_ratio(double elevation_ft);

/// Air pressure [psia]: 14.696 x air_pressure_ratio.
double air_pressure_psia(double elevation_ft);

/// Heat of moving air [Btu/(h cfm F)]: 1.08 x pressure ratio, since the air is at room
/// temperature. 1.08 is 60 min/h x 0.018 Btu/(ft3 F).
double air_heat_factor(double elevation_ft);

}  // namespace overjoist
