// SPDX-License-Identifier: MIT
#include "overjoist/moisture.hpp"

#include <fmt/core.h>
#include <algorithm>
#include <cmath>

#include "overjoist/diagnostics.hpp"

namespace overjoist {

namespace {

constexpr double kColdest = -60.0, kHottest = 80.0;  // °C, range of use

/// One branch of the saturation form, p = 610.5·exp(a·t/(b + t)), and where it holds.
struct Branch {
  double a, b;
};
constexpr double kAtFreezing = 610.5;  // Pa at 0 °C, where the branches meet
constexpr Branch kWater{17.269, 237.3}, kIce{21.875, 265.5};

void refuse(const char* what, double value, const char* allowed) {
  throw Error(ErrorCode::out_of_range, "moisture",
              fmt::format("{} {:g} is not {}", what, value, allowed),
              "check the value and its unit");
}

double saturation_pa(double c) {
  const Branch& branch = c >= 0 ? kWater : kIce;
  return kAtFreezing * std::exp(branch.a * c / (branch.b + c));
}

}  // namespace

Pressure saturation_pressure(Temperature t) {
  if (!(t.c() >= kColdest && t.c() <= kHottest))
    refuse("a temperature (F) of", t.f(), "from -76 to 176");
  return Pressure::from_si(saturation_pa(t.c()));
}

// With y = ln(p/610.5) = a·t/(b + t) follows t = b·y/(a - y).
Temperature dew_point(Pressure vapour) {
  const double p = vapour.si();
  if (!reaches(p, saturation_pa(kColdest)) || !reaches(saturation_pa(kHottest), p))
    refuse("a vapour pressure (Pa) of", p, "that of a dew point from -60 to 80 C");
  const Branch& branch = p >= kAtFreezing ? kWater : kIce;
  const double y = std::log(p / kAtFreezing);
  return Temperature::from_c(branch.b * y / (branch.a - y));
}

Pressure vapour_pressure(Temperature t, double relative_humidity) {
  if (!(relative_humidity > 0 && relative_humidity <= 1))
    refuse("a relative humidity of", relative_humidity, "above 0 and at most 1");
  return saturation_pressure(t) * relative_humidity;
}

Temperature plane_temperature(Temperature indoor, Temperature attic, Resistance below,
                              Resistance total) {
  if (!std::isfinite(indoor.f() - attic.f()))
    refuse("a temperature difference (F) of", indoor.f() - attic.f(), "a number");
  if (!(total > Resistance{} && std::isfinite(total.us())))
    refuse("a total R of", total.us(), "above 0");
  if (!(below >= Resistance{} && below <= total))
    refuse("an R below the plane of", below.us(), "from 0 to the total R");
  return Temperature::from_f(indoor.f() - (indoor.f() - attic.f()) * (below / total));
}

VapourClass vapour_class(Permeance permeance) {
  if (!(permeance >= Permeance{})) refuse("a permeance (perm) of", permeance.us(), "0 or more");
  if (permeance.us() <= 0.1) return VapourClass::one;
  if (permeance.us() <= 1.0) return VapourClass::two;
  return permeance.us() <= 10.0 ? VapourClass::three : VapourClass::open;
}

namespace {

/// Largest R_below/R_total at which the plane is no colder than the dew point: (Ti - Td)/(Ti - Ta),
/// held within 0..1.
double safe_share_of(Temperature indoor, Temperature attic, Temperature dew) {
  if (attic >= dew) return 1.0;  // the whole way up is warm enough
  return std::clamp((indoor.f() - dew.f()) / (indoor.f() - attic.f()), 0.0, 1.0);
}

}  // namespace

std::optional<PlaneVerdict> plane_verdict(const WinterAir& air, const TightPlane& plane) {
  if (!air.indoor || !air.indoor_rh || !air.attic) return {};
  PlaneVerdict verdict;
  verdict.plane = plane_temperature(*air.indoor, *air.attic, plane.below, plane.total);
  verdict.dew_point = dew_point(vapour_pressure(*air.indoor, *air.indoor_rh));
  verdict.below_dew_point = verdict.plane < verdict.dew_point;
  const VapourClass tightness = plane.permeance ? vapour_class(*plane.permeance) : VapourClass::one;
  verdict.wet_risk =
      verdict.below_dew_point && (tightness == VapourClass::one || tightness == VapourClass::two);
  verdict.safe_share = safe_share_of(*air.indoor, *air.attic, verdict.dew_point);
  return verdict;
}

namespace {

/// Resistance to vapour, 1/perm.
double vapour_resistance(const VapourLayer& layer) {
  if (!layer.permeance) return 0.0;
  if (!(*layer.permeance > Permeance{}))
    refuse("a layer's permeance (perm) of", layer.permeance->us(), "above 0");
  return 1.0 / layer.permeance->us();
}

}  // namespace

VapourProfile vapour_profile(const SideAir& rooms, const SideAir& attic,
                             std::span<const VapourLayer> layers) {
  Resistance total, passed;
  double total_z = 0.0, passed_z = 0.0;
  for (const VapourLayer& layer : layers) {
    if (!(layer.r >= Resistance{})) refuse("a layer's R of", layer.r.us(), "0 or more");
    total += layer.r;
    total_z += vapour_resistance(layer);
  }
  if (!(total_z > 0)) refuse("a resistance to vapour (1/perm) of", total_z, "above 0");
  const Pressure inside = vapour_pressure(rooms.t, rooms.rh),
                 above = vapour_pressure(attic.t, attic.rh);
  VapourProfile profile;
  profile.flux_gr_h_ft2 = (inside - above).us() / total_z;
  profile.planes.push_back({rooms.t, inside, saturation_pressure(rooms.t)});
  for (const VapourLayer& layer : layers) {
    passed += layer.r;
    passed_z += vapour_resistance(layer);
    const Temperature t = plane_temperature(rooms.t, attic.t, std::min(passed, total), total);
    profile.planes.push_back(
        {t, inside - (inside - above) * (passed_z / total_z), saturation_pressure(t)});
  }
  return profile;
}

}  // namespace overjoist
