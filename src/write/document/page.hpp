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
  /// A blank line, then the heading: bold in colour, underlined without.
  virtual void heading(std::string_view text);
  /// `lead`, then `body` wrapped by words from column `hang` on. A number stays with its unit.
  virtual void text(std::string_view lead, std::string_view body, std::size_t hang);
  /// A line of a table: the label, then each cell at the right of a column. A label that is too
  /// long gets a line of its own.
  void row(std::string_view label, std::initializer_list<std::string_view> cells) {
    row(label, {cells.begin(), cells.size()}, kCell);
  }
  /// The same with columns of another width.
  virtual void row(std::string_view label, std::span<const std::string_view> cells,
                   std::size_t width);
  /// A row whose label is too long to stand beside its cells, and is written as a text.
  virtual void long_row(std::string_view lead, std::string_view label, std::size_t hang,
                        std::span<const std::string_view> cells) {
    text(lead, label, hang);
    row("", cells, kCell);
  }
  /// Names the rows that follow.
  virtual void group(std::string_view words) { text("", words, 0); }
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
  void styled(std::string_view text, std::string_view code);
  void put(std::string_view chunk, std::size_t hang);
  void new_line(std::size_t hang);

  bool colour_;
  std::size_t column_ = 0;
  bool fresh_ = true;  ///< nothing stands on the line but its indent
};

}  // namespace overjoist::io
