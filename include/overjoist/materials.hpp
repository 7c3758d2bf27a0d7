// SPDX-License-Identifier: MIT
#pragma once
#include <array>
#include <cstddef>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "overjoist/coverage_chart.hpp"
#include "overjoist/table_rows.hpp"
#include "overjoist/units.hpp"

/// The tables in use (materials, targets, ceiling limits, fuels, words) as plain data.
/// Numbers come from `data/`, never from a .cpp. Immutable after reading; safe to share between
/// threads. Example: examples/library.cpp. Command line: `overjoist materials`, `--materials FILE`.
namespace overjoist {

/// What a row is: decides how it behaves in a column (model 2, 3).
enum class Form { loose, batt, board, spray, ceiling, wood };

struct Material;

/// A row that follows from another one: two rows are the same whether or not it was made.
struct DerivedRow {
  std::shared_ptr<const Material> row;  ///< or null
  friend bool operator==(const DerivedRow&, const DerivedRow&) { return true; }
};

/// One row of `data/materials.json`.
struct Material {
  std::string id;
  std::string name;               ///< words for people
  std::vector<std::string> also;  ///< other words that people use, for 'did you mean' only
  Form form = Form::loose;
  std::optional<Resistivity> low, typical, high;  ///< R per inch, new where both are known
  std::optional<Resistivity> found_low, found_typical,
      found_high;                    ///< of what lies there: aged and settled, as measured
  std::optional<Resistivity> thick;  ///< of a batt thicker than `thick_over` by its label
  std::optional<Length> thick_over;
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
  std::vector<std::string> found_sources;  ///< of the found figures, with their status
  std::string found_status, note;
  bool aged = false;     ///< this is the row of what lies there
  DerivedRow found_row;  ///< made by `derive`

  /// Makes the row that stands for what lies there, where it has figures of its own.
  void derive();
  const Material& as_found() const { return found_row.row ? *found_row.row : *this; }

  /// R per inch used in the middle of the range: typical, else the middle of a user's own row, else
  /// low (rounding against us).
  std::optional<Resistivity> central() const {
    if (typical) return typical;
    return middle && low && high ? std::optional(r_per_inch((low->us() + high->us()) / 2.0)) : low;
  }
  /// The same of a batt of a label's thickness.
  std::optional<Resistivity> central_at(Length label) const {
    return thick && thick_over && label > *thick_over ? thick : central();
  }
  /// Makes this a user's own row: its middle counts where it has a range but no typical figure.
  void own() { middle = !typical && low && high; }

  friend bool operator==(const Material&, const Material&) = default;
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
