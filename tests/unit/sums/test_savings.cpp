// SPDX-License-Identifier: MIT
#include "overjoist/savings.hpp"

#include <doctest/doctest.h>

#include <limits>

#include "fixtures.hpp"
#include "overjoist/money.hpp"

using namespace fixtures;

namespace {

const double kNan = std::numeric_limits<double>::quiet_NaN();

Conductance ua(double btu_per_h_f) { return Conductance::from_us(btu_per_h_f); }
Conductance ceiling(double area_ft2, double r) {
  return inverse(r_value(r)) * square_feet(area_ft2);
}
DegreeDays plain_season(double hdd, double base_f = 65) { return {hdd, base_f, {}}; }

Fuel fuel_of(const std::string& id, const std::string& unit, double btu,
             std::optional<double> co2_lb = {}) {
  Fuel f;
  f.id = id;
  f.unit = unit;
  f.btu_per_unit = btu;
  f.co2_lb_per_unit = co2_lb;
  return f;
}

// Figures of tests/reference/SOURCES.md#fuels.
const Fuel kGas = fuel_of("natural-gas", "therm", 100000, 11.70);
const Fuel kPower = fuel_of("electricity", "kWh", 3412);
const Fuel kOil = fuel_of("heating-oil", "gal", 138690, 22.40);

double units(Energy load, const Fuel& fuel, double efficiency, bool is_cop = false) {
  return fuel_saved(load, {efficiency, is_cop}, {&fuel, {}, {}}).units;
}

Energy saved(double area_ft2, double r_before, double r_after, double hdd) {
  return heating_load_saved(ceiling(area_ft2, r_before), ceiling(area_ft2, r_after),
                            plain_season(hdd), {})
      .load;
}

}  // namespace

// Independent: tests/reference/SOURCES.md#savings-plain: 24 x 6,000 x 1,000 x (1/R1 - 1/R2), worked
// out apart from the program. Tolerance: half the last digit given.
TEST_CASE(
    "savings: plain degree-day figures of two retrofits, in heat, gas, resistance heat and heat "
    "pump") {
  struct Row {
    double r1, r2, mmbtu, therm, kwh, kwh_cop;
  };
  for (const Row& row : {Row{11, 38, 9.301435, 116.268, 2726.09, 1090.44},
                         Row{19, 49, 4.640172, 58.002, 1359.96, 543.98}}) {
    const Energy load = saved(1000, row.r1, row.r2, 6000);
    near(load.us() / 1e6, row.mmbtu, 0.5e-6);
    near(units(load, kGas, 0.80), row.therm, 0.0005);
    near(units(load, kPower, 1.0), row.kwh, 0.005);
    near(units(load, kPower, 2.5, true), row.kwh_cop, 0.005);
  }
}

namespace {

/// A year of normally distributed daily means, the closed forms of
/// SOURCES.md#savings-balance-point.
struct Climate {
  double mean, sd;
  double z(double t) const { return (t - mean) / sd; }
  double days_below(double t) const { return 365 * 0.5 * std::erfc(-z(t) / std::sqrt(2.0)); }
  double hdd(double t) const {
    const double density = std::exp(-z(t) * z(t) / 2) / std::sqrt(2 * 3.14159265358979323846);
    return (t - mean) * days_below(t) + 365 * sd * density;
  }
};

}  // namespace

