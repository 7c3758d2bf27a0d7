// SPDX-License-Identifier: MIT
// Each function of the core at the ends of the ranges that its docstring promises: the end itself
// is taken, what lies beyond it and what is no number is refused, by an error of ours.
#include <doctest/doctest.h>

#include <limits>

#include "fixtures.hpp"
#include "overjoist/eaves.hpp"
#include "overjoist/leakage.hpp"
#include "overjoist/moisture.hpp"
#include "overjoist/money.hpp"
#include "overjoist/savings.hpp"
#include "overjoist/sealing.hpp"
#include "overjoist/ventilation.hpp"

using namespace fixtures;

namespace {

constexpr double kInf = std::numeric_limits<double>::infinity(),
                 kNan = std::numeric_limits<double>::quiet_NaN();
constexpr double kHair = 1e-6;

template <class F>
void takes(F f, std::initializer_list<double> good) {
  for (double x : good) {
    CAPTURE(x);
    CHECK_NOTHROW(f(x));
  }
}

/// Refuses these, and what is no number.
template <class F>
void refuses(F f, std::initializer_list<double> bad) {
  for (double x : bad) {
    CAPTURE(x);
    CHECK_THROWS_AS(f(x), Error);
  }
  CHECK_THROWS_AS(f(kNan), Error);
}

template <class F>
void from_zero(F f) {
  takes(f, {0.0, kHair});
  refuses(f, {-kHair, kInf});
}

template <class F>
void above_zero(F f) {
  takes(f, {kHair, 1.0});
  refuses(f, {0.0, -kHair});
}

LeakPath leak() { return {square_inches(10), {70, inches(48)}, 0.65, 1.08}; }
DegreeDays season() { return {6000, 65, 200.0}; }

}  // namespace

// Invariant: the ranges of leakage.hpp; a flow exponent lies between that of an orifice, 0.5, and
// that of a laminar crack, 1.
TEST_CASE("bounds: leaks") {
  from_zero([](double v) { leak_flow_cfm(square_inches(10), v, 0.65); });
  from_zero([](double v) { leak_flow_cfm(Area::from_us(v), 4, 0.65); });
  takes([](double v) { leak_flow_cfm(square_inches(10), 4, v); }, {0.5, 1.0});
  refuses([](double v) { leak_flow_cfm(square_inches(10), 4, v); }, {0.5 - kHair, 1 + kHair});
  from_zero([](double v) { stack_pressure_pa({70, Length::from_us(v)}, 20); });
  takes([](double v) { stack_pressure_pa({70, inches(48)}, v); }, {-400, 400});
  refuses([](double v) { stack_pressure_pa({70, inches(48)}, v); }, {-400 - kHair, 400 + kHair});
  takes([](double v) { stack_pressure_pa({v, inches(48)}, 20); }, {-400, 400});
  refuses([](double v) { stack_pressure_pa({v, inches(48)}, 20); }, {-400 - kHair, 400 + kHair});
  takes([](double v) { leak_heat_by_bins(leak(), {40, v}, 65); }, {0.5, 40});
  refuses([](double v) { leak_heat_by_bins(leak(), {40, v}, 65); }, {0, -1, 40 + kHair});
  takes([](double v) { leak_heat_by_bins(leak(), {v, 10}, 65); }, {-60, 120});
  refuses([](double v) { leak_heat_by_bins(leak(), {v, 10}, 65); }, {-60 - kHair, 120 + kHair});
  takes([](double v) { leak_heat_by_bins(leak(), {40, 10}, v); }, {-60, 120});
  refuses([](double v) { leak_heat_by_bins(leak(), {40, 10}, v); }, {-60 - kHair, 120 + kHair});
  from_zero([](double v) { leak_heat_simple(leak(), v, 40); });
  for (int form = 0; form < 2; ++form)
    above_zero([&](double v) {
      LeakPath path = leak();
      path.air_heat = v;
      form == 0 ? leak_heat_by_bins(path, {40, 10}, 65) : leak_heat_simple(path, 5000, 40);
    });
  from_zero([](double v) { whole_house_flow_cfm(square_inches(100), {v, 0}, {1, 0}); });
  takes([](double v) { air_pressure_ratio(v); }, {-1500, 30000});
  refuses([](double v) { air_pressure_ratio(v); }, {-1500 - 1e-3, 30000 + 1e-3});
}

