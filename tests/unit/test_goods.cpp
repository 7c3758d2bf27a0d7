// SPDX-License-Identifier: MIT
// The shopping list: every count is one that the evaluation holds, and what is not known stays so.
#include "overjoist/goods.hpp"

#include <doctest/doctest.h>
#include <algorithm>
#include <sstream>

#include "fixtures.hpp"
#include "overjoist/report.hpp"

using namespace fixtures;

namespace {

/// A small house with a leak of each sort, a flue, and a hatch that gets an R.
Survey leaky() {
  Survey s = survey_of({loose_section({4, 4, 4, 4, 4}), hatch_section(5, 2)}, 38, 49);
  s.label = "12 Oak Street";
  s.sections[0].bypasses = {
      {"flue", "furnace", 1, {}, {}, {}}, {"open-chase", "bath", 0, {}, {}, square_feet(4)}, {"top-plate", "hall", 0, {}, {}, {}}};
  s.proposal->price_per_bag = 15;
  s.proposal->currency = "$";
  s.proposal->bag_net = Mass::from_us(25);
  return s;
}

const Good* find(const std::vector<Good>& goods, std::string_view what) {
  const auto at = std::find_if(goods.begin(), goods.end(), [&](const Good& g) { return g.what == what; });
  return at == goods.end() ? nullptr : &*at;
}

}  // namespace

// Invariant: bags of the totals, their price as the totals have it, and the counts of both ends.
TEST_CASE("goods: bags, sealing goods and counts are those of the evaluation") {
  const Evaluation e = run(leaky());
  const std::vector<Good> goods = goods_list(e, tables());
  const Good* bags = find(goods, e.added_material);
  REQUIRE(bags);
  CHECK(bags->low == e.low.bags);
  CHECK(bags->high == e.high.bags);
  CHECK(*bags->low < *bags->high);
  CHECK(bags->unit_price == 15.0);
  CHECK(bags->price_high == *e.high.bags * 15);
  CHECK(bags->net->us() == 25);
  const Good* tubes = find(goods, "high-temperature non-combustible sealant");
  REQUIRE(tubes);
  CHECK(tubes->low == e.plan.sealing.totals.heat_tubes_small);
  CHECK(find(goods, "metal dams for flues and chimneys")->high == 1.0);
  CHECK(find(goods, "depth markers")->low == static_cast<double>(e.plan.low->markers));
}

// Invariant: 0 would say that none is needed.
TEST_CASE("goods: what the survey does not tell is not known, not 0, and what is not needed is no line") {
  const Evaluation e = run(leaky());
  const std::vector<Good> goods = goods_list(e, tables());
  const Good* baffles = find(goods, "baffles");
  REQUIRE(baffles);
  CHECK_FALSE(baffles->low);
  const auto hall = std::find_if(goods.begin(), goods.end(), [](const Good& g) { return g.note == "hall"; });
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
  for (const Caution& c : e.cautions) {
    CAPTURE(tables().cautions[c.row].code);
    CHECK(json.find('"' + tables().cautions[c.row].code + '"') != std::string::npos);
    CHECK(csv.find(tables().cautions[c.row].code) != std::string::npos);
  }
}
