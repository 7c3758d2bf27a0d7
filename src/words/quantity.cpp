// SPDX-License-Identifier: MIT
#include "words/quantity.hpp"

#include <fmt/core.h>
#include <algorithm>
#include <charconv>
#include <cmath>
#include <optional>

#include "overjoist/units.hpp"
#include "words/nearest.hpp"
#include "words/utf8.hpp"

namespace overjoist::io {
namespace {

constexpr double kCentimetrePerInch = kMetrePerInch * 100,
                 kMillimetrePerInch = kMetrePerInch * 1000;

constexpr double kInchesPerFoot = 12.0;

constexpr Unit kNumber[] = {{""}};
constexpr Unit kLength[] = {{"in."},
                            {"ft", kInchesPerFoot, 1.0},
                            {"mm", 1.0, kMillimetrePerInch},
                            {"cm", 1.0, kCentimetrePerInch},
                            {"m", 1.0, kMetrePerInch}};
constexpr Unit kFeet[] = {{"ft"},
                          {"in.", 1.0, kInchesPerFoot},
                          {"mm", 1.0, kMetrePerFoot * 1000},
                          {"cm", 1.0, kMetrePerFoot * 100},
                          {"m", 1.0, kMetrePerFoot}};
constexpr Unit kArea[] = {{"ft2"}, {"m2", 1.0, AreaTag::kSiPerUs}};
constexpr Unit kResistance[] = {{"h ft2 F/Btu"}, {"m2 K/W", 1.0, ResistanceTag::kSiPerUs}};
constexpr Unit kResistivity[] = {{"per inch"}, {"m K/W", 1.0, ResistivityTag::kSiPerUs}};
constexpr Unit kMass[] = {{"lb"}, {"kg", 1.0, MassTag::kSiPerUs}};
constexpr Unit kWeight[] = {{"lb/ft2"}, {"kg/m2", 1.0, MassPerAreaTag::kSiPerUs}};
constexpr Unit kDensity[] = {{"lb/ft3"}, {"kg/m3", 1.0, DensityTag::kSiPerUs}};
constexpr Unit kPercent[] = {{"%"}};

/// How a unit may be written, with | between the ways. data/survey.schema.json has the same
/// spellings.
struct Spellings {
  std::string_view name, ways;
};
constexpr Spellings kSpellings[] = {
    {"in.", "in|in.|inch|inches|\"|''"},
    {"ft", "ft|ft.|foot|feet|'"},
    {"mm", "mm"},
    {"cm", "cm"},
    {"m", "m"},
    {"ft2", "ft2|ft^2|ft\u00B2|sq ft|sq. ft.|sqft|sf"},
    {"m2", "m2|m^2|m\u00B2|sq m"},
    {"h ft2 F/Btu", "h ft2 F/Btu"},
    {"m2 K/W", "m2K/W|m2 K/W|m2\u00B7K/W|m\u00B2K/W|m\u00B2 K/W|m\u00B2\u00B7K/W"},
    {"per inch", "per inch|per in.|/in."},
    {"m K/W", "mK/W|m K/W|m\u00B7K/W"},
    {"lb", "lb|lbs|lb.|pounds"},
    {"kg", "kg"},
    {"lb/ft2", "lb/ft2|lb/ft^2|lb/ft\u00B2|psf"},
    {"kg/m2", "kg/m2|kg/m^2|kg/m\u00B2"},
    {"lb/ft3", "lb/ft3|lb/ft^3|lb/ft\u00B3|pcf"},
    {"kg/m3", "kg/m3|kg/m^3|kg/m\u00B3"},
    {"%", "%|percent"},
};

constexpr char lower(char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; }
constexpr bool is_digit(char c) { return c >= '0' && c <= '9'; }

/// True if `written` is one of the ways.
bool is_way(std::string_view ways, std::string_view written) {
  for (;;) {
    const std::size_t bar = ways.find('|');
    if (ways.substr(0, bar) == written) return true;
    if (bar == std::string_view::npos) return false;
    ways.remove_prefix(bar + 1);
  }
}

/// The table name of a unit as written, "" if it is no unit at all.
std::string_view unit_name(std::string_view written) {
  while (!written.empty() && written.back() == ' ') written.remove_suffix(1);
  for (const Spellings& s : kSpellings)
    if (is_way(s.ways, written)) return s.name;
  return {};
}

const Unit* unit_called(Dimension dimension, std::string_view name) {
  for (const Unit& u : units_of(dimension))
    if (u.name == name) return &u;
  return nullptr;
}

/// Reads from the front of a text.
class Front {
 public:
  explicit Front(std::string_view text) : rest_(text) { skip_blanks(); }
  std::string_view rest() const { return rest_; }
  bool take(char c) {
    if (rest_.empty() || lower(rest_.front()) != c) return false;
    rest_.remove_prefix(1);
    return true;
  }
  void skip_blanks() {
    while (!rest_.empty() && rest_.front() == ' ') rest_.remove_prefix(1);
  }
  /// Digits only.
  std::optional<double> whole() {
    std::size_t n = 0;
    while (n < rest_.size() && is_digit(rest_[n])) ++n;
    return n == 0 ? std::nullopt : number_of(n);
  }
  /// Digits with at most one point.
  std::optional<double> decimal() {
    std::size_t n = 0, digits = 0, points = 0;
    for (; n < rest_.size() && (is_digit(rest_[n]) || (rest_[n] == '.' && points == 0)); ++n)
      (rest_[n] == '.' ? points : digits) += 1;
    return digits == 0 ? std::nullopt : number_of(n);
  }
  /// `3/4`, wholly or not at all.
  std::optional<double> fraction() {
    const Front before = *this;
    const auto top = whole();
    const auto bottom = top && take('/') ? whole() : std::nullopt;
    if (bottom && *bottom > 0) return *top / *bottom;
    *this = before;
    return {};
  }
  /// A decimal, a fraction or a mixed number.
  std::optional<double> number() {
    if (const auto f = fraction()) return f;
    const bool can_be_mixed = !rest_.empty() && is_digit(rest_.front());
    const std::string_view start = rest_;
    const auto n = decimal();
    const bool whole_number =
        n && can_be_mixed &&
        start.substr(0, start.size() - rest_.size()).find('.') == std::string_view::npos;
    if (!whole_number) return n;
    const Front before = *this;
    if (!take('-')) skip_blanks();
    if (const auto f = fraction()) return *n + *f;
    *this = before;
    return n;
  }

