// SPDX-License-Identifier: MIT
#include "overjoist/attic_air.hpp"

#include <cmath>

#include "sums/need.hpp"

namespace overjoist {
namespace {

constexpr double kLongerSide = 1.5;  // of a floor whose sides are not known, over the shorter one
constexpr double kMinutes = 60.0;

constexpr Need kNeedAttic{"attic", "check the roof, the attic's size and its air changes"};

double slope(const AtticShape& shape) {
  kNeedAttic(shape.floor > Area{}, "an attic floor (ft2) of", shape.floor.us(), "above 0");
  kNeedAttic(shape.rise_in_12 >= 0, "a roof pitch of", shape.rise_in_12, "0 or more in 12");
  return shape.rise_in_12 / 12.0;
}

}  // namespace

Length attic_width(const AtticShape& shape) {
  slope(shape);
  if (!shape.width) return inches(12.0 * std::sqrt(shape.floor.us() / kLongerSide));
  kNeedAttic(*shape.width > Length{}, "an attic width (in.) of", shape.width->us(), "above 0");
  return *shape.width;
}

Area roof_area(const AtticShape& shape) { return shape.floor * std::hypot(1.0, slope(shape)); }

Volume attic_volume(const AtticShape& shape) {
  const Length rise = attic_width(shape) / 2.0 * slope(shape);
  return shape.floor * (rise / 2.0);
}

Conductance attic_conductance(const AtticLoss& loss) {
  kNeedAttic(loss.roof > Area{}, "a roof area (ft2) of", loss.roof.us(), "above 0");
  kNeedAttic(loss.roof_r > Resistance{}, "a roof R of", loss.roof_r.us(), "above 0");
  kNeedAttic(loss.volume >= Volume{}, "an attic volume (ft3) of", loss.volume.us(), "0 or more");
  kNeedAttic(loss.air_changes >= 0, "air changes an hour of", loss.air_changes, "0 or more");
  kNeedAttic(loss.air_heat >= 0, "an air heat of", loss.air_heat, "0 or more");
  const double cfm = loss.air_changes * loss.volume.us() / kMinutes;
  return inverse(loss.roof_r) * loss.roof + Conductance::from_us(loss.air_heat * cfm);
}

Conductance ua_through_attic(Conductance ceilings, Conductance attic) {
  kNeedAttic(ceilings >= Conductance{}, "a UA of ceilings of", ceilings.us(), "0 or more");
  kNeedAttic(attic > Conductance{}, "a UA of the attic of", attic.us(), "above 0");
  return ceilings * (attic / (ceilings + attic));
}

}  // namespace overjoist
