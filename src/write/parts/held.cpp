// SPDX-License-Identifier: MIT
#include "write/parts/held.hpp"

#include <fmt/core.h>
#include <algorithm>
#include <string_view>

namespace overjoist::io {
namespace {

/// A number without a sign from here on; `at` is moved behind it. Of no locale.
double number_at(std::string_view text, std::size_t& at) {
  const auto digit = [&] { return at < text.size() && text[at] >= '0' && text[at] <= '9'; };
  double number = 0.0, place = 1.0;
  for (; digit(); ++at) number = number * 10.0 + (text[at] - '0');
  if (at >= text.size() || text[at] != '.') return number;
  for (++at; digit(); ++at) number += (place /= 10.0) * (text[at] - '0');
  return number;
}

/// The number that a reader sees: "17 1/2 in." is 17.5, "R-49.0" 49, "1/4 in." 0.25.
double seen(std::string_view text) {
  constexpr std::string_view kDigits = "0123456789";
  std::size_t at = std::min(text.find_first_of(kDigits), text.size());
  const double first = number_at(text, at);
  const auto slash = text.find('/', at), digits = text.find_first_of(kDigits, at);
  if (slash == at) return first / number_at(text, ++at);
  if (digits != at + 1 || slash == std::string_view::npos) return first;
  at = digits;
  const double above = number_at(text, at);
  return at == slash ? first + above / number_at(text, ++at) : first;
}

std::string plain(double value, int decimals, HeldUnit unit) {
  std::string number = fmt::format("{:.{}f}", value, decimals);
  while (number.back() == '0') number.pop_back();
  if (number.back() == '.') number.pop_back();
  return fmt::format("{}{}{}", unit.before, number, unit.after);
}

}  // namespace

std::vector<std::string> held_texts(const std::vector<HeldFigure>& figures,
                                    const std::vector<HeldPair>& pairs, HeldUnit unit) {
  constexpr int kLeast = 2, kMost = 9;  // the slack of `reaches` has no more
  std::vector<std::string> texts;
  texts.reserve(figures.size());
  for (const HeldFigure& f : figures) texts.push_back(f.usual);
  const auto in_order = [&](const HeldPair& p) {
    return (seen(texts[p.first]) >= seen(texts[p.second])) ==
           reaches(figures[p.first].value, figures[p.second].value);
  };
  for (int decimals = kLeast; decimals <= kMost; ++decimals) {
    if (std::all_of(pairs.begin(), pairs.end(), in_order)) return texts;
    for (std::size_t i = 0; i < figures.size(); ++i)
      texts[i] = plain(figures[i].value, decimals, unit);
  }
  return texts;
}

HeldTexts held_text(const HeldFigure& value, const HeldFigure& limit, HeldUnit unit) {
  const std::vector<std::string> texts = held_texts({value, limit}, {{0, 1}}, unit);
  return {texts[0], texts[1]};
}

HeldTexts held_r(Resistance value, Resistance limit, Units units) {
  const bool us = units == Units::us;
  const auto of = [&](Resistance r) { return us ? r.us() : r.si(); };
  return held_text({of(value), r_text(value, units)}, {of(limit), r_given(limit, units)},
                   us ? HeldUnit{"R-", ""} : HeldUnit{"RSI ", " m2 K/W"});
}

HeldTexts held_weight(MassPerArea value, MassPerArea limit, Units units) {
  const bool us = units == Units::us;
  const auto of = [&](MassPerArea w) { return us ? w.us() : w.si(); };
  return held_text({of(value), weight_text(value, units, Toward::down)},
                   {of(limit), weight_text(limit, units, Toward::up)},
                   {"", us ? " lb/ft2" : " kg/m2"});
}

double shown_unit(Length l, Units units) {
  constexpr double kCentimetrePerMetre = 100.0;
  return units == Units::us ? l.us() : l.si() * kCentimetrePerMetre;
}

}  // namespace overjoist::io