// Independent: tests/reference/SOURCES.md#savings-balance-point: UA 500 to 440, indoor 70 F, gains
// 500 (70 - base); 'exact' moves the balance point with the UA, 24 (500 HDD_before - 440
// HDD_after). Tolerance: 0.002 MMBtu, stated with the rows (printed to 0.001).
TEST_CASE(
    "savings: six climates and balance points, plain low by 15 to 41 %, with indoor term within "
    "1.2 % of exact") {
  struct Row {
    double mean, sd, base, hdd, days, exact, plain, full;
  };
  const std::vector<Row> rows = {{55, 15, 65, 4477, 273, 8.393, 6.447, 8.412},
                                 {55, 15, 60, 3217, 230, 7.856, 4.632, 7.946},
                                 {45, 18, 65, 7741, 316, 13.414, 11.147, 13.425},
                                 {45, 18, 60, 6219, 291, 13.091, 8.956, 13.148},
                                 {40, 18, 65, 9372, 335, 15.899, 13.495, 15.907},
                                 {40, 18, 60, 7741, 316, 15.659, 11.147, 15.702}};
  for (const Row& row : rows) {
    const Climate c{row.mean, row.sd};
    const double hdd = c.hdd(row.base), days = c.days_below(row.base);
    near(hdd, row.hdd, 0.5);
    near(days, row.days, 0.5);
    const double base_after = 70 - 500 * (70 - row.base) / 440;
    near(24 * (500 * hdd - 440 * c.hdd(base_after)) / 1e6, row.exact, 0.002);
    const HeatingLoad plain = heating_load_saved(ua(500), ua(440), {hdd, row.base, days}, {});
    const HeatingLoad full = heating_load_saved(ua(500), ua(440), {hdd, row.base, days}, 70.0);
    near(plain.load.us() / 1e6, row.plain, 0.002);
    near(full.load.us() / 1e6, row.full, 0.002);
    CHECK(plain.form == SavingForm::plain);
    CHECK(full.form == SavingForm::full);
    CHECK(std::fabs(full.load.us() / 1e6 / row.exact - 1) < 0.012);
    CHECK(plain.load.us() / 1e6 / row.exact < 0.85);
    CHECK(plain.load.us() / 1e6 / row.exact > 0.585);
  }
}

// Source: tests/reference/SOURCES.md#c1-c3: 1,200 ft2, 6,700 HDD, oil at 75 % and 1.25 a gallon;
// print $20, $12 and, over ten years, $80: loose by up to $1 and $3. Btu per gallon is not printed:
// 138,690 and 138,500 bound the exact column, half its last digit allowed.
TEST_CASE("savings: three steps of R from a trade press article") {
  const auto dollars = [](double r1, double r2, double btu_per_gal) {
    const Fuel oil = fuel_of("heating-oil", "gal", btu_per_gal);
    return *fuel_saved(saved(1200, r1, r2, 6700), {0.75, false}, {&oil, 1.25, {}}).money;
  };
  struct Row {
    double r1, r2, years, printed, loose, low, high, half_digit;
  };
  for (const Row& row :
       {Row{30, 40, 1, 20, 1, 19.32, 19.35, 0.005}, Row{40, 50, 1, 12, 1, 11.59, 11.61, 0.005},
        Row{50, 60, 10, 80, 3, 77.3, 77.4, 0.05}}) {
    near(row.years * dollars(row.r1, row.r2, 138690), row.low, row.half_digit);
    near(row.years * dollars(row.r1, row.r2, 138500), row.high, row.half_digit);
    near(row.years * dollars(row.r1, row.r2, 138690), row.printed, row.loose);
  }
}

// Source: tests/reference/SOURCES.md#p1-p2: the federal payback form with a reader's inputs; prints
// 30 years, exact 30.5, heating alone 59.8. Arithmetic check only: the reader's method is
// questioned where it stands, and it cools at a furnace's efficiency.
TEST_CASE("savings: the federal payback form, arithmetic only") {
  const Fuel million = fuel_of("any", "MMBtu", 1e6);
  const double gas = *fuel_saved(saved(1, 30, 49, 6420), {0.96, false}, {&million, 6.21, {}}).money;
  const CoolingSeason season{24.0 * 791, {}, 0, 0};
  const Energy cool = cooling_saved(ceiling(1, 30), ceiling(1, 49), season, 0.96).low;
  const double power = *fuel_for(cool, {&million, 48.5, {}}).money;
  near(*simple_payback(0.77, gas), 59.8, 0.05);
  near(*simple_payback(0.77, gas + power), 30.5, 0.05);
}

