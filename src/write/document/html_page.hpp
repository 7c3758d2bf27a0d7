// SPDX-License-Identifier: MIT
#pragma once
#include <string>
#include <string_view>
#include <vector>

#include "overjoist/ends.hpp"
#include "write/document/html.hpp"
#include "write/document/page.hpp"

/// The parts of the text report as HTML: what is put on a `Page` comes out as headings, lists,
/// tables and boxes, so that text and page hold the same words and numbers. What a text is, the
/// call says: no words are read.
namespace overjoist::io {

class HtmlPage final : public Page {
 public:
  explicit HtmlPage(Html& html) : Page(unused_, false), html_(html) {}
  ~HtmlPage() override { end(); }

  void blank() override { close_box(); }
  void title(std::string_view text) override;
  void alarm(std::string_view text) override;
  void heading(std::string_view text) override;
  void stop(std::string_view text) override;
  using Page::paragraph;
  void paragraph(std::string_view body, std::size_t indent, std::size_t hang) override;
  void aside(std::string_view body, std::size_t indent) override;
  void item(std::string_view body, std::size_t indent) override;
  void tick(std::string_view body, std::size_t indent, bool ticked) override;
  void numbered(int number, std::string_view body, std::size_t hang) override;
  void fact(std::string_view term, std::string_view body, std::size_t hang) override;
  using Page::below;
  using Page::head;
  using Page::row;
  void row(std::string_view label, std::span<const std::string_view> cells,
           std::size_t width) override;
  void head(std::string_view label, std::span<const std::string_view> cells,
            std::size_t width) override;
  void group(std::string_view words) override;
  void below(std::string_view label, std::span<const std::string_view> cells,
             std::size_t width) override;
  void tick_row(std::string_view label, std::span<const std::string_view> cells) override;
  /// Heads for tables of two columns that name none: both ends of the band.
  void name_ends(const Ends<std::string>& names) { ends_ = {"", names.low, names.high}; }
  /// Closes what is open.
  void end();

 private:
  enum class Part { none, list, numbered, ticks, facts, table };
  void turn_to(Part part);
  void open_table(std::string_view label, std::span<const std::string_view> cells, bool named,
                  std::size_t width);
  void write_head(std::string_view label, std::span<const std::string_view> cells);
  void close_box();
  void close_section();
  enum class Kind { plain, below, ticked };
  void write_row(Kind kind, std::string_view label, std::span<const std::string_view> cells,
                 std::size_t width);
  void row_head(Kind kind, std::string_view label, std::size_t columns = 1);
  void reopen_table(std::size_t cells, std::size_t width);

  std::string unused_;
  Html& html_;
  Part part_ = Part::none;
  bool section_ = false, box_ = false;
  std::size_t columns_ = 0;
  std::string heading_;
  std::vector<std::string> ends_;
  std::vector<std::string>
      head_;  ///< of the last table of this section: taken up where a text came in between
};

}  // namespace overjoist::io
