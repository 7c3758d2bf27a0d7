// SPDX-License-Identifier: MIT
#pragma once
#include "fixtures.hpp"
#include "overjoist/inspect.hpp"

/// Jobs whose plan can be worked out by hand, and records of them.
///
/// The chart is our own invention, bag 24 lb, weight x coverage = 24 lb in every row, settling a
/// fifth:
///
///     R   settled  initial  lb/ft2   coverage      between the last two rows, by settled thickness
///     t: 20    5        6.25    0.5     48              R = 40 + (t - 10)·20/6 40 10       12.5
///     1.0     24              lb/ft2 = 1 + (t - 10)·0.8/6, bags/ft2 = that / 24 60   16
///     20       1.8     24/1.8          initial = 12.5 + (t - 10)·7.5/6
///
/// A bare floor of 600 ft2, R-50 of new layer: t = 10 + 10·6/20 = 13 in., initial 12.5 + 3·1.25
/// = 16.25 in. (on the grid of 1/4 in.), 1 + 3·0.8/6 = 1.4 lb/ft2, 600·1.4/24 = 35 bags, without a
/// rest.
namespace fixtures {

inline std::vector<ChartRow> hand_rows() {
  return {{r_value(20), inches(5), inches(6.25), square_feet(48), MassPerArea::from_us(0.5)},
          {r_value(40), inches(10), inches(12.5), square_feet(24), MassPerArea::from_us(1.0)},
          {r_value(60), inches(16), inches(20), square_feet(24 / 1.8), MassPerArea::from_us(1.8)}};
}

inline Section bare_section(const std::string& name, double area_ft2) {
  Section s = flat_section();
  s.name = name;
  s.area = square_feet(area_ft2);
  s.readings = {reading_of(0), reading_of(0)};
  return s;
}

inline Survey hand_survey(std::vector<Section> sections, double target = 50) {
  Survey s = with_chart(survey_of(std::move(sections), target, target), hand_rows());
  s.proposal->bag_net = Mass::from_us(24);
  s.proposal->waste_percent = 0;
  return s;
}

/// One bare floor: 35 bags, 16.25 in.
inline Survey hand_job() { return hand_survey({bare_section("floor", 600)}); }

inline RecordSection built(const std::string& name, std::optional<double> bags,
                           const std::vector<double>& depths = {}) {
  RecordSection s;
  s.name = name;
  s.bags = bags;
  for (const double d : depths) s.depths.push_back(reading_of(d));
  return s;
}

inline Record record_of(std::vector<RecordSection> sections,
                        std::optional<DepthKind> kind = DepthKind::initial) {
  Record r;
  r.sections = std::move(sections);
  r.depths_are = kind;
  return r;
}

inline Inspection inspected(const Survey& survey, const Record& record) {
  return inspect(survey, record, tables());
}

/// The one floor of the hand job with so many bags and such depths.
inline SectionInspection floor_with(std::optional<double> bags, const std::vector<double>& depths,
                                    std::optional<DepthKind> kind = DepthKind::initial) {
  return inspected(hand_job(), record_of({built("floor", bags, depths)}, kind)).sections[0];
}

inline bool assumes(const Inspection& in, std::string_view code) {
  return std::any_of(in.assumptions.begin(), in.assumptions.end(),
                     [&](const Assumption& a) { return tables().assumptions[a.row].code == code; });
}

}  // namespace fixtures
