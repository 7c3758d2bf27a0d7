// SPDX-License-Identifier: MIT
// The plan as JSON and text, and the work order.
#include <doctest/doctest.h>

#include <sstream>

#include "fixtures.hpp"
#include "overjoist/report.hpp"

using namespace fixtures;

namespace {

bool has(const std::string& text, std::string_view part) {
  return text.find(part) != std::string::npos;
}

/// A small house with a leak of each sort: known, not known, not measured.
Survey leaky() {
  Survey s = survey_of({loose_section({4, 4, 4, 4, 4}), hatch_section(5, 2)}, 38, 49);
  s.label = "12 Oak Street";
  s.sections[0].bypasses = {{"flue", "furnace", 1, {}, {}, {}},
                            {"open-chase", "bath", 0, {}, {}, square_feet(4)},
                            {"top-plate", "hall", 0, {}, {}, {}}};
  s.proposal->price_per_bag = 15;
  s.proposal->labour = Labour{0.5, {}, {}};
  s.proposal->currency = "$";
  s.proposal->bag_net = Mass::from_us(25);
  return s;
}

std::string order_of(const Survey& survey, const OrderStyle& style) {
  std::string out;
  write_order_text(out, run(survey), tables(), style);
  return out;
}

void check_columns(const std::string& text) {
  std::istringstream lines(text);
  for (std::string line; std::getline(lines, line);) CHECK_MESSAGE(line.size() <= 80, line);
}

}  // namespace

// Invariant: the keys of `plan` and `counts`; what is not known is null, never 0.
TEST_CASE(
    "plan report: JSON carries readiness, sealing, tests, vents and counts, and null for what is "
    "not known") {
  std::string out;
  write_json(out, run(leaky()), tables(), {});
  for (
      const char* part :
      {R"("plan":{"readiness":{"ready":false,"state":"not-ready","not_looked_at":["hazards",)"
       R"("vents"],"missing":[)",
       R"("code":"seal-first","level":"care","where":"attic","what":"air sealing to be done")",
       R"({"kind":"flue","where":"furnace","rank":2,"entered":true,"unit":"each","quantity":1,)",
       R"("fire_rule":"No foam)",
       R"({"kind":"top-plate","where":"hall","rank":4,"entered":true,"unit":"ft","quantity":null,)",
       R"({"kind":"hatch","where":"hatch","rank":6,"entered":false,)",
       R"("leak_in2":null,"leak_sealed_in2":null,"leak_status":null})", R"("foam_cans":null)",
       R"("not_measured":1)",
       R"("known":1,"not_known":3,"method":null,"heat_upper_bound_btu_per_year":null)",
       R"("tests":[{"code":"combustion-test","when":"before-sealing")",
       R"("ventilation":{"entered":false)", R"("verdict":"unknown")", R"("missing_in2":null)",
       R"("counts":{"baffles":null,"dams":2,"flue_dams":1)"}) {
    CAPTURE(part);
    CHECK(has(out, part));
  }
}

// Invariant: 80 columns, and every part of the plan in the text for people, in US and SI.
TEST_CASE("plan report: the text says what is missing, what is sealed and what is not known") {
  std::string out;
  write_text(out, run(leaky()), tables(), {});
  for (const char* part :
       {"The plan", "not ready to insulate", "biggest holes first", "bath: 4 ft2", "not measured",
        "Leakage not known", "left out of the sum", "before sealing: combustion safety test",
        "ASHRAE 62.2", "No vents", "depth markers"}) {
    CAPTURE(part);
    CHECK(has(out, part));
  }
  check_columns(out);
  out.clear();
  write_text(out, run(leaky()), tables(), {Units::si, false});
  CHECK(has(out, "cm2 of net free area"));
  CHECK(has(out, "bath: 0.4 m2"));
  check_columns(out);
}

// Common practice: the order of attic work: make safe, seal, vent, dams and covers, insulate,
// hatch, inspect.
TEST_CASE(
    "order: the steps stand in the order of the work, and the truck's load and prices follow") {
  const std::string out = order_of(leaky(), {});
  std::size_t last = 0;
  for (const char* part :
       {"Work order: 12 Oak Street", "1. Make safe", "2. Seal", "3. Ventilate", "4. Dams",
        "5. Insulate", "6. Hatch", "7. Inspect", "Load the truck", "Prices"}) {
    CAPTURE(part);
    const std::size_t at = out.find(part);
    REQUIRE(at != std::string::npos);
    CHECK(at >= last);
    last = at;
  }
  check_columns(out);
}

// Invariant: without prices no money stands anywhere; quantities stay.
TEST_CASE("order: without prices there is no money, and the quantities stay") {
  OrderStyle style;
  style.prices = false;
  const std::string out = order_of(leaky(), style);
  CHECK_FALSE(has(out, "$"));
  CHECK_FALSE(has(out, "Prices"));
  CHECK(has(out, "bags of 25 lb"));
  CHECK(has(order_of(leaky(), {}), "$"));
}

// Invariant: the order is that of one end of the band: its level and its bags, not the other's.
TEST_CASE("order: each end of the band has its own level and bags") {
  const Evaluation e = run(leaky());
  OrderStyle low;
  low.end = End::low;
  const std::string at_low = order_of(leaky(), low), at_high = order_of(leaky(), {});
  const auto bags = [](const Totals& t) {
    return "bags of 25 lb: " + std::to_string(static_cast<int>(*t.bags)) + " bags";
  };
  CHECK(has(at_low, "Target R-38 (low end"));
  CHECK(has(at_high, "Target R-49 (high end"));
  CHECK(has(at_low, bags(e.planned.low.totals)));
  CHECK_FALSE(has(at_low, bags(e.planned.high.totals)));
  CHECK(has(at_high, bags(e.planned.high.totals)));
}

// Invariant: no format keeps a caution back, and none lets a survey's text steer a terminal.
TEST_CASE("order: a stop stands above all steps, and texts of the survey are made safe") {
  Survey s = leaky();
  s.hazards = {{"knob-and-tube", "south\x1b[2J", "", "", ""}};
  const std::string out = order_of(s, {});
  CHECK(out.find("STOP") < out.find("1. Make safe"));
  CHECK(has(out, "stop: knob-and-tube wiring"));
  CHECK_FALSE(has(out, "\x1b"));
}

// Hand derivation: nothing to blow, no hatch, no leak: every step still says so.
TEST_CASE("order: an attic at its target gets an order without bags") {
  const std::string out = order_of(survey_of({loose_section({20, 20, 20, 20, 20})}), {});
  CHECK(has(out, "no bypass was entered"));
  CHECK(has(out, "no fill."));
  CHECK(has(out, "No hatch or stair was entered"));
  CHECK_FALSE(has(out, "depth markers"));
}

// Invariant: a list that holds hatches alone is no sign that anybody looked for leaks.
TEST_CASE("plan report: where no bypass was entered the text says to look for them") {
  Survey s = leaky();
  CHECK_FALSE(has(order_of(s, {}), "no bypass was entered"));
  s.sections[0].bypasses.clear();
  const std::string out = order_of(s, {});
  CHECK(has(out, "no bypass was entered"));
  CHECK(has(out, "attic hatch or door"));
}
