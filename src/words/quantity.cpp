// SPDX-License-Identifier: MIT
#include "words/quantity.hpp"

#include <optional>

#include "overjoist/units.hpp"
#include "words/quantity_front.hpp"

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

bool is_r(Dimension d) { return d == Dimension::resistance || d == Dimension::resistivity; }

QuantityText of_other_unit(std::string_view unit) {
  QuantityText result;
  result.other_unit = unit;
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
  if (!number) return {};
  front.skip_blanks();
  double inches_more = 0.0;
  if (const std::size_t end = unit_end(front.rest()); end > 0) {
    const std::string_view name = unit_name(front.rest().substr(0, end));
    const Unit* unit = unit_called(dimension, name);
    const bool two_units = result.unit_written && unit != result.unit;
    if (!name.empty() && (!unit || two_units)) return of_other_unit(name);
    const auto more = inches_after_feet(front.rest().substr(end), name);
    if (!unit || !more) return {};
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
