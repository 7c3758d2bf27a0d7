// SPDX-License-Identifier: MIT
#include "read/json/text.hpp"

#include <algorithm>
#include <charconv>

#include "words/utf8.hpp"

namespace overjoist::io {
namespace {

using F = FaultCode;

constexpr bool is_blank(char c) { return c == ' ' || c == '\t' || c == '\n' || c == '\r'; }
constexpr bool is_follow_up(char c) { return (static_cast<unsigned char>(c) & 0xC0U) == 0x80U; }

/// Walks a text along its values and notes where the wanted pointers are.
class Walk {
 public:
  Walk(std::string_view text, std::vector<PlacedFault>& faults) : text_(text) {
    for (PlacedFault& f : faults)
      if (f.offset == kNowhere) wanted_.push_back({&f, 0});
    value();
  }

 private:
  struct Wanted {
    PlacedFault* fault;
    std::size_t matched;  ///< length of the longest pointer seen so far that leads to it
  };

  /// The value itself, or the deepest one around it that exists.
  void note() {
    for (Wanted& w : wanted_) {
      const std::string& p = w.fault->pointer;
      const bool leads = p.compare(0, path_.size(), path_) == 0 &&
                         (p.size() == path_.size() || p[path_.size()] == '/');
      if (!leads || (w.fault->offset != kNowhere && path_.size() <= w.matched)) continue;
      w.fault->offset = at_;
      w.matched = path_.size();
    }
  }
  char next() {
    at_ = token_start(text_, at_);
    return at_ < text_.size() ? text_[at_] : '\0';
  }
  void value() {
    const char first = next();
    if (first == '\0' || first == '}' || first == ']') return;
    note();
    if (depth_ >= kMostDepth)
      at_ = text_.size();
    else if (first == '{')
      members();
    else if (first == '[')
      elements();
    else
      at_ = token_end(text_, at_);
  }
  void members() {
    const std::size_t size = path_.size();
    ++depth_;
    ++at_;
    while (next() == '"') {
      const std::size_t end = token_end(text_, at_);
      path_ += '/';
      if (end > at_ + 2) path_ += pointer_step(text_.substr(at_ + 1, end - at_ - 2));
      at_ = end;
      value();
      path_.resize(size);
    }
    close('}');
  }
  void elements() {
    const std::size_t size = path_.size();
    ++depth_;
    ++at_;
    for (std::size_t i = 0; next() != ']' && at_ < text_.size(); ++i) {
      const std::size_t before = at_;
      path_ += '/' + std::to_string(i);
      value();
      path_.resize(size);
      if (at_ == before) break;
    }
    close(']');
  }
  void close(char bracket) {
    --depth_;
    if (next() == bracket)
      ++at_;
    else
      at_ = text_.size();  // faulty from here on
  }

