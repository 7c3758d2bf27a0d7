// SPDX-License-Identifier: MIT
#include "overjoist/report.hpp"
#include "words/words.hpp"
#include "write/csv/row.hpp"

namespace overjoist {
namespace {

using io::CsvRow;

// The columns of both kinds of row; data of a refused survey stand in the first and the last ones.
constexpr std::string_view kBefore = "status,id,file,line,";
constexpr std::string_view kSurveyColumns =
    "label,area_ft2,target_low_r,target_high_r,basis,ua_existing_btu_per_h_f,effective_r,effective_"
    "r_at_least,effective_r_at_most,"
    "effective_r_low,effective_r_high,"
    "ua_low_btu_per_h_f,ua_high_btu_per_h_f,bags_low,bags_high,added_lb_low,added_lb_high,packages_"
    "low,packages_high,board_ft_low,board_ft_"
    "high,cost_low,cost_high,currency,"
    "annual_saving_low,annual_saving_high,payback_low,payback_high,"
    "annual_saving_unpriced_low,annual_saving_unpriced_high,worse_low,worse_high,";
constexpr std::string_view kSectionColumns =
    "section,kind,area_ft2,mean_depth_in,yardstick_r,working_r,effective_r,status_low,initial_"
    "level_in_low,new_depth_in_low,working_r_low,"
    "effective_r_low,bags_low,status_high,initial_level_in_high,new_depth_in_high,working_r_high,"
    "effective_r_high,bags_high,weight_"
    "greatest_psf_high,";
constexpr std::string_view kAfter = "stop_cautions,cautions,faults\r\n";
constexpr std::size_t kSurveyCells = 32, kSectionCells = 20;

void begin(CsvRow& row, std::string_view status, std::string_view id, const Origin& origin) {
  row.text(status);
  row.text(id);
  row.text(origin.file);
  if (origin.line > 0)
    row.number(static_cast<double>(origin.line));
  else
    row.empty();
}

/// Both ends at 90 %; the upper one is empty where there is no upper limit.
void range_cells(CsvRow& row, const std::optional<ResistanceRange>& range) {
  if (!range) return row.empty(2);
  row.number(range->low);
  row.number(range->high);
}

/// Packages of all products together; empty for a blow.
std::optional<double> packages(const Totals& t) {
  if (t.packages.empty()) return {};
  double sum = 0.0;
  for (const PackageCount& n : t.packages) sum += n.count;
  return sum;
}

void survey_cells(CsvRow& row, const Evaluation& e) {
  row.text(e.label);
  row.number(e.attic.area);
  row.number(e.target.low);
  row.number(e.target.high);
  row.text(e.target.basis == Basis::working ? "working" : "effective");
  row.number(e.attic.existing.ua);
  row.number(e.attic.existing.effective_r);
  range_cells(row, e.attic.existing.effective_r_range);
  const Planned &low = e.planned.low, &high = e.planned.high;
  row.number(low.attic.effective_r);
  row.number(high.attic.effective_r);
  row.number(low.attic.ua);
  row.number(high.attic.ua);
  row.number(low.totals.bags);
  row.number(high.totals.bags);
  row.number(low.totals.added_mass);
  row.number(high.totals.added_mass);
  row.number(packages(low.totals));
  row.number(packages(high.totals));
  row.number(low.totals.board_ft);
  row.number(high.totals.board_ft);
  row.number(low.totals.cost);
  row.number(high.totals.cost);
  row.text(e.currency);
  const Totals* const ends[] = {&low.totals, &high.totals};
  for (const Totals* t : ends)  // no saving with a minus
    row.number(t->measure.annual_saving && *t->measure.annual_saving < 0
                   ? std::nullopt
                   : t->measure.annual_saving);
  for (const Totals* t : ends) row.number(t->worse ? std::nullopt : t->measure.payback);
  for (const Totals* t : ends) row.number(t->worse ? std::nullopt : t->measure.saving_unpriced);
  for (const Totals* t : ends) row.text(t->worse ? "yes" : "no");
}

void top_up_cells(CsvRow& row, const TopUp& t) {
  row.text(io::word(t.status));
  row.number(t.initial_level);
  row.number(t.new_depth ? std::optional(t.new_depth->mean) : std::nullopt);
  row.number(t.working_r);
  row.number(t.effective_r);
  row.number(t.bags);
}

/// While hands are kept off nothing is planned: the cells of the plan stay empty.
void section_cells(CsvRow& row, const SectionEnds& s, bool hands_off) {
  row.text(s.found.name);
  row.text(io::word(s.found.kind));
  row.number(s.found.area);
  row.number(s.found.existing.unmeasured ? std::nullopt
                                         : std::optional(s.found.existing.mean_depth));
  row.number(s.found.existing.yardstick_r);
  row.number(s.found.existing.working_r);
  row.number(s.found.existing.effective_r);
  constexpr std::size_t kPlanCells = 13;  // of both ends, and the weight
  if (hands_off) return row.empty(kPlanCells);
  top_up_cells(row, s.low);
  top_up_cells(row, s.high);
  row.number(s.high.weight_greatest);
}

}  // namespace

void write_csv_header(std::string& out, const CsvStyle& style) {
  out += kBefore;
  out += style.sections ? kSectionColumns : kSurveyColumns;
  out += kAfter;
}

void write_csv(std::string& out, const Evaluation& e, const Tables& tables, const Origin& origin,
               const CsvStyle& style) {
  CsvRow row(out, style.raw_text);
  if (!style.sections) {
    begin(row, "done", e.id, origin);
    survey_cells(row, e);
    io::caution_cells(row, e.findings, tables);
    row.empty();
    return row.end();
  }
  for (const SectionEnds& s : e.with_ends()) {
    begin(row, "done", e.id, origin);
    section_cells(row, s, e.hands_off);
    io::caution_cells(row, e.findings, tables);
    row.empty();
    row.end();
  }
}

void write_rejected_csv(std::string& out, std::string_view id, const Diagnostics& faults,
                        const Origin& origin, const CsvStyle& style) {
  CsvRow row(out, style.raw_text);
  begin(row, "rejected", id, origin);
  row.empty((style.sections ? kSectionCells : kSurveyCells) + 2);
  std::string text;
  for (const Diagnostic& d : faults) {
    if (!text.empty()) text += "; ";
    text += d.pointer;
    if (!d.pointer.empty()) text += ": ";
    text += d.message;
  }
  row.text(text);
  row.end();
}

}  // namespace overjoist
