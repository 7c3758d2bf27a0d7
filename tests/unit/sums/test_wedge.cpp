// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include <array>
#include <cmath>
#include <limits>
#include <string>
#include <vector>

#include "fixtures.hpp"
#include "overjoist/report.hpp"
#include "overjoist/wedge.hpp"

using namespace fixtures;

namespace {

/// A bare floor of no wood, whose fill adds 2.8 R an inch as blown: 5 in. of room over the plate,
/// rising 1 in 2.
Section bare_with_eave(double length_ft = 40) {
  Section s = loose_section({0, 0, 0, 0, 0});
  s.joists->framing_fraction = 0.0;
  s.eave = EaveSurvey{inches(5 + std::sqrt(1.25)), 6.0, inches(12 * length_ft), inches(1), {}};
  return s;
}

/// Way of heat in a wedge that rises 1 in 2 over the upright depth there: an arc of atan(1/2).
const double kArc = std::atan(0.5) / 0.5;

/// Working R of that floor at a level, by the closed form: 1000 ft2, 40 ft of eave, `rho` as blown.
double whole_r(double level, double rho) {
  const double width = (level - 5) / 0.5, share = width / 12 * 40 / 1000, s = kEnds;
  const double arced = kArc * rho;
  const double wedge = std::log((s + arced * level) / (s + arced * 5)) / (0.5 * arced * width);
  return 1 / ((1 - share) / (s + rho * level) + share * wedge) - s;
}

struct WedgeCase {
  std::string what;
  FramingMethod method;
  bool chart, deck;
  double heel;
};

std::vector<WedgeCase> wedge_cases() {
  std::vector<WedgeCase> list;
  for (const FramingMethod method :
       {FramingMethod::parallel, FramingMethod::planes, FramingMethod::mean})
    for (const bool chart : {false, true})
      for (const bool deck : {false, true})
        for (const double heel : {0.0, 3.0, 5.5, 9.0})
          list.push_back({std::to_string(static_cast<int>(method)) + (chart ? " chart" : " row") +
                              (deck ? " deck" : ""),
                          method, chart, deck, heel});
  return list;
}

/// A floor of the wedge's arcs, and the same in which heat goes upright: spots that new fill does
/// not reach at a level are as found.
struct ArcFloor {
  BaseFloor upright;
  NewFill fill;
  double arc;

  FloorR at(Length level) const {
    double bay = 0, both = 0;
    for (const BaseSpot& spot : upright.spots) {
      const bool blown = level > spot.surface;
      BaseFloor one = upright;
      one.spots = {spot};
      one.spots[0].share = 1;
      if (blown) {
        one.framing.wood = upright.framing.wood * arc;
        const auto arced = [&](Resistance r) {
          return upright.ends.both() + (r - upright.ends.both()) * arc;
        };
        one.spots[0].bay = arced(spot.bay);
        one.spots[0].joist = arced(spot.joist);
        one.spots[0].planes = arced(spot.planes);
      }
      const Length settled = new_settled(spot, fill, level);
      const SpotAfter after = spot_under(one, one.spots[0], settled, fill.r(settled) * arc);
      bay += spot.share / after.bay_r;
      both += spot.share * after.both_u;
    }
    return {r_value(1 / bay) - upright.ends.both(), r_value(1 / both), {}, {}};
  }
};

BaseFloor floor_for(const WedgeCase& c) {
  BaseFloor floor = floor_of({0, 1.5, 4, 6.25, 11}, 3.2, kEnds, framing_of(0.1, 7.25));
  floor.framing.method = c.method;
  floor.under_deck = c.deck;
  for (BaseSpot& spot : floor.spots)
    spot.planes = spot.joist * 0.1 + spot.bay * 0.9;  // any value between both will do
  return floor;
}

}  // namespace

