// SPDX-License-Identifier: MIT
#include "write/document/page.hpp"

#include <fmt/core.h>
#include <algorithm>

#include "overjoist/report.hpp"
#include "words/utf8.hpp"

namespace overjoist::io {
namespace {

// The blocks that matter for names and notes; a terminal may differ in rare letters.
std::size_t columns_of(char32_t c) {
  if ((c >= 0x300 && c <= 0x36F) || (c >= 0x200B && c <= 0x200D) || (c >= 0xFE00 && c <= 0xFE0F))
    return 0;
  const bool wide = (c >= 0x1100 && c <= 0x115F) || (c >= 0x2E80 && c <= 0xA4CF) ||
                    (c >= 0xAC00 && c <= 0xD7A3) || (c >= 0xF900 && c <= 0xFAFF) ||
                    (c >= 0xFE30 && c <= 0xFE6F) || (c >= 0xFF00 && c <= 0xFF60) ||
                    (c >= 0xFFE0 && c <= 0xFFE6) || (c >= 0x1F300 && c <= 0x1FAFF) ||
                    (c >= 0x20000 && c <= 0x3FFFD);
  return wide ? 2 : 1;
}

// Bytes of the longest start of `text` that fits `width` columns.
std::size_t fitting(std::string_view text, std::size_t width) {
  std::size_t taken = 0;
  std::size_t used = 0;
  while (taken < text.size()) {
    const CodePoint c = decode(text.substr(taken));
    used += columns_of(c.value);
    if (used > width) break;
    taken += c.length;
  }
  return taken;
}

// A number stays with what follows it, and a unit in one piece: "13 1/4 in.", "RSI 3.38 m2 K/W",
// "Btu/(h F)".
bool stay_together(std::string_view word, std::string_view next) {
  const char last = word.back();
  return (last >= '0' && last <= '9') || word == "RSI" || next.substr(0, 3) == "K/W" ||
         word.substr(0, 5) == "Btu/(";
}

std::string_view take_word(std::string_view& rest) {
  rest.remove_prefix(std::min(rest.find_first_not_of(' '), rest.size()));
  const std::string_view word = rest.substr(0, rest.find(' '));
  rest.remove_prefix(word.size());
  return word;
}

// Next words that must share a line. Long rows of numbers in a note are not such a group: 24
// columns are enough.
std::string_view take_group(std::string_view& rest) {
  constexpr std::size_t longest = 24;
  std::string_view word = take_word(rest);
  const char* begin = word.data();
  std::size_t size = word.size();
  for (;;) {
    std::string_view ahead = rest;
    const std::string_view next = take_word(ahead);
    const auto with_next = static_cast<std::size_t>(next.data() - begin) + next.size();
    if (word.empty() || next.empty() || !stay_together(word, next) || with_next > longest) break;
    size = with_next;
    word = next;
    rest = ahead;
  }
  return {begin, size};
}

void append_cell(std::string& out, std::string_view text, std::size_t width) {
  const std::string cell = cut_to(text, width);
  out.append(width - columns(cell), ' ');
  out += cell;
}

}  // namespace

std::size_t columns(std::string_view text) {
  std::size_t sum = 0;
  for (std::size_t i = 0; i < text.size();) {
    const CodePoint c = decode(text.substr(i));
    sum += columns_of(c.value);
    i += c.length;
  }
  return sum;
}

std::string cut_to(std::string_view text, std::size_t width) {
  if (columns(text) <= width) return std::string(text);
  return std::string(text.substr(0, fitting(text, width - 3))) + "...";
}

void Page::styled(std::string_view text, std::string_view code) {
  if (colour_) out_ += code;
  out_ += cut_to(printable(text), kWidth);
  if (colour_) out_ += "\x1b[0m";
  out_ += '\n';
}

void Page::heading(std::string_view text) {
  blank();
  title(text);
  if (colour_) return;
  out_.append(std::min(columns(printable(text)), kWidth), '-');
  out_ += '\n';
}

void Page::new_line(std::size_t hang) {
  out_ += '\n';
  out_.append(hang, ' ');
  column_ = hang;
  fresh_ = true;
}

void Page::put(std::string_view chunk, std::size_t hang) {
  const std::size_t wide = columns(chunk);
  if (!fresh_ && column_ + 1 + wide > kWidth) new_line(hang);
  if (!fresh_) {
    out_ += ' ';
    ++column_;
  }
  while (columns(chunk) > kWidth - column_) {
    const std::size_t taken = fitting(chunk, kWidth - column_);
    out_ += chunk.substr(0, taken);
    chunk.remove_prefix(taken);
    new_line(hang);
  }
  out_ += chunk;
  column_ += columns(chunk);
  fresh_ = false;
}

void Page::wrapped(std::string_view lead, std::string_view body, std::size_t hang) {
  out_ += lead;
  out_.append(hang > lead.size() ? hang - lead.size() : 0, ' ');
  column_ = std::max(hang, lead.size());
  fresh_ = true;
  const std::string safe = printable(body);
  std::string_view rest = safe;
  for (std::string_view chunk = take_group(rest); !chunk.empty(); chunk = take_group(rest))
    put(chunk, hang);
  out_ += '\n';
}

void Page::item(std::string_view body, std::size_t indent) {
  std::string lead(indent, ' ');
  lead += "- ";
  wrapped(lead, body, lead.size());
}

void Page::tick(std::string_view body, std::size_t indent, bool ticked) {
  std::string lead(indent, ' ');
  lead += ticked ? "[x] " : "[ ] ";
  wrapped(lead, body, lead.size());
}

void Page::numbered(int number, std::string_view body, std::size_t hang) {
  wrapped(fmt::format("{:{}}. ", number, hang - 2), body, hang);
}

void Page::fact(std::string_view term, std::string_view body, std::size_t hang) {
  std::string lead(term);
  if (lead.size() >= hang) lead += ' ';
  wrapped(lead, body, hang);
}

void Page::below(std::string_view label, std::span<const std::string_view> cells,
                 std::size_t width) {
  std::string indented = "  ";
  indented += label;
  row(indented, cells, width);
}

void Page::tick_row(std::string_view label, std::span<const std::string_view> cells) {
  std::string boxed = "  [ ] ";
  boxed += label;
  const std::size_t room = kWidth - cells.size() * kCell;
  if (columns(label) + 8 <= room) return row(boxed, cells, kCell);
  tick(label, 4);
  row("", cells, kCell);
}

void Page::row(std::string_view label, std::span<const std::string_view> cells, std::size_t width) {
  const std::string safe = "  " + printable(label);
  const std::size_t room = kWidth - cells.size() * width;
  out_ += cut_to(safe, kWidth);
  if (columns(safe) > room)
    new_line(room);
  else
    out_.append(room - columns(safe), ' ');
  for (const std::string_view cell : cells) append_cell(out_, printable(cell), width);
  out_ += '\n';
}

}  // namespace overjoist::io
