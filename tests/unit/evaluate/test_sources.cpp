// SPDX-License-Identifier: MIT
// A result names the sources of every row and figure that it used, and of none that it did not.
#include <doctest/doctest.h>

#include <algorithm>

#include "fixtures.hpp"

using namespace fixtures;

namespace {

bool names(const Evaluation& e, const std::string& id) {
  return std::any_of(e.findings.sources.begin(), e.findings.sources.end(),
                     [&](std::size_t row) { return tables().sources[row].id == id; });
}

bool names_all(const Evaluation& e, const std::vector<std::string>& ids) {
  return !ids.empty() &&
         std::all_of(ids.begin(), ids.end(), [&](const std::string& id) { return names(e, id); });
}

const std::vector<std::string>& of_money(const std::string& id) {
  for (const MoneyDefault& d : tables().money)
    if (d.id == id) return d.sources;
  FAIL(id);
  return tables().money.front().sources;
}

const std::vector<std::string>& of_figure(const std::string& id) {
  for (const FigureRow& f : tables().figures)
    if (f.id == id) return f.sources;
  FAIL(id);
  return tables().figures.front().sources;
}

/// Tables in which one row alone has a source, a new one: whatever names it has used that row.
template <class Mark>
bool uses(const Survey& survey, Mark mark) {
  Tables marked = tables();
  SourceRow row = marked.sources.front();
  row.id = "a-source-of-the-test";
  marked.sources.push_back(row);
  marked.build_indexes();
  mark(marked).push_back(row.id);
  const Evaluation e = evaluate(survey, marked);
  return std::find(e.findings.sources.begin(), e.findings.sources.end(),
                   marked.sources.size() - 1) != e.findings.sources.end();
}

bool uses_material(const Survey& survey, const std::string& id) {
  return uses(survey, [&](Tables& t) -> std::vector<std::string>& {
    return std::find_if(t.materials.begin(), t.materials.end(),
                        [&](const Material& m) { return m.id == id; })
        ->sources;
  });
}
bool uses_money(const Survey& survey, const std::string& id) {
  return uses(survey, [&](Tables& t) -> std::vector<std::string>& {
    return std::find_if(t.money.begin(), t.money.end(),
                        [&](const MoneyDefault& d) { return d.id == id; })
        ->sources;
  });
}
bool uses_figure(const Survey& survey, const std::string& id) {
  return uses(survey, [&](Tables& t) -> std::vector<std::string>& {
    return std::find_if(t.figures.begin(), t.figures.end(),
                        [&](const FigureRow& f) { return f.id == id; })
        ->sources;
  });
}
bool uses_bypass(const Survey& survey, const std::string& id) {
  return uses(survey, [&](Tables& t) -> std::vector<std::string>& {
    return std::find_if(t.bypasses.begin(), t.bypasses.end(),
                        [&](const BypassRow& b) { return b.id == id; })
        ->sources;
  });
}
bool uses_limit(const Survey& survey, const std::string& board, double spacing) {
  return uses(survey, [&](Tables& t) -> std::vector<std::string>& {
    return std::find_if(
               t.limits.begin(), t.limits.end(),
               [&](const CeilingLimit& l) { return l.board == board && l.spacing.us() == spacing; })
        ->sources;
  });
}

Survey floor_survey() { return survey_of({loose_section({4, 5, 6})}); }

}  // namespace

// Invariant: old fill, ceiling and new fill are rows of the material table, and what is used is
// named.
TEST_CASE("sources: those of the old fill, the ceiling, the deck and the new fill") {
  Survey s = survey_of({loose_section({4, 4}, "unknown-loose")});
  CHECK(uses_material(s, "unknown-loose"));
  CHECK(uses_material(s, "gypsum-1/2"));
  CHECK(uses_material(s, "cellulose-loose"));
  CHECK_FALSE(uses_material(s, "glass-fiber-loose"));
  CHECK_FALSE(uses_material(s, "plywood-3/4"));
  s.sections[0].kind = SectionKind::decked;
  s.sections[0].deck = Board{"plywood-3/4", {}, {}};
  CHECK(uses_material(s, "plywood-3/4"));
  s.sections[0].ceiling = Board{"", {}, r_value(0.6)};
  CHECK_FALSE(uses_material(s, "gypsum-1/2"));
  s.proposal = Proposal{};
  BattProduct batt;
  batt.name = "invented";
  batt.thickness = inches(6.25);
  batt.label_r = r_value(19);
  batt.coverage = square_feet(50);
  s.proposal->batts = {batt};
  CHECK(uses_material(s, "glass-fiber-batt"));
  CHECK_FALSE(uses_material(s, "cellulose-loose"));
}

