// SPDX-License-Identifier: MIT
#include "write/parts/inspection.hpp"

#include <functional>
#include <iterator>
#include <optional>
#include <string>

#include "overjoist/report_inspect.hpp"
#include "write/csv/row.hpp"

// One row for each pair of survey and record.
namespace overjoist {
namespace {

using io::CsvRow;

void begin(CsvRow& row, std::string_view status, std::string_view id, const PairOrigin& origin) {
  row.text(status);
  row.text(id);
  row.text(origin.survey);
  row.text(origin.record);
}

std::string failing(const Inspection& in) {
  std::string names;
  for (const SectionInspection& s : in.sections) {
    if (!fails(s.verdict)) continue;
    if (!names.empty()) names += "; ";
    names += s.name + ": " + std::string(io::word(s.verdict));
  }
  return names;
}

std::optional<Resistance> r_of(const std::optional<AtticState>& a) {
  return a ? std::optional(a->effective_r) : std::nullopt;
}
/// None with a minus, nor money of one.
std::optional<Energy> heat_of(const std::optional<SavingCheck>& s) {
  return s && !(s->heat < Energy{}) ? std::optional(s->heat) : std::nullopt;
}
std::optional<double> money_of(const std::optional<SavingCheck>& s) {
  return heat_of(s) ? s->money : std::nullopt;
}

using Built = io::ColumnsOf<Inspection>;
template <auto Get>
constexpr io::Column<Inspection> total(std::string_view name) {
  return {name, [](CsvRow& row, const Inspection& in) { row.number(std::invoke(Get, in.totals)); }};
}
template <auto Get>
constexpr io::Column<Inspection> count(std::string_view name) {
  return {name, [](CsvRow& row, const Inspection& in) {
            row.number(static_cast<double>(std::invoke(Get, in.totals)));
          }};
}

// Between the files and the cautions.
constexpr io::Column<Inspection> kColumns[] = {
    Built::text<&Inspection::label>("label"),
    Built::text<&Inspection::record_id>("record_id"),
    Built::text<&Inspection::date>("date"),
    Built::text<[](const Inspection& in) { return std::string_view(in.installer.name); }>(
        "installer"),
    Built::text<[](const Inspection& in) { return io::word(in.sold); }>("sold"),
    Built::number<&Inspection::target>("target_r"),
    Built::text<[](const Inspection& in) { return io::word(in.basis); }>("basis"),
    Built::text<&Inspection::fill>("fill"),
    Built::text<[](const Inspection& in) { return io::word(in.verdict); }>("verdict"),
    total<&InspectionTotals::bags_used>("bags_used"),
    total<&InspectionTotals::bags_needed>("bags_needed"),
    total<&InspectionTotals::short_bags>("short_bags"),
    Built::text<&failing>("failing_sections"),
    Built::number<[](const Inspection& in) { return r_of(in.attic_planned); }>(
        "effective_r_planned"),
    Built::number<[](const Inspection& in) { return r_of(in.attic_built); }>("effective_r_built"),
    Built::number<[](const Inspection& in) { return heat_of(in.saving_planned); }>(
        "heat_saved_btu_planned"),
    Built::number<[](const Inspection& in) { return heat_of(in.saving_built); }>(
        "heat_saved_btu_built"),
    Built::number<[](const Inspection& in) { return money_of(in.saving_planned); }>(
        "annual_saving_planned"),
    Built::number<[](const Inspection& in) { return money_of(in.saving_built); }>(
        "annual_saving_built"),
    Built::text<&Inspection::currency>("currency"),
    count<&InspectionTotals::counts_open>("counts_open"),
    count<&InspectionTotals::seals_open>("seals_open"),
    count<&InspectionTotals::hazards_open>("hazards_open"),
    count<&InspectionTotals::lids_open>("lids_open"),
    count<&InspectionTotals::papers_missing>("papers_missing")};

}  // namespace

void write_inspection_csv_header(std::string& out) {
  out += "status,id,survey_file,record_file,";
  io::write_names(out, kColumns);
  out += "stop_cautions,cautions,faults\r\n";
}

void write_inspection_csv(std::string& out, const Inspection& in, const Tables& tables,
                          const PairOrigin& origin, bool raw_text) {
  CsvRow row(out, raw_text);
  begin(row, "done", in.id, origin);
  io::write_cells(row, kColumns, in);
  io::caution_cells(row, in.findings, tables);
  row.empty();
  row.end();
}

void write_rejected_pair_csv(std::string& out, std::string_view id, const Diagnostics& faults,
                             const PairOrigin& origin, bool raw_text) {
  CsvRow row(out, raw_text);
  begin(row, "rejected", id, origin);
  row.empty(std::size(kColumns) + 2);
  row.text(io::faults_cell(faults));
  row.end();
}

}  // namespace overjoist
