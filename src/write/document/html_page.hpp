// SPDX-License-Identifier: MIT
#pragma once
#include <string>
#include <string_view>
#include <vector>

#include "write/document/html.hpp"
#include "write/document/page.hpp"

/// The parts of the text report as HTML: what is written on a `Page` comes out as headings, lists,
/// tables and boxes, so that text and page hold the same words and numbers. The lead of a text says
/// what it is:
///   "- " a list item, "[ ]" a box to tick, "3." a numbered item, words a term, blanks a paragraph,
///   or a line of the table at hand.
namespace overjoist::io {

class HtmlPage final : public Page {
 public:
  explicit HtmlPage(Html& html) : Page(unused_, false), html_(html) {}
  ~HtmlPage() override { end(); }

  void blank() override { close_box(); }
  void title(std::string_view text) override;
  void alarm(std::string_view text) override;
  void heading(std::string_view text) override;
  void text(std::string_view lead, std::string_view body, std::size_t hang) override;
  using Page::head;
  using Page::row;
  void row(std::string_view label, std::span<const std::string_view> cells,
           std::size_t width) override;
  void head(std::string_view label, std::span<const std::string_view> cells,
            std::size_t width) override;
  void group(std::string_view words) override;
  void long_row(std::string_view lead, std::string_view label, std::size_t hang,
                std::span<const std::string_view> cells) override;
  /// Heads for tables of two columns that name none: both ends of the band.
  void name_ends(std::string low, std::string high) {
    ends_ = {"", std::move(low), std::move(high)};
  }
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
  void ticked_row(std::string_view label, std::size_t columns = 1);
  void reopen_table(std::size_t cells, std::size_t width);

  std::string unused_;
  Html& html_;
  Part part_ = Part::none;
  bool section_ = false, box_ = false;
  std::size_t columns_ = 0, rows_ = 0;
  std::string heading_;
  std::vector<std::string> ends_;
  std::vector<std::string>
      head_;  ///< of the last table of this section: taken up where a text came in between
};

}  // namespace overjoist::io