 private:
  std::optional<double> number_of(std::size_t n) {
    double value = 0.0;
    const auto end =
        std::from_chars(rest_.data(), rest_.data() + n, value, std::chars_format::fixed);
    if (end.ec != std::errc() || !std::isfinite(value)) return {};
    rest_.remove_prefix(n);
    return value;
  }
  std::string_view rest_;
};

bool is_r(Dimension d) { return d == Dimension::resistance || d == Dimension::resistivity; }

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

std::string hint_for(std::string_view text, Dimension dimension) {
  if (dimension == Dimension::length) {
    std::string word(trimmed(text));
    std::transform(word.begin(), word.end(), word.begin(), lower);
    if (edit_distance(word.substr(0, 16), "flush") <= 2)
      return "a depth level with the joist tops is written \"flush\"";
    if (const std::string span = as_span(text); !span.empty())
      return fmt::format("a span of depths is written \"{}\"", span);
  }
  if (const std::string_view sign = typographic(text); !sign.empty())
    return fmt::format(
        "the sign {} is not read: write fractions as 1/2, inches as in. and feet as ft", sign);
  if (text.find(',') != std::string_view::npos)
    return "write decimals with a point and thousands without a comma";
  return fmt::format("write a number, or a number and a unit ({})", allowed_units(dimension));
}

QuantityText not_a_quantity(std::string_view text, Dimension dimension) {
  QuantityText result;
  result.fault = fmt::format("\"{}\" is not a quantity ({})", text, name_of(dimension));
  result.hint = hint_for(text, dimension);
  return result;
}

QuantityText wrong_unit(std::string_view text, std::string_view unit, Dimension dimension) {
  QuantityText result;
  result.fault = fmt::format("\"{}\": {} is not a unit of {}; allowed: {}", text, unit,
                             name_of(dimension), allowed_units(dimension));
  result.hint = "convert it, or check the key";
  return result;
}

/// `2 ft 3 in`: the inches that follow feet; 0 if nothing follows.
std::optional<double> inches_after_feet(std::string_view rest, std::string_view unit) {
  if (rest.empty()) return 0.0;
  Front front(rest);
  const auto n = front.number();
  front.skip_blanks();
  return n && unit == "ft" && unit_name(front.rest()) == "in." ? n : std::nullopt;
}

/// Where the unit ends in `ft 3 in`: before a digit, but not inside ft2 or m2.
std::size_t unit_end(std::string_view rest) {
  for (std::size_t i = 1; i < rest.size(); ++i)
    if (is_digit(rest[i]) && (rest[i - 1] == ' ' || rest[i - 1] == '\'')) return i;
  return rest.size();
}

/// Takes a sign, or the `R-` or `RSI` before a resistance.  @returns the sign, 0 if it is none of
/// these
double read_prefix(Front& front, Dimension dimension, QuantityText& result) {
  if (!is_r(dimension) || !front.take('r')) {
    if (front.take('-')) return -1.0;
    front.take('+');
    return 1.0;
  }
  if (front.take('s')) {
    if (!front.take('i')) return 0.0;
    result.unit = &units_of(dimension)[1];
    result.unit_written = true;
  }
  front.skip_blanks();
  front.take('-');  // the hyphen of R-19 is no minus sign
  front.skip_blanks();
  return 1.0;
}

}  // namespace

std::span<const Unit> units_of(Dimension dimension) {
  switch (dimension) {
    case Dimension::length:
      return kLength;
    case Dimension::feet:
      return kFeet;
    case Dimension::area:
      return kArea;
    case Dimension::resistance:
      return kResistance;
    case Dimension::resistivity:
      return kResistivity;
    case Dimension::mass:
      return kMass;
    case Dimension::weight_per_area:
      return kWeight;
    case Dimension::density:
      return kDensity;
    case Dimension::percent:
      return kPercent;
    case Dimension::number:
      break;
  }
  return kNumber;
}

std::string_view name_of(Dimension dimension) {
  static constexpr std::string_view kNames[] = {
      "number",     "length", "length",          "area",    "R",
      "R per inch", "mass",   "weight per area", "density", "percent"};
  return kNames[static_cast<std::size_t>(dimension)];
}

QuantityText read_quantity(std::string_view text, Dimension dimension) {
  Front front(text);
  QuantityText result;
  result.unit = &units_of(dimension).front();
  const double sign = read_prefix(front, dimension, result);
  const auto number = sign == 0.0 ? std::nullopt : front.number();
  if (!number) return not_a_quantity(text, dimension);
  front.skip_blanks();
  double inches_more = 0.0;
  if (const std::size_t end = unit_end(front.rest()); end > 0) {
    const std::string_view name = unit_name(front.rest().substr(0, end));
    const Unit* unit = unit_called(dimension, name);
    const bool two_units = result.unit_written && unit != result.unit;
    if (!name.empty() && (!unit || two_units)) return wrong_unit(text, name, dimension);
    const auto more = inches_after_feet(front.rest().substr(end), name);
    if (!unit || !more) return not_a_quantity(text, dimension);
    inches_more = *more;
    result.unit = unit;
    result.unit_written = true;
  }
  result.ok = true;
  result.number = (*number + inches_more / kInchesPerFoot) * sign;
  result.value = result.unit->to_key(result.number);
  return result;
}

}  // namespace overjoist::io
