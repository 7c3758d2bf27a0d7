// SPDX-License-Identifier: MIT
#pragma once
#include <span>
#include <string_view>

/// Quantities as people write them in a survey: `4 1/2`, `11 cm`, `2 ft 3 in`, `R-19`, `RSI 3.35`.
/// Independent of the locale: a decimal point is a point. Not for JSON numbers, which carry the
/// unit of their key.
namespace overjoist::io {

/// What a key measures. The first unit of each is the key's own unit, in which its value is kept.
enum class Dimension {
  number,           ///< no unit
  length,           ///< inch
  feet,             ///< foot
  area,             ///< ft2
  resistance,       ///< h·ft2·degF/Btu
  resistivity,      ///< the same per inch
  mass,             ///< lb
  weight_per_area,  ///< lb/ft2
  density,          ///< lb/ft3
  percent,          ///< %
};

/// value in the key's unit = number x multiply / divide: two exact factors keep `11 cm` at 11/2.54.
struct Unit {
  std::string_view name;  ///< for people
  double multiply = 1.0, divide = 1.0;
  double to_key(double number) const { return number * multiply / divide; }
  double from_key(double value) const { return value * divide / multiply; }
};

std::span<const Unit> units_of(Dimension dimension);
/// "length", for messages.
std::string_view name_of(Dimension dimension);

struct QuantityText {
  bool ok = false;
  double value = 0.0;          ///< in the key's unit
  double number = 0.0;         ///< as written
  const Unit* unit = nullptr;  ///< the unit written, or the key's own
  bool unit_written = false;
  std::string_view other_unit;  ///< if not ok for a unit of another kind, or a second one: that
};

/// Reads one quantity. A number is decimal, a fraction (`1/2`) or mixed (`4 1/2`, `4-1/2`), with an
/// optional sign; no exponent, no comma. A unit of another kind is refused with those that are
/// allowed.
QuantityText read_quantity(std::string_view text, Dimension dimension);

struct Fault;
/// Why a text is none.  @param other_unit  of what was read
Fault no_quantity(std::string_view key, std::string_view text, Dimension dimension,
                  std::string_view other_unit);

}  // namespace overjoist::io
