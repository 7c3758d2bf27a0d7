// SPDX-License-Identifier: MIT
#include "write/json/writer.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <cstdint>
#include <stdexcept>

#include <fmt/compile.h>

#include "words/utf8.hpp"

namespace overjoist::io {
namespace {

constexpr std::size_t kRoom = std::size_t{16} * 1024;  // bytes by which the output grows at least
constexpr std::size_t kNumber = 40;                    // most characters of a number

constexpr bool is_plain(unsigned char c) { return c >= 0x20 && c < 0x7F && c != '"' && c != '\\'; }

/// Length of the run of characters that need no escape. Eight at a time: a byte is not plain if its
/// top bit is set, if it is below 0x20, or if it equals one of three characters (then the xor with
/// it is a zero byte). Carries between bytes can only flag a plain byte after one that is not, so
/// the first flag is always right.
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
    if (((w | ((w - ones * 0x20U) & ~w) | zeros('"') | zeros('\\') | zeros(0x7F)) & tops) != 0)
      break;
  }
  while (at < text.size() && is_plain(static_cast<unsigned char>(text[at]))) ++at;
  return at;
}

/// Shortest form that reads back the same, without an exponent for sizes that people write out: the
/// plainly shortest form of 100000 would be 1e+05.
char* shortest(char* to, char* end, double value) {
  const double size = std::fabs(value);
  const auto quarters = size < 1e9 ? static_cast<std::int64_t>(size * 4.0) : 0;
  if (size < 1e9 && static_cast<double>(quarters) ==
                        size * 4.0) {  // whole numbers and quarters, the most common: exact
    if (value < 0) *to++ = '-';
    to = std::to_chars(to, end, quarters / 4).ptr;
    constexpr std::array<std::string_view, 4> parts = {"", ".25", ".5", ".75"};
    const std::string_view part = parts[static_cast<std::size_t>(quarters % 4)];
    return std::copy(part.begin(), part.end(), to);
  }
  return fmt::format_to(to, FMT_COMPILE("{}"),
                        value);  // the same digits as to_chars, in two thirds of the time
}

/// `c` as \uNNNN, beyond U+FFFF as a pair of them.
std::string hex_escape(char32_t c) {
  if (c < 0x10000) return fmt::format(FMT_COMPILE("\\u{:04x}"), static_cast<unsigned>(c));
  const auto above = static_cast<unsigned>(c) - 0x10000U;
  return fmt::format(FMT_COMPILE("\\u{:04x}\\u{:04x}"), 0xD800U + (above >> 10U),
                     0xDC00U + (above & 0x3FFU));
}

}  // namespace

void JsonWriter::grow(std::size_t bytes) {
  const std::size_t used =
      at_ != nullptr ? static_cast<std::size_t>(at_ - out_.data()) : out_.size();
  out_.resize(used + std::max(bytes, kRoom));
  at_ = out_.data() + used;
  end_ = out_.data() + out_.size();
}

void JsonWriter::release() {
  if (at_ == nullptr) return;
  out_.resize(static_cast<std::size_t>(at_ - out_.data()));
  at_ = end_ = nullptr;
}

void JsonWriter::new_line() {
  put('\n');
  for (std::size_t i = 0; i < depth_; ++i) put("  ");
}

void JsonWriter::before_value() {
  if (after_key_) {
    after_key_ = false;
    return;
  }
  if (comma_) put(',');
  if (pretty_ && depth_ > 0) new_line();
}

void JsonWriter::after_value() {
  comma_ = true;
  if (depth_ == 0) release();
}

void JsonWriter::begin(char bracket) {
  before_value();
  put(bracket);
  ++depth_;
  comma_ = false;
}

void JsonWriter::end(char bracket) {
  --depth_;
  if (pretty_ && comma_) new_line();
  put(bracket);
  after_value();
}

void JsonWriter::pretty_key(std::string_view literal) {
  before_value();
  put('"');
  put(literal);
  put("\": ");
  after_key_ = true;
}

void JsonWriter::text_key(std::string_view text) {
  before_value();
  quoted(text);
  put(pretty_ ? std::string_view(": ") : std::string_view(":"));
  after_key_ = true;
}

void JsonWriter::string(std::string_view text) {
  before_value();
  quoted(text);
  after_value();
}

void JsonWriter::quoted(std::string_view text) {
  put('"');
  while (!text.empty()) {
    const std::size_t run = plain_run(text);
    put(text.substr(0, run));
    text.remove_prefix(run);
    if (!text.empty()) text.remove_prefix(escaped(text));
  }
  put('"');
}

// Writes the first code point of `text` and returns the bytes it took.
std::size_t JsonWriter::escaped(std::string_view text) {
  const CodePoint c = decode(text);
  const auto hex = [&](char32_t value) { put(hex_escape(value)); };
  if (!c.valid)
    hex(0xFFFD);
  else if (c.value == '"')
    put("\\\"");
  else if (c.value == '\\')
    put("\\\\");
  else if (c.value == '\n')
    put("\\n");
  else if (c.value == '\t')
    put("\\t");
  else if (is_hidden(c.value))
    hex(c.value);
  else
    put(text.substr(0, c.length));
  return c.length;
}

void JsonWriter::number(double value) {
  if (!std::isfinite(value)) throw std::logic_error("a number of the result is not finite");
  before_value();
  room(kNumber);
  at_ = shortest(at_, at_ + kNumber, value + 0.0);  // -0 becomes 0
  after_value();
}

void JsonWriter::flag(bool value) {
  before_value();
  put(value ? std::string_view("true") : std::string_view("false"));
  after_value();
}

void JsonWriter::null() {
  before_value();
  put("null");
  after_value();
}

void JsonWriter::raw(std::string_view json) {
  before_value();
  while (!json.empty()) {
    std::size_t run = 0;
    while (run < json.size() && json[run] >= 0x20 && json[run] < 0x7F) ++run;
    put(json.substr(0, run));
    json.remove_prefix(run);
    if (json.empty()) break;
    // What is not plain ASCII stands inside a string, or is a line break or tab between the parts,
    // never in a string.
    const CodePoint c = decode(json);
    if (c.value == '\n' || c.value == '\r' || c.value == '\t')
      put(pretty_ ? static_cast<char>(c.value) : ' ');
    else if (!c.valid || is_hidden(c.value))
      put(hex_escape(c.valid ? c.value : 0xFFFD));
    else
      put(json.substr(0, c.length));
    json.remove_prefix(c.length);
  }
  after_value();
}

void JsonWriter::field_or_null(std::string_view literal, std::string_view text) {
  if (text.empty())
    field_null(literal);
  else
    field(literal, text);
}

}  // namespace overjoist::io
