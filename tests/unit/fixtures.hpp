// SPDX-License-Identifier: MIT
#pragma once
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include "overjoist/diagnostics.hpp"
#include "overjoist/evaluate.hpp"
#include "overjoist/quantities.hpp"
#include "overjoist/survey_json.hpp"
#include "overjoist/topup.hpp"
#include "whole_section.hpp"

/// Small floors, layers and surveys for the tests of the core, and one comparison that prints both
/// sides.
namespace fixtures {

using namespace overjoist;  // the fixtures name many of the library's words

/// Both sides are the same exact arithmetic in another order: rounding noise only.
inline constexpr double kNoise = 1e-9;

inline void near(double got, double want, double tolerance) {
  CHECK_MESSAGE(std::fabs(got - want) <= tolerance,
                "got " << got << ", want " << want << " within " << tolerance);
}

inline const Tables& tables() {
  static const Tables all = builtin_tables();
  return all;
}

inline BuiltLayer loose_layer(double r_inch, double thickness = 0.0) {
  BuiltLayer layer;
  layer.rho = r_per_inch(r_inch);
  layer.thickness = inches(thickness);
  layer.takes_rest = !(thickness > 0);
  return layer;
}

inline BuiltLayer batt_layer(double label_r, double label_in, Lies lies = Lies::between) {
  BuiltLayer layer;
  layer.batt = true;
  layer.label_r = r_value(label_r);
  layer.label_thickness = layer.thickness = inches(label_in);
  layer.lies = lies;
  return layer;
}

inline BuiltLayer board_layer(double r_inch, double thickness) {
  BuiltLayer layer = loose_layer(r_inch, thickness);
  layer.board = true;
  return layer;
}

inline Framing framing_of(double fraction, double depth_in, double wood_r_inch = 1.25) {
  return {fraction, inches(depth_in), r_per_inch(wood_r_inch)};
}

inline SpotPaths paths_at(const PathEnds& ends, const Framing& framing,
                          const std::vector<BuiltLayer>& layers, double depth_in,
                          bool under_deck = false) {
  return spot_paths(ends, framing, layers, column_at(layers, inches(depth_in)), under_deck);
}

/// A floor of equal shares covered by one old loose fill; worked out here by the model's words, not
/// by the core.
inline BaseFloor floor_of(const std::vector<double>& depths, double r_inch, double ends_r,
                          const Framing& framing) {
  BaseFloor floor;
  floor.ends = {r_value(ends_r), {}};
  floor.framing = framing;
  const double top = framing.depth.us();
  for (double d : depths) {
    BaseSpot spot;
    spot.share = 1.0 / static_cast<double>(depths.size());
    spot.surface = inches(d);
    spot.bay = r_value(ends_r + r_inch * d);
    spot.joist =
        r_value(ends_r + framing.wood.us() * std::min(d, top) + r_inch * std::max(0.0, d - top));
    floor.spots.push_back(spot);
  }
  return floor;
}

inline NewFill fill_of(double r_inch, double settling, double density_lb_ft3) {
  NewFill fill;
  fill.rho = r_per_inch(r_inch);
  fill.settling = settling;
  fill.density = Density::from_us(density_lb_ft3);
  return fill;
}

/// A chart of our own invention, for a bag of 25 lb: weight x coverage is 25 lb in every row.
inline std::vector<ChartRow> invented_rows() {
  return {{r_value(13), inches(3.7), inches(4.2), square_feet(50), MassPerArea::from_us(0.5)},
          {r_value(30), inches(8.5), inches(9.6), square_feet(20), MassPerArea::from_us(1.25)},
          {r_value(49), inches(14.0), inches(15.8), square_feet(10), MassPerArea::from_us(2.5)}};
}

inline Reading reading_of(double depth, double share = -1.0) {
  Reading reading;
  reading.depth = reading.depth_to = inches(depth);
  reading.share = share;
  return reading;
}

/// Depths of the layers at one spot, from the ceiling up.
inline Reading reading_of_layers(const std::vector<double>& depths) {
  Reading reading;
  for (double d : depths) {
    reading.layer_depths.push_back(inches(d));
    reading.depth += inches(d);
  }
  reading.depth_to = reading.depth;
  return reading;
}

inline Layer layer_of(const std::string& material) {
  Layer layer;
  layer.material = material;
  return layer;
}

inline Layer batt_of(double label_r, double label_in,
                     const std::string& material = "glass-fiber-batt") {
  Layer layer = layer_of(material);
  layer.label_r = r_value(label_r);
  layer.label_thickness = inches(label_in);
  return layer;
}

/// 1,000 ft2 of flat attic with 2x6 joists at 16 in. over half-inch gypsum, all said, nothing left
/// to defaults.
inline Section flat_section() {
  Section s;
  s.name = "flat";
  s.area = square_feet(1000);
  s.below = Below::heated;
  s.ceiling = Board{"gypsum-1/2", {}, {}};
  Joists joists;
  joists.size = "2x6";
  joists.spacing = inches(16);
  s.joists = joists;
  return s;
}

inline constexpr double kEnds =
    0.61 + 0.45 + 0.46;  // film, half-inch gypsum, film: defaults of the tables

inline Section loose_section(const std::vector<double>& depths,
                             const std::string& material = "cellulose-loose") {
  Section s = flat_section();
  s.layers = {layer_of(material)};
  for (double d : depths) s.readings.push_back(reading_of(d));
  return s;
}

inline Section hatch_section(double area_ft2, double total_r) {
  Section s;
  s.name = "hatch";
  s.kind = SectionKind::hatch;
  s.area = square_feet(area_ft2);
  s.below = Below::heated;
  s.total_r = r_value(total_r);
  return s;
}

/// Attic air as cold as outdoors, so that a saving is the fall of the ceiling's own UA.
inline Survey survey_of(std::vector<Section> sections, double low_r = 38, double high_r = 49) {
  Survey survey;
  survey.site.attic_air = AtticConvention::outdoors;
  survey.sections = std::move(sections);
  survey.target = {r_value(low_r), r_value(high_r), Basis::working};
  Proposal proposal;
  proposal.material = "cellulose-loose";
  survey.proposal = proposal;
  return survey;
}

/// 6000 F day at base 65 F; nothing is priced.
inline Heating heating_of(const std::string& fuel, double efficiency) {
  Heating h;
  h.fuel = fuel;
  h.efficiency = efficiency;
  h.hdd_f_day = 6000;
  h.base_f = 65;
  return h;
}

/// Gas at 0.8 and 1.2 a therm, bags of 25 lb at 16, labor 0.5 a ft2.
inline Survey priced_with_gas(Survey survey) {
  survey.heating = heating_of("natural-gas", 0.8);
  survey.heating->price_per_unit = 1.2;
  survey.proposal->bag_net = Mass::from_us(25);
  survey.proposal->price_per_bag = 16;
  survey.proposal->labour = Labour{0.5, {}, {}};
  return survey;
}

inline Survey with_chart(Survey survey, std::vector<ChartRow> rows = invented_rows()) {
  Proposal proposal;
  proposal.product = Product{"invented fill", std::move(rows), true};
  proposal.bag_net = Mass::from_us(25);
  survey.proposal = proposal;
  return survey;
}

inline Evaluation run(const Survey& survey) { return evaluate(survey, tables()); }

inline bool raises(const Evaluation& e, std::string_view code) {
  return std::any_of(e.findings.cautions.begin(), e.findings.cautions.end(),
                     [&](const Caution& c) { return tables().cautions[c.row].code == code; });
}

inline bool assumes(const Evaluation& e, std::string_view code) {
  return std::any_of(e.findings.assumptions.begin(), e.findings.assumptions.end(),
                     [&](const Assumption& a) { return tables().assumptions[a.row].code == code; });
}

}  // namespace fixtures
