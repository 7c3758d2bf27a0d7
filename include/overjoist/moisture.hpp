// SPDX-License-Identifier: MIT
#pragma once
#include <optional>
#include <span>
#include <vector>

#include "overjoist/units.hpp"

/// Vapour in air and through layers: is a tight plane, such as a buried facing, colder than the
/// rooms' dew point? (method eq. 18a). Not modelled: air that leaks up through gaps (the greater
/// risk in most attics), wetting, storage, sun and time. A risk shown here asks for a look; its
/// absence proves nothing about the roof deck. Pure and thread safe. Not reached from the command
/// line by itself.
namespace overjoist {

/// A temperature on the scale, not a difference: 0 °F is not 'none' and two of them have no sum, so
/// it is no Quantity.
class Temperature {
 public:
  constexpr Temperature() = default;
  static constexpr Temperature from_f(double f) { return Temperature(f); }
  static constexpr Temperature from_c(double c) { return Temperature(c * 1.8 + 32.0); }
  constexpr double f() const { return f_; }
  constexpr double c() const { return (f_ - 32.0) / 1.8; }
  friend constexpr auto operator<=>(Temperature, Temperature) = default;

 private:
  constexpr explicit Temperature(double f) : f_(f) {}
  double f_ = 32.0;
};

struct PressureTag {
  static constexpr double kSiPerUs = 3386.389;  // conventional inch of mercury at 32 °F
};
struct PermeanceTag {
  /// 1 gr = 64.79891 mg; per h, ft2 and inHg, in ng/(s·m2·Pa).
  static constexpr double kSiPerUs =
      64.79891e6 / (3600.0 * AreaTag::kSiPerUs * PressureTag::kSiPerUs);
};
using Pressure = Quantity<PressureTag>;    ///< inHg | Pa
using Permeance = Quantity<PermeanceTag>;  ///< perm: gr/(h·ft2·inHg) | ng/(s·m2·Pa)
static_assert(detail::near(Permeance::from_us(1).si(), 57.2135,
                           1e-6));  // the commonly printed 57.2

/// Saturation pressure over water at and above 32 °F, over ice below [inHg | Pa], the form of ISO
/// 13788: `610.5·exp(17.269t/(237.3 + t))`, below 0 °C `610.5·exp(21.875t/(265.5 + t))`, t in °C.
/// Within 0.15 % of the Hyland-Wexler form above 32 °F, 1.1 % down to -22 °F.
/// @throws Error{out_of_range} outside -60 to 80 °C
Pressure saturation_pressure(Temperature t);

/// Inverse of `saturation_pressure`; the branch changes at 610.5 Pa.
/// @throws Error{out_of_range} if the pressure is not one of a temperature from -60 to 80 °C
Temperature dew_point(Pressure vapour);

/// Pressure of the vapour in air.  @param relative_humidity  share of saturation, above 0, at most
/// 1  @throws Error{out_of_range}
Pressure vapour_pressure(Temperature t, double relative_humidity);

/// Temperature of a plane in steady flow: `Ti - (Ti - Ta)·R_below/R_total`.
/// @param below  R from the rooms' air to the plane, 0 <= below <= total  @param total  air to air,
/// > 0
/// @throws Error{out_of_range}
Temperature plane_temperature(Temperature indoor, Temperature attic, Resistance below,
                              Resistance total);

/// Retarder classes of model codes by permeance (from memory, IRC R702.7; limits published
/// second-hand): I up to 0.1 perm, II up to 1, III up to 10.
enum class VapourClass { one, two, three, open };
/// @throws Error{out_of_range} if the permeance is below 0
VapourClass vapour_class(Permeance permeance);

/// What is known of the winter. Nothing has a default: without all three there is no verdict.
struct WinterAir {
  std::optional<Temperature> indoor;
  std::optional<double> indoor_rh;  ///< relative humidity, share
  std::optional<Temperature> attic;
};

/// A plane in the assembly, such as a facing under new fill.
struct TightPlane {
  Resistance below, total;             ///< as in `plane_temperature`
  std::optional<Permeance> permeance;  ///< empty: taken to be tight
};

/// Verdict on one plane.
struct PlaneVerdict {
  Temperature plane, dew_point;
  bool below_dew_point = false;
  bool wet_risk = false;  ///< below the rooms' dew point, and of class I or II or unknown
  double safe_share =
      0.0;  ///< the plane stays at or above the dew point up to this R_below/R_total, within 0..1
};

/// @returns empty unless indoor temperature, humidity and winter attic temperature are all given
std::optional<PlaneVerdict> plane_verdict(const WinterAir& air, const TightPlane& plane);

/// One layer of a vapour profile, from the rooms upwards.
struct VapourLayer {
  Resistance r;                        ///< 0 or more
  std::optional<Permeance> permeance;  ///< > 0; empty: no resistance to vapour, as a film of air
};

/// Air on one side.
struct SideAir {
  Temperature t;
  double rh = 0.0;  ///< share
};

/// State above one layer of a profile.
struct VapourPlane {
  Temperature t;
  Pressure vapour, saturation;
  double rh() const { return vapour / saturation; }  ///< above 1: it would condense there
};

struct VapourProfile {
  std::vector<VapourPlane>
      planes;  ///< the rooms' air first, then above each layer; one more than there are layers
  double flux_gr_h_ft2 = 0.0;  ///< upwards, grains per h and ft2, condensing left out
};

/// Temperature and vapour pressure through layers in series, steady, by diffusion alone: both fall
/// in proportion to the resistance passed. An `rh()` above 1 says that the profile cannot stand;
/// the amount is not worked out.
/// @throws Error{out_of_range} without any R, or with a permeance not above 0 or no layer that
/// resists vapour
VapourProfile vapour_profile(const SideAir& rooms, const SideAir& attic,
                             std::span<const VapourLayer> layers);

}  // namespace overjoist
