// SPDX-License-Identifier: MIT
#include "words/words.hpp"

#include <array>
#include <cmath>
#include <cstdint>

#include <fmt/core.h>

#include "words/utf8.hpp"

namespace overjoist {

std::string printable(std::string_view text) {
  std::string out;
  out.reserve(text.size());
  while (!text.empty()) {
    const io::CodePoint c = io::decode(text);
    if (!c.valid || c.value < 0x20 || c.value == 0x7F)
      out += fmt::format("\\x{:02X}", static_cast<unsigned>(c.value));
    else if (io::is_hidden(c.value))
      out += fmt::format("\\u{{{:04X}}}", static_cast<unsigned>(c.value));
    else
      out += text.substr(0, c.length);
    text.remove_prefix(c.length);
  }
  return out;
}

namespace io {
namespace {

constexpr double kCentimetrePerMetre = 100.0;

double rounded(double value, int decimals, Toward toward) {
  constexpr std::array<double, 5> steps = {1.0, 0.1, 0.01, 0.001, 0.0001};
  const double step = steps.at(static_cast<std::size_t>(decimals));
  if (toward == Toward::up) return round_up(value, step);
  if (toward == Toward::down) return round_down(value, step);
  return std::round(value / step) * step;
}

std::string trimmed(std::string text) {
  if (text.find('.') != std::string::npos) {
    while (text.back() == '0') text.pop_back();
    if (text.back() == '.') text.pop_back();
  }
  return text == "-0" ? "0" : text;
}

// Three figures or so: decimals for a value of this size.
int decimals_for(double value) {
  const double size = std::fabs(value);
  return size >= 100 ? 0 : size >= 10 ? 1 : size >= 1 ? 2 : 3;
}

int decimals_of_area(double value) { return value < 100 ? 1 : 0; }

std::string with_unit(double value, int decimals, Toward toward, std::string_view unit) {
  std::string text = number_text(value, decimals, toward);
  text += ' ';
  text += unit;
  return text;
}

// The smallest R, of films and boards, would vanish in one decimal.
constexpr double kSmallR = 2.0;

// True if `value` is a multiple of `step`, but for the last bits of a converted one.
bool whole_in(double value, double step) {
  constexpr double kNoise = 1e-9;
  const double n = value / step;
  return std::fabs(n - std::round(n)) <= kNoise * std::fmax(1.0, std::fabs(n));
}
constexpr double kEighth = 0.125, kHundredth = 0.01, kThousandth = 0.001, kHalfMillimetre = 0.05;

std::string small_r(Resistance r) { return "R-" + number_text(r.us(), 2, Toward::down); }

// Length in a sentence: quarters such as 0.75 in. stay whole, and so does a step of 0.635 cm.
std::string length_words(Length l, Units units) {
  if (units == Units::us)
    return with_unit(l.us(), whole_in(l.us(), kEighth) ? 3 : 2, Toward::nearest, "in.");
  const double cm = l.si() * kCentimetrePerMetre;
  return with_unit(cm, std::fabs(cm) < 1.0 ? 3 : 1, Toward::nearest, "cm");
}

struct ValueText {
  Units units;
  Toward weight;
  bool given = false;  ///< an R that was asked for or printed, not worked out
  std::string operator()(const std::string& text) const { return text; }
  std::string operator()(double number) const { return number_text(number, decimals_for(number)); }
  std::string operator()(Length l) const { return length_words(l, units); }
  std::string operator()(Area a) const { return area_text(a, units); }
  std::string operator()(Volume v) const { return volume_text(v, units); }
  // Films and bare boards are small: RSI 0.107 and not RSI 0.10.
  std::string operator()(Resistance r) const {
    if (given) return r_given(r, units);
    if (units == Units::us || r.us() >= kSmallR) return r_label(r, units);
    return "RSI " + number_text(r.si(), 3, Toward::down) + " m2 K/W";
  }
  std::string operator()(Resistivity rho) const { return resistivity_text(rho, units); }
  std::string operator()(Density d) const { return density_text(d, units); }
  std::string operator()(MassPerArea w) const { return weight_text(w, units, weight); }
  std::string operator()(Mass m) const { return mass_text(m, units, Toward::nearest); }
};

struct ValueNumber {
  Units units;
  std::optional<double> operator()(const std::string&) const { return std::nullopt; }
  std::optional<double> operator()(double number) const { return number; }
  std::optional<double> operator()(Length l) const {
    return units == Units::us ? l.us() : l.si() * kCentimetrePerMetre;
  }
  template <class Tag>
  std::optional<double> operator()(Quantity<Tag> q) const {
    return units == Units::us ? q.us() : q.si();
  }
};

}  // namespace

std::string number_text(double value, int decimals, Toward toward) {
  constexpr std::array<double, 5> tens = {1.0, 10.0, 100.0, 1000.0, 10000.0};
  const double scaled =
      std::round(rounded(value, decimals, toward) * tens.at(static_cast<std::size_t>(decimals)));
  if (!(std::fabs(scaled) < 1e15))
    return trimmed(fmt::format("{:.{}f}", rounded(value, decimals, toward), decimals));
  // The usual case, from the last decimal backwards in whole numbers: many times faster, the same
  // digits. Zeros at the end of the decimals are left off.
  std::array<char, 32> text;
  char* const end = text.data() + text.size();
  char* at = end;
  auto rest = static_cast<std::int64_t>(std::fabs(scaled));
  bool shown = false;  // a decimal that is not 0 was written
  for (int place = 0; place < decimals; ++place, rest /= 10) {
    shown = shown || rest % 10 != 0;
    if (shown) *--at = static_cast<char>('0' + rest % 10);
  }
  if (shown) *--at = '.';
  do *--at = static_cast<char>('0' + rest % 10);
  while ((rest /= 10) != 0);
  if (scaled < 0) *--at = '-';
  return {at, end};
}

double r_shown(Resistance r, Units units) {
  return units == Units::us ? rounded(r.us(), 1, Toward::down) : rounded(r.si(), 2, Toward::down);
}

Resistance r_raised(Resistance r, Units units) {
  return units == Units::us ? r_value(rounded(r.us(), 1, Toward::up))
                            : Resistance::from_si(rounded(r.si(), 2, Toward::up));
}

std::string span_text(const std::string& low, const std::string& high) {
  return low == high ? low : low + " to " + high;
}

std::string counted(const std::string& number, std::string_view noun) {
  return fmt::format("{} {}{}", number, noun, number == "1" ? "" : "s");
}

std::string r_text(Resistance r, Units units) {
  if (units == Units::si) return fmt::format("RSI {:.2f} m2 K/W", r_shown(r, units));
  if (r.us() >= kSmallR) return fmt::format("R-{:.1f}", r_shown(r, units));
  const std::string text = small_r(r);
  return text == "R-0" || text.find('.') != std::string::npos ? text : text + ".0";
}

std::string r_label(Resistance r, Units units) {
  if (units == Units::si) return r_text(r, units);
  return r.us() < kSmallR ? small_r(r) : "R-" + number_text(r.us(), 1, Toward::down);
}

// Decimals that a given R has; one that comes from the other system has no end and takes the usual
// ones.
std::string r_given(Resistance r, Units units) {
  if (units == Units::us)
    return "R-" + number_text(r.us(), r.us() < kSmallR || whole_in(r.us(), kHundredth) ? 2 : 1);
  if (r.us() < kSmallR) return fmt::format("RSI {} m2 K/W", number_text(r.si(), 3));
  return fmt::format("RSI {:.{}f} m2 K/W", r.si(),
                     whole_in(r.si(), kThousandth) && !whole_in(r.si(), kHundredth) ? 3 : 2);
}

std::string r_given_cell(Resistance r, Units units) {
  if (units == Units::si) return fmt::format("RSI {:.2f}", r.si());
  const bool two = whole_in(r.us(), kHundredth) && !whole_in(r.us(), 0.1);
  return fmt::format("R-{:.{}f}", r.us(), two ? 2 : 1);
}

std::string r_cell(Resistance r, Units units) {
  return units == Units::us ? fmt::format("R-{:.1f}", r_shown(r, units))
                            : fmt::format("RSI {:.2f}", r_shown(r, units));
}

std::string r_change(double shown_change, Units units) {
  const int decimals = units == Units::us ? 1 : 2;
  const double change = rounded(shown_change, decimals, Toward::nearest) + 0.0;
  return change == 0.0 ? "0" : fmt::format("{:+.{}f}", change, decimals);
}

std::string depth_number(Length depth, Units units, Toward toward) {
  if (units == Units::us)
    return whole_in(depth.us(), kEighth) ? number_text(depth.us(), 3)
                                         : number_text(depth.us(), 1, toward);
  const double cm = depth.si() * kCentimetrePerMetre;
  return whole_in(cm, kHalfMillimetre) ? number_text(cm, 2) : number_text(cm, 1, toward);
}

std::string depth_text(Length depth, Units units, Toward toward) {
  return depth_number(depth, units, toward) + (units == Units::us ? " in." : " cm");
}

std::string level_text(Length level, Units units, Toward toward) {
  if (units == Units::si) return depth_text(level, units, toward);
  const double on_tape =
      toward == Toward::down ? round_down(level.us(), 0.25) : round_up(level.us(), 0.25);
  const auto quarters = static_cast<long>(std::lround(on_tape * 4.0));
  constexpr std::array<std::string_view, 4> parts = {"", "1/4", "1/2", "3/4"};
  const std::string_view part = parts.at(static_cast<std::size_t>(quarters % 4));
  if (part.empty()) return fmt::format("{} in.", quarters / 4);
  return quarters < 4 ? fmt::format("{} in.", part) : fmt::format("{} {} in.", quarters / 4, part);
}

std::string area_text(Area area, Units units) {
  if (units == Units::si) return with_unit(area.si(), 1, Toward::nearest, "m2");
  return with_unit(area.us(), decimals_of_area(area.us()), Toward::nearest, "ft2");
}

std::string volume_text(Volume volume, Units units) {
  if (units == Units::si) return with_unit(volume.si(), 1, Toward::up, "m3");
  return with_unit(volume.us(), decimals_of_area(volume.us()), Toward::up, "ft3");
}

std::string mass_text(Mass mass, Units units, Toward toward) {
  const double value = units == Units::us ? mass.us() : mass.si();
  return with_unit(value, value < 100 ? 1 : 0, toward, units == Units::us ? "lb" : "kg");
}

std::string weight_text(MassPerArea weight, Units units, Toward toward) {
  return units == Units::us ? with_unit(weight.us(), 2, toward, "lb/ft2")
                            : with_unit(weight.si(), 1, toward, "kg/m2");
}

std::string conductance_text(Conductance ua, Units units) {
  return units == Units::us ? with_unit(ua.us(), 1, Toward::up, "Btu/(h F)")
                            : with_unit(ua.si(), 1, Toward::up, "W/K");
}

std::string resistivity_text(Resistivity rho, Units units) {
  if (units == Units::si) return with_unit(rho.si(), 2, Toward::nearest, "m K/W");
  return fmt::format("R-{} per inch", number_text(rho.us(), 2));
}

std::string density_text(Density density, Units units) {
  return units == Units::us ? with_unit(density.us(), 2, Toward::nearest, "lb/ft3")
                            : with_unit(density.si(), 1, Toward::nearest, "kg/m3");
}

std::string money_text(double amount, std::string_view currency, Toward toward) {
  std::string text = number_text(amount, 0, toward);
  if (currency.empty()) return text;
  const bool is_word =
      (currency[0] >= 'A' && currency[0] <= 'Z') || (currency[0] >= 'a' && currency[0] <= 'z');
  return is_word ? fmt::format("{} {}", text, currency) : fmt::format("{}{}", currency, text);
}

std::string heat_text(Energy heat, Units units) {
  constexpr double kMega = 1e6, kGiga = 1e9;
  if (units == Units::si) return with_unit(heat.si() / kGiga, 1, Toward::down, "GJ");
  return with_unit(heat.us() / kMega, 1, Toward::down, "MMBtu");
}

std::string temperature_text(double f, Units units) {
  constexpr double kFreezing = 32.0;
  return units == Units::us ? with_unit(f, 1, Toward::nearest, "F")
                            : with_unit((f - kFreezing) * kKelvinPerDegF, 1, Toward::nearest, "C");
}

std::string degree_days_text(double f, Units units) {
  return units == Units::us ? with_unit(f, 0, Toward::nearest, "F day")
                            : with_unit(f * kKelvinPerDegF, 0, Toward::nearest, "K day");
}

void append_value(std::string& out, const Value& value, Units units, Toward weight, bool given) {
  out += std::visit(ValueText{units, weight, given}, value);
}

std::optional<double> plain_number(const Value& value, Units units) {
  return std::visit(ValueNumber{units}, value);
}

}  // namespace io
}  // namespace overjoist