// Invariant: the ranges of moisture.hpp: -60 to 80 C, humidity above 0 up to 1, a plane between the
// rooms and the attic.
TEST_CASE("bounds: moisture") {
  const auto at_c = [](double c) { return Temperature::from_c(c); };
  takes([&](double c) { saturation_pressure(at_c(c)); }, {-60, 80});
  refuses([&](double c) { saturation_pressure(at_c(c)); }, {-60 - kHair, 80 + kHair});
  const double least = saturation_pressure(at_c(-60)).si(),
               most = saturation_pressure(at_c(80)).si();
  takes([](double pa) { dew_point(Pressure::from_si(pa)); }, {least, most});
  refuses([](double pa) { dew_point(Pressure::from_si(pa)); }, {0, least * 0.999, most * 1.001});
  takes([&](double rh) { vapour_pressure(at_c(20), rh); }, {kHair, 1});
  refuses([&](double rh) { vapour_pressure(at_c(20), rh); }, {0, -0.1, 1 + kHair});
  const auto plane = [&](double below, double total) {
    return plane_temperature(at_c(20), at_c(0), r_value(below), r_value(total));
  };
  near(plane(0, 10).c(), 20, kNoise);
  near(plane(10, 10).c(), 0, kNoise);
  refuses([&](double v) { plane(v, 10); }, {-kHair, 10 + kHair});
  refuses([&](double v) { plane(0, v); }, {0, -1, kInf});
  refuses(
      [&](double v) { plane_temperature(Temperature::from_f(v), at_c(0), r_value(1), r_value(2)); },
      {kInf});
  CHECK(vapour_class(Permeance::from_us(0)) == VapourClass::one);
  CHECK(vapour_class(Permeance::from_us(0.1)) == VapourClass::one);
  CHECK(vapour_class(Permeance::from_us(0.1 + kHair)) == VapourClass::two);
  CHECK(vapour_class(Permeance::from_us(1)) == VapourClass::two);
  CHECK(vapour_class(Permeance::from_us(1 + kHair)) == VapourClass::three);
  CHECK(vapour_class(Permeance::from_us(10)) == VapourClass::three);
  CHECK(vapour_class(Permeance::from_us(10 + kHair)) == VapourClass::open);
  refuses([](double v) { vapour_class(Permeance::from_us(v)); }, {-kHair});
  const auto profile = [&](double r, double perm) {
    const VapourLayer layers[] = {{r_value(10), Permeance::from_us(5)},
                                  {r_value(r), Permeance::from_us(perm)}};
    vapour_profile({at_c(20), 0.4}, {at_c(0), 0.8}, layers);
  };
  takes([&](double v) { profile(v, 1); }, {0, 5});
  refuses([&](double v) { profile(v, 1); }, {-kHair});
  above_zero([&](double v) { profile(1, v); });
}

// Invariant: the ranges of ventilation.hpp. 0 of a count, a length or a vent is a figure like any
// other.
TEST_CASE("bounds: vents and counts") {
  const auto vents = [](double attic, double high, double low) {
    vent_need({square_feet(attic), square_feet(high), square_feet(low), {}, {}}, tables());
  };
  above_zero([&](double v) { vents(v, 1, 1); });
  from_zero([&](double v) { vents(1000, v, 1); });
  from_zero([&](double v) { vents(1000, 1, v); });
  from_zero([](double v) { baffle_count(Length::from_us(v), inches(24)); });
  above_zero([](double v) { baffle_count(inches(1e-3), Length::from_us(v)); });
  CHECK(baffle_count(inches(1e6), inches(1)) == 1000000);
  CHECK_THROWS_AS(baffle_count(inches(1e6 + 1), inches(1)), Error);
  from_zero([](double v) { marker_count(square_feet(v), tables()); });
  from_zero([](double v) { weatherstrip_ft({Length::from_us(v), inches(20)}, 0.1); });
  from_zero([](double v) { weatherstrip_ft({inches(20), Length::from_us(v)}, 0.1); });
  from_zero([](double v) { weatherstrip_ft({inches(20), inches(20)}, v); });
  for (int JobFacts::*count : {&JobFacts::flues, &JobFacts::equipment, &JobFacts::edges,
                               &JobFacts::non_ic_lights, &JobFacts::buried_boxes}) {
    JobFacts facts;
    CHECK_NOTHROW(job_counts(facts, tables()));
    facts.*count = -1;
    CHECK_THROWS_AS(job_counts(facts, tables()), Error);
  }
  JobFacts facts;
  facts.level = Length::from_us(-kHair);
  CHECK_THROWS_AS(job_counts(facts, tables()), Error);
}