// Source: tests/reference/SOURCES.md#co2: lb per million Btu beside lb per unit. Tolerance: half
// the last digit of the lb per unit, as lb per million Btu; oil 1.2 %, as the heat content of the
// year that belongs to its figure is not known (2012 and 2021 differ by 1.0 %).
TEST_CASE("savings: CO2 of a million Btu is the published figure") {
  const auto co2 = [](const Fuel& fuel) {
    return *fuel_saved(Energy::from_us(1e6), {1.0, false}, {&fuel, {}, {}}).co2_lb;
  };
  near(co2(kGas), 117.00, 0.05);
  near(co2(fuel_of("propane", "gal", 91333, 12.70)), 139.05, 0.005 / 0.091333);
  near(co2(kOil), 161.30, 0.012 * 161.30);
  near(co2(fuel_of("heating-oil", "gal", 137381, 22.40)), 161.30, 0.012 * 161.30);
}

// Hand derivation: 10 million Btu at 0.80 is 125 therm; at 1.2 each 150; x 11.7 = 1,462.5 lb. Power
// has no factor until the user gives one: 3.412 million Btu at COP 2 is 500 kWh, x 0.8 lb = 400 lb.
TEST_CASE("savings: money and CO2 only where price and factor are known") {
  const FuelSaved gas = fuel_saved(Energy::from_us(10e6), {0.80, false}, {&kGas, 1.2, {}});
  near(gas.units, 125, kNoise);
  near(*gas.money, 150, kNoise);
  near(*gas.co2_lb, 1462.5, 1e-8);
  const FuelSaved power = fuel_saved(Energy::from_us(3.412e6), {2.0, true}, {&kPower, {}, {}});
  CHECK_FALSE(power.money);
  CHECK_FALSE(power.co2_lb);
  near(*fuel_saved(Energy::from_us(3.412e6), {2.0, true}, {&kPower, {}, 0.8}).co2_lb, 400, kNoise);
}

// Invariant: a COP must be declared; no efficiency is 0, negative, in percent or no number; the
// message says what was mistaken.
TEST_CASE("savings: a COP is not taken for an efficiency") {
  const Energy load = Energy::from_us(1e6);
  CHECK_THROWS_WITH_AS(units(load, kPower, 2.5), doctest::Contains("COP used as efficiency"),
                       Error);
  CHECK_NOTHROW(units(load, kGas, 1.1));
  for (double bad : {0.0, -0.8, 80.0, 1.11, kNan}) CHECK_THROWS_AS(units(load, kGas, bad), Error);
  for (double bad : {0.0, -2.0, 9.5, kNan}) CHECK_THROWS_AS(units(load, kPower, bad, true), Error);
  CHECK_THROWS_AS(fuel_for(load, {nullptr, {}, {}}), Error);
  CHECK_THROWS_AS(fuel_for(load, {&kGas, -1.0, {}}), Error);
  CHECK_THROWS_AS(fuel_for(load, {&kGas, {}, -1.0}), Error);
  const Fuel empty = fuel_of("none", "gal", 0);
  CHECK_THROWS_AS(fuel_for(load, {&empty, {}, {}}), Error);
}

// Invariant: the saving of two steps is the sum of their savings, nothing changed saves nothing, a
// rise of UA saves less than nothing, indoors at the base gives the plain figure, and one missing
// input leaves the second term out.
TEST_CASE("savings: linear in UA, and the forms meet where indoor and base are one") {
  const DegreeDays season{5000, 60, 250.0};
  const auto load = [&](double from, double to, std::optional<double> indoor) {
    return heating_load_saved(ua(from), ua(to), season, indoor).load.us();
  };
  near(load(100, 60, 70.0) + load(60, 40, 70.0), load(100, 40, 70.0),
       1e-6);  // Btu, noise at 10 million
  CHECK(load(50, 50, 70.0) == 0.0);
  CHECK(load(50, 60, 70.0) < 0.0);
  CHECK(load(100, 40, 60.0) == load(100, 40, {}));
  CHECK(heating_load_saved(ua(100), ua(40), plain_season(5000), 70.0).form == SavingForm::plain);
}

