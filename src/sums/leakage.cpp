// SPDX-License-Identifier: MIT
#include "overjoist/leakage.hpp"

#include <fmt/core.h>
#include <algorithm>
#include <cmath>
#include <numbers>

#include "overjoist/diagnostics.hpp"

namespace overjoist {
namespace {

constexpr double kAirDensity = 1.2;         // kg/m3, dry air at kAirTemperature and sea level
constexpr double kAirTemperature = 293.15;  // K
constexpr double kGravity = 9.80665;        // m/s2, standard
constexpr double kReferencePressure = 4.0;  // Pa, at which effective leakage areas are stated
constexpr double kTestPressure = 50.0;      // Pa, of a blower door
constexpr double kHoursPerYear = 8760.0;
constexpr double kBin = 1.0;               // F
constexpr double kTail = 6.0;              // standard deviations beyond which no hour is left
constexpr double kAirHeat = 60.0 * 0.018;  // Btu/(h cfm F) at sea level: min/h x Btu/(ft3 F)
constexpr double kSeaLevel = 14.696;       // psia

void need_air(bool good, const char* what, double value, const char* allowed) {
  if (!good)
    throw Error(ErrorCode::out_of_range, what,
                fmt::format("{} {:g} is not allowed; allowed: {}", what, value, allowed));
}

double kelvin(double f) { return (f + 459.67) * kKelvinPerDegF; }
double density(double f) { return kAirDensity * kAirTemperature / kelvin(f); }

double flow_outdoors_at(const LeakPath& path, double outdoor_f) {
  return leak_flow_cfm(path.ela, stack_pressure_pa(path.column, outdoor_f), path.exponent);
}

/// Share of a normal year below `f`.
double share_below(OutdoorNormal outdoor, double f) {
  return 0.5 * std::erfc((outdoor.mean_f - f) / (outdoor.sd_f * std::numbers::sqrt2));
}

}  // namespace

double leak_flow_cfm(Area ela, double pascal, double exponent) {
  need_air(pascal >= 0 && std::isfinite(pascal), "pressure", pascal, "0 Pa or more");
  need_air(exponent >= 0.5 && exponent <= 1, "flow exponent", exponent, "0.5 to 1");
  need_air(ela.us() >= 0 && std::isfinite(ela.us()), "leakage area", ela.us(), "0 or more");
  const double speed = std::sqrt(2 * kReferencePressure / kAirDensity);  // m/s
  const double m3_per_s = ela.si() * speed * std::pow(pascal / kReferencePressure, exponent);
  return Volume::from_si(m3_per_s).us() * 60;
}

double stack_pressure_pa(const StackColumn& column, double outdoor_f) {
  need_air(column.height.us() >= 0 && std::isfinite(column.height.us()), "height",
           column.height.us(), "0 or more");
  for (const double f : {column.indoor_f, outdoor_f})
    need_air(f >= -400 && f <= 400, "temperature", f, "-400 to 400 F");
  return std::max(0.0, density(outdoor_f) - density(column.indoor_f)) * kGravity *
         column.height.si();
}

namespace {

/// Heat of a year: what `per_hour` gives of each bin below the balance temperature.
template <class PerHour>
Energy heat_by_bins(OutdoorNormal outdoor, double balance_f, PerHour per_hour) {
  need_air(outdoor.sd_f > 0 && outdoor.sd_f <= 40, "standard deviation", outdoor.sd_f,
           "above 0, up to 40 F");
  for (const double f : {outdoor.mean_f, balance_f})
    need_air(f >= -60 && f <= 120, "temperature", f, "-60 to 120 F");
  const double last = outdoor.mean_f - kTail * outdoor.sd_f;
  double btu = 0.0;
  for (int i = 0; balance_f - i * kBin > last; ++i) {
    const double top = balance_f - i * kBin, middle = top - kBin / 2;
    const double hours =
        kHoursPerYear * (share_below(outdoor, top) - share_below(outdoor, top - kBin));
    btu += per_hour(middle) * hours;
  }
  return Energy::from_us(btu);
}

void need_air_heat(double air_heat) {
  need_air(air_heat > 0 && std::isfinite(air_heat), "air heat", air_heat, "above 0");
}
void need_degree_days(double hdd_f_day) {
  need_air(hdd_f_day >= 0 && std::isfinite(hdd_f_day), "degree days", hdd_f_day, "0 or more");
}

double house_flow_at(const TestedHouse& house, double outdoor_f) {
  const Weather weather{std::max(0.0, house.indoor_f - outdoor_f), house.wind_mph};
  return whole_house_flow_cfm(house.ela, weather, house.coefficients);
}

}  // namespace

Energy leak_heat_by_bins(const LeakPath& path, OutdoorNormal outdoor, double balance_f) {
  need_air_heat(path.air_heat);
  return heat_by_bins(outdoor, balance_f, [&](double t) {
    return path.air_heat * flow_outdoors_at(path, t) * std::max(0.0, path.column.indoor_f - t);
  });
}

Energy leak_heat_simple(const LeakPath& path, double hdd_f_day, double season_mean_f) {
  need_degree_days(hdd_f_day);
  need_air_heat(path.air_heat);
  return Energy::from_us(24 * hdd_f_day * path.air_heat * flow_outdoors_at(path, season_mean_f));
}

Area tested_leakage_area(double cfm50, double exponent) {
  need_air(cfm50 >= 0 && std::isfinite(cfm50), "flow at 50 Pa", cfm50, "0 or more");
  return square_inches(cfm50 / leak_flow_cfm(square_inches(1.0), kTestPressure, exponent));
}

Energy house_heat_by_bins(const TestedHouse& house, OutdoorNormal outdoor, double balance_f) {
  need_air_heat(house.air_heat);
  return heat_by_bins(outdoor, balance_f, [&](double t) {
    return house.air_heat * house_flow_at(house, t) * std::max(0.0, house.indoor_f - t);
  });
}

Energy house_heat_simple(const TestedHouse& house, double hdd_f_day, double season_mean_f) {
  need_degree_days(hdd_f_day);
  need_air_heat(house.air_heat);
  return Energy::from_us(24 * hdd_f_day * house.air_heat * house_flow_at(house, season_mean_f));
}

double whole_house_flow_cfm(Area ela, Weather weather, ShelterCoefficients coefficients) {
  const double drive = coefficients.stack * weather.delta_f +
                       coefficients.wind * weather.wind_mph * weather.wind_mph;
  need_air(drive >= 0 && std::isfinite(drive), "stack and wind", drive, "0 or more");
  return in_square_inches(ela) * std::sqrt(drive);
}

double air_pressure_ratio(double elevation_ft) {
  need_air(elevation_ft >= -1500 && elevation_ft <= 30000, "elevation", elevation_ft,
           "-1500 to 30000 ft");
  return std::pow(1 - 6.8754e-6 * elevation_ft, 5.2559);
}
double air_pressure_psia(double elevation_ft) {
  return kSeaLevel * air_pressure_ratio(elevation_ft);
}
double air_heat_factor(double elevation_ft) { return kAirHeat * air_pressure_ratio(elevation_ft); }

}  // namespace overjoist
