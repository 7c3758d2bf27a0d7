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

/// First code point of `text`, which is not empty. Overlong forms, surrogates, values above
/// U+10FFFF and cut sequences are not valid and take one byte.
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

/// What no output holds as it stands, since it steers a terminal, turns text round or hides in it:
/// C0, DEL, C1; the line and paragraph separators; annotation marks; and all that Unicode calls
/// Default_Ignorable_Code_Point (DerivedCoreProperties.txt): bidirectional controls, zero-width
/// characters, fillers, variation selectors, tags.
constexpr bool is_hidden(char32_t c) {
  if (c < 0xAD) return c < 0x20 || (c >= 0x7F && c <= 0x9F);
  constexpr struct {
    char32_t first, last;
  } ranges[] = {{0xAD, 0xAD},      {0x34F, 0x34F},   {0x61C, 0x61C},     {0x115F, 0x1160},
                {0x17B4, 0x17B5},  {0x180B, 0x180F}, {0x200B, 0x200F},   {0x2028, 0x202E},
                {0x2060, 0x206F},  {0x3164, 0x3164}, {0xFE00, 0xFE0F},   {0xFEFF, 0xFEFF},
                {0xFFA0, 0xFFA0},  {0xFFF0, 0xFFFB}, {0x1BCA0, 0x1BCA3}, {0x1D173, 0x1D17A},
                {0xE0000, 0xE0FFF}};
  for (const auto& range : ranges)
    if (c <= range.last) return c >= range.first;
  return false;
}

/// A blank of any width (White_Space of Unicode).
constexpr bool is_blank_of_any_width(char32_t c) {
  return c == ' ' || (c >= 0x9 && c <= 0xD) || c == 0x85 || c == 0xA0 || c == 0x1680 ||
         (c >= 0x2000 && c <= 0x200A) || c == 0x2028 || c == 0x2029 || c == 0x202F || c == 0x205F ||
         c == 0x3000;
}

}  // namespace overjoist::io
