// SPDX-License-Identifier: MIT
#pragma once
#include "fixtures.hpp"
#include "overjoist/inspect.hpp"
#include "overjoist/report_inspect.hpp"

/// Jobs whose plan can be worked out by hand, and records of them.
///
/// The chart is our own invention, bag 24 lb, weight x coverage = 24 lb in every row, settling a
/// fifth:
///
///     R   settled  initial  lb/ft2  coverage
///     20    5        6.25    0.5     48
///     40   10       12.5     1.0     24
///     60   16       20       1.8     24/1.8
///
/// Between the last two rows, by settled thickness t: R = 40 + (t - 10)·20/6;
/// lb/ft2 = 1 + (t - 10)·0.8/6; bags/ft2 = that / 24; initial = 12.5 + (t - 10)·7.5/6.
///
/// A bare floor of 600 ft2, R-50 of new layer: t = 10 + 10·6/20 = 13 in., initial 12.5 + 3·1.25 =
/// 16.25 in. (on the grid of 1/4 in.), 1 + 3·0.8/6 = 1.4 lb/ft2, 600·1.4/24 = 35 bags, without a
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
  return std::any_of(in.findings.assumptions.begin(), in.findings.assumptions.end(),
                     [&](const Assumption& a) { return tables().assumptions[a.row].code == code; });
}

/// A bare floor of 600 ft2 that cellulose of the general table brings to R-49, without a chart; the
/// bag weighs 25 lb, no waste. R 3.5 per inch: 14 in. settled, 17.5 in. as blown; at 2.0 lb/ft3,
/// wood in the lower 5.5 in. left out: 600·(14 - 0.09375·5.5)/12·2.0/25 = 53.9375 bags.
inline Survey no_chart() {
  Survey s = survey_of({bare_section("floor", 600)}, 49, 49);
  s.proposal->bag_net = Mass::from_us(25);
  s.proposal->waste_percent = 0;
  return s;
}

inline Record tagged(std::optional<double> bags, const std::vector<double>& depths,
                     std::optional<TagClaim> tag) {
  Record r = record_of({built("floor", bags, depths)});
  r.tag = std::move(tag);
  return r;
}

/// What people read of an inspection, in one line of words with single blanks.
inline std::string text_of(const Inspection& in, Units units = Units::us) {
  std::string out, line;
  write_inspection_text(out, in, tables(), {units, false});
  for (const char c : out)
    if (c != '\n' && c != ' ')
      line += c;
    else if (!line.empty() && line.back() != ' ')
      line += ' ';
  return line;
}

inline bool says(const std::string& text, std::string_view words) {
  return text.find(words) != std::string::npos;
}

}  // namespace fixtures
