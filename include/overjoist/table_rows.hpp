// SPDX-License-Identifier: MIT
#pragma once
#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "overjoist/units.hpp"

/// Rows of the tables in `data/`, but for the materials, as plain data.
namespace overjoist {

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
  std::optional<int> year{};  ///< of the heat content; empty: it is no year's figure
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
  bool hole = false;               ///< a size that is given is that of the gap air goes through
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
  std::string by{}, printed{};  ///< who printed it, and when; "" where that is not known
  std::string read{};           ///< how it was read: document, reprint, quotation, not read, ...
};

/// Name, version and hash of one table in use.
struct TableStamp {
  std::string name, version, hash;
};

}  // namespace overjoist
