// SPDX-License-Identifier: MIT
#include <functional>
#include <iterator>
#include <optional>
#include <string>

#include "overjoist/report.hpp"
#include "words/words.hpp"
#include "write/csv/row.hpp"

namespace overjoist {
namespace {

using io::CsvRow;

// Data of a refused survey stand in the columns before and after those of both kinds of row.
constexpr std::string_view kBefore = "status,id,file,line,";
constexpr std::string_view kAfter = "stop_cautions,cautions,faults\r\n";

void begin(CsvRow& row, std::string_view status, std::string_view id, const Origin& origin) {
  row.text(status);
  row.text(id);
  row.text(origin.file);
  if (origin.line > 0)
    row.number(static_cast<double>(origin.line));
  else
    row.empty();
}

/// Packages of all products together; empty for a blow.
std::optional<double> packages(const Totals& t) {
  if (t.packages.empty()) return {};
  double sum = 0.0;
  for (const PackageCount& n : t.packages) sum += n.count;
  return sum;
}

/// A figure of money that no attic has which is worse than found.
template <auto Member>
std::optional<double> unless_worse(const Totals& t) {
  return t.worse ? std::nullopt : t.measure.*Member;
}
/// No saving with a minus.
std::optional<double> saving(const Totals& t) {
  return t.measure.annual_saving && *t.measure.annual_saving < 0 ? std::nullopt
                                                                 : t.measure.annual_saving;
}
/// An end of what the ranges of R leave of the measure's worth.
template <auto Member>
std::optional<double> worth_end(const Totals& t) {
  if (t.worse || !t.measure.range) return {};
  return std::optional<double>((*t.measure.range).*Member);
}
std::string_view worse(const Totals& t) { return t.worse ? "yes" : "no"; }
std::string_view basis(const Evaluation& e) {
  return e.target.basis == Basis::working ? "working" : "effective";
}

// What stands at either end, and what of it a cell takes.
template <End At>
Resistance of_target(const Evaluation& e) {
  return at(e.target, At);
}
template <End At, auto Get>
decltype(auto) of_attic(const Evaluation& e) {
  return std::invoke(Get, e.planned[At].attic);
}
template <End At, auto Get>
decltype(auto) of_totals(const Evaluation& e) {
  return std::invoke(Get, e.planned[At].totals);
}
template <auto Get>
decltype(auto) of_found(const Evaluation& e) {
  return std::invoke(Get, e.attic.existing);
}
std::optional<Resistance> range_low(const Evaluation& e) {
  const auto& range = e.attic.existing.effective_r_range;
  return range ? std::optional(range->low) : std::nullopt;
}
/// Empty where there is no upper limit.
std::optional<Resistance> range_high(const Evaluation& e) {
  const auto& range = e.attic.existing.effective_r_range;
  return range ? range->high : std::nullopt;
}

using Attic = io::ColumnsOf<Evaluation>;
constexpr End kLow = End::low, kHigh = End::high;

constexpr io::Column<Evaluation> kSurveyColumns[] = {
    Attic::text<&Evaluation::label>("label"),
    Attic::number<[](const Evaluation& e) { return e.attic.area; }>("area_ft2"),
    Attic::number<&of_target<kLow>>("target_low_r"),
    Attic::number<&of_target<kHigh>>("target_high_r"),
    Attic::text<&basis>("basis"),
    Attic::number<&of_found<&AtticState::ua>>("ua_existing_btu_per_h_f"),
    Attic::number<&of_found<&AtticState::effective_r>>("effective_r"),
    Attic::number<&range_low>("effective_r_at_least"),
    Attic::number<&range_high>("effective_r_at_most"),
    Attic::number<&of_attic<kLow, &AtticState::effective_r>>("effective_r_low"),
    Attic::number<&of_attic<kHigh, &AtticState::effective_r>>("effective_r_high"),
    Attic::number<&of_attic<kLow, &AtticState::ua>>("ua_low_btu_per_h_f"),
    Attic::number<&of_attic<kHigh, &AtticState::ua>>("ua_high_btu_per_h_f"),
    Attic::number<&of_totals<kLow, &Totals::bags>>("bags_low"),
    Attic::number<&of_totals<kHigh, &Totals::bags>>("bags_high"),
    Attic::number<&of_totals<kLow, &Totals::added_mass>>("added_lb_low"),
    Attic::number<&of_totals<kHigh, &Totals::added_mass>>("added_lb_high"),
    Attic::number<&of_totals<kLow, &packages>>("packages_low"),
    Attic::number<&of_totals<kHigh, &packages>>("packages_high"),
    Attic::number<&of_totals<kLow, &Totals::board_ft>>("board_ft_low"),
    Attic::number<&of_totals<kHigh, &Totals::board_ft>>("board_ft_high"),
    Attic::number<&of_totals<kLow, &Totals::cost>>("cost_low"),
    Attic::number<&of_totals<kHigh, &Totals::cost>>("cost_high"),
    Attic::text<&Evaluation::currency>("currency"),
    Attic::number<&of_totals<kLow, &saving>>("annual_saving_low"),
    Attic::number<&of_totals<kHigh, &saving>>("annual_saving_high"),
    Attic::number<&of_totals<kLow, &unless_worse<&WorthLine::payback>>>("payback_low"),
    Attic::number<&of_totals<kHigh, &unless_worse<&WorthLine::payback>>>("payback_high"),
    Attic::number<&of_totals<kLow, &unless_worse<&WorthLine::saving_unpriced>>>(
        "annual_saving_unpriced_low"),
    Attic::number<&of_totals<kHigh, &unless_worse<&WorthLine::saving_unpriced>>>(
        "annual_saving_unpriced_high"),
    Attic::text<&of_totals<kLow, &worse>>("worse_low"),
    Attic::text<&of_totals<kHigh, &worse>>("worse_high"),
    Attic::number<&of_totals<kLow, &worth_end<&WorthRange::saving_low>>>(
        "annual_saving_at_least_low"),
    Attic::number<&of_totals<kHigh, &worth_end<&WorthRange::saving_low>>>(
        "annual_saving_at_least_high"),
    Attic::number<&of_totals<kLow, &worth_end<&WorthRange::saving_high>>>(
        "annual_saving_at_most_low"),
    Attic::number<&of_totals<kHigh, &worth_end<&WorthRange::saving_high>>>(
        "annual_saving_at_most_high"),
    Attic::number<&of_totals<kLow, &worth_end<&WorthRange::payback_low>>>("payback_at_least_low"),
    Attic::number<&of_totals<kHigh, &worth_end<&WorthRange::payback_low>>>("payback_at_least_high"),
    Attic::number<&of_totals<kLow, &worth_end<&WorthRange::payback_high>>>("payback_at_most_low"),
    Attic::number<&of_totals<kHigh, &worth_end<&WorthRange::payback_high>>>("payback_at_most_high"),
    Attic::number<&of_totals<kLow, &worth_end<&WorthRange::sir_low>>>("sir_at_least_low"),
    Attic::number<&of_totals<kHigh, &worth_end<&WorthRange::sir_low>>>("sir_at_least_high"),
    Attic::number<&of_totals<kLow, &worth_end<&WorthRange::sir_high>>>("sir_at_most_low"),
    Attic::number<&of_totals<kHigh, &worth_end<&WorthRange::sir_high>>>("sir_at_most_high"),
    Attic::number<&of_totals<kLow, &worth_end<&WorthRange::present_low>>>(
        "present_value_at_least_low"),
    Attic::number<&of_totals<kHigh, &worth_end<&WorthRange::present_low>>>(
        "present_value_at_least_high"),
    Attic::number<&of_totals<kLow, &worth_end<&WorthRange::present_high>>>(
        "present_value_at_most_low"),
    Attic::number<&of_totals<kHigh, &worth_end<&WorthRange::present_high>>>(
        "present_value_at_most_high")};

/// A section with the work of both ends; while hands are kept off nothing is planned, and the cells
/// of the plan stay empty.
struct SectionRow {
  const SectionEnds& s;
  bool hands_off = false;
};
using SectionColumn = io::Column<SectionRow>;

std::optional<Length> mean_depth(const SectionResult& s) {
  return s.existing.unmeasured ? std::nullopt : std::optional(s.existing.mean_depth);
}
std::optional<Length> new_depth(const TopUp& t) {
  return t.new_depth ? std::optional(t.new_depth->mean) : std::nullopt;
}

template <auto Get>
constexpr SectionColumn found(std::string_view name) {
  return {name, [](CsvRow& row, const SectionRow& r) { row.number(std::invoke(Get, r.s.found)); }};
}
template <auto Get>
constexpr SectionColumn existing(std::string_view name) {
  return {name, [](CsvRow& row, const SectionRow& r) {
            row.number(std::invoke(Get, r.s.found.existing));
          }};
}
template <End At, auto Get>
constexpr SectionColumn planned(std::string_view name) {
  return {name, [](CsvRow& row, const SectionRow& r) {
            if (r.hands_off) return row.empty();
            row.number(std::invoke(Get, at(r.s, At)));
          }};
}
template <End At>
constexpr SectionColumn status(std::string_view name) {
  return {name, [](CsvRow& row, const SectionRow& r) {
            if (r.hands_off) return row.empty();
            row.text(io::word(at(r.s, At).status));
          }};
}

constexpr SectionColumn kSectionColumns[] = {
    {"section", [](CsvRow& row, const SectionRow& r) { row.text(r.s.found.name); }},
    {"kind", [](CsvRow& row, const SectionRow& r) { row.text(io::word(r.s.found.kind)); }},
    found<&SectionResult::area>("area_ft2"),
    found<&mean_depth>("mean_depth_in"),
    existing<&ExistingResult::yardstick_r>("yardstick_r"),
    existing<&ExistingResult::working_r>("working_r"),
    existing<&ExistingResult::effective_r>("effective_r"),
    status<kLow>("status_low"),
    planned<kLow, &TopUp::initial_level>("initial_level_in_low"),
    planned<kLow, &new_depth>("new_depth_in_low"),
    planned<kLow, &TopUp::working_r>("working_r_low"),
    planned<kLow, &TopUp::effective_r>("effective_r_low"),
    planned<kLow, &TopUp::bags>("bags_low"),
    status<kHigh>("status_high"),
    planned<kHigh, &TopUp::initial_level>("initial_level_in_high"),
    planned<kHigh, &new_depth>("new_depth_in_high"),
    planned<kHigh, &TopUp::working_r>("working_r_high"),
    planned<kHigh, &TopUp::effective_r>("effective_r_high"),
    planned<kHigh, &TopUp::bags>("bags_high"),
    planned<kHigh, &TopUp::weight_greatest>("weight_greatest_psf_high")};

}  // namespace

void write_csv_header(std::string& out, const CsvStyle& style) {
  out += kBefore;
  if (style.sections)
    io::write_names(out, kSectionColumns);
  else
    io::write_names(out, kSurveyColumns);
  out += kAfter;
}

void write_csv(std::string& out, const Evaluation& e, const Tables& tables, const Origin& origin,
               const CsvStyle& style) {
  CsvRow row(out, style.raw_text);
  if (!style.sections) {
    begin(row, "done", e.id, origin);
    io::write_cells(row, kSurveyColumns, e);
    io::caution_cells(row, e.findings, tables);
    row.empty();
    return row.end();
  }
  for (const SectionEnds& s : e.with_ends()) {
    begin(row, "done", e.id, origin);
    io::write_cells(row, kSectionColumns, {s, e.hands_off});
    io::caution_cells(row, e.findings, tables);
    row.empty();
    row.end();
  }
}

void write_rejected_csv(std::string& out, std::string_view id, const Diagnostics& faults,
                        const Origin& origin, const CsvStyle& style) {
  CsvRow row(out, style.raw_text);
  begin(row, "rejected", id, origin);
  row.empty((style.sections ? std::size(kSectionColumns) : std::size(kSurveyColumns)) + 2);
  row.text(io::faults_cell(faults));
  row.end();
}

}  // namespace overjoist
