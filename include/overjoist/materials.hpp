// SPDX-License-Identifier: MIT
#pragma once
#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "overjoist/units.hpp"

/// The tables in use (materials, targets, ceiling limits, fuels, words) as plain data, and the
/// label's coverage chart. Numbers come from `data/`, never from a .cpp. Immutable after reading;
/// safe to share between threads. Example: examples/library.cpp. Command line: `overjoist
/// materials`, `--materials FILE`.
namespace overjoist {

/// What a row is: decides how it behaves in a column (model 2, 3).
enum class Form { loose, batt, board, spray, ceiling, wood };

/// One row of `data/materials.json`.
struct Material {
  std::string id;
  std::string name;               ///< words for people
  std::vector<std::string> also;  ///< other words that people use, for 'did you mean' only
  Form form = Form::loose;
  std::optional<Resistivity> low, typical, high;      ///< R per inch
  std::optional<Length> thickness;                    ///< of a sheet with a printed R
  std::optional<Resistance> resistance;               ///< of that sheet
  std::optional<Density> density_low, density_high;   ///< settled, lb/ft3
  std::optional<double> settling_low, settling_high;  ///< share of the initial thickness, 0..0.5
  bool existing_only = false;                         ///< may be found, is never blown in
  bool middle =
      false;  ///< a user's own row: without a typical figure the middle of low and high counts
  bool tight = false;   ///< lets little vapor through: its warm face is held against the dew point
  std::string caution;  ///< code of the caution that its presence raises, or ""
  std::vector<std::string> sources;  ///< ids in `data/sources.json`
  std::string status;                ///< published | from memory | computed | survey (user's own)
  std::string note;

  /// R per inch used in the middle of the range: typical, else the middle of a user's own row, else
  /// low (rounding against us).
  std::optional<Resistivity> central() const {
    if (typical) return typical;
    return middle && low && high ? std::optional(r_per_inch((low->us() + high->us()) / 2.0)) : low;
  }
  /// Makes this a user's own row: its middle counts where it has a range but no typical figure.
  void own() { middle = !typical && low && high; }

  friend bool operator==(const Material&, const Material&) = default;
};

/// One row of a bag label's coverage chart (16 CFR 460.12(b)(2)).
struct ChartRow {
  Resistance r;
  Length settled;                 ///< minimum settled thickness
  std::optional<Length> initial;  ///< initial installed thickness
  std::optional<Area> coverage;   ///< maximum net coverage of one bag
  MassPerArea weight;             ///< minimum weight per ft2
};

/// What the new layer is at one settled thickness, from a chart.
struct ChartPoint {
  Resistance r;
  Length initial;
  MassPerArea weight;
  double bags_per_ft2 = 0.0;
};

/// A bag label's chart: functions of the new layer's own settled thickness, linear between rows,
/// proportional from zero below the first row, refused beyond the last (model 11).
class CoverageChart {
 public:
  CoverageChart() = default;
  /// @param rows  one or more, any order
  /// @param bag_net  net weight of a bag, > 0
  /// @param settling_share  used for rows without an initial thickness, 0 <= share < 1
  /// @throws Error{contradiction} naming the row (R of the row) where weight x coverage is more
  /// than 5 % off
  ///   the bag's net weight, or thickness or weight does not rise with R, or initial < settled
  CoverageChart(std::vector<ChartRow> rows, Mass bag_net, double settling_share);

  bool empty() const { return points_.empty(); }
  /// @param settled  0 .. last row's thickness  @throws Error{out_of_range} beyond the last row
  ChartPoint at(Length settled) const;
  /// Settled thickness of a layer blown to `initial`; beyond the last row it goes on in the last
  /// row's proportion so that a solver can step outside; `last_settled()` says where the chart
  /// ends.
  Length settled_for_initial(Length initial) const;
  /// The rows in rising order: between them every figure of a layer runs straight.
  struct Knot {
    Length initial, settled;
    Resistance r;
  };
  std::vector<Knot> knots() const;
  /// Initial thickness of a layer that weighs `weight`, extended like settled_for_initial.
  Length initial_for_weight(MassPerArea weight) const;
  /// R and its slope dR/d(settled) [R per inch], extended like settled_for_initial.
  Resistance r_at(Length settled) const;
  Resistivity r_slope(Length settled) const;
  double settled_slope(Length initial) const;  ///< d settled / d initial
  Length first_settled() const { return points_.empty() ? Length{} : points_.front().settled; }
  Length last_settled() const { return points_.empty() ? Length{} : points_.back().settled; }
  Mass bag_net() const { return bag_net_; }

