// SPDX-License-Identifier: MIT
#include <fmt/core.h>

#include "overjoist/report_inspect.hpp"
#include "write/document/html.hpp"
#include "write/parts/inspection.hpp"
#include "write/parts/parts.hpp"

// The receipt (16 CFR 460.17) with the lines of the code certificate, as text and as a page to
// print. Both show the same lines.
namespace overjoist {
namespace {

using io::Html;
using io::Page;
using io::ReceiptLine;

constexpr std::string_view kTitle = "Receipt for insulation";
constexpr std::string_view kBasis =
    "By 16 CFR 460.17, with the lines of the code certificate (IECC R303.1.1, R401.3; their items "
    "from memory). Post it near the opening "
    "of "
    "the attic, and a copy at the electrical panel where code asks for it.";
constexpr std::string_view kSigns[] = {"signature of the installer", "date signed"};

/// The value, or a blank to write on with its reason.
std::string filled(const ReceiptLine& line) {
  return line.value.empty() ? fmt::format("____________ ({})", line.blank) : line.value;
}

// ---- Text

void write_line(Page& page, const ReceiptLine& line) {
  constexpr std::size_t kValueColumn = 34;
  const std::string term = "  " + std::string(line.label);
  if (term.size() + 2 <= kValueColumn) return page.fact(term, filled(line), kValueColumn);
  page.paragraph(line.label, 2);
  page.aside(filled(line), kValueColumn);
}

void write_signs(Page& page) {
  page.blank();
  for (const std::string_view sign : kSigns) {
    page.blank();
    page.paragraph(fmt::format("{:<28}________________________________", sign));
  }
}

void write_cautions(const io::Sheet& c) {
  c.page.heading("Cautions that stand");
  for (const Caution& caution : c.findings.cautions)
    c.page.item(std::string(io::word(caution.level)) + ": " +
                    io::caution_words(caution, c.tables.cautions.at(caution.row), c.units),
                2);
}

// ---- HTML

io::Callout callout_of(CautionLevel level) {
  switch (level) {
    case CautionLevel::stop:
      return io::Callout::stop;
    case CautionLevel::fix_first:
      return io::Callout::fix_first;
    case CautionLevel::care:
      return io::Callout::care;
    case CautionLevel::note:
      break;
  }
  return io::Callout::note;
}

std::vector<io::Fact> facts_of(const std::vector<ReceiptLine>& lines) {
  std::vector<io::Fact> facts;
  facts.reserve(lines.size());
  for (const ReceiptLine& line : lines) facts.push_back({std::string(line.label), filled(line)});
  return facts;
}

/// What stops the work stands above everything else, as in the text.
void write_stop_html(Html& page, const Findings& findings, const Tables& tables, Units units) {
  std::vector<std::string> words;
  for (const Caution& caution : findings.cautions)
    if (caution.level == CautionLevel::stop)
      words.push_back(io::caution_words(caution, tables.cautions.at(caution.row), units));
  if (words.empty()) return;
  page.callout_begin(io::Callout::stop, "not cleared by the record");
  page.list(words);
  page.callout_end();
}

void write_cautions_html(Html& page, const Findings& findings, const Tables& tables, Units units) {
  page.section_begin("Cautions that stand");
  for (const CautionLevel level :
       {CautionLevel::stop, CautionLevel::fix_first, CautionLevel::care, CautionLevel::note}) {
    std::vector<std::string> words;
    for (const Caution& caution : findings.cautions)
      if (caution.level == level)
        words.push_back(io::caution_words(caution, tables.cautions.at(caution.row), units));
    if (words.empty()) continue;
    page.callout_begin(callout_of(level), "");
    page.list(words);
    page.callout_end();
  }
  page.section_end();
}

}  // namespace

void write_receipt_text(std::string& out, const Inspection& in, const Tables& tables,
                        TextStyle style) {
  Page page(out, style.colour);
  const io::Sheet report{page, in.findings, tables, style.units};
  page.title(kTitle);
  page.paragraph(kBasis);
  io::write_stop_banner(report);
  page.blank();
  for (const ReceiptLine& line : io::receipt_head(in, style.units)) write_line(page, line);
  for (const ReceiptPart& part : in.receipt.parts) {
    page.heading("Part of the house: " + part.name);
    for (const ReceiptLine& line : io::receipt_lines(part, style.units)) write_line(page, line);
  }
  if (in.receipt.parts.empty())
    page.paragraph(
        "The plan puts no loose fill anywhere: no part of the house is on this receipt.");
  page.blank();
  for (const std::string& term : io::receipt_terms(in)) page.paragraph(term);
  write_signs(page);
  write_cautions(report);
}

void write_receipt_html(std::string& out, const Inspection& in, const Tables& tables, Units units) {
  const std::string name =
      in.label.empty() ? in.id.empty() ? std::string("attic") : in.id : in.label;
  Html page(out, {"Receipt: " + name, io::kReceiptRule});
  page.heading(1, kTitle);
  page.paragraph(kBasis);
  write_stop_html(page, in.findings, tables, units);
  page.facts(facts_of(io::receipt_head(in, units)));
  for (const ReceiptPart& part : in.receipt.parts) {
    page.open("figure");  // a part is kept on one sheet
    page.table_begin("Part of the house: " + part.name, {"item", "installed"});
    for (const ReceiptLine& line : io::receipt_lines(part, units))
      page.row({std::string(line.label), filled(line)});
    page.table_end();
    page.close();
  }
  if (in.receipt.parts.empty())
    page.paragraph(
        "The plan puts no loose fill anywhere: no part of the house is on this receipt.");
  for (const std::string& term : io::receipt_terms(in)) page.paragraph(term);
  page.open("figure");
  for (const std::string_view sign : kSigns) page.form_line(sign);
  page.close();
  write_cautions_html(page, in.findings, tables, units);
  page.finish();
}

}  // namespace overjoist
