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

bool is_number(std::string_view lead) {
  return lead.size() > 1 && lead.back() == '.' &&
         lead.find_first_not_of("0123456789.") == std::string_view::npos;
}

std::string_view without_colon(std::string_view lead) {
  if (!lead.empty() && lead.back() == ':') lead.remove_suffix(1);
  return lead;
}

constexpr std::string_view kTick = "[ ] ";

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
  // The badge says the word.
  constexpr std::string_view kWord = "STOP: ";
  if (text.substr(0, kWord.size()) == kWord) text.remove_prefix(kWord.size());
  html_.callout_begin(Callout::stop, text);
  box_ = true;
}

void HtmlPage::heading(std::string_view text) {
  close_section();
  heading_ = text;
  head_.clear();
  html_.section_begin(text);
  section_ = true;
}

void HtmlPage::text(std::string_view lead, std::string_view body, std::size_t hang) {
  const std::string_view word = trimmed(lead);
  if (word.empty() && part_ == Part::table && (hang >= 4 || rows_ == 0)) {
    html_.open("tr", {{"class", "aside"}});
    html_.element("td", body, {{"colspan", std::to_string(columns_)}});
    return html_.close();
  }
  if (word == "-") {
    turn_to(Part::list);
    return html_.element("li", body);
  }
  if (word == trimmed(kTick) && part_ == Part::table && !head_.empty()) {
    html_.open("tr");
    ticked_row(std::string(kTick) + std::string(body), columns_);
    return html_.close();
  }
  if (word == trimmed(kTick)) {
    turn_to(Part::ticks);
    return html_.tick(body);
  }
  if (is_number(word)) {
    turn_to(Part::numbered);
    return html_.element("li", body);
  }
  if (word.empty()) {
    turn_to(Part::none);
    return html_.paragraph(body);
  }
  turn_to(Part::facts);
  html_.open("div");
  html_.element("dt", without_colon(word));
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
  rows_ = 0;
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

void HtmlPage::row(std::string_view label, std::span<const std::string_view> cells,
                   std::size_t width) {
  reopen_table(cells.size(), width);
  ++rows_;
  html_.open("tr");
  ticked_row(label);
  for (const std::string_view cell : cells) html_.element("td", cell);
  html_.close();
}

void HtmlPage::group(std::string_view words) {
  if (head_.empty()) return text("", words, 0);
  reopen_table(head_.size() - 1, kCell);
  ++rows_;
  html_.open("tr", {{"class", "group"}});
  html_.element("th", words, {{"scope", "rowgroup"}, {"colspan", std::to_string(columns_)}});
  html_.close();
}

void HtmlPage::long_row(std::string_view lead, std::string_view label, std::size_t,
                        std::span<const std::string_view> cells) {
  row("  " + std::string(trimmed(lead)) + ' ' + std::string(label), cells, kCell);
}

/// The label's indent says that the row belongs to the one above.
void HtmlPage::ticked_row(std::string_view label, std::size_t columns) {
  std::string_view words = trimmed(label);
  const bool tick = words.substr(0, kTick.size()) == kTick;
  if (tick) words.remove_prefix(kTick.size());
  const bool below = !tick && label.substr(0, 2) == "  ";
  html_.open("th", {{"scope", "row"},
                    {"colspan", columns > 1 ? std::to_string(columns) : ""},
                    {"class", tick    ? "ticked"
                              : below ? "below"
                                      : ""}});
  if (tick) html_.element("span", "", {{"class", "box"}});
  html_.text(words);
  html_.close();
}

}  // namespace overjoist::io