// Invariant: the ranges of eaves.hpp.
TEST_CASE("bounds: eaves") {
  const auto wedge = [](double heel, double rise, double gap, double baffle, double level) {
    wedge_u({inches(heel), rise, inches(gap), inches(baffle)}, inches(level),
            [](Length) { return Transmittance::from_us(0.05); });
  };
  takes([&](double v) { wedge(v, 6, 1, 0, 10); }, {0, 3});
  refuses([&](double v) { wedge(v, 6, 1, 0, 10); }, {-kHair});
  takes([&](double v) { wedge(3, v, 1, 0, 10); }, {0.5, 24});
  refuses([&](double v) { wedge(3, v, 1, 0, 10); }, {0, -1});
  takes([&](double v) { wedge(3, 6, v, 0, 10); }, {0, 2});
  refuses([&](double v) { wedge(3, 6, v, 0, 10); }, {-kHair});
  takes([&](double v) { wedge(3, 6, 1, v, 10); }, {0, 2});
  refuses([&](double v) { wedge(3, 6, 1, v, 10); }, {-kHair});
  takes([&](double v) { wedge(3, 6, 1, 0, v); }, {0.5, 10});
  refuses([&](double v) { wedge(3, 6, 1, 0, v); }, {0, -1});
  const Eave eave{inches(3), 6, inches(1), {}};
  takes([&](double v) { eave_distance(eave, inches(v)); }, {0, 10});
  refuses([&](double v) { eave_distance(eave, inches(v)); }, {-kHair});
}

// Invariant: the ranges of savings.hpp. An indoor temperature may be the base itself; no days hold
// no degree days.
TEST_CASE("bounds: savings") {
  const auto ua = [](double v) { return Conductance::from_us(v); };
  const auto load = [&](double before, double after, DegreeDays d, std::optional<double> indoor) {
    heating_load_saved(ua(before), ua(after), d, indoor);
  };
  from_zero([&](double v) { load(v, 50, season(), 70); });
  from_zero([&](double v) { load(80, v, season(), 70); });
  from_zero([&](double v) { load(80, 50, {v, 65, 200.0}, 70); });
  takes([&](double v) { load(80, 50, {6000, 65, v}, 70); }, {kHair, 366});
  refuses([&](double v) { load(80, 50, {6000, 65, v}, 70); }, {0, -1, 366 + kHair});
  CHECK_NOTHROW(load(80, 50, {0, 65, 0.0}, 70));
  takes([&](double v) { load(80, 50, season(), v); }, {65, 80});
  refuses([&](double v) { load(80, 50, season(), v); }, {65 - kHair, kInf});
  const Fuel gas{"gas", "gas", "therm", 1e5, 11.7, {}, "", ""};
  const auto bought = [&](Efficiency e, std::optional<double> price, std::optional<double> co2) {
    fuel_saved(Energy::from_us(1e6), e, {&gas, price, co2});
  };
  takes([&](double v) { bought({v, false}, 1, 1); }, {kHair, 1.1});
  refuses([&](double v) { bought({v, false}, 1, 1); }, {0, -1, 1.1 + kHair});
  takes([&](double v) { bought({v, true}, 1, 1); }, {kHair, 8});
  refuses([&](double v) { bought({v, true}, 1, 1); }, {0, -1, 8 + kHair});
  from_zero([&](double v) { bought({0.8, false}, v, 1); });
  from_zero([&](double v) { bought({0.8, false}, 1, v); });
  for (int form = 0; form < 2; ++form)
    above_zero([&](double v) {
      Fuel other = gas;
      other.btu_per_unit = v;
      if (form == 0)
        fuel_for(Energy::from_us(1), {&other, {}, {}});
      else
        delivered_per_unit({0.8, false}, other);
    });
  CHECK_THROWS_AS(fuel_for(Energy::from_us(1), {nullptr, {}, {}}), Error);
  for (int roof = 0; roof < 2; ++roof)
    above_zero([&](double v) {
      ua_to_outdoors(ua(80),
                     {false, r_value(roof == 0 ? v : 5), square_feet(roof == 0 ? 1000 : v)});
    });
}

