// SPDX-License-Identifier: MIT
#include "words/quantity.hpp"

#include <doctest/doctest.h>

#include <clocale>
#include <string>

#include "words/faults.hpp"

using namespace overjoist::io;  // a test names many of its words
using enum Dimension;

namespace {

double value_of(std::string_view text, Dimension dimension) {
  const QuantityText read = read_quantity(text, dimension);
  CHECK_MESSAGE(read.ok, text);
  return read.value;
}
std::string fault_of(std::string_view text, Dimension dimension) {
  const QuantityText read = read_quantity(text, dimension);
  CHECK_MESSAGE(!read.ok, text);
  const Fault fault = no_quantity("key", text, dimension, read.other_unit);
  const FaultText said = say(row_of(fault.code), fault.values, Reads::survey);
  return said.message + " | " + said.hint;
}

}  // namespace

// Hand derivation: halves and quarters are exact in binary; thirds only to the last digit, so
// Approx with 1e-15.
TEST_CASE("quantity: decimals, fractions and mixed numbers are inches") {
  CHECK(value_of("4.5", length) == 4.5);
  CHECK(value_of("4 1/2", length) == 4.5);
  CHECK(value_of("4-1/2\"", length) == 4.5);
  CHECK(value_of("4 1/2 in", length) == 4.5);
  CHECK(value_of(" 3/4 in. ", length) == 0.75);
  CHECK(value_of("11/3", length) == doctest::Approx(11.0 / 3).epsilon(1e-15));
  CHECK(value_of(".25 inch", length) == 0.25);
  CHECK(value_of("4.", length) == 4.0);
  CHECK(value_of("-4", length) == -4.0);
}

// Hand derivation: 1 in. = 2.54 cm exactly, so 11 cm = 11/2.54; 2 ft 3 in = 27 in.; 1.2 m
// = 1.2/0.0254 in.
TEST_CASE("quantity: a length may have its own unit") {
  CHECK(value_of("11 cm", length) == 11 / 2.54);
  CHECK(value_of("115 mm", length) == doctest::Approx(115 / 25.4).epsilon(1e-15));
  CHECK(value_of("1.2 m", length) == doctest::Approx(1.2 / 0.0254).epsilon(1e-15));
  CHECK(value_of("2 ft 3 in", length) == 27.0);
  CHECK(value_of("2' 3 1/2\"", length) == 27.5);
  CHECK(value_of("24 ft 6 in", feet) == 24.5);
  CHECK(value_of("18 in", feet) == 1.5);
  CHECK(value_of("3.048 m", feet) == doctest::Approx(10).epsilon(1e-15));
}

// Hand derivation: 1 ft2 = 0.09290304 m2, 1 lb = 0.45359237 kg exactly; RSI 1 = R 5.678263341
// (units.hpp derives it).
TEST_CASE("quantity: areas, R, masses and densities") {
  CHECK(value_of("320 ft2", area) == 320);
  CHECK(value_of("320 sq ft", area) == 320);
  CHECK(value_of("30 m2", area) == doctest::Approx(322.917312500).epsilon(1e-11));
  CHECK(value_of("30 m\u00B2", area) == value_of("30 m2", area));
  CHECK(value_of("R-19", resistance) == 19);
  CHECK(value_of("r 19", resistance) == 19);
  CHECK(value_of("19", resistance) == 19);
  CHECK(value_of("RSI 3.35", resistance) == doctest::Approx(19.022182193).epsilon(1e-9));
  CHECK(value_of("RSI-3.35", resistance) == value_of("3.35 m2K/W", resistance));
  CHECK(value_of("3.35 m\u00B2\u00B7K/W", resistance) == value_of("3.35 m2 K/W", resistance));
  CHECK(value_of("3.5 per inch", resistivity) == 3.5);
  CHECK(value_of("25 m K/W", resistivity) == doctest::Approx(25 / 6.933471798517).epsilon(1e-12));
  CHECK(value_of("11.3 kg", mass) == doctest::Approx(24.912235).epsilon(1e-7));
  CHECK(value_of("6.3 kg/m2", weight_per_area) ==
        doctest::Approx(6.3 / 4.882427636383).epsilon(1e-12));
  CHECK(value_of("26 kg/m3", density) == doctest::Approx(26 / 16.01846337396).epsilon(1e-12));
  CHECK(value_of("5 %", percent) == 5);
}

// Common practice: a fault says what was given and which units are allowed.
TEST_CASE("quantity: a unit of another kind is refused with the allowed ones") {
  CHECK(fault_of("4 kg", length) ==
        "key: \"4 kg\": kg is not a unit of length; allowed: in., ft, mm, cm, m | convert it, or "
        "check "
        "the key");
  CHECK(fault_of("30 m", area).find("m is not a unit of area; allowed: ft2, m2") !=
        std::string::npos);
  CHECK(fault_of("RSI 3 h ft2 F/Btu", resistance).find("allowed") != std::string::npos);
}

// Common practice: nothing is guessed; a comma could be decimals or thousands.
TEST_CASE("quantity: what is not a quantity is refused") {
  for (const char* text : {"", " ", "in", "NaN", "inf", "0x10", "1e3", "4 feet 3", "5 in 3 in",
                           "4-6", "4 -1/2", "1/0", "4..5", "--4", "4 1/2/3", "R", "RS 3"})
    CHECK(fault_of(text, length).find("is not a quantity (length)") != std::string::npos);
  CHECK(fault_of("1,200", area).find("thousands without a comma") != std::string::npos);
  CHECK_FALSE(read_quantity(std::string(400, '9'), length).ok);
}

// Common practice: what people type on a phone or in a hurry is not guessed at, but the message
// says how to write it.
TEST_CASE(
    "quantity: the hint names the way to write a span, flush, and what a phone writes in one "
    "sign") {
  for (const char* text : {"4-6", "4 - 6", "4to6", "4 \u2013 6"})
    CHECK(fault_of(text, length).find("a span of depths is written \"4 to 6\"") !=
          std::string::npos);
  CHECK(fault_of("4 1/2-6 in", length).find("\"4 1/2 to 6 in\"") != std::string::npos);
  for (const char* text : {"FLUSH", "flush ", "flsh"})
    CHECK(fault_of(text, length).find("is written \"flush\"") != std::string::npos);
  CHECK(fault_of("4\u00BD", length).find("the sign \u00BD is not read: write fractions as 1/2") !=
        std::string::npos);
  CHECK(fault_of("4\u201D", length).find("the sign \u201D is not read") != std::string::npos);
  CHECK(fault_of("4\u2033", length).find("inches as in.") != std::string::npos);
  CHECK(fault_of("4-6", area).find("span") == std::string::npos);
}

// Invariant: the environment's decimal comma changes nothing. Where no such locale is installed the
// check holds trivially.
TEST_CASE("quantity: numbers do not depend on the locale") {
  const std::string before = std::setlocale(LC_ALL, nullptr);
  for (const char* name : {"de_DE.UTF-8", "fr_FR.UTF-8", "nl_NL.UTF-8"})
    if (std::setlocale(LC_ALL, name)) break;
  CHECK(value_of("4.5 cm", length) == 4.5 / 2.54);
  std::setlocale(LC_ALL, before.c_str());
}
