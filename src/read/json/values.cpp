// SPDX-License-Identifier: MIT
#include <fmt/format.h>
#include <algorithm>
#include <cmath>
#include <type_traits>

#include "read/json/reader.hpp"
#include "words/nearest.hpp"

// What a scalar may be: a quantity within bounds, one of a list of words, a text of some length.
namespace overjoist::io {
namespace {

using F = FaultCode;
template <FaultCode C>
using Code = std::integral_constant<FaultCode, C>;

/// " in.", to stand behind a number; "" of a plain number.
std::string behind_number(const Unit& unit) {
  return unit.name.empty() ? std::string() : ' ' + std::string(unit.name);
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
    fault(make_fault<F::not_whole>(field.key, raw()));
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
  fault(n > field.most ? make_fault<F::text_too_long>(field.key, n, field.least, field.most)
                       : make_fault<F::text_too_short>(field.key, n, field.least, field.most));
  return false;
}

std::optional<double> Reader::quantity(const Scalar& value, Dimension dimension, Bounds bounds,
                                       std::string_view what) {
  if (value.kind == kNumber) {
    if (!within(value.number, bounds, units_of(dimension).front(), false, what)) return {};
    note_unit(nullptr, dimension, bounds, value.number, what);
    return nothing_below(value.number);
  }
  const QuantityText read = read_quantity(*value.text, dimension);
  if (!read.ok) {
    fault(no_quantity(what, *value.text, dimension, read.other_unit));
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
  if (b.holds(value)) return true;
  const bool high = value >= b.low;
  constexpr double kMm = 3048;  // 120 in.: more is no length of an attic in mm either
  const std::string of_key = unit_written ? std::string() : behind_number(unit);
  const auto make = [&](auto code) {
    return make_fault<code.value>(what, raw(), of_key, unit.from_key(b.low), unit.from_key(b.high),
                                  behind_number(unit));
  };
  if (value < 0 && b.low == 0 && what == "depth")
    fault(make(Code<F::negative_depth>{}));
  else if (high && of_key == " in." && value < kMm)
    fault(make(Code<F::above_range_in_mm>{}));
  else
    fault(high ? make(Code<F::above_range>{}) : make(Code<F::below_range>{}));
  return false;
}

std::optional<std::size_t> Reader::word(std::string_view text,
                                        std::span<const std::string_view> words,
                                        std::string_view key) {
  const auto found = std::find(words.begin(), words.end(), text);
  if (found != words.end()) return static_cast<std::size_t>(found - words.begin());
  const std::string_view near = nearest_name(text, {words.begin(), words.end()});
  std::string allowed = fmt::format("{}", fmt::join(words, ", "));
  fault(near.empty()
            ? make_fault<F::not_one_of>(key, shortened(text), std::move(allowed))
            : make_fault<F::misspelt_word>(key, shortened(text), std::move(allowed), near));
  return {};
}

}  // namespace overjoist::io