// Cost grew with the square of the readings: every depth of an adaptive sum asked every reading.
// Spot by spot the sum is another way to the same integral. Independent: adaptive Simpson over the
// whole floor, with its heat along arcs, which a jump where new fill ends can fool by some 1e-9 of
// U; amounts, which have more of them in
// proportion, within 1e-6.
TEST_CASE("wedge: spot by spot gives what adaptive Simpson gives over the floor") {
  const CoverageChart chart(invented_rows(), Mass::from_us(25), 0.0);
  for (const WedgeCase& c : wedge_cases()) {
    CAPTURE(c.what);
    CAPTURE(c.heel);
    const BaseFloor floor = floor_for(c);
    NewFill fill = fill_of(3.5, 0.2, 2);
    if (c.chart) fill.chart = &chart;
    const Eave eave{inches(c.heel), 5, inches(1), inches(0.5)};
    const EaveStrip strip{eave, inches(400), 1.0 / 400};
    const Length level = inches(14);
    const WedgeMeans got = wedge_means(floor, fill, strip, level, false);
    const Resistance ends = floor.ends.both();
    const ArcFloor arced{floor, fill, std::atan(5.0 / 12) * 12 / 5};
    const auto bay_at = [&](Length z) { return inverse(arced.at(z).working + ends); };
    const auto both_at = [&](Length z) { return inverse(arced.at(z).effective); };
    near(got.bay.us(), wedge_u(eave, level, bay_at).us(), 1e-8);
    near(got.both.us(), wedge_u(eave, level, both_at).us(), 1e-8);
    const auto amounts = [&](Length z) {
      return fill_quantity(floor, fill, z, square_feet(1), {Mass::from_us(25), false});
    };
    const auto mass = [&](Length z) { return Transmittance::from_us(amounts(z).mass->us()); };
    near(got.mass.us(), wedge_u(eave, level, mass).us(), 1e-6);
    near(
        got.settled.us(),
        wedge_u(eave, level, [&](Length z) { return Transmittance::from_us(amounts(z).mean.us()); })
            .us(),
        1e-6);
    if (c.chart)
      near(got.bags_per_ft2,
           wedge_u(eave, level, [&](Length z) { return Transmittance::from_us(*amounts(z).bags); })
               .us(),
           1e-6);
    double shares = 0;
    for (const BaseSpot& spot : floor.spots) shares += spot.share;
    near(strip_scatter(floor, fill, &strip, {Basis::effective, level}).mean() * shares,
         1 / strip_r(floor, fill, &strip, level).effective.us(), kNoise);
  }
}

// A U that is no number was halved for ever. Invariant: the header promises an error for it, and an
// end after 10,000 pieces (four new points each at most, and those of the first eight) for a
// function that never settles.
TEST_CASE("wedge: adaptive Simpson always ends") {
  const Eave eave{inches(1), 4, inches(1), inches(0)};
  const auto no_number = [](Length z) {
    return Transmittance::from_us(z.us() > 3 ? std::nan("") : 0.05);
  };
  CHECK_THROWS_WITH_AS(wedge_u(eave, inches(14), no_number), doctest::Contains("not a number"),
                       Error);
  const auto endless = [](Length z) {
    return Transmittance::from_us(z.us() > 3 ? std::numeric_limits<double>::infinity() : 0.05);
  };
  CHECK_THROWS_AS(wedge_u(eave, inches(14), endless), Error);
  int asked = 0;
  const auto restless = [&](Length z) {
    ++asked;
    return Transmittance::from_us(std::fmod(std::fabs(std::sin(z.us() * 1e9)) * 1e6, 1.0));
  };
  const double mean = wedge_u(eave, inches(14), restless).us();
  CHECK(asked > 10000);
  CHECK(asked < 45000);
  CHECK(mean > 0.3);
  CHECK(mean < 0.7);
}

// The level's range, the sure level and the level within the weight were those of the field, so
// that 15 1/2 in. showed more R than 17. Hand derivation: the closed form of the mean over the
// wedge, with cellulose at both ends of its range in the table; equal readings leave no other
// spread.
TEST_CASE("wedge: range, sure level and level within the weight hold the eave") {
  const Material* m = tables().material("cellulose-loose");
  REQUIRE(m);
  const double keeps = 1 - *m->settling_high, low = m->low->us() * keeps,
               high = m->high->us() * keeps;
  const Evaluation e = run(survey_of({bare_with_eave()}, 38, 44));
  const TopUp& t = e.planned.low.sections[0];
  const double level = t.initial_level->us();
  near(t.working_r.us(), whole_r(level, m->central()->us() * keeps), 1e-6);
  REQUIRE(t.working_r_range);
  near(t.working_r_range->low.us(), whole_r(level, low), 1e-6);
  near(t.working_r_range->high->us(), whole_r(level, high), 1e-6);
  REQUIRE(t.confident_level);
  const double sure = t.confident_level->us();
  CHECK(whole_r(sure, low) >= 38 - 1e-6);
  CHECK(whole_r(sure - kLevelStep, low) < 38);
  Survey heavy = survey_of({bare_with_eave()}, 38, 49);
  heavy.sections[0].joists->spacing = inches(24);
  const TopUp top = run(heavy).planned.high.sections[0];
  REQUIRE(top.within_weight);
  REQUIRE(top.within_weight->initial_level < *top.initial_level);
  CHECK(top.within_weight->working_r < top.working_r);
  near(top.within_weight->working_r.us(),
       whole_r(top.within_weight->initial_level.us(), m->central()->us() * keeps), 1e-6);
}

