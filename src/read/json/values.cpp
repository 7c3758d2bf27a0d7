// SPDX-License-Identifier: MIT
#include <fmt/format.h>
#include <algorithm>
#include <cmath>

#include "read/json/reader.hpp"

// What a scalar may be: a quantity within bounds, one of a list of words, a text of some length.
namespace overjoist::io {
namespace {

std::string bounds_in_words(Bounds b, const Unit& unit) {
  const std::string_view blank = unit.name.empty() ? "" : " ";
  return fmt::format(
      fmt::runtime(b.above_low ? "above {:.7g}, up to {:.7g}{}{}" : "{:.7g} to {:.7g}{}{}"),
      unit.from_key(b.low), unit.from_key(b.high), blank, unit.name);
}

/// Nothing that a survey measures or pays is nearer to 0 than this without being 0, and a quotient
/// by it has no meaning.
double nothing_below(double value) {
  constexpr double kNothing = 1e-9;
  return std::fabs(value) < kNothing ? 0.0 : value;
}

}  // namespace

bool Reader::fits(const AnyField& field, Scalar& value) {
  if (field.dimension) {
    const auto v = quantity(value, *field.dimension, field.bounds, field.key);
    if (!v) return false;
    const double told =
        value.kind == kNumber ? value.number : *v;  // 1e-320 is taken as 0, but is no whole number
    value.number = *v;
    if (!field.whole || told == std::floor(told)) return true;
    fault(fmt::format("{} {} is not a whole number", field.key, raw()), "leave the decimals out");
    return false;
  }
  if (value.kind != kText) return true;
  if (field.words.empty()) return fits_text(field, *value.text);
  const auto index = word(*value.text, field.words, field.key);
  value.number = static_cast<double>(index.value_or(0));
  return index.has_value();
}

bool Reader::fits_text(const AnyField& field, const std::string& text) {
  if (text.size() >= field.least && text.size() <= field.most) return true;
  const std::size_t n = characters(text);
  if (n >= field.least && n <= field.most) return true;
  fault(fmt::format("{}: the text has {} characters; allowed: {} to {}", field.key, n, field.least,
                    field.most),
        n > field.most ? "shorten it" : "write a word or two");
  return false;
}

std::optional<double> Reader::quantity(const Scalar& value, Dimension dimension, Bounds bounds,
                                       std::string_view what) {
  if (value.kind == kNumber) {
    if (!within(value.number, bounds, units_of(dimension).front(), false, what)) return {};
    note_unit(nullptr, dimension, bounds, value.number, what);
    return nothing_below(value.number);
  }
  QuantityText read = read_quantity(*value.text, dimension);
  if (!read.ok) {
    fault(fmt::format("{}: {}", what, read.fault), std::move(read.hint));
    return {};
  }
  if (!within(read.value, bounds, *read.unit, read.unit_written, what)) return {};
  note_unit(read.unit_written ? read.unit : nullptr, dimension, bounds, read.value, what);
  return nothing_below(read.value);
}

void Reader::note_unit(const Unit* unit, Dimension dimension, Bounds bounds, double value,
                       std::string_view key) {
  constexpr std::string_view kMetricInitials =
      "mck";  // mm, cm, m, m2, m2 K/W, m K/W, kg, kg/m2, kg/m3
  constexpr double kInsulation =
      200.0;  // what an R of insulation may be; boards and films are allowed less
  if (unit && dimension != Dimension::percent) {
    ++(kMetricInitials.find(unit->name.front()) == std::string_view::npos ? written_.us
                                                                          : written_.metric);
  } else if (!unit && dimension == Dimension::resistance) {
    const bool surface = bounds.high < kInsulation;
    auto& least = surface ? written_.bare_surface_r : written_.bare_r;
    if (!(value > 0) || (least && *least <= value)) return;
    least = value;
    (surface ? written_.bare_surface_key : written_.bare_r_key) = key;
  } else if (!unit && dimension == Dimension::length && key == "depth") {
    written_.bare_depth = std::max(value, written_.bare_depth.value_or(0.0));
  }
}

bool Reader::within(double value, Bounds b, const Unit& unit, bool unit_written,
                    std::string_view what) {
  const bool above_low = b.above_low ? value > b.low : value >= b.low;
  if (above_low && value <= b.high) return true;
  const bool show_unit = !unit_written && !unit.name.empty();
  constexpr double kMm = 3048;  // 120 in.: more is no length of an attic in mm either
  fault(fmt::format("{} {}{}{} is {} {:.7g}; allowed: {}", what, raw(), show_unit ? " " : "",
                    show_unit ? unit.name : "",
                    above_low     ? "above"
                    : b.above_low ? "not above"
                                  : "below",
                    unit.from_key(above_low ? b.high : b.low), bounds_in_words(b, unit)),
        value < 0 && b.low == 0 && what == "depth" ? std::string("write 0 for a bare spot")
        : above_low && show_unit && unit.name == "in." && value < kMm
            ? fmt::format("if it is in mm, write \"{0} mm\", in cm \"{0} cm\"", raw())
            : std::string("check the number and its unit"));
  return false;
}

std::optional<std::size_t> Reader::word(std::string_view text,
                                        std::span<const std::string_view> words,
                                        std::string_view key) {
  const auto found = std::find(words.begin(), words.end(), text);
  if (found != words.end()) return static_cast<std::size_t>(found - words.begin());
  fault(fmt::format("{} \"{}\" is not known; allowed: {}", key, shortened(text),
                    fmt::join(words, ", ")),
        did_you_mean(text, {words.begin(), words.end()}));
  return {};
}

}  // namespace overjoist::io
