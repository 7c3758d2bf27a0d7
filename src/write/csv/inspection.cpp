// SPDX-License-Identifier: MIT
#include "write/parts/inspection.hpp"
#include "overjoist/report_inspect.hpp"
#include "write/csv/row.hpp"

// One row for each pair of survey and record.
namespace overjoist {
namespace {

using io::CsvRow;

constexpr std::string_view kColumns =
    "status,id,survey_file,record_file,label,record_id,date,installer,sold,target_r,basis,fill,"
    "verdict,bags_used,bags_needed,short_bags,"
    "failing_sections,effective_r_planned,effective_r_built,heat_saved_btu_planned,heat_saved_btu_"
    "built,annual_saving_planned,"
    "annual_saving_built,currency,counts_open,seals_open,hazards_open,lids_open,papers_missing,"
    "stop_cautions,cautions,faults\r\n";
constexpr std::size_t kCells = 25;  // between the files and the cautions

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

void job_cells(CsvRow& row, const Inspection& in) {
  row.text(in.label);
  row.text(in.record_id);
  row.text(in.date);
  row.text(in.installer.name);
  row.text(io::word(in.sold));
  row.number(in.target);
  row.text(io::word(in.basis));
  row.text(in.fill);
  row.text(io::word(in.verdict));
  row.number(in.totals.bags_used);
  row.number(in.totals.bags_needed);
  row.number(in.totals.short_bags);
  row.text(failing(in));
}

void saving_cells(CsvRow& row, const Inspection& in) {
  const auto r = [](const std::optional<AtticState>& a) {
    return a ? std::optional(a->effective_r) : std::nullopt;
  };
  const auto heat = [](const std::optional<SavingCheck>& s) {
    return s && !(s->heat < Energy{}) ? std::optional(s->heat) : std::nullopt;
  };
  const auto money = [&](const std::optional<SavingCheck>& s) {
    return heat(s) ? s->money : std::nullopt;
  };  // none with a minus
  row.number(r(in.attic_planned));
  row.number(r(in.attic_built));
  row.number(heat(in.saving_planned));
  row.number(heat(in.saving_built));
  row.number(money(in.saving_planned));
  row.number(money(in.saving_built));
  row.text(in.currency);
}

void list_cells(CsvRow& row, const Inspection& in) {
  for (const int open : {in.totals.counts_open, in.totals.seals_open, in.totals.hazards_open,
                         in.totals.lids_open, in.totals.papers_missing})
    row.number(static_cast<double>(open));
}

}  // namespace

void write_inspection_csv_header(std::string& out) { out += kColumns; }

void write_inspection_csv(std::string& out, const Inspection& in, const Tables& tables,
                          const PairOrigin& origin, bool raw_text) {
  CsvRow row(out, raw_text);
  begin(row, "done", in.id, origin);
  job_cells(row, in);
  saving_cells(row, in);
  list_cells(row, in);
  io::caution_cells(row, in.findings, tables);
  row.empty();
  row.end();
}

void write_rejected_pair_csv(std::string& out, std::string_view id, const Diagnostics& faults,
                             const PairOrigin& origin, bool raw_text) {
  CsvRow row(out, raw_text);
  begin(row, "rejected", id, origin);
  row.empty(kCells + 2);
  std::string text;
  for (const Diagnostic& d : faults)
    text += (text.empty() ? "" : "; ") + d.pointer + (d.pointer.empty() ? "" : ": ") + d.message;
  row.text(text);
  row.end();
}

}  // namespace overjoist