 private:
  struct Point {
    Length settled, initial;
    Resistance r;
    MassPerArea weight;
    double bags_per_ft2;
  };
  std::vector<Point> points_;
  Mass bag_net_;
};

/// Most insulation weight a ceiling board may carry (`data/limits.json`).
struct CeilingLimit {
  std::string board;  ///< material id of the ceiling
  Length spacing;     ///< greatest joist spacing the limit holds for
  MassPerArea limit;
  std::vector<std::string> sources;  ///< ids, as in every row of every table
  std::string status;
};

/// Federal attic recommendation of one climate zone (`data/targets.json`).
struct TargetRow {
  int zone = 0;          ///< 1..8
  Resistance low, high;  ///< attic that already has 3-4 in.; uninsulated attic
  std::vector<std::string> sources;
  std::string status;
};

/// Degree-day bounds of the climate zones (IECC R301.3(2)), all in °F·day.
struct ZoneRule {
  int zone = 0;
  bool marine = false;  ///< rule for zones 3C and 4C
  std::optional<double> cdd50_above, cdd50_upto, hdd65_above, hdd65_upto;
};

enum class CautionLevel { stop, fix_first, care, note };

/// Words that stand in the place of a row's own while a fill taken as asbestos is not cleared; no
/// text: the row's own stay.
struct QuietWords {
  std::string code, text, who, clears;
};

/// One row of `data/cautions.json`. `text` may hold {name} places that the renderer fills with
/// units.
struct CautionRow {
  std::string code;
  CautionLevel level = CautionLevel::care;
  std::string brief;  ///< a few words for lists, or "" (rows of level care and note)
  std::string text, who, clears;
  std::vector<std::string> sources;
  std::string status;
  std::vector<std::string> hazard_kinds;  ///< `hazards[].kind` words that raise it
  bool standing = false;                  ///< raised for every attic
  bool hands_off =
      false;  ///< while it is not cleared nobody but the licensed person touches the fill
  std::vector<std::string>
      names;           ///< parts of a material's id or name that raise it, in lower case
  bool quiet = false;  ///< said while hands are kept off, with `quiet_words`
  QuietWords quiet_words;
};

/// What a row of `data/plausible.json` holds against its thresholds. Words: `compares` of the
/// table, in this order.
enum class Measure {
  bag_weight,
  batt_density,
  batt_r_per_inch,
  blown_density,
  board_r_per_inch,
  bypass_share,
  ceiling_r,
  chart_r_per_inch,
  cooling_cop,
  degree_days,
  degree_days_a_day,
  discount_rate,
  efficiency,
  fill_density,
  film_r,
  floor_area,
  foam_r_per_inch,
  fuel_price,
  greatest_depth,
  heat_pump_cop,
  indoor_temperature,
  joist_spacing,
  joist_width,
  labour_per_ft2,
  labour_per_hour,
  lid_area,
  lid_r_over_films,
  lid_share,
  life,
  loose_r_per_inch,
  mean_depth,
  metric_bare_depth,
  metric_bare_r,
  metric_bare_surface_r,
  names_alike,
  patch_r_over_films,
  patch_share,
  price_of_bag,
  price_per_board_ft,
  price_rise,
  reading_over_median,
  target_r,
  tax,
  waste,
  wood_share
};
inline constexpr std::size_t kMeasures = static_cast<std::size_t>(Measure::wood_share) + 1;

/// One row of `data/plausible.json`: a figure below or above which something else was probably
/// meant.
struct PlausibleRow {
  std::string code;  ///< of the caution that it raises; its words become a row of `cautions`
  Measure measure = Measure::mean_depth;
  std::string of;  ///< the one fuel or climate zone that it is for, or "" for all
  std::optional<double> below, above;  ///< in the US unit of the measure; raised beyond either
  double times = 1.0;                  ///< beyond the span so many times
  CautionLevel level = CautionLevel::care;
  std::string brief;  ///< a few words for lists, or ""
  std::string text;
  std::vector<std::string> sources;
  std::string status;
};

/// One row of `data/assumptions.json`: words for a default or rule that the result used.
struct AssumptionRow {
  std::string code, what, why;
  std::string quiet_what,
      quiet_why;  ///< while a fill taken as asbestos is not cleared; "": the row's own
};

/// One row of `data/fuels.json`: what one billed unit holds and, burned, gives off.
struct Fuel {
  std::string id, name;
  std::string unit;                       ///< as on the bill: kWh, therm, gal, cord, ton
  double btu_per_unit = 0.0;              ///< gross (higher) heat content, > 0
  std::optional<double> co2_lb_per_unit;  ///< empty: not known (electricity: the user's grid; wood)
  std::vector<std::string> sources;
  std::string status;
  std::string note;
};

/// One row of `data/money.json`: a default of the savings and money sums; its unit stands in the
/// id.
struct MoneyDefault {
  std::string id;  ///< "life-years"
  double value = 0.0;
  std::vector<std::string> sources;
  std::string status;
  std::string note;
};

/// How an air leak is counted, and what closes it (`data/bypasses.json`).
enum class BypassUnit { each, ft, ft2, bay };
enum class Sealant { foam_or_caulk, caulk, heat, weatherstrip };

/// Effective leakage area at 4 Pa of one unit: cm2 each, per m (unit ft) or per m2 (unit ft2).
struct BypassLeak {
  double typical_cm2 = 0.0, tight_cm2 = 0.0;
  std::vector<std::string> sources;
  std::string status;
};

/// One kind of air leak at the attic floor: how it is sealed, and what a unit of it takes.
struct BypassRow {
  std::string id, name, seal_with, fire_rule;  ///< fire_rule "" if there is none
  BypassUnit unit = BypassUnit::each;
  int rank = 1;  ///< place in the order of sealing, 1 the biggest holes
  Sealant sealant = Sealant::foam_or_caulk;
  std::optional<Length> bead_width;
  double bead_ft_per_unit = 0.0;
  bool rim = false;  ///< bead or weatherstrip all round the opening
  std::optional<Length> opening_length, opening_width;  ///< where the survey gives none
  bool board_over_opening = false;                      ///< rigid board as large as the opening
  Area board_per_unit, metal_per_unit_low, metal_per_unit_high;
  double tubes_per_unit = 0.0;     ///< small tubes beside the bead
  double covers_per_unit = 0.0;    ///< fire-rated covers
  bool fan = false;                ///< an exhaust fan: where its duct ends is asked
  std::optional<BypassLeak> leak;  ///< empty: not known, to be measured
  std::vector<std::string> sources;
  std::string status, note;
};

/// One named figure of `data/bypasses.json`, in the unit that the row prints.
struct FigureRow {
  std::string id;
  double value = 0.0;
  std::string unit;
  std::vector<std::string> sources;
  std::string status, note;
};

struct SourceRow {
  std::string id, title, status;
};

/// Name, version and hash of one table in use.
struct TableStamp {
  std::string name, version, hash;
};

/// Where each word of a list stands: built once for a table, then one probe or two a look-up.
class WordIndex {
 public:
  WordIndex() = default;
  explicit WordIndex(const std::vector<std::string_view>& words);
  /// Candidates for `word` are tried by `is(row)` until one is true.  @returns kNone if there is
  /// none
  template <class Is>
  std::size_t find(std::string_view word, Is is) const {
    if (slots_.empty()) return kNone;
    for (std::size_t at = hash(word);; ++at) {
      const std::size_t row = slots_[at & (slots_.size() - 1)];
      if (row == kNone || is(row)) return row;
    }
  }
  bool empty() const { return slots_.empty(); }
  static constexpr std::size_t kNone = static_cast<std::size_t>(-1);

