// SPDX-License-Identifier: MIT
#pragma once
#include <cstddef>
#include <initializer_list>
#include <span>
#include <string>
#include <string_view>

/// A page of text, 80 columns hard. Everything that is put on it goes through `printable`, so that
/// no text from a survey can steer a terminal; only the page itself writes colour.
namespace overjoist::io {

/// Columns that a text takes on a terminal: 0 for combining marks, 2 for wide East Asian letters
/// and pictures.
std::size_t columns(std::string_view text);
/// `text` cut to `width` columns, "..." at its end if something was left out.
std::string cut_to(std::string_view text, std::size_t width);

class Page {
 public:
  static constexpr std::size_t kWidth = 80;
  static constexpr std::size_t kCell = 17;  ///< of a table's column

  Page(std::string& out, bool colour) : out_(out), colour_(colour) {}
  virtual ~Page() = default;  ///< html_page.hpp has the same parts as HTML
  Page(const Page&) = delete;
  Page& operator=(const Page&) = delete;

  virtual void blank() { out_ += '\n'; }
  virtual void title(std::string_view text) { styled(text, "\x1b[1m"); }
  virtual void alarm(std::string_view text) { styled(text, "\x1b[1;31m"); }
  /// What stops the work; the list that follows belongs to it.
  virtual void stop(std::string_view text) { alarm("STOP: " + std::string(text)); }
  /// A blank line, then the heading: bold in colour, underlined without.
  virtual void heading(std::string_view text);

  /// What a text is. `body` is wrapped by words from column `hang` on, and a number stays with its
  /// unit.
  virtual void paragraph(std::string_view body, std::size_t indent, std::size_t hang) {
    wrapped(std::string(indent, ' '), body, hang);
  }
  void paragraph(std::string_view body, std::size_t indent = 0) { paragraph(body, indent, indent); }
  /// A line of the table at hand; a paragraph where there is none.
  virtual void aside(std::string_view body, std::size_t indent) { paragraph(body, indent, indent); }
  virtual void item(std::string_view body, std::size_t indent);
  /// A box to tick, or one that is ticked.
  virtual void tick(std::string_view body, std::size_t indent, bool ticked = false);
  virtual void numbered(int number, std::string_view body, std::size_t hang);
  /// A term and what is said of it; the term may begin with blanks.
  virtual void fact(std::string_view term, std::string_view body, std::size_t hang);

  /// A line of a table: the label, then each cell at the right of a column. A label that is too
  /// long gets a line of its own.
  void row(std::string_view label, std::initializer_list<std::string_view> cells) {
    row(label, {cells.begin(), cells.size()}, kCell);
  }
  /// The same with columns of another width.
  virtual void row(std::string_view label, std::span<const std::string_view> cells,
                   std::size_t width);
  /// A row that belongs to the one above it.
  virtual void below(std::string_view label, std::span<const std::string_view> cells,
                     std::size_t width);
  void below(std::string_view label, std::initializer_list<std::string_view> cells) {
    below(label, {cells.begin(), cells.size()}, kCell);
  }
  /// A row with a box to tick; a label that is too long to stand beside its cells is wrapped.
  virtual void tick_row(std::string_view label, std::span<const std::string_view> cells);
  /// Names the rows that follow.
  virtual void group(std::string_view words) { paragraph(words); }
  /// A row that names the columns below it.
  virtual void head(std::string_view label, std::span<const std::string_view> cells,
                    std::size_t width) {
    row(label, cells, width);
  }
  void head(std::string_view label, std::initializer_list<std::string_view> cells) {
    head(label, {cells.begin(), cells.size()}, kCell);
  }

 protected:
  std::string& out_;

 private:
  /// `lead`, then `body` wrapped from column `hang` on.
  void wrapped(std::string_view lead, std::string_view body, std::size_t hang);
  void styled(std::string_view text, std::string_view code);
  void put(std::string_view chunk, std::size_t hang);
  void new_line(std::size_t hang);

  bool colour_;
  std::size_t column_ = 0;
  bool fresh_ = true;  ///< nothing stands on the line but its indent
};

}  // namespace overjoist::io