// "reached" was said of the field. Hand derivation: the field reaches R-38 at its level, the closed
// form of the whole floor does not; an eave with room for every level changes nothing. Half the
// outermost part is bare, so the least new depth is nothing.
TEST_CASE("wedge: reached is said of the whole section") {
  Section s = bare_with_eave();
  const TopUp with = run(survey_of({s}, 38, 49)).planned.low.sections[0];
  REQUIRE(with.eave);
  CHECK(with.status == TopUpStatus::needed);
  CHECK(whole_r(with.initial_level->us(), 2.8) < 38);
  CHECK_FALSE(with.reached);
  CHECK(with.falls_short());
  near(with.new_depth->least.us(), 5 * 0.8, 1e-6);
  near(with.new_depth_initial->least.us(), 5, 1e-6);
  near(with.eave->least_field.us(), with.new_depth->greatest.us(), kNoise);
  s.eave->heel = inches(0.5);
  CHECK(run(survey_of({s}, 38, 49)).planned.low.sections[0].new_depth->least == Length{});
  s.eave->heel = inches(30);
  const TopUp roomy = run(survey_of({s}, 38, 49)).planned.low.sections[0];
  CHECK(roomy.reached);
  CHECK_FALSE(roomy.falls_short());
}

// A strip narrower than its wedge was refused. Hand derivation: 1000 ft2 along 1000 ft of eave are
// 12 in. wide: room from 5 in. over the plate to 11 in., which is the highest level; all of it is
// wedge, with ρ = 2.8 times the arc's 0.927 U = ln((1.52 + 11ρ)/(1.52 + 5ρ))/(0.5·ρ·12), mean depth
// 8 in.
TEST_CASE("wedge: a strip narrower than the wedge is worked out") {
  const Evaluation e = run(survey_of({bare_with_eave(1000)}, 38, 49));
  const TopUp& t = e.planned.high.sections[0];
  near(t.initial_level->us(), 11, 1e-9);
  CHECK(t.status == TopUpStatus::unreachable);
  CHECK(t.limited_by == LimitedBy::headroom);
  CHECK_FALSE(t.reached);
  REQUIRE(t.eave);
  near(t.eave->width.us(), 12, 1e-9);
  near(t.eave->area.us(), 1000, 1e-6);
  const double rho = 2.8 * kArc;
  near(t.working_r.us(), 0.5 * rho * 12 / std::log((kEnds + rho * 11) / (kEnds + rho * 5)) - kEnds,
       1e-6);
  near(t.added_mass->us(),
       1000 * 8 * 0.8 / 12 * tables().material("cellulose-loose")->density_high->us(), 1e-6);
}

// Foam sprayed to a level was bought for the whole strip. Hand derivation: 12 in. of strip, 5 to 11
// in. deep: 8 board feet a ft2.
TEST_CASE("wedge: board feet hold the eave") {
  Survey survey = survey_of({bare_with_eave(1000)}, 38, 60);
  survey.proposal = Proposal{};
  survey.proposal->material = "spray-foam-open-cell";
  for (const Material& m : tables().materials)
    if (m.form == Form::spray && m.central() && m.central()->us() < 4.5)
      survey.proposal->material = m.id;
  const TopUp t = run(survey).planned.high.sections[0];
  REQUIRE(t.board_ft_exact);
  REQUIRE(t.eave);
  near(*t.board_ft_exact, 8000, 1e-6);
}