// Invariant: the ranges of savings.hpp for cooling and bills. Low and high rise may be one figure;
// a share of 1 is all of the heating.
TEST_CASE("bounds: cooling and bills") {
  const auto ua = [](double v) { return Conductance::from_us(v); };
  const auto cool = [&](std::optional<double> degree_hours, std::optional<double> hours, double low,
                        double high, double cop) {
    return cooling_saved(ua(80), ua(50), {degree_hours, hours, low, high}, cop);
  };
  from_zero([&](double v) { cool(v, 900, 10, 30, 3); });
  takes([&](double v) { cool(5000, v, 10, 30, 3); }, {0, 8784});
  refuses([&](double v) { cool(5000, v, 10, 30, 3); }, {-1, 8784 + kHair});
  takes([&](double v) { cool(5000, 900, v, 30, 3); }, {0, 30});
  refuses([&](double v) { cool(5000, 900, v, 30, 3); }, {-1, 30 + kHair});
  refuses([&](double v) { cool(5000, 900, 10, v, 3); }, {-1, kInf});
  takes([&](double v) { cool(5000, 900, 10, 30, v); }, {kHair, 8});
  refuses([&](double v) { cool(5000, 900, 10, 30, v); }, {0, 8 + kHair});
  CHECK_THROWS_AS(cool({}, {}, 10, 30, 3), Error);
  CHECK_NOTHROW(cool(5000, {}, 10, 30, 3));
  CHECK_NOTHROW(cool({}, 900, 10, 30, 3));
  const auto hold = [&](double units, double base, double share, double heat) {
    calibrate(ua(80), season(), {units, base, share}, Energy::from_us(heat));
  };
  refuses([&](double v) { hold(v, 0, 0.5, 8e4); }, {-1, 0, kInf});
  takes([&](double v) { hold(900, v, 0.5, 8e4); }, {0, 900 - kHair});
  refuses([&](double v) { hold(900, v, 0.5, 8e4); }, {-1, 900, 901});
  takes([&](double v) { hold(900, 0, v, 8e4); }, {kHair, 1});
  refuses([&](double v) { hold(900, 0, v, 8e4); }, {0, 1 + kHair});
  above_zero([&](double v) { hold(900, 0, 0.5, v); });
}

// Invariant: the ranges of money.hpp. A step may leave UA as it is and be all fixed cost; it may
// not be worse, nor of the same R.
TEST_CASE("bounds: money and steps") {
  const auto value = [](double life, double discount, double rise) {
    present_value(100, {life, discount, rise});
  };
  above_zero([&](double v) { value(v, 3, 0); });
  refuses([&](double v) { value(v, 3, 0); }, {kInf});
  takes([&](double v) { value(30, v, 0); }, {-100 + kHair, 0, 50});
  refuses([&](double v) { value(30, v, 0); }, {-100, kInf});
  takes([&](double v) { value(30, 3, v); }, {-100 + kHair, 0, 50});
  refuses([&](double v) { value(30, 3, v); }, {-100, kInf});
  refuses([](double v) { present_value(v, {30, 3, 0}); }, {kInf});
  refuses([](double v) { simple_payback(v, 100); }, {kInf});
  refuses([](double v) { simple_payback(1000, v); }, {kInf});
  CHECK(*simple_payback(0, 0) == 0.0);
  CHECK_FALSE(simple_payback(0, -5));  // a loss is bought back by no price
  CHECK_FALSE(simple_payback(1, 0));
  CHECK_FALSE(savings_to_investment(100, 0, {30, 3, 0}));
  CHECK(savings_to_investment(100, kHair, {30, 3, 0}));
  CHECK_FALSE(discounted_payback(1000, 30, {30, 3, 0}));  // I d/S is 1: it takes for ever
  const auto step = [](double r, double ua, double cost, double fixed) {
    StepPlan first, plan;
    first.r = r_value(30);
    first.ua_after = Conductance::from_us(50);
    plan.r = r_value(r);
    plan.ua_after = Conductance::from_us(ua);
    plan.cost = cost;
    plan.fixed_cost = fixed;
    next_steps(Conductance::from_us(80), {first, plan}, 5, {30, 3, 0});
  };
  refuses([&](double v) { step(v, 40, 900, 100); }, {30, 29});
  CHECK_NOTHROW(step(30 + kHair, 40, 900, 100));
  takes([&](double v) { step(40, v, 900, 100); }, {0, 50});
  refuses([&](double v) { step(40, v, 900, 100); }, {50 + kHair, kInf});
  takes([&](double v) { step(40, 45, 900, v); }, {0, 900});
  refuses([&](double v) { step(40, 45, 900, v); }, {900 + kHair, kInf});
  refuses([&](double v) { step(40, 45, v, 0); }, {kInf});
}