  static constexpr std::size_t kMostDepth = 33;  // the reader stops there; a faulty text may go on
  std::string_view text_;
  std::size_t at_ = 0, depth_ = 0;
  std::string path_;
  std::vector<Wanted> wanted_;
};

/// Offset of an escape by four digits in the text at `start` that is half of a character, or
/// `kNowhere`.
std::size_t lone_surrogate(std::string_view text, std::size_t start, std::size_t stop) {
  const auto unit = [&](std::size_t at) -> unsigned {  // of the escape at `at`, 0 if there is none
    unsigned value = 0;
    if (at + 6 > stop || text[at] != '\\' || text[at + 1] != 'u') return 0;
    const auto end = std::from_chars(text.data() + at + 2, text.data() + at + 6, value, 16);
    return end.ptr == text.data() + at + 6 ? value : 0;
  };
  for (std::size_t at = start + 1; at < stop && text[at] != '"'; ++at) {
    if (text[at] != '\\') continue;
    const unsigned half = unit(at) & 0xFC00U;
    if (half == 0xDC00U || (half == 0xD800U && (unit(at + 6) & 0xFC00U) != 0xDC00U)) return at;
    at += half == 0xD800U ? 11 : 1;
  }
  return kNowhere;
}

PlacedFault fault_in_text(std::string_view text, std::size_t at) {
  const char c = text[at];
  if (c == '\n' || c == '\r') return {"", at, make_fault<F::line_break_in_text>()};
  if (c == '\t') return {"", at, make_fault<F::tab_in_text>()};
  if (static_cast<unsigned char>(c) < 0x20U) return {"", at, make_fault<F::control_in_text>()};
  return {"", at, make_fault<F::unknown_escape>()};
}

constexpr bool is_digit(char c) { return c >= '0' && c <= '9'; }

/// Offset of a number before `at` that begins with a 0 and goes on, such as 05, or `kNowhere`: the
/// parser takes its 0 for the whole number and stumbles over what comes after.
std::size_t zero_before(std::string_view text, std::size_t at) {
  std::size_t end = std::min(at, text.size());
  while (end > 0 && is_blank(text[end - 1])) --end;
  std::size_t begin = end;
  while (begin > 0 && is_digit(text[begin - 1])) --begin;
  const bool alone =
      begin == 0 || std::string_view(" \t\r\n,:[-").find(text[begin - 1]) != std::string_view::npos;
  return alone && end - begin > 1 && text[begin] == '0' ? begin : kNowhere;
}

PlacedFault fault_between_values(std::string_view text, std::size_t at) {
  std::size_t before = at;
  while (before > 0 && is_blank(text[before - 1])) --before;
  const char c = text[at];
  const char last = before > 0 ? text[before - 1] : '\0';
  if ((c == '}' || c == ']') && last == ',')
    return {"", before - 1, make_fault<F::comma_before_end>(text.substr(at, 1))};
  if (c == '\'') return {"", at, make_fault<F::single_quote>()};
  if (c == '/' || c == '#') return {"", at, make_fault<F::comment>()};
  if (c == 'N' || c == 'I') return {"", at, make_fault<F::not_a_number>()};
  const bool value_follows = c == '"' || c == '{' || c == '[' || c == '-' || (c >= '0' && c <= '9');
  const bool value_before =
      last == '"' || last == '}' || last == ']' || (last >= '0' && last <= '9');
  if (value_follows && value_before) return {"", at, make_fault<F::missing_comma>()};
  if (c == '\0') return {"", at, make_fault<F::zero_byte>()};
  const unsigned code = static_cast<unsigned char>(c);
  if (code < 0x20U) return {"", at, make_fault<F::stray_byte>(code)};
  const std::size_t length = std::max<std::size_t>(1, token_end(text, at) - at);
  return {"", at, make_fault<F::stray_word>(shortened(text.substr(at, length)))};
}

}  // namespace

std::size_t token_start(std::string_view text, std::size_t at) {
  while (at < text.size() && (is_blank(text[at]) || text[at] == ',' || text[at] == ':')) ++at;
  return at;
}

std::size_t token_end(std::string_view text, std::size_t at) {
  if (at < text.size() && text[at] == '"') {
    for (++at; at < text.size() && text[at] != '"'; ++at)
      if (text[at] == '\\') ++at;
    return std::min(at + 1, text.size());
  }
  while (at < text.size() && !is_blank(text[at]) &&
         std::string_view(",:{}[]\"").find(text[at]) == std::string_view::npos)
    ++at;
  return at;
}

void locate(std::string_view text, std::vector<PlacedFault>& faults) { Walk(text, faults); }

std::size_t characters(std::string_view text) {
  const auto starts =
      std::count_if(text.begin(), text.end(), [](char c) { return !is_follow_up(c); });
  return static_cast<std::size_t>(starts);
}

LineColumn Lines::place_of(std::size_t offset) {
  offset = std::min(offset, text_.size());
  for (; at_ < offset; ++at_)
    if (text_[at_] == '\n') {
      ++line_;
      line_start_ = at_ + 1;
    }
  return {line_, characters(text_.substr(line_start_, offset - line_start_)) + 1};
}

Diagnostics placed(std::string_view text, std::vector<PlacedFault> faults) {
  locate(text, faults);
  std::stable_sort(faults.begin(), faults.end(),
                   [](const PlacedFault& a, const PlacedFault& b) { return a.offset < b.offset; });
  Diagnostics result;
  result.reserve(faults.size());
  Lines lines(text);
  for (PlacedFault& f : faults) {
    const LineColumn at = lines.place_of(f.offset);
    Diagnostic& d = result.emplace_back(diagnostic_of(std::move(f.pointer), std::move(f.fault)));
    d.line = at.line;
    d.column = at.column;
  }
  return result;
}

std::size_t first_bad_utf8(std::string_view text) {
  for (std::size_t i = 0; i < text.size();) {
    const CodePoint point = decode(text.substr(i));
    if (!point.valid) return i;
    i += point.length;
  }
  return kNowhere;
}

PlacedFault syntax_fault(std::string_view text, std::size_t last, std::size_t stop, bool at_end) {
  if (text.find_first_not_of(" \t\r\n") == std::string_view::npos)
    return {"", 0, make_fault<F::empty_file>()};
  if (const std::size_t bad = first_bad_utf8(text); bad < stop)
    return {"", bad, make_fault<F::not_utf8>(static_cast<unsigned char>(text[bad]))};
  const std::size_t start = token_start(text, last);
  const std::size_t end = token_end(text, start);
  const bool is_text = start < stop && text[start] == '"';
  const bool cut_text = is_text && (end > stop || end == start + 1 || text[end - 1] != '"');
  const std::size_t here = start < stop || at_end || stop == 0 ? start : stop - 1;
  if (const std::size_t zero = zero_before(text, here); !is_text && zero != kNowhere)
    return {"", zero, make_fault<F::leading_zero>()};
  if (at_end)
    return {"", text.size(),
            cut_text ? make_fault<F::ends_in_text>() : make_fault<F::ends_early>()};
  if (const std::size_t half = is_text ? lone_surrogate(text, start, end) : kNowhere; half < stop)
    return {"", half, make_fault<F::half_character>(text.substr(half, 6))};
  if (cut_text) return fault_in_text(text, stop - 1);
  // A whole token that does not fit is read to its end, and one byte more after a number.
  return fault_between_values(text, start < stop ? start : stop - 1);
}

std::string pointer_step(std::string_view key) {
  std::string step;
  for (char c : key) {
    if (c == '~')
      step += "~0";
    else if (c == '/')
      step += "~1";
    else
      step += c;
  }
  return step;
}

std::string shortened(std::string_view text) {
  constexpr std::size_t kMost = 60;
  if (text.size() <= kMost) return std::string(text);
  std::size_t end = kMost;
  while (end > 0 && is_follow_up(text[end])) --end;
  return std::string(text.substr(0, end)) + "...";
}

}  // namespace overjoist::io
