// SPDX-License-Identifier: MIT
#pragma once
#include <cmath>
#include <compare>
#include <optional>
#include <string_view>

/// Strong one-member quantities in US trade units, and the one pair of rounding functions.
/// What is stored is US (inch, ft2, lb, h·ft2·°F/Btu); SI goes in by `from_si` and out by `si()`.
/// Only the products that make sense exist. Pure and thread safe.
namespace overjoist {

/// The two systems that results are shown in.
enum class Units { us, si };

template <class Tag>
class Quantity {
 public:
  constexpr Quantity() = default;
  static constexpr Quantity from_us(double value) { return Quantity(value); }
  static constexpr Quantity from_si(double value) { return Quantity(value / Tag::kSiPerUs); }
  /// Value in the US unit named at the type's alias.
  constexpr double us() const { return value_; }
  /// Value in the SI unit named at the type's alias.
  constexpr double si() const { return value_ * Tag::kSiPerUs; }

  friend constexpr Quantity operator+(Quantity a, Quantity b) {
    return Quantity(a.value_ + b.value_);
  }
  friend constexpr Quantity operator-(Quantity a, Quantity b) {
    return Quantity(a.value_ - b.value_);
  }
  friend constexpr Quantity operator*(Quantity a, double n) { return Quantity(a.value_ * n); }
  friend constexpr Quantity operator*(double n, Quantity a) { return Quantity(a.value_ * n); }
  friend constexpr Quantity operator/(Quantity a, double n) { return Quantity(a.value_ / n); }
  friend constexpr double operator/(Quantity a, Quantity b) { return a.value_ / b.value_; }
  constexpr Quantity& operator+=(Quantity b) {
    value_ += b.value_;
    return *this;
  }
  friend constexpr auto operator<=>(Quantity, Quantity) = default;