// Invariant: the ranges of sealing.hpp.
TEST_CASE("bounds: sealing") {
  const auto list = [](double count, double length, double width, double area,
                       SealingOptions options = {}) {
    Bypass b;
    b.kind = "open-chase";
    b.count = count;
    b.length = inches(length);
    b.width = inches(width);
    b.area = square_feet(area);
    sealing_list({b}, tables(), options);
  };
  from_zero([&](double v) { list(v, 30, 12, 3); });
  from_zero([&](double v) { list(1, v, 12, 3); });
  from_zero([&](double v) { list(1, 30, v, 3); });
  from_zero([&](double v) { list(1, 30, 12, v); });
  takes([&](double v) { list(1, 30, 12, 3, {v, {}, {}}); }, {0, 1 - kHair});
  refuses([&](double v) { list(1, 30, 12, 3, {v, {}, {}}); }, {-kHair, 1});
  above_zero([&](double v) { list(1, 30, 12, 3, {0.1, v, {}}); });
  above_zero([&](double v) { list(1, 30, 12, 3, {0.1, {}, Length::from_us(v)}); });
  above_zero([](double v) { bead_volume_per_ft(Length::from_us(v)); });
}

// Invariant: the ranges of assembly.hpp, ranges.hpp and materials.hpp. A batt has some thickness;
// Student's t needs one degree of freedom; weight times coverage may miss the bag by 5 %.
TEST_CASE("bounds: layers, ranges and charts") {
  const auto batt = [](double r, double label_in, double in) {
    squeezed_batt_r(r_value(r), inches(label_in), inches(in));
  };
  refuses([&](double v) { batt(v, 3.5, 3.5); }, {0, -1});
  refuses([&](double v) { batt(11, v, 3.5); }, {0, -1});
  takes([&](double v) { batt(11, 3.5, v); }, {kHair, 1.75, 3.5, 9});
  refuses([&](double v) { batt(11, 3.5, v); }, {-kHair, 0});
  takes([&](double v) { batt(v, 3.5, 3.5); }, {3.5 / 0.1724 - 1e-4});
  refuses([&](double v) { batt(v, 3.5, 3.5); }, {3.5 / 0.1724 + 1e-4});
  takes([](double v) { student_t_95(v); }, {1, 64, 65});
  refuses([](double v) { student_t_95(v); }, {1 - kHair, kInf});
  const auto chart = [](double coverage, double settled, double initial, double weight) {
    CoverageChart(
        {{r_value(13), inches(3.7), inches(4.2), square_feet(50), MassPerArea::from_us(0.5)},
         {r_value(30), inches(settled), inches(initial), square_feet(coverage),
          MassPerArea::from_us(weight)}},
        Mass::from_us(25), 0);
  };
  takes([&](double v) { chart(v, 8.5, 9.6, 1.25); }, {20 * 1.0499, 20 * 0.9501});
  refuses([&](double v) { chart(v, 8.5, 9.6, 1.25); }, {20 * 1.0501, 20 * 0.9499});
  CHECK_NOTHROW(chart(20, 9.6, 9.6, 1.25));                   // it does not settle
  CHECK_THROWS_AS(chart(20, 9.6 + kHair, 9.6, 1.25), Error);  // it would rise
  CHECK_THROWS_AS(chart(20, 3.7, 9.6, 1.25), Error);
  CHECK_THROWS_AS(chart(20, 4.1, 4.2, 1.25), Error);
  CHECK_THROWS_AS(chart(50, 8.5, 9.6, 0.5), Error);
}
