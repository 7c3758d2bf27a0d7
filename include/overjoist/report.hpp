// SPDX-License-Identifier: MIT
#pragma once
#include <string>
#include <string_view>
#include <vector>

#include "overjoist/diagnostics.hpp"
#include "overjoist/evaluate.hpp"

/// Writers: they translate an Evaluation and never compute. All append to `out`.
namespace overjoist {

struct TextStyle {
  Units units = Units::us;
  bool colour = false;  ///< only on a terminal, off with NO_COLOR
};

/// Where a record came from, shown in it: empty and 0 are left out.
struct Origin {
  std::string_view file;
  std::size_t line = 0;  ///< of a stream with one survey a line
};

/// The texts of the tables as compact JSON, prepared once for many records: for each row what never
/// changes, or "" where the row's text has places to fill.
struct PreparedWords {
  std::vector<std::string> caution_texts;  ///< "text":...,"who":...,"clears":...
  std::vector<std::string> assumption_what, assumption_why;
  std::vector<std::string> sources;  ///< whole objects
  std::string stamps;                ///< "tables":[...]
};
PreparedWords prepare_words(const Tables& tables);

struct JsonStyle {
  Units units = Units::us;
  bool pretty = false;
  const PreparedWords* prepared =
      nullptr;  ///< of the same tables; only used where not pretty, the bytes are the same
};

/// The evaluation as one JSON object in the keys of the result format; numbers in the shortest form
/// that reads back the same; units change only the words of cautions and assumptions. Pretty
/// indents by two blanks.
void write_json(std::string& out, const Evaluation& evaluation, const Tables& tables,
                const JsonStyle& style, const Origin& origin = {});

/// A survey that was refused, as one JSON object: status "rejected", id, diagnostics.
void write_rejected_json(std::string& out, std::string_view id, const Diagnostics& faults,
                         bool pretty, const Origin& origin = {});

/// RFC 4180 rows: CRLF, header, quotes doubled, a decimal point always.
struct CsvStyle {
  bool sections = false;  ///< a row for each section; else a row for each survey
  bool raw_text =
      false;  ///< text cells that begin with = + - @ tab or CR get no leading apostrophe
};
void write_csv_header(std::string& out, const CsvStyle& style);
void write_csv(std::string& out, const Evaluation& evaluation, const Tables& tables,
               const Origin& origin, const CsvStyle& style);
/// One row, whatever the style.
void write_rejected_csv(std::string& out, std::string_view id, const Diagnostics& faults,
                        const Origin& origin, const CsvStyle& style);

/// The evaluation for people, ASCII where we wrote it, 80 columns.
void write_text(std::string& out, const Evaluation& evaluation, const Tables& tables,
                TextStyle style);

/// The owner's report as one HTML file: answer, drawings to scale, the work in order, cautions, and
/// all that the text holds.
void write_html(std::string& out, const Evaluation& evaluation, const Tables& tables, Units units);

/// The work order: one end of the target band, for a crew to work from and load a truck by.
struct OrderStyle {
  Units units = Units::us;
  bool colour = false;
  bool prices = true;   ///< false: no money anywhere
  End end = End::high;  ///< of the target band
};
/// Steps in order: make safe, seal, ventilate, dams and covers, insulate, hatch, inspect; then what
/// to load, and prices.
void write_order_text(std::string& out, const Evaluation& evaluation, const Tables& tables,
                      const OrderStyle& style);
void write_order_html(std::string& out, const Evaluation& evaluation, const Tables& tables,
                      const OrderStyle& style);

/// The goods of `goods_list`: quantities for both ends of the band side by side.
struct GoodsStyle {
  Units units = Units::us;
  bool colour = false;
  bool prices = true;     ///< false: no money anywhere
  bool raw_text = false;  ///< of CSV, as in CsvStyle
};
void write_goods_text(std::string& out, const Evaluation& evaluation, const Tables& tables,
                      const GoodsStyle& style);
void write_goods_html(std::string& out, const Evaluation& evaluation, const Tables& tables,
                      const GoodsStyle& style);
/// One object: goods, prices and the cautions of the whole result.
void write_goods_json(std::string& out, const Evaluation& evaluation, const Tables& tables,
                      const GoodsStyle& style);
/// A row for each good, quantities in US units; the cautions' codes stand in every row, and in a
/// row of their own where nothing is bought.
void write_goods_csv_header(std::string& out, const GoodsStyle& style);
void write_goods_csv(std::string& out, const Evaluation& evaluation, const Tables& tables,
                     const Origin& origin, const GoodsStyle& style);

/// One line and a hint for each fault: `file:line:column: pointer: message`.
void write_faults_text(std::string& out, std::string_view file, const Diagnostics& faults);

/// The material table in use, for people and as JSON.
void write_materials_text(std::string& out, const Tables& tables, Units units);
void write_materials_json(std::string& out, const Tables& tables, bool pretty);

/// A text of the survey made safe for a terminal: control characters (C0, DEL, C1, bidi controls)
/// and bad UTF-8 are shown as \xNN or \u{NNNN}.
std::string printable(std::string_view text);

}  // namespace overjoist
