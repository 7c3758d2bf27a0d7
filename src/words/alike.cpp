// SPDX-License-Identifier: MIT
#include "words/alike.hpp"

#include <algorithm>
#include <cstddef>

namespace overjoist {
namespace {

/// The next character of UTF-8 text that the reader has checked.
char32_t next_character(std::string_view& text) {
  const auto first = static_cast<unsigned char>(text.front());
  const std::size_t bytes = first < 0x80 ? 1 : first < 0xE0 ? 2 : first < 0xF0 ? 3 : 4;
  char32_t c = bytes == 1 ? first : first & (0xFFU >> (bytes + 1));
  for (std::size_t i = 1; i < bytes && i < text.size(); ++i)
    c = (c << 6) | (static_cast<unsigned char>(text[i]) & 0x3FU);
  text.remove_prefix(std::min(bytes, text.size()));
  return c;
}

/// Blanks of every width, that without any among them.
bool is_blank(char32_t c) {
  return c == ' ' || (c >= '\t' && c <= '\r') || c == 0x85 || c == 0xA0 || c == 0xAD ||
         c == 0x1680 || (c >= 0x2000 && c <= 0x200D) || c == 0x2028 || c == 0x2029 || c == 0x202F ||
         c == 0x205F || c == 0x2060 || c == 0x3000 || c == 0xFEFF;
}

/// Small letter of a Latin, Greek or Cyrillic capital (Unicode's simple pairs); else the character
/// itself.
char32_t small(char32_t c) {
  const auto within = [c](char32_t from, char32_t to) { return c >= from && c <= to; };
  if (within('A', 'Z') || (within(0xC0, 0xDE) && c != 0xD7)) return c + 0x20;
  if (within(0x391, 0x3AB) || within(0x410, 0x42F)) return c + 0x20;
  if (within(0x400, 0x40F)) return c + 0x50;
  if (c == 0x386) return 0x3AC;
  if (within(0x388, 0x38A)) return c + 0x25;
  if (c == 0x178) return 0xFF;
  if (c == 0x1E9E) return 0xDF;
  const bool odd_capital = within(0x139, 0x148) || within(0x179, 0x17E);
  const bool even_capital = within(0x100, 0x137) || within(0x14A, 0x177) || within(0x460, 0x481) ||
                            within(0x48A, 0x4BF) || within(0x4D0, 0x52F) ||
                            within(0x1E00, 0x1E95) || within(0x1EA0, 0x1EFF);
  if (odd_capital) return c % 2 == 1 ? c + 1 : c;
  return even_capital && c % 2 == 0 && c != 0x130 ? c + 1 : c;
}

}  // namespace

bool alike(std::string_view a, std::string_view b) {
  const auto next = [](std::string_view& text) -> char32_t {
    while (!text.empty()) {
      const char32_t c = next_character(text);
      if (!is_blank(c)) return small(c);
    }
    return 0;
  };
  for (;;) {
    const char32_t x = next(a), y = next(b);
    if (x != y) return false;
    if (x == 0) return true;
  }
}

}  // namespace overjoist
