// SPDX-License-Identifier: MIT
#include <fmt/core.h>
#include <algorithm>
#include <string>

#include "words/faults.hpp"
#include "words/nearest.hpp"
#include "words/quantity.hpp"
#include "words/quantity_front.hpp"
#include "words/utf8.hpp"

// Why a text is no quantity, and what was probably meant.
namespace overjoist::io {
namespace {

using F = FaultCode;

std::string allowed_units(Dimension dimension) {
  std::string list;
  for (const Unit& u : units_of(dimension))
    list += (list.empty() ? "" : ", ") + std::string(u.name);
  return list;
}

std::string_view trimmed(std::string_view text) {
  while (!text.empty() && text.front() == ' ') text.remove_prefix(1);
  while (!text.empty() && text.back() == ' ') text.remove_suffix(1);
  return text;
}

/// The two numbers of `4-6`, `4 - 6 in.` or `4to6`, as "4 to 6 in."; "" if it is nothing of the
/// kind.
std::string as_span(std::string_view text) {
  Front front(text);
  const std::string_view start = front.rest();
  if (!front.number()) return {};
  const std::string_view low = start.substr(0, start.size() - front.rest().size());
  front.skip_blanks();
  constexpr std::string_view kEnDash = "\u2013";
  std::string_view rest = front.rest();
  const std::size_t sign = rest.starts_with("to")      ? 2
                           : rest.starts_with('-')     ? 1
                           : rest.starts_with(kEnDash) ? kEnDash.size()
                                                       : 0;
  if (sign == 0) return {};
  rest = trimmed(rest.substr(sign));
  return !rest.empty() && is_digit(rest.front()) ? fmt::format("{} to {}", low, rest)
                                                 : std::string();
}

/// A sign that a phone or a word processor writes and that is in no unit, such as a half in one
/// sign or a curly quote.
std::string_view typographic(std::string_view text) {
  constexpr std::string_view kInUnits = "\u00B2\u00B3\u00B7";
  for (std::size_t at = 0; at < text.size();) {
    const CodePoint point = decode(text.substr(at));
    const std::string_view sign = text.substr(at, point.length);
    if (point.valid && point.length > 1 && kInUnits.find(sign) == std::string_view::npos)
      return sign;
    at += point.length;
  }
  return {};
}

bool is_nearly_flush(std::string_view text) {
  std::string word(trimmed(text));
  std::transform(word.begin(), word.end(), word.begin(), lower);
  return edit_distance(word.substr(0, 16), "flush") <= 2;
}

}  // namespace

Fault no_quantity(std::string_view key, std::string_view text, Dimension dimension,
                  std::string_view other_unit) {
  const std::string_view kind = name_of(dimension);
  if (!other_unit.empty())
    return make_fault<F::unit_of_other_kind>(key, text, other_unit, kind, allowed_units(dimension));
  if (dimension == Dimension::length) {
    if (is_nearly_flush(text)) return make_fault<F::misspelt_flush>(key, text, kind);
    if (std::string span = as_span(text); !span.empty())
      return make_fault<F::odd_span>(key, text, kind, std::move(span));
  }
  if (const std::string_view sign = typographic(text); !sign.empty())
    return make_fault<F::odd_sign>(key, text, kind, sign);
  if (text.find(',') != std::string_view::npos)
    return make_fault<F::comma_in_number>(key, text, kind);
  return make_fault<F::not_a_quantity>(key, text, kind, allowed_units(dimension));
}

}  // namespace overjoist::io