 private:
  constexpr explicit Quantity(double value) : value_(value) {}
  double value_ = 0.0;
};

// Exact definitions from which every factor below follows.
inline constexpr double kMetrePerInch = 0.0254;  // 1 ft = 0.3048 m exactly
inline constexpr double kMetrePerFoot = 0.3048;
inline constexpr double kKilogramPerPound = 0.45359237;  // exact
inline constexpr double kJoulePerBtu = 1055.05585262;    // Btu(IT), exact
inline constexpr double kKelvinPerDegF = 5.0 / 9.0;      // temperature difference
inline constexpr double kWattPerBtuPerHour = kJoulePerBtu / 3600.0;

struct LengthTag {
  static constexpr double kSiPerUs = kMetrePerInch;
};
struct AreaTag {
  static constexpr double kSiPerUs = kMetrePerFoot * kMetrePerFoot;
};
struct ResistanceTag {
  static constexpr double kSiPerUs =
      kKelvinPerDegF * kMetrePerFoot * kMetrePerFoot / kWattPerBtuPerHour;
};
struct TransmittanceTag {
  static constexpr double kSiPerUs = 1.0 / ResistanceTag::kSiPerUs;
};
struct ResistivityTag {
  static constexpr double kSiPerUs = ResistanceTag::kSiPerUs / kMetrePerInch;
};
struct ConductanceTag {
  static constexpr double kSiPerUs = kWattPerBtuPerHour / kKelvinPerDegF;
};
struct MassTag {
  static constexpr double kSiPerUs = kKilogramPerPound;
};
struct DensityTag {
  static constexpr double kSiPerUs =
      kKilogramPerPound / (kMetrePerFoot * kMetrePerFoot * kMetrePerFoot);
};
struct MassPerAreaTag {
  static constexpr double kSiPerUs = kKilogramPerPound / (kMetrePerFoot * kMetrePerFoot);
};
struct EnergyTag {
  static constexpr double kSiPerUs = kJoulePerBtu;
};
struct VolumeTag {
  static constexpr double kSiPerUs = kMetrePerFoot * kMetrePerFoot * kMetrePerFoot;
};

using Length = Quantity<LengthTag>;                ///< inch | m
using Area = Quantity<AreaTag>;                    ///< ft2 | m2
using Volume = Quantity<VolumeTag>;                ///< ft3 | m3
using Resistance = Quantity<ResistanceTag>;        ///< R: h·ft2·°F/Btu | m2·K/W
using Transmittance = Quantity<TransmittanceTag>;  ///< U: Btu/(h·ft2·°F) | W/(m2·K)
using Resistivity = Quantity<ResistivityTag>;      ///< R per inch | m·K/W
using Conductance = Quantity<ConductanceTag>;      ///< UA: Btu/(h·°F) | W/K
using Mass = Quantity<MassTag>;                    ///< lb | kg
using Density = Quantity<DensityTag>;              ///< lb/ft3 | kg/m3
using MassPerArea = Quantity<MassPerAreaTag>;      ///< lb/ft2 | kg/m2
using Energy = Quantity<EnergyTag>;                ///< Btu(IT) | J

constexpr Length inches(double v) { return Length::from_us(v); }
constexpr Area square_feet(double v) { return Area::from_us(v); }
constexpr Resistance r_value(double v) { return Resistance::from_us(v); }
constexpr Resistivity r_per_inch(double v) { return Resistivity::from_us(v); }

constexpr Transmittance inverse(Resistance r) { return Transmittance::from_us(1.0 / r.us()); }
constexpr Resistance inverse(Transmittance u) { return Resistance::from_us(1.0 / u.us()); }
constexpr Resistance operator*(Resistivity rho, Length t) {
  return Resistance::from_us(rho.us() * t.us());
}
constexpr Resistance operator*(Length t, Resistivity rho) { return rho * t; }
constexpr Resistivity operator/(Resistance r, Length t) {
  return Resistivity::from_us(r.us() / t.us());
}
constexpr Conductance operator*(Transmittance u, Area a) {
  return Conductance::from_us(u.us() * a.us());
}
constexpr Transmittance operator/(Conductance ua, Area a) {
  return Transmittance::from_us(ua.us() / a.us());
}
constexpr MassPerArea operator*(Density rho, Length t) {
  return MassPerArea::from_us(rho.us() * t.us() / 12.0);
}
constexpr Mass operator*(MassPerArea m, Area a) { return Mass::from_us(m.us() * a.us()); }
constexpr Volume operator*(Area a, Length t) { return Volume::from_us(a.us() * t.us() / 12.0); }

/// Least multiple of `step` that is not below `value`, with a relative slack of 1e-9 so that
/// 4.0000000001 steps count as 4. Used for bags, depths and 'reached'. step > 0.
inline double round_up(double value, double step) {
  const double n = value / step;
  return std::ceil(n - 1e-9 * std::fmax(1.0, std::fabs(n))) * step;
}
/// Greatest multiple of `step` that is not above `value`, with the same slack. step > 0.
inline double round_down(double value, double step) { return -round_up(-value, step); }
/// True if `value` is at least `goal` within the same relative slack of 1e-9.
inline bool reaches(double value, double goal) {
  return value >= goal - 1e-9 * std::fmax(1.0, std::fabs(goal));
}

namespace detail {
constexpr bool near(double a, double b, double relative) {
  const double d = a > b ? a - b : b - a;
  const double m = b > 0 ? b : -b;
  return d <= relative * m;
}
}  // namespace detail

// Derived from the exact definitions above by hand; the R factor is also the commonly
// printed 5.678.
static_assert(detail::near(inches(1).si(), 0.0254, 1e-15));
static_assert(detail::near(square_feet(1).si(), 0.09290304, 1e-15));
static_assert(detail::near(Volume::from_us(1).si(), 0.028316846592, 1e-15));
static_assert(detail::near(r_value(1).si(), 0.1761101836823, 1e-12));
static_assert(detail::near(Transmittance::from_us(1).si(), 5.678263341113, 1e-12));
static_assert(detail::near(r_per_inch(1).si(), 6.933471798517, 1e-12));
static_assert(detail::near(Conductance::from_us(1).si(), 0.527527926310, 1e-12));
static_assert(detail::near(Mass::from_us(1).si(), 0.45359237, 1e-15));
static_assert(detail::near(Density::from_us(1).si(), 16.01846337396, 1e-12));
static_assert(detail::near(MassPerArea::from_us(1).si(), 4.882427636383, 1e-12));
static_assert(detail::near(Energy::from_us(1).si(), 1055.05585262, 1e-15));
static_assert(detail::near(Energy::from_si(3.6e6).us(), 3412.141633128, 1e-12));  // 1 kWh
static_assert(detail::near(Resistance::from_si(1).us(), 5.678263341113, 1e-12));

/// How the quantities of a file were written, for what looks like a unit left out.
struct UnitsWritten {
  int metric = 0, us = 0;                ///< quantities with a unit of that kind
  std::optional<double> bare_r;          ///< least R of insulation above 0 without a unit
  std::string_view bare_r_key;           ///< its key, a literal
  std::optional<double> bare_surface_r;  ///< least R of a film, ceiling or deck likewise
  std::string_view bare_surface_key;
  std::optional<double> bare_depth;  ///< greatest depth reading without a unit
  bool all_metric() const { return metric > 0 && us == 0; }
};

}  // namespace overjoist