 private:
  /// Length and three characters part the words of our tables well.
  static std::size_t hash(std::string_view w) {
    if (w.empty()) return 0;
    const auto c = [&](std::size_t i) {
      return static_cast<std::size_t>(static_cast<unsigned char>(w[i]));
    };
    return (w.size() * 31 + c(0)) * 31 * 31 + c(w.size() / 2) * 31 + c(w.size() - 1);
  }
  std::vector<std::size_t> slots_;  ///< rows; a power of two, at most half full
};

/// How the heat paths of wood and bay make one U at a spot (method eq. 5): side by side, in
/// isothermal planes, the mean of both R (ISO 6946), or two coupled columns (eq. 5a).
enum class FramingMethod { parallel, planes, mean, two_column };

/// Everything that `evaluate` needs beside the survey.
struct Tables {
  FramingMethod framing_method =
      FramingMethod::parallel;      ///< a setting, not a row: how wood and bays make one U
  std::vector<Material> materials;  ///< sorted by id
  std::vector<CeilingLimit> limits;
  std::vector<TargetRow> targets;          ///< by zone
  std::vector<ZoneRule> zones;             ///< first match wins
  Resistance default_low, default_high;    ///< band when no zone is known
  Resistance film_inside, film_attic;      ///< default surface films
  Resistance film_vertical;                ///< of a wall, either side
  Resistance knee_wall_r;                  ///< target of a knee wall without one
  Length vent_gap;                         ///< air kept free under a deck
  Resistivity wood;                        ///< softwood framing
  Mass default_bag;                        ///< bag net weight when none is given
  std::vector<CautionRow> cautions;        ///< in the order in which they are printed
  std::vector<QuietWords> quiet_cautions;  ///< as read; `build_indexes` hands them to their rows
  std::vector<AssumptionRow> assumptions;  ///< sorted by code
  std::vector<Fuel> fuels;                 ///< sorted by id
  std::vector<MoneyDefault> money;         ///< sorted by id
  std::vector<BypassRow> bypasses;         ///< sorted by id
  std::vector<FigureRow> figures;          ///< sorted by id
  std::vector<SourceRow> sources;          ///< sorted by id
  std::vector<PlausibleRow> plausible;     ///< by measure, then in the order of the table: of each
                                           ///< measure the first that holds counts
  std::vector<std::string> plausible_currencies;  ///< of the prices in `plausible`; "" counts too
  std::vector<TableStamp> stamps;
  WordIndex caution_index, assumption_index, source_index, material_index;
  std::array<std::size_t, kMeasures + 1>
      plausible_from{};  ///< where the rows of each measure begin, and where the last ones end

  /// Builds the indexes: to be called after rows were put in. Without it the look-ups search.
  void build_indexes();

  /// @returns nullptr if there is no such row
  const Material* material(std::string_view id) const;
  /// Index into `cautions`.  @throws Error{unknown_name}
  std::size_t caution(std::string_view code) const;
  /// Index into `assumptions`.  @throws Error{unknown_name}
  std::size_t assumption(std::string_view code) const;
  /// Code of the caution that a material raises, or "". A user's own row takes none off the row of
  /// the tables with its id, and one that is called after a fill taken as asbestos keeps that
  /// fill's.
  std::string_view caution_of(const Material& material) const;
  /// True for a material that nobody but the licensed person touches until it is cleared.
  bool hands_off(const Material& material) const;
  const SourceRow* source(std::string_view id) const;
  /// @returns nullptr if there is no such row
  const BypassRow* bypass(std::string_view id) const;
  /// Value of a named figure, in its row's unit.  @throws Error{unknown_name}
  double figure(std::string_view id) const;
  const Fuel* fuel(std::string_view id) const;
  /// A default of the savings and money sums, in the unit that its id names.  @throws
  /// Error{unknown_name}
  double money_default(std::string_view id) const;
};

}  // namespace overjoist
