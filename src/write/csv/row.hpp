// SPDX-License-Identifier: MIT
#pragma once
#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <cstddef>
#include <functional>
#include <optional>
#include <stdexcept>
#include <string>
#include <string_view>

#include "overjoist/diagnostics.hpp"
#include "overjoist/evaluate.hpp"
#include "overjoist/report.hpp"
#include "words/utf8.hpp"

/// Rows of CSV by RFC 4180, shared by all tables that are written so.
namespace overjoist::io {

/// Nothing is seen in its place: a blank of any width, a hidden character, or a sign that is drawn
/// empty.
constexpr bool looks_blank(char32_t c) {
  return is_blank_of_any_width(c) || is_hidden(c) || c == 0x2800 || c == 0x303F || c == 0x13441 ||
         c == 0x13442 || c == 0x16FE4 || c == 0x1D159;
}

/// True if a spreadsheet may take the cell for a formula: =, +, - or @, also in their full-width
/// and small forms, with blanks, hidden or empty characters before it or not; and what begins with
/// a tab or a line break.
inline bool is_formula(std::string_view cell) {
  if (!cell.empty() && std::string_view("\t\r\n").find(cell.front()) != std::string_view::npos)
    return true;
  while (!cell.empty()) {
    const CodePoint c = decode(cell);
    if (!looks_blank(c.value))
      return c.valid && std::u32string_view(U"=+-@\uFF1D\uFF0B\uFF0D\uFF20\uFE66\uFE62\uFE63\uFE6B")
                                .find(c.value) != std::u32string_view::npos;
    cell.remove_prefix(c.length);
  }
  return false;
}

/// One row at a time, cells in order.
class CsvRow {
 public:
  CsvRow(std::string& out, bool raw_text) : out_(out), raw_text_(raw_text) {}

  /// A text of ours or of the survey. Hidden characters are shown as codes (`printable`), and what
  /// a spreadsheet would obey gets an apostrophe before it; with raw text neither.
  void text(std::string_view cell) {
    comma();
    const bool guard = !raw_text_ && is_formula(cell);
    const bool ascii =
        std::all_of(cell.begin(), cell.end(), [](char c) { return c >= ' ' && c <= '~'; });
    const std::string safe = raw_text_ || ascii ? std::string(cell) : printable(cell);
    cell = safe;
    const bool plain = std::none_of(cell.begin(), cell.end(), [](char c) {
      return c == ',' || c == '"' || c == '\r' || c == '\n';
    });
    if (!guard && plain) {
      out_ += cell;
      return;
    }
    out_ += '"';
    if (guard) out_ += '\'';
    for (const char c : cell) {
      if (c == '"') out_ += '"';
      out_ += c;
    }
    out_ += '"';
  }
  void number(double value) {
    if (!std::isfinite(value)) throw std::logic_error("a number of the result is not finite");
    comma();
    std::array<char, 40> digits;
    const auto done = std::to_chars(digits.data(), digits.data() + digits.size(), value + 0.0);
    out_.append(digits.data(), done.ptr);
  }
  template <class Tag>
  void number(Quantity<Tag> value) {
    number(value.us());
  }
  template <class T>
  void number(const std::optional<T>& value) {
    if (value)
      number(*value);
    else
      empty();
  }
  void empty(std::size_t cells = 1) {
    for (std::size_t i = 0; i < cells; ++i) comma();
  }
  void end() {
    out_ += "\r\n";
    first_ = true;
  }

 private:
  void comma() {
    if (!first_) out_ += ',';
    first_ = false;
  }
  std::string& out_;
  bool raw_text_, first_ = true;
};

/// A column: its name, and what writes its cell.
template <class T>
struct Column {
  std::string_view name;
  void (*cell)(CsvRow&, const T&);
};
/// Columns of numbers and of texts, by what gives them: a function, or a pointer to a member.
template <class T>
struct ColumnsOf {
  template <auto Get>
  static constexpr Column<T> number(std::string_view name) {
    return {name, [](CsvRow& row, const T& of) { row.number(std::invoke(Get, of)); }};
  }
  template <auto Get>
  static constexpr Column<T> text(std::string_view name) {
    return {name, [](CsvRow& row, const T& of) { row.text(std::invoke(Get, of)); }};
  }
};

/// The names of columns, a comma behind each.
template <class T, std::size_t N>
void write_names(std::string& out, const Column<T> (&columns)[N]) {
  for (const Column<T>& c : columns) {
    out += c.name;
    out += ',';
  }
}
template <class T, std::size_t N>
void write_cells(CsvRow& row, const Column<T> (&columns)[N], const T& of) {
  for (const Column<T>& c : columns) c.cell(row, of);
}

/// Every fault in one cell, each with its pointer.
inline std::string faults_cell(const Diagnostics& faults) {
  std::string text;
  for (const Diagnostic& d : faults)
    text += (text.empty() ? "" : "; ") + d.pointer + (d.pointer.empty() ? "" : ": ") + d.message;
  return text;
}

/// Codes of the cautions, joined by blanks; stop-level ones apart, so that a filter finds them.
inline void caution_cells(CsvRow& row, const Findings& findings, const Tables& tables) {
  std::string stops, others;
  for (const Caution& c : findings.cautions) {
    std::string& list = c.level == CautionLevel::stop ? stops : others;
    if (!list.empty()) list += ' ';
    list += tables.cautions[c.row].code;
  }
  row.text(stops);
  row.text(others);
}

}  // namespace overjoist::io
