// SPDX-License-Identifier: MIT
#pragma once
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "overjoist/report.hpp"
#include "words/words.hpp"
#include "write/document/page.hpp"

/// The parts of the text report, each in its own file, and what they share.
namespace overjoist::io {

/// Column at which the answer and the lines below a section's heading begin.
inline constexpr std::size_t kHang = 12;

/// What every page is written with, and what it says beside its figures.
struct Sheet {
  Page& page;
  const Findings& findings;
  const Tables& tables;
  Units units;

  std::string r(Resistance value) const { return r_text(value, units); }        ///< worked out
  std::string target(Resistance value) const { return r_given(value, units); }  ///< asked for
};

/// What every part of the report of an evaluation needs.
struct Report : Sheet {
  const Evaluation& e;

  Report(Page& on, const Evaluation& evaluation, const Tables& with, Units in)
      : Sheet{on, evaluation.findings, with, in}, e(evaluation) {}
  bool one_target() const { return same(e.target); }
  /// The ends that are told apart: the high one alone where both have the same target.
  std::span<const End> ends() const {
    static constexpr End kBoth[] = {End::low, End::high};
    return std::span(kBoth).subspan(one_target() ? 1 : 0);
  }
  Ends<const Totals&> totals() const { return map(e.planned, &Planned::totals); }
};

/// "R-49 to R-60"; one where both are the same.
inline std::string span_text(const Ends<std::string>& ends) {
  return span_text(ends.low, ends.high);
}
std::string join(const std::vector<std::string>& parts, std::string_view between = ", ");
/// What is said of both ends, with `between` where there is something on either side of it.
std::string join(const Ends<std::string>& ends, std::string_view between);
/// "R-12.1 to R-15.0", "R-12.1 or more"; the low end down, the high end up.  @param text  of one R
template <class Text>
std::string range_text(const ResistanceRange& range, Units units, Text text) {
  if (!range.high) return text(range.low) + " or more";
  if (reaches(range.low.us(), range.high->us())) return text(range.low);
  return span_text(text(range.low), text(r_raised(*range.high, units)));
}

/// ", at 90 % R-12.1 to R-15.0"; "" without a range.
std::string range_words(const Sheet& c, const std::optional<ResistanceRange>& range);

/// "slopes: 4.5 in. of dense-pack cellulose", of a section that fills_cavity.
std::string into_cavity(const Report& c, const SectionResult& s);
/// True if something goes into a slope or wall, or across its wood.
bool fills_cavity(const SectionResult& s);
/// What goes into a slope or knee wall, and what does not fit; "" for other kinds.
std::string cavity_words(const Report& c, const SectionEnds& s);

/// What is laid, from below up: "X (10 in., R-30) + Y (3.5 in., R-11)"; "" where nothing is.
std::string laid_words(const Report& c, const TopUp& t);
/// Packages by product or board feet: "12 packages of X, 3 of Y"; "" for a blow.
std::string bags_text(double count);  ///< "1 bag", "66 bags"; rounded up
std::string packages_words(const Totals& t);
/// The same attic with every proposal. Nothing without a list.
void write_compare(const Report& c);

/// "met in the field, not at the eave", with numbers; "" where the level fits everywhere.
std::string eave_words(const Report& c, const TopUp& t);

inline constexpr std::string_view kNone = "-";

/// Columns of R have no room for the SI unit: it stands in their label.
inline std::string r_unit(const Report& c) { return c.units == Units::us ? "" : ", m2 K/W"; }

/// "66", rounded up; "-" where the count is not known.
std::string bags_cell(const std::optional<double>& bags);

/// A table with a column for each end of the band. Rows that are empty at both ends are left out.
class Columns {
 public:
  explicit Columns(const Report& c) : page_(c.page), single_(c.one_target()) {}
  /// @param cell  makes the text of a cell of what stands at an end
  template <class Of, class Cell>
  void row(std::string_view label, const Of& of, Cell cell) {
    put(map(of, cell), [&](const Cells& cells) { page_.row(label, cells, Page::kCell); });
  }
  /// A row that belongs to the one above it.
  template <class Of, class Cell>
  void below(std::string_view label, const Of& of, Cell cell) {
    put(map(of, cell), [&](const Cells& cells) { page_.below(label, cells, Page::kCell); });
  }
  template <class Of, class Cell>
  void head(std::string_view label, const Of& of, Cell cell) {
    put(map(of, cell), [&](const Cells& cells) { page_.head(label, cells, Page::kCell); });
  }

