// SPDX-License-Identifier: MIT
#pragma once
#include <string>
#include <string_view>

#include "overjoist/inspect.hpp"
#include "overjoist/report.hpp"

/// Writers of an inspection and of its receipt: they translate and never compute. All append to
/// `out`.
namespace overjoist {

/// The two files of a pair, shown in its record.
struct PairOrigin {
  std::string_view survey, record;
};

/// The inspection for people, 80 columns, cautions and assumptions at its end.
void write_inspection_text(std::string& out, const Inspection& inspection, const Tables& tables,
                           TextStyle style);

/// One JSON object, format "overjoist-inspection". Keys stay US; units change words alone.
void write_inspection_json(std::string& out, const Inspection& inspection, const Tables& tables,
                           const JsonStyle& style, const PairOrigin& origin = {});
/// A pair that was refused: status "rejected", diagnostics that name the file.
void write_rejected_pair_json(std::string& out, std::string_view id, const Diagnostics& faults,
                              bool pretty, const PairOrigin& origin);

/// A row for each pair, by the rules of write_csv.
void write_inspection_csv_header(std::string& out);
void write_inspection_csv(std::string& out, const Inspection& inspection, const Tables& tables,
                          const PairOrigin& origin, bool raw_text);
void write_rejected_pair_csv(std::string& out, std::string_view id, const Diagnostics& faults,
                             const PairOrigin& origin, bool raw_text);

/// The receipt that 16 CFR 460.17 asks for and the lines of the code certificate: every item filled
/// or a labelled blank, the R that of the new product alone, nothing summed; cautions on it too.
void write_receipt_text(std::string& out, const Inspection& inspection, const Tables& tables,
                        TextStyle style);
/// The same as a page to print, one file.
void write_receipt_html(std::string& out, const Inspection& inspection, const Tables& tables,
                        Units units);

}  // namespace overjoist
