// SPDX-License-Identifier: MIT
// The shopping list: every count is one that the evaluation holds, and what is not known stays so.
#include "overjoist/goods.hpp"

#include <doctest/doctest.h>
#include <algorithm>
#include <sstream>
#include <tuple>

#include "fixtures.hpp"
#include "overjoist/report.hpp"

using namespace fixtures;

namespace {

/// A small house with a leak of each sort, a flue, and a hatch that gets an R.
Survey leaky() {
  Survey s = survey_of({loose_section({4, 4, 4, 4, 4}), hatch_section(5, 2)}, 38, 49);
  s.label = "12 Oak Street";
  s.sections[0].bypasses = {{"flue", "furnace", 1, {}, {}, {}},
                            {"open-chase", "bath", 0, {}, {}, square_feet(4)},
                            {"top-plate", "hall", 0, {}, {}, {}}};
  s.proposal->price_per_bag = 15;
  s.proposal->currency = "$";
  s.proposal->bag_net = Mass::from_us(25);
  return s;
}

const Good* find(const std::vector<Good>& goods, std::string_view what) {
  const auto at =
      std::find_if(goods.begin(), goods.end(), [&](const Good& g) { return g.what == what; });
  return at == goods.end() ? nullptr : &*at;
}

}  // namespace

// Invariant: bags of the totals, their price as the totals have it, and the counts of both ends.
TEST_CASE("goods: bags, sealing goods and counts are those of the evaluation") {
  const Evaluation e = run(leaky());
  const std::vector<Good> goods = goods_list(e, tables());
  const Good* bags = find(goods, e.added_material);
  REQUIRE(bags);
  CHECK(bags->low == e.planned.low.totals.bags);
  CHECK(bags->high == e.planned.high.totals.bags);
  CHECK(*bags->low < *bags->high);
  CHECK(bags->unit_price == 15.0);
  CHECK(bags->price_high == *e.planned.high.totals.bags * 15);
  CHECK(bags->net->us() == 25);
  const Good* tubes = find(goods, "high-temperature non-combustible sealant");
  REQUIRE(tubes);
  CHECK(tubes->low == e.plan.sealing.totals.heat_tubes_small);
  CHECK(find(goods, "metal dams for flues and chimneys")->high == 1.0);
  CHECK(find(goods, "depth markers")->low == static_cast<double>(e.planned.low.counts.markers));
}

// Invariant: 0 would say that none is needed.
TEST_CASE(
    "goods: what the survey does not tell is not known, not 0, and what is not needed is no line") {
  const Evaluation e = run(leaky());
  const std::vector<Good> goods = goods_list(e, tables());
  const Good* baffles = find(goods, "baffles");
  REQUIRE(baffles);
  CHECK_FALSE(baffles->low);
  const auto hall =
      std::find_if(goods.begin(), goods.end(), [](const Good& g) { return g.note == "hall"; });
  REQUIRE(hall != goods.end());
  CHECK_FALSE(hall->high);
  CHECK_FALSE(find(goods, "fire-rated light covers"));
  for (const Good& g : goods) CHECK_FALSE((g.low == 0.0 && g.high == 0.0));
}

// Common practice: a dense pack is bought by weight, a batt by the area it covers.
TEST_CASE("goods: a wall's batt is bought by area") {
  Survey s = survey_of({loose_section({4, 4, 4, 4, 4})}, 38, 49);
  Section wall;
  wall.name = "knee wall";
  wall.kind = SectionKind::knee_wall;
  wall.area = square_feet(80);
  s.sections.push_back(wall);
  const Evaluation e = run(s);
  REQUIRE(e.sections[1].cavity);
  const std::vector<Good> goods = goods_list(e, tables());
  const Good* batt = find(goods, e.sections[1].cavity->material);
  REQUIRE(batt);
  CHECK(batt->unit == GoodUnit::ft2);
  CHECK(*batt->low == doctest::Approx(80).epsilon(1e-12));  // exact arithmetic: rounding noise only
}

