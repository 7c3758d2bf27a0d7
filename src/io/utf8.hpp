// SPDX-License-Identifier: MIT
#pragma once
#include <cstddef>
#include <string_view>

/// UTF-8 for the writers: strict decoding, and what must not reach a terminal as it stands.
namespace overjoist::io {

struct CodePoint {
  char32_t value = 0;      ///< the byte itself where `valid` is false
  std::size_t length = 1;  ///< bytes taken
  bool valid = false;
};

/// First code point of `text`, which is not empty. Overlong forms, surrogates, values above U+10FFFF and cut
/// sequences are not valid and take one byte.
inline CodePoint decode(std::string_view text) {
  const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(text[i]); };
  const unsigned char lead = byte(0);
  const CodePoint bad{lead, 1, false};
  if (lead < 0x80) return {lead, 1, true};
  const std::size_t length = lead >= 0xF0 ? 4 : lead >= 0xE0 ? 3 : 2;
  if (lead < 0xC2 || lead > 0xF4 || text.size() < length) return bad;
  char32_t value = lead & (0xFFU >> (length + 1));
  for (std::size_t i = 1; i < length; ++i) {
    if ((byte(i) & 0xC0U) != 0x80U) return bad;
    value = (value << 6U) | (byte(i) & 0x3FU);
  }
  const char32_t least = length == 4 ? 0x10000U : length == 3 ? 0x800U : 0x80U;
  if (value < least || value > 0x10FFFF || (value >= 0xD800 && value <= 0xDFFF)) return bad;
  return {value, length, true};
}

/// C0, DEL, C1, bidirectional controls, and the line and paragraph separators.
constexpr bool is_control(char32_t c) {
  return c < 0x20 || (c >= 0x7F && c <= 0x9F) || c == 0x61C || c == 0x200E || c == 0x200F || (c >= 0x2028 && c <= 0x202E) ||
         (c >= 0x2066 && c <= 0x2069);
}

}  // namespace overjoist::io
