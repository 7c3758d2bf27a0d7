// SPDX-License-Identifier: MIT
#include "io/json_writer.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <cstdint>
#include <cstring>
#include <stdexcept>

#include "io/utf8.hpp"

namespace overjoist::io {
namespace {

constexpr bool is_plain(unsigned char c) { return c >= 0x20 && c < 0x7F && c != '"' && c != '\\'; }

/// Length of the run of characters that need no escape. Eight at a time: a byte is not plain if its top bit is set, if
/// it is below 0x20, or if it equals one of three characters (then the xor with it is a zero byte). Carries between bytes
/// can only flag a plain byte after one that is not, so the first flag is always right.
std::size_t plain_run(std::string_view text) {
  constexpr std::uint64_t ones = 0x0101010101010101U, tops = 0x8080808080808080U;
  std::size_t at = 0;
  for (; at + 8 <= text.size(); at += 8) {
    std::uint64_t w = 0;
    std::memcpy(&w, text.data() + at, 8);
    const auto zeros = [&](std::uint64_t c) {
      const std::uint64_t x = w ^ (ones * c);
      return (x - ones) & ~x;
    };
    if (((w | ((w - ones * 0x20U) & ~w) | zeros('"') | zeros('\\') | zeros(0x7F)) & tops) != 0) break;
  }
  while (at < text.size() && is_plain(static_cast<unsigned char>(text[at]))) ++at;
  return at;
}

void append_hex_escape(std::string& out, char32_t c) {
  constexpr std::string_view digits = "0123456789abcdef";
  out += "\\u";
  for (int shift = 12; shift >= 0; shift -= 4) out += digits[(c >> static_cast<unsigned>(shift)) & 0xFU];
}

/// Shortest form that reads back the same, without an exponent for sizes that people write out: the plainly shortest
/// form of 100000 would be 1e+05.
char* shortest(char* to, char* end, double value) {
  const double size = std::fabs(value);
  if (size < 1e9 && value * 4.0 == std::floor(value * 4.0)) {  // whole numbers and quarters, the most common: exact
    const auto quarters = static_cast<std::int64_t>(size * 4.0);
    if (value < 0) *to++ = '-';
    to = std::to_chars(to, end, quarters / 4).ptr;
    constexpr std::array<std::string_view, 4> parts = {"", ".25", ".5", ".75"};
    const std::string_view part = parts[static_cast<std::size_t>(quarters % 4)];
    return std::copy(part.begin(), part.end(), to);
  }
  const bool fixed = size >= 1e-5 && size < 1e15;
  return fixed ? std::to_chars(to, end, value, std::chars_format::fixed).ptr : std::to_chars(to, end, value).ptr;
}

}  // namespace

void JsonWriter::new_line() {
  out_ += '\n';
  out_.append(2 * depth_, ' ');
}

void JsonWriter::before_value() {
  if (after_key_) {
    after_key_ = false;
    return;
  }
  if (comma_) out_ += ',';
  if (pretty_ && depth_ > 0) new_line();
}

void JsonWriter::begin(char bracket) {
  before_value();
  out_ += bracket;
  ++depth_;
  comma_ = false;
}

void JsonWriter::end(char bracket) {
  --depth_;
  if (pretty_ && comma_) new_line();
  out_ += bracket;
  comma_ = true;
}

void JsonWriter::key(std::string_view literal) {
  constexpr std::size_t most = 64;
  if (pretty_ || literal.size() > most) {
    before_value();
    out_ += '"';
    out_ += literal;
    out_ += pretty_ ? std::string_view("\": ") : std::string_view("\":");
  } else {  // put together first: one append instead of four
    std::array<char, most + 4> text;
    std::size_t n = 0;
    if (comma_) text[n++] = ',';
    text[n++] = '"';
    std::memcpy(text.data() + n, literal.data(), literal.size());
    n += literal.size();
    text[n++] = '"';
    text[n++] = ':';
    out_.append(text.data(), n);
  }
  after_key_ = true;
}

void JsonWriter::text_key(std::string_view text) {
  before_value();
  quoted(text);
  out_ += pretty_ ? std::string_view(": ") : std::string_view(":");
  after_key_ = true;
}

void JsonWriter::string(std::string_view text) {
  before_value();
  quoted(text);
  comma_ = true;
}

void JsonWriter::quoted(std::string_view text) {
  out_ += '"';
  while (!text.empty()) {
    const std::size_t run = plain_run(text);
    out_ += text.substr(0, run);
    text.remove_prefix(run);
    if (!text.empty()) text.remove_prefix(escaped(text));
  }
  out_ += '"';
}

// Writes the first code point of `text` and returns the bytes it took.
std::size_t JsonWriter::escaped(std::string_view text) {
  const CodePoint c = decode(text);
  if (!c.valid)
    append_hex_escape(out_, 0xFFFD);
  else if (c.value == '"')
    out_ += "\\\"";
  else if (c.value == '\\')
    out_ += "\\\\";
  else if (c.value == '\n')
    out_ += "\\n";
  else if (c.value == '\t')
    out_ += "\\t";
  else if (is_control(c.value))
    append_hex_escape(out_, c.value);
  else
    out_ += text.substr(0, c.length);
  return c.length;
}

void JsonWriter::number(double value) {
  if (!std::isfinite(value)) throw std::logic_error("a number of the result is not finite");
  before_value();
  std::array<char, 40> text;
  out_.append(text.data(), shortest(text.data(), text.data() + text.size(), value + 0.0));  // -0 becomes 0
  comma_ = true;
}

void JsonWriter::flag(bool value) {
  before_value();
  out_ += value ? "true" : "false";
  comma_ = true;
}

void JsonWriter::null() {
  before_value();
  out_ += "null";
  comma_ = true;
}

void JsonWriter::raw(std::string_view json) {
  before_value();
  const std::size_t start = out_.size();
  out_ += json;
  // A line break inside a JSON text can only stand between its parts, never in a string.
  if (!pretty_)
    for (std::size_t i = start; i < out_.size(); ++i)
      if (out_[i] == '\n' || out_[i] == '\r') out_[i] = ' ';
  comma_ = true;
}

void JsonWriter::field_or_null(std::string_view literal, std::string_view text) {
  if (text.empty())
    field_null(literal);
  else
    field(literal, text);
}

}  // namespace overjoist::io