// Invariant: 80 columns in both units, cautions in all three formats.
TEST_CASE("goods: text keeps to 80 columns, and no format loses a caution") {
  Survey s = leaky();
  s.hazards.push_back({"bats", "north end", {}, {}, {}});
  const Evaluation e = run(s);
  for (const Units units : {Units::us, Units::si}) {
    std::string text;
    write_goods_text(text, e, tables(), {units});
    std::istringstream lines(text);
    for (std::string line; std::getline(lines, line);) CHECK_MESSAGE(line.size() <= 80, line);
    CHECK(text.find("STOP") < text.find("Buy and load"));
  }
  std::string json, csv;
  write_goods_json(json, e, tables(), {});
  write_goods_csv(csv, e, tables(), {}, {});
  for (const Caution& c : e.findings.cautions) {
    CAPTURE(tables().cautions[c.row].code);
    CHECK(json.find('"' + tables().cautions[c.row].code + '"') != std::string::npos);
    CHECK(csv.find(tables().cautions[c.row].code) != std::string::npos);
  }
}

// Hand derivation: packages have one price for all products together, that of the totals, on the
// last line alone; a product that one end does not lay is 0 there, and one that neither lays is no
// line.
TEST_CASE("goods: products of a list are lines of their own, the price on the last") {
  Survey s = survey_of({loose_section({5.5, 5.5, 5.5})}, 38, 49);
  s.proposal = Proposal{};
  for (const auto& [name, r, in] : {std::tuple("six", 19.0, 6.25), std::tuple("ten", 30.0, 10.0),
                                    std::tuple("twelve", 38.0, 12.0)}) {
    BattProduct p;
    p.name = name;
    p.label_r = r_value(r);
    p.thickness = inches(in);
    p.coverage = square_feet(50);
    p.price = 60.0;
    s.proposal->batts.push_back(p);
  }
  s.proposal->waste_percent = 0.0;
  const Evaluation e = run(s);  // R-19 for for R-49, as test_batts.cpp derives; 1,000
                                // ft2 / 50 = 20 packages at 60
  const std::vector<Good> goods = goods_list(e, tables());
  const Good *six = find(goods, "six"), *ten = find(goods, "ten");
  REQUIRE(six);
  REQUIRE(ten);
  CHECK_FALSE(find(goods, "twelve"));
  CHECK(six->low == 20.0);
  CHECK(six->high == 0.0);
  CHECK(ten->low == 0.0);
  CHECK(ten->high == 20.0);
  CHECK_FALSE(six->price_low);
  CHECK(ten->price_low == 1200.0);
  CHECK(ten->price_high == 1200.0);
}

// Hand derivation: 30 ft of plate take 60 ft of 1/4 in. bead, 12 pi/4 (1/4)^2 = 0.589 in3 a
// foot, 35.3 in3: two small tubes of 18.2 or one large of
// 52. With a can's yield given the foam takes their place.
TEST_CASE("goods: caulk says how many large tubes would do, unless foam takes its place") {
  Survey s = survey_of({loose_section({4, 4, 4})});
  s.sections[0].bypasses = {{"top-plate", "hall", 0, inches(360), {}, {}}};
  const auto caulk = [&] { return goods_list(run(s), tables()); };
  REQUIRE(find(caulk(), "caulk"));
  CHECK(find(caulk(), "caulk")->low == 2.0);
  CHECK(find(caulk(), "caulk")->note == "or large tubes: 1");
  CHECK_FALSE(find(caulk(), "one-part foam"));
  s.sealing.foam_board_ft_per_can = 2;
  REQUIRE(find(caulk(), "one-part foam"));
  CHECK(find(caulk(), "one-part foam")->low == 1.0);
  CHECK_FALSE(find(caulk(), "caulk"));
}

// Common practice: a dense pack is bought by weight; a board across the wood by the face. Hand
// derivation: 5.5 - 1 = 4.5 in. of room at the row's 4 lb/ft3 is 1.5 lb/ft2 over 200 ft2
// less 1.5/16 of wood: 271.875 lb.
TEST_CASE("goods: a slope's dense pack is bought by weight, a board across it by area") {
  Section slope;
  slope.name = "slope";
  slope.kind = SectionKind::slope;
  slope.area = square_feet(200);
  slope.add = layer_of("cellulose-dense");
  slope.continuous_r = r_value(6);
  const Evaluation e = run(survey_of({slope}));
  const std::vector<Good> goods = goods_list(e, tables());
  const Good* pack = find(goods, "dense-pack cellulose");
  REQUIRE(pack);
  CHECK(pack->unit == GoodUnit::lb);
  near(*pack->high, 271.875, 1e-9);
  CHECK(pack->note == "slope, dense pack");
  const Good* board = find(goods, "board across the wood");
  REQUIRE(board);
  CHECK(board->unit == GoodUnit::ft2);
  near(*board->high, 200, 1e-9);
}