// Invariant: the row of the limit table that the ceiling is held against, that of its spacing.
TEST_CASE("sources: that of the ceiling's weight limit") {
  const Survey s = floor_survey();
  CHECK(uses_limit(s, "gypsum-1/2", 16));
  CHECK_FALSE(uses_limit(s, "gypsum-1/2", 24));
  CHECK_FALSE(uses_limit(s, "gypsum-5/8", 24));
}

// Invariant: a default of money.json is named where it is taken, and not where the survey gives its
// own.
TEST_CASE("sources: those of the money defaults that were taken") {
  Survey s = priced_with_gas(floor_survey());
  CHECK(uses_money(s, "life-years"));
  CHECK(uses_money(s, "real-discount-rate-percent"));
  CHECK_FALSE(uses_money(s, "ceiling-bill-share"));
  CHECK(names_all(run(s), of_money("life-years")));
  s.money = MoneyWish{};
  s.money->life_years = 20;
  CHECK_FALSE(uses_money(s, "life-years"));
  s.money->real_discount_rate_percent = 2;
  CHECK_FALSE(uses_money(s, "real-discount-rate-percent"));
  s.heating->bills = HeatingBills{900, {}};
  CHECK(uses_money(s, "ceiling-bill-share"));
}

// Invariant: figures of the sealing and vent tables are named where they counted.
TEST_CASE("sources: those of figures for vents, goods and leaks") {
  Survey s = floor_survey();
  for (const char* id : {"vent-ratio", "vent-ratio-reduced", "vent-retarder-zone", "vent-upper-low",
                         "vent-upper-high", "tube-small", "tube-large", "sheet-waste",
                         "weatherstrip-waste", "flow-exponent", "stack-height", "dam-flue-margin"})
    CHECK_FALSE_MESSAGE(uses_figure(s, id), id);
  CHECK(uses_figure(s, "marker-area"));
  s.ventilation = VentilationSurvey{square_feet(1), square_feet(1), {}, {}, {}};
  for (const char* id : {"vent-ratio", "vent-ratio-reduced", "vent-retarder-zone", "vent-upper-low",
                         "vent-upper-high"})
    CHECK_MESSAGE(uses_figure(s, id), id);
  s.sections[0].bypasses = {{"flue", "furnace", 1, {}, {}, {}}};
  CHECK(uses_bypass(s, "flue"));
  CHECK_FALSE(uses_bypass(s, "top-plate"));
  for (const char* id :
       {"tube-small", "tube-large", "sheet-waste", "weatherstrip-waste", "dam-flue-margin"})
    CHECK_MESSAGE(uses_figure(s, id), id);
  CHECK_FALSE(uses_figure(s, "flow-exponent"));
  s.site.outdoor_mean_f = 45;
  s.site.outdoor_sd_f = 16;
  for (const char* id :
       {"flow-exponent", "stack-height", "indoor-temperature", "balance-temperature"})
    CHECK_MESSAGE(uses_figure(s, id), id);
  s.heating = heating_of("natural-gas", 0.8);
  s.heating->indoor_f = 68;
  for (const char* id : {"indoor-temperature", "balance-temperature"})
    CHECK_FALSE_MESSAGE(uses_figure(s, id), id);
  CHECK(names_all(run(s), of_figure("flow-exponent")));
}

// Invariant: the fuel's row where heating is reckoned, electricity's where cooling is, the zone's
// row where it set the band.
TEST_CASE("sources: those of fuels and of the target band") {
  const auto fuel = [](const Survey& s, const std::string& id) {
    return uses(s, [&](Tables& t) -> std::vector<std::string>& {
      return std::find_if(t.fuels.begin(), t.fuels.end(), [&](const Fuel& f) { return f.id == id; })
          ->sources;
    });
  };
  Survey s = priced_with_gas(floor_survey());
  CHECK(fuel(s, "natural-gas"));
  CHECK_FALSE(fuel(s, "electricity"));
  s.cooling = Cooling{3.0, {}, 5000, 900};
  CHECK(fuel(s, "electricity"));
  const auto zone = [](const Survey& survey, int number) {
    return uses(survey, [&](Tables& t) -> std::vector<std::string>& {
      return std::find_if(t.targets.begin(), t.targets.end(),
                          [&](const TargetRow& r) { return r.zone == number; })
          ->sources;
    });
  };
  s.site.climate_zone = "5A";
  CHECK_FALSE(zone(s, 5));  // the survey has a target of its own
  s.target = {};
  CHECK(zone(s, 5));
  CHECK_FALSE(zone(s, 4));
}