 private:
  using Cells = std::vector<std::string_view>;
  template <class Text, class Put>
  void put(const Ends<Text>& texts, Put put) {
    if (both(texts, [](std::string_view text) { return text == kNone; })) return;
    put(single_ ? Cells{texts.low} : Cells{texts.low, texts.high});
  }

  Page& page_;
  bool single_;
};

inline bool is_met(const TopUp& t) { return t.status == TopUpStatus::met; }
/// False for a hatch too: it may be said to meet the target, but nothing is blown on it.
bool takes_fill(const SectionEnds& s);
/// True if a depth was left alone over heated rooms: the attic's R is at least what is shown.
bool left_unmeasured(const Evaluation& e);
/// Of a section where a hazard calls one of several layers wet or soiled.
inline constexpr std::string_view kLayerInDoubt =
    "nothing is planned here before the survey says which layer is wet or soiled.";
/// "R-20, wet or soiled, which counts nothing", of a lid.
std::string spoiled_lid_words(const Sheet& c, Resistance r);
/// True if both ends of the band take no bags: all is met, or nothing fits.
bool nothing_to_do(const Evaluation& e);
/// True if a section cannot reach its target: bags and cost are then for the best that fits.
bool out_of_reach(const Planned& planned);
/// Slopes and walls left aside: they take no bags.
bool floor_out_of_reach(const Evaluation& e, const Planned& planned);
/// The level to blow to as a tape shows it; one that the room or a chart cuts short of a quarter
/// inch to a tenth, rounded down.
std::string planned_level_text(const TopUp& t, Units units);
/// What follows " for R-49" where the field gets there and the eave does not: " in the field (with
/// the eave R-45.1)"; else "".
std::string field_words(const Report& c, const TopUp& t);
/// The cautions of one level in a few words, each once: "blocked soffit vents (east eave); ...".
std::string short_list(const Sheet& c, CautionLevel level);

/// One caution with its place, who decides and what clears it, or who cleared it.
std::string caution_words(const Caution& caution, const CautionRow& row, Units units);
/// What stops the work, above all numbers. Nothing if nothing does.
void write_stop_banner(const Sheet& c);
/// Name of a step of the way from the yardstick figure to the real one.
std::string_view loss_words(std::string_view code);
/// That way, each section, and all together.
void write_figures(const Report& c);
/// One section, as found and after either end.
void write_section(const Report& c, const SectionEnds& s);
/// What is there, what is wanted, what to add, what it takes.
void write_answer(const Report& c);
/// Readiness, sealing list, vents and counts.
void write_plan(const Report& c);
/// "R-49 to R-60"; "R-30 to R-38, as the sections ask," where no section goes by the attic's own
/// band.
std::string target_words(const Report& c);
/// "without the slopes: their work has no price"; "" where all that is done has one.
std::string unpriced_words(const Evaluation& e);
/// " (15 to 640)", what the 90 % ranges leave of a year's money; "" where that is one figure.
std::string saving_span_words(const Totals& t);
/// What stands in place of a payback where all that is done is such work; "" where there is none.
std::string free_saving_words(const Evaluation& e);
/// Cost of the insulation measure where it is not all of an end's cost; "" else.
std::string measure_cost_text(const Totals& t, std::string_view currency);
/// A sentence where every step has a price and none earns its cost; "" else.
std::string never_pays_words(const Evaluation& e);
/// What a year saves, what that is worth and on which terms. Nothing without heating or cooling.
void write_year(const Report& c);
/// What each next step of R adds. Nothing without a yearly saving.
void write_next_steps(const Report& c);
/// Cautions, assumptions, sources, tables.
void write_notes(const Sheet& c);
/// Assumptions, sources, tables, and what the figures are not.
void write_basis(const Sheet& c);
/// The whole work order and the whole shopping list, as text and as pages.
void write_order(const Report& c, const OrderStyle& style);
void write_goods_list(const Report& c, const GoodsStyle& style);

}  // namespace overjoist::io