// Invariant: impossible seasons and UA are refused.
TEST_CASE("savings: impossible seasons are refused") {
  const auto load = [](double before, double hdd, std::optional<double> days,
                       std::optional<double> indoor) {
    return heating_load_saved(ua(before), ua(10), {hdd, 65, days}, indoor).load;
  };
  CHECK_NOTHROW(load(20, 6000, 300.0, 70.0));
  CHECK_THROWS_AS(load(-1, 6000, 300.0, 70.0), Error);
  CHECK_THROWS_AS(load(kNan, 6000, 300.0, 70.0), Error);
  CHECK_THROWS_AS(load(20, -1, 300.0, 70.0), Error);
  CHECK_THROWS_AS(load(20, kNan, 300.0, 70.0), Error);
  CHECK_THROWS_AS(load(20, 6000, 367.0, 70.0), Error);
  CHECK_THROWS_AS(load(20, 6000, 0.0, 70.0), Error);
  CHECK_THROWS_AS(load(20, 6000, 300.0, 62.0), Error);
  CHECK_THROWS_AS(load(20, 6000, 300.0, kNan), Error);
}

// Hand derivation: 60 Btu/(h F) less; 5,000 F h outdoors, 1,000 h with the attic 5 to 20 F above
// outdoors, COP 3: 60 (5,000 + 5,000)/3 = 200,000 and 60 (5,000 + 20,000)/3 = 500,000 Btu. Degree
// hours alone: 60 x 5,000/3 = 100,000, a floor. Hours alone: 100,000 and 400,000.
TEST_CASE("cooling: a range with a stated attic rise, always of low confidence") {
  const auto cool = [](std::optional<double> degree_hours, std::optional<double> hours) {
    return cooling_saved(ua(100), ua(40), {degree_hours, hours, 5, 20}, 3);
  };
  const CoolingSaved both = cool(5000.0, 1000.0), floor = cool(5000.0, {}), rise = cool({}, 1000.0);
  near(both.low.us(), 200000, 1e-6);
  near(both.high.us(), 500000, 1e-6);
  near(floor.low.us(), 100000, 1e-6);
  CHECK(floor.low == floor.high);
  near(rise.low.us(), 100000, 1e-6);
  near(rise.high.us(), 400000, 1e-6);
  CHECK((both.low_confidence && both.counts_outdoor && both.counts_rise));
  CHECK((floor.counts_outdoor && !floor.counts_rise));
  CHECK((rise.counts_rise && !rise.counts_outdoor));
  const CoolingSaved worse = cooling_saved(ua(40), ua(100), {5000.0, 1000.0, 5, 20}, 3);
  CHECK(worse.low < worse.high);
}

// Invariant: nothing to go by, ranges out of order, and ratings mistaken for a COP are refused.
TEST_CASE("cooling: impossible seasons and ratings in Btu per Wh are refused") {
  const auto cool = [](const CoolingSeason& season, double cop) {
    return cooling_saved(ua(100), ua(40), season, cop);
  };
  CHECK_THROWS_AS(cool({{}, {}, 5, 20}, 3), Error);
  CHECK_THROWS_AS(cool({5000.0, 1000.0, 20, 5}, 3), Error);
  CHECK_THROWS_AS(cool({5000.0, 1000.0, -1, 5}, 3), Error);
  CHECK_THROWS_AS(cool({-1.0, 1000.0, 5, 20}, 3), Error);
  CHECK_THROWS_AS(cool({5000.0, 9000.0, 5, 20}, 3), Error);
  CHECK_THROWS_AS(cool({5000.0, 1000.0, 5, 20}, 0), Error);
  CHECK_THROWS_WITH_AS(cool({5000.0, 1000.0, 5, 20}, 14), doctest::Contains("COP of 14"), Error);
}

// Hand derivation: UA 100 at 6,000 HDD loses 14.4 million Btu. 800 therm less 200 for hot water at
// 0.80 is 48 million: share 0.3, below 0.5, nothing is scaled. 400 less 200 is 16 million: share
// 0.9, factor 0.5/0.9. At that factor the loss is 0.5 x 16 = 8 million.
TEST_CASE(
    "bills: a saving is scaled down where the ceiling would account for more than its share, never "
    "up") {
  const Energy per_therm = delivered_per_unit({0.80, false}, kGas);
  near(per_therm.us(), 80000, 1e-9);
  const Calibration fits = calibrate(ua(100), plain_season(6000), {800, 200, 0.5}, per_therm);
  near(fits.computed_loss.us(), 14.4e6, 1e-6);
  near(fits.billed_heat.us(), 48e6, 1e-6);
  near(fits.computed_share, 0.3, kNoise);
  CHECK(fits.factor == 1.0);
  const Calibration bold = calibrate(ua(100), plain_season(6000), {400, 200, 0.5}, per_therm);
  near(bold.computed_share, 0.9, kNoise);
  near(bold.factor, 0.5 / 0.9, kNoise);
  near((bold.computed_loss * bold.factor).us(), 8e6, 1e-6);
}