// Mean new depth and weight were those of the field. Hand derivation: 5 in. of room at the plate
// rising 1 in 2 to the level L over a width of 2(L - 5): the strip's mean depth as blown is (5 +
// L)/2, a fifth less once settled, and its weight goes with it; no wood, so that the mass is the
// mean weight over all of the area. The greatest is still that of the field.
TEST_CASE("wedge: mean depth and mean weight are of the whole section") {
  const TopUp t = run(survey_of({bare_with_eave()}, 38, 49)).planned.low.sections[0];
  REQUIRE(t.eave);
  const double level = t.initial_level->us(), share = 2 * (level - 5) / 12 * 40 / 1000;
  const double initial = (1 - share) * level + share * (5 + level) / 2;
  const double density = tables().material("cellulose-loose")->density_high->us();
  CHECK(share > 0.05);
  near(t.new_depth_initial->mean.us(), initial, 1e-6);
  near(t.new_depth->mean.us(), 0.8 * initial, 1e-6);
  near(t.new_depth->greatest.us(), 0.8 * level, 1e-6);
  near(t.new_depth->least.us(), 0.8 * 5, 1e-6);
  near(t.added_weight->us(), 0.8 * initial * density / 12, 1e-6);
  near(t.weight->us(), t.added_weight->us(), 1e-9);
  near(t.weight_greatest->us(), 0.8 * level * density / 12, 1e-6);
  near(t.added_mass->us(), t.added_weight->us() * 1000, 1e-5);
  near(t.eave->mean_field.us(), 0.8 * level, 1e-6);
  near(t.field_initial()->us(), level, 1e-6);
}

// Invariant: with a chart too, the mean over the section lies between least and greatest, and mass
// is weight times area where no wood is.
TEST_CASE("wedge: with a chart the means are of the whole section too") {
  const TopUp t = run(with_chart(survey_of({bare_with_eave()}, 30, 38), invented_rows()))
                      .planned.high.sections[0];
  REQUIRE(t.eave);
  CHECK(t.new_depth->mean < t.eave->mean_field);
  CHECK(t.new_depth->least < t.new_depth->mean);
  near(t.added_mass->us() / 1000, t.added_weight->us(), 1e-6);
}

// A caution spoke of "the field" where the strip is the whole floor. Hand derivation: 12 in. of
// floor, as above, are all strip.
TEST_CASE("wedge: no field is spoken of where there is none") {
  const Evaluation e = run(survey_of({bare_with_eave(1000)}, 38, 49));
  CHECK(e.planned.high.sections[0].eave->no_field);
  CHECK(raises(e, "eave-all"));
  CHECK_FALSE(raises(e, "eave-short"));
  near(e.planned.high.sections[0].new_depth_initial->mean.us(), 8, 1e-6);
  std::string text;
  write_text(text, e, tables(), TextStyle{});
  CHECK(text.find("the field") == std::string::npos);
  CHECK(text.find("low over the whole section") != std::string::npos);
  const Evaluation some = run(survey_of({bare_with_eave()}, 38, 49));
  CHECK_FALSE(some.planned.high.sections[0].eave->no_field);
  CHECK(raises(some, "eave-short"));
  CHECK_FALSE(raises(some, "eave-all"));
}

// Symptom: every level that a search tries summed the whole wedge anew, row by row of the chart and
// spot by spot. Invariant: one sum for all levels gives what a sum for each gives (rounding noise).
TEST_CASE("wedge: the sums of one floor serve every level") {
  std::vector<ChartRow> rows;
  for (int i = 0; i < 40; ++i) {
    const double r = 11 + i * 1.25;
    rows.push_back(
        {r_value(r), inches(r / 3.5), inches(r / 2.9), {}, MassPerArea::from_us(r / 30)});
  }
  const CoverageChart chart(rows, Mass::from_us(25), 0.0);
  NewFill fill = fill_of(3.5, 0.2, 2);
  fill.chart = &chart;
  BaseFloor floor = floor_for(wedge_cases().front());
  const BaseSpot like = floor.spots.front();
  floor.spots.clear();
  for (int i = 0; i < 200; ++i) {
    BaseSpot spot = like;
    spot.share = 1.0 / 200;
    spot.spot = static_cast<std::size_t>(i);
    spot.surface = inches(i * 0.04);
    spot.bay = like.bay + r_value(i * 0.1);
    floor.spots.push_back(spot);
  }
  const Eave eave{inches(6), 5, inches(1), inches(0.5)};
  const EaveStrip strip{eave, inches(400), 1.0 / 400};
  const StripScatter once(floor, fill, &strip, inches(12));
  for (double level = 10; level < 19; level += 0.25) {
    for (const Basis basis : {Basis::working, Basis::effective}) {
      const double by_one = once.at({basis, inches(level)}).mean();
      const StripR whole = strip_r(floor, fill, &strip, inches(level));
      const Resistance ends = basis == Basis::working ? floor.ends.both() : Resistance{};
      near(1 / by_one, ((basis == Basis::working ? whole.working : whole.effective) + ends).us(),
           1e-9);
    }
  }
}
