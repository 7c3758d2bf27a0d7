// SPDX-License-Identifier: MIT
#include "overjoist/materials.hpp"

#include <fmt/core.h>
#include <algorithm>

#include "overjoist/diagnostics.hpp"

namespace overjoist {
namespace {

/// Greatest share by which weight x coverage may miss the bag's net weight before a chart
/// contradicts itself.
constexpr double kChartSlack = 0.05;

[[noreturn]] void bad_row(const ChartRow& row, const std::string& what, const char* hint) {
  const std::string name = fmt::format("chart row R-{:g}", row.r.us());
  throw Error(ErrorCode::contradiction, name, fmt::format("{}: {}", name, what), hint);
}

void check_row(const ChartRow& row, const ChartRow* below, Mass bag_net) {
  constexpr const char* kCopyAgain = "copy the row again from the bag's label";
  if (row.initial && *row.initial < row.settled)
    bad_row(row,
            fmt::format("initial thickness {:g} in. is below settled thickness {:g} in.",
                        row.initial->us(), row.settled.us()),
            kCopyAgain);
  if (row.coverage) {
    const double lb = row.weight.us() * row.coverage->us();
    if (!(std::fabs(lb / bag_net.us() - 1.0) <= kChartSlack))
      bad_row(row,
              fmt::format("weight {:g} lb/ft2 x coverage {:g} ft2 = {:.1f} lb, but the bag holds "
                          "{:g} lb net (allowed: 5 % off)",
                          row.weight.us(), row.coverage->us(), lb, bag_net.us()),
              "coverage is the greatest net area of one bag; check it, the weight and the bag's "
              "net weight");
  }
  if (!below) return;
  if (!(row.settled > below->settled))
    bad_row(row, "settled thickness does not rise with R", kCopyAgain);
  if (!(row.weight > below->weight))
    bad_row(row, "weight per ft2 does not rise with R", kCopyAgain);
  if (row.initial && below->initial && !(*row.initial > *below->initial))
    bad_row(row, "initial thickness does not rise with R", kCopyAgain);
}

}  // namespace

void Material::derive() {
  if (!found_typical) return;
  auto row = std::make_shared<Material>(*this);
  row->low = found_low;
  row->typical = found_typical;
  row->high = found_high;
  row->sources = found_sources;
  row->status = found_status;
  row->aged = true;
  found_row.row = std::move(row);
}

CoverageChart::CoverageChart(std::vector<ChartRow> rows, Mass bag_net, double settling_share)
    : bag_net_(bag_net) {
  std::sort(rows.begin(), rows.end(),
            [](const ChartRow& a, const ChartRow& b) { return a.r < b.r; });
  const ChartRow* below = nullptr;
  for (const ChartRow& row : rows) {
    check_row(row, below, bag_net);
    const Length initial = row.initial ? *row.initial : row.settled / (1.0 - settling_share);
    if (!points_.empty() && !(initial > points_.back().initial))
      bad_row(row, "initial thickness does not rise with R",
              "give the initial thickness of every row");
    // The label rule asks for bag count and weight: the larger of the two counts, rounding against
    // us.
    const double by_weight = row.weight.us() / bag_net.us();
    const double bags = row.coverage ? std::max(by_weight, 1.0 / row.coverage->us()) : by_weight;
    points_.push_back({row.settled, initial, row.r, row.weight, bags});
    below = &row;
  }
}

namespace {

/// Index of the upper end of the segment that holds x among rising knots, with 0 as the knot before
/// the first.
template <class Points, class Get>
std::size_t segment(const Points& points, double x, Get get) {
  if (points.empty()) return 0;
  const auto last = points.end() - 1;
  const auto upper =
      std::partition_point(points.begin(), last, [&](const auto& p) { return x > get(p); });
  return static_cast<std::size_t>(upper - points.begin());
}

struct Line {
  double x0, y0, x1, y1;
  double at(double x) const { return y0 + (x - x0) * slope(); }
  double slope() const { return (y1 - y0) / (x1 - x0); }
};

/// The line that holds x; beyond the last knot it runs from 0 through the last one (the last row's
/// proportion).
template <class Points, class X, class Y>
Line line_at(const Points& points, double x, X gx, Y gy) {
  const std::size_t i = segment(points, x, gx);
  if (i == 0 || x > gx(points[i])) return {0.0, 0.0, gx(points[i]), gy(points[i])};
  return {gx(points[i - 1]), gy(points[i - 1]), gx(points[i]), gy(points[i])};
}

}  // namespace

ChartPoint CoverageChart::at(Length settled) const {
  if (points_.empty())
    throw Error(ErrorCode::missing, "chart", "the chart has no rows",
                "copy the rows from the bag's label");
  if (!reaches(last_settled().us(), settled.us()))
    throw Error(ErrorCode::out_of_range, "chart",
                fmt::format("settled thickness {:g} in. is beyond the chart's last row, {:g} in.",
                            settled.us(), last_settled().us()),
                "add the label's rows for higher R");
  const auto x = [](const Point& p) { return p.settled.us(); };
  const auto value = [&](auto y) { return line_at(points_, settled.us(), x, y).at(settled.us()); };
  return {r_value(value([](const Point& p) { return p.r.us(); })),
          inches(value([](const Point& p) { return p.initial.us(); })),
          MassPerArea::from_us(value([](const Point& p) { return p.weight.us(); })),
          value([](const Point& p) { return p.bags_per_ft2; })};
}

Length CoverageChart::settled_for_initial(Length initial) const {
  return inches(line_at(
                    points_, initial.us(), [](const Point& p) { return p.initial.us(); },
                    [](const Point& p) { return p.settled.us(); })
                    .at(initial.us()));
}
std::vector<CoverageChart::Knot> CoverageChart::knots() const {
  std::vector<Knot> list;
  for (const Point& p : points_) list.push_back({p.initial, p.settled, p.r});
  return list;
}
Length CoverageChart::initial_for_weight(MassPerArea weight) const {
  return inches(line_at(
                    points_, weight.us(), [](const Point& p) { return p.weight.us(); },
                    [](const Point& p) { return p.initial.us(); })
                    .at(weight.us()));
}
double CoverageChart::settled_slope(Length initial) const {
  return line_at(
             points_, initial.us(), [](const Point& p) { return p.initial.us(); },
             [](const Point& p) { return p.settled.us(); })
      .slope();
}
Resistance CoverageChart::r_at(Length settled) const {
  return r_value(line_at(
                     points_, settled.us(), [](const Point& p) { return p.settled.us(); },
                     [](const Point& p) { return p.r.us(); })
                     .at(settled.us()));
}
Resistivity CoverageChart::r_slope(Length settled) const {
  return r_per_inch(line_at(
                        points_, settled.us(), [](const Point& p) { return p.settled.us(); },
                        [](const Point& p) { return p.r.us(); })
                        .slope());
}

namespace {

template <class Rows, class Key>
auto find_sorted(const Rows& rows, std::string_view wanted, Key key) -> decltype(&rows.front()) {
  const auto at = std::lower_bound(
      rows.begin(), rows.end(), wanted,
      [&](const auto& row, std::string_view w) { return std::string_view(key(row)) < w; });
  return at != rows.end() && key(*at) == wanted ? &*at : nullptr;
}

}  // namespace

WordIndex::WordIndex(const std::vector<std::string_view>& words) {
  std::size_t size = 4;
  while (size < 2 * words.size()) size *= 2;
  slots_.assign(size, kNone);
  for (std::size_t row = 0; row < words.size(); ++row) {
    std::size_t at = hash(words[row]);
    while (slots_[at & (size - 1)] != kNone) ++at;
    slots_[at & (size - 1)] = row;
  }
}

void Tables::build_indexes() {
  for (const QuietWords& words : quiet_cautions)
    for (CautionRow& row : cautions)
      if (row.code == words.code) {
        row.quiet = true;
        row.quiet_words = words;
      }
  const auto index = [](const auto& rows, auto key) {
    std::vector<std::string_view> words;
    words.reserve(rows.size());
    for (const auto& row : rows) words.push_back(row.*key);
    return WordIndex(words);
  };
  caution_index = index(cautions, &CautionRow::code);
  assumption_index = index(assumptions, &AssumptionRow::code);
  source_index = index(sources, &SourceRow::id);
  material_index = index(materials, &Material::id);
  std::size_t row = 0;
  for (std::size_t m = 0; m <= kMeasures; ++m) {
    while (row < plausible.size() && static_cast<std::size_t>(plausible[row].measure) < m) ++row;
    plausible_from[m] = row;
  }
}

namespace {

/// The Latin letters of a text in lower case, full-width ones too. What stands between them is left
/// out: blanks, hyphens, signs that are not seen.
std::string letters_of(std::string_view text) {
  std::string out;
  for (std::size_t i = 0; i < text.size(); ++i) {
    char c = text[i];
    const auto wide = [&](char second) {
      return c == '\xEF' && i + 2 < text.size() && text[i + 1] == second;
    };
    if (wide('\xBC') || wide('\xBD')) {  // U+FF21 to U+FF5A
      const int point =
          (text[i + 1] == '\xBD' ? 0x40 : 0) + (static_cast<unsigned char>(text[i + 2]) & 0x3F);
      c = static_cast<char>(point + 0x20);
      i += 2;
    }
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
    if (c >= 'a' && c <= 'z') out += c;
  }
  return out;
}

/// The row with this word, by the index if it was built, else by a search; kNone if there is none.
template <class Rows, class Key>
std::size_t row_of(const Rows& rows, const WordIndex& index, std::string_view word, Key key) {
  const auto is = [&](std::size_t row) { return rows[row].*key == word; };
  if (!index.empty()) return index.find(word, is);
  for (std::size_t row = 0; row < rows.size(); ++row)
    if (is(row)) return row;
  return WordIndex::kNone;
}

}  // namespace

const Material* Tables::material(std::string_view id) const {
  const std::size_t row = row_of(materials, material_index, id, &Material::id);
  return row == WordIndex::kNone ? nullptr : &materials[row];
}
std::string_view Tables::caution_of(const Material& m) const {
  const Material* stock = material(m.id);
  if (stock != nullptr && !stock->caution.empty()) return stock->caution;
  std::string words = letters_of(m.id) + ' ' + letters_of(m.name);
  for (const std::string& word : m.also) words += ' ' + letters_of(word);
  const auto says = [&](const std::string& part) { return words.find(part) != std::string::npos; };
  for (const CautionRow& row : cautions)
    if (std::any_of(row.names.begin(), row.names.end(), says))
      return m.form == Form::ceiling || m.form == Form::board ? std::string_view("other-asbestos")
                                                              : std::string_view(row.code);
  return m.caution;
}
bool Tables::hands_off(const Material& m) const {
  const std::string_view code = caution_of(m);
  return !code.empty() && cautions[caution(code)].hands_off;
}
const SourceRow* Tables::source(std::string_view id) const {
  const std::size_t row = row_of(sources, source_index, id, &SourceRow::id);
  return row == WordIndex::kNone ? nullptr : &sources[row];
}
const Fuel* Tables::fuel(std::string_view id) const {
  return find_sorted(fuels, id, [](const Fuel& f) -> const std::string& { return f.id; });
}
double Tables::money_default(std::string_view id) const {
  const auto* row =
      find_sorted(money, id, [](const MoneyDefault& d) -> const std::string& { return d.id; });
  if (!row) throw Error(ErrorCode::unknown_name, "money", fmt::format("no default '{}'", id));
  return row->value;
}
const BypassRow* Tables::bypass(std::string_view id) const {
  return find_sorted(bypasses, id, [](const BypassRow& b) -> const std::string& { return b.id; });
}
double Tables::figure(std::string_view id) const {
  const auto* row =
      find_sorted(figures, id, [](const FigureRow& f) -> const std::string& { return f.id; });
  if (!row) throw Error(ErrorCode::unknown_name, "figures", fmt::format("no figure '{}'", id));
  return row->value;
}
std::size_t Tables::assumption(std::string_view code) const {
  const std::size_t row = row_of(assumptions, assumption_index, code, &AssumptionRow::code);
  if (row == WordIndex::kNone)
    throw Error(ErrorCode::unknown_name, "assumptions", fmt::format("no assumption '{}'", code));
  return row;
}
std::size_t Tables::caution(std::string_view code) const {
  const std::size_t row = row_of(cautions, caution_index, code, &CautionRow::code);
  if (row == WordIndex::kNone)
    throw Error(ErrorCode::unknown_name, "cautions", fmt::format("no caution '{}'", code));
  return row;
}

}  // namespace overjoist
