// SPDX-License-Identifier: MIT
#include "write/document/html_page.hpp"

namespace overjoist::io {
namespace {

std::string_view trimmed(std::string_view text) {
  const std::size_t first = text.find_first_not_of(' ');
  return first == std::string_view::npos
             ? std::string_view()
             : text.substr(first, text.find_last_not_of(' ') - first + 1);
}

std::string_view without_colon(std::string_view lead) {
  if (!lead.empty() && lead.back() == ':') lead.remove_suffix(1);
  return lead;
}

}  // namespace

void HtmlPage::turn_to(Part part) {
  if (part == part_) return;
  if (part_ == Part::table)
    html_.table_end();
  else if (part_ != Part::none)
    html_.close();
  part_ = part;
  if (part == Part::list) html_.open("ul");
  if (part == Part::numbered) html_.open("ol");
  if (part == Part::ticks) html_.ticks_begin();
  if (part == Part::facts) html_.open("dl");
}

void HtmlPage::close_box() {
  turn_to(Part::none);
  if (box_) html_.callout_end();
  box_ = false;
}

void HtmlPage::close_section() {
  close_box();
  if (section_) html_.section_end();
  section_ = false;
}

void HtmlPage::end() { close_section(); }

void HtmlPage::title(std::string_view text) { html_.heading(1, text); }

void HtmlPage::alarm(std::string_view text) {
  close_box();
  html_.callout_begin(Callout::stop, text);
  box_ = true;
}

/// The badge says the word.
void HtmlPage::stop(std::string_view text) { alarm(text); }

void HtmlPage::heading(std::string_view text) {
  close_section();
  heading_ = text;
  head_.clear();
  html_.section_begin(text);
  section_ = true;
}

void HtmlPage::paragraph(std::string_view body, std::size_t, std::size_t) {
  turn_to(Part::none);
  html_.paragraph(body);
}

void HtmlPage::aside(std::string_view body, std::size_t indent) {
  if (part_ != Part::table) return paragraph(body, indent);
  html_.open("tr", {{"class", "aside"}});
  html_.element("td", body, {{"colspan", std::to_string(columns_)}});
  html_.close();
}

void HtmlPage::item(std::string_view body, std::size_t) {
  turn_to(Part::list);
  html_.element("li", body);
}

void HtmlPage::tick(std::string_view body, std::size_t, bool) {
  if (part_ == Part::table && !head_.empty()) {
    html_.open("tr");
    row_head(Kind::ticked, body, columns_);
    return html_.close();
  }
  turn_to(Part::ticks);
  html_.tick(body);
}

void HtmlPage::numbered(int, std::string_view body, std::size_t) {
  turn_to(Part::numbered);
  html_.element("li", body);
}

void HtmlPage::fact(std::string_view term, std::string_view body, std::size_t) {
  turn_to(Part::facts);
  html_.open("div");
  html_.element("dt", without_colon(trimmed(term)));
  html_.element("dd", body);
  html_.close();
}

void HtmlPage::write_head(std::string_view label, std::span<const std::string_view> cells) {
  html_.open("thead");
  html_.open("tr");
  if (label.empty())
    html_.element("td", "");
  else
    html_.element("th", trimmed(label), {{"scope", "col"}});
  for (const std::string_view cell : cells) html_.element("th", cell, {{"scope", "col"}});
  html_.close();
  html_.close();
}

void HtmlPage::open_table(std::string_view label, std::span<const std::string_view> cells,
                          bool named, std::size_t width) {
  turn_to(Part::none);
  part_ = Part::table;
  columns_ = cells.size() + 1;
  html_.open("table", {{"class", width < kCell ? "wide" : ""}});
  html_.element("caption", heading_, {{"class", "sr"}});
  if (named) write_head(label, cells);
  html_.open("tbody");
}

void HtmlPage::head(std::string_view label, std::span<const std::string_view> cells,
                    std::size_t width) {
  head_.assign(1, std::string(label));
  head_.insert(head_.end(), cells.begin(), cells.end());
  open_table(label, cells, true, width);
}

/// A table that a text came in between goes on under the same heads.
void HtmlPage::reopen_table(std::size_t cells, std::size_t width) {
  if (part_ == Part::table && columns_ == cells + 1) return;
  const std::vector<std::string>& heads = head_.size() == cells + 1 ? head_ : ends_;
  const std::vector<std::string_view> before(heads.begin(), heads.end());
  const bool again = before.size() == cells + 1;
  const std::vector<std::string_view> none(cells);
  open_table(again ? before[0] : "", again ? std::span(before).subspan(1) : std::span(none), again,
             width);
}

void HtmlPage::write_row(Kind kind, std::string_view label, std::span<const std::string_view> cells,
                         std::size_t width) {
  reopen_table(cells.size(), width);
  html_.open("tr");
  row_head(kind, label);
  for (const std::string_view cell : cells) html_.element("td", cell);
  html_.close();
}

void HtmlPage::row(std::string_view label, std::span<const std::string_view> cells,
                   std::size_t width) {
  write_row(Kind::plain, label, cells, width);
}

void HtmlPage::below(std::string_view label, std::span<const std::string_view> cells,
                     std::size_t width) {
  write_row(Kind::below, label, cells, width);
}

void HtmlPage::tick_row(std::string_view label, std::span<const std::string_view> cells) {
  write_row(Kind::ticked, label, cells, kCell);
}

void HtmlPage::group(std::string_view words) {
  if (head_.empty()) return paragraph(words);
  reopen_table(head_.size() - 1, kCell);
  html_.open("tr", {{"class", "group"}});
  html_.element("th", words, {{"scope", "rowgroup"}, {"colspan", std::to_string(columns_)}});
  html_.close();
}

void HtmlPage::row_head(Kind kind, std::string_view label, std::size_t columns) {
  static constexpr std::string_view kClasses[] = {"", "below", "ticked"};
  html_.open("th", {{"scope", "row"},
                    {"colspan", columns > 1 ? std::to_string(columns) : ""},
                    {"class", kClasses[static_cast<std::size_t>(kind)]}});
  if (kind == Kind::ticked) html_.element("span", "", {{"class", "box"}});
  html_.text(trimmed(label));
  html_.close();
}

}  // namespace overjoist::io