// Hand derivation: a house with UA 500 whose base is its balance point burns 24 HDD x 500; a
// ceiling of UA 100 in it has a share of 0.2, whatever the season and efficiency.
TEST_CASE("bills: the computed share is the ceiling's share of the whole UA") {
  for (double hdd : {3000.0, 7000.0})
    for (double efficiency : {0.7, 0.95}) {
      const double therms = 24 * hdd * 500 / (100000 * efficiency);
      const Calibration c = calibrate(ua(100), {hdd, 62, 250.0}, {therms + 40, 40, 0.5},
                                      delivered_per_unit({efficiency, false}, kGas));
      near(c.computed_share, 0.2, kNoise);
    }
}

// Invariant: bills that leave nothing for heating, and shares outside 0 to 1, are refused.
TEST_CASE("bills: impossible bills are refused") {
  const Energy per_therm = Energy::from_us(80000);
  const auto hold = [&](const Bills& bills) {
    return calibrate(ua(100), plain_season(6000), bills, per_therm);
  };
  CHECK_THROWS_AS(hold({200, 200, 0.5}), Error);
  CHECK_THROWS_AS(hold({200, 300, 0.5}), Error);
  CHECK_THROWS_AS(hold({-1, 0, 0.5}), Error);
  CHECK_THROWS_AS(hold({800, -1, 0.5}), Error);
  CHECK_THROWS_AS(hold({800, 200, 0}), Error);
  CHECK_THROWS_AS(hold({800, 200, 1.5}), Error);
  CHECK_THROWS_AS(hold({kNan, 200, 0.5}), Error);
  CHECK_THROWS_AS(calibrate(ua(100), plain_season(6000), {800, 200, 0.5}, Energy{}), Error);
}

// Hand derivation: 1,000 ft2 at R-20 is UA 50; under 1,250 ft2 of roof at R-4: 1/50 + 4/1,250 =
// 0.0232, UA 43.10; in R per ceiling area 20 + 4 x 1,000/1,250 = 23.2
// (tests/reference/SOURCES.md#unvented).
TEST_CASE("savings: an unvented attic has no figure without its roof") {
  const Conductance floor = ceiling(1000, 20);
  CHECK(*ua_to_outdoors(floor, {}) == floor);
  CHECK_FALSE(ua_to_outdoors(floor, {false, {}, {}}));
  CHECK_FALSE(ua_to_outdoors(floor, {false, r_value(4), {}}));
  CHECK_FALSE(ua_to_outdoors(floor, {false, {}, square_feet(1250)}));
  near(ua_to_outdoors(floor, {false, r_value(4), square_feet(1250)})->us(), 1000 / 23.2, kNoise);
  CHECK(ua_to_outdoors(ua(0), {false, r_value(4), square_feet(1250)})->us() == 0.0);
  CHECK_THROWS_AS(ua_to_outdoors(floor, {false, r_value(0), square_feet(1250)}), Error);
  CHECK_THROWS_AS(ua_to_outdoors(floor, {false, r_value(4), square_feet(-1)}), Error);
}

// Invariant: rows are found by id, an unknown fuel is no row, an unknown default is an error.
TEST_CASE("savings: fuels and defaults are found by id") {
  Tables t;
  t.fuels = {kPower, kOil, kGas};
  t.money = {{"ceiling-bill-share", 0.5, {}, "", ""}, {"life-years", 30, {}, "", ""}};
  CHECK(t.fuel("heating-oil") == &t.fuels[1]);
  CHECK(t.fuel("coal") == nullptr);
  CHECK(t.money_default("life-years") == 30.0);
  CHECK_THROWS_AS(t.money_default("life"), Error);
}
