// SPDX-License-Identifier: MIT
#include "eave_wedge.hpp"
#include "overjoist/wedge.hpp"

// The wedge at an eave with heat along arcs (method eq. 10a), judged by the two-dimensional solver.

using namespace oracle;
using namespace overjoist;

namespace {

/// The library's whole strip: a bare floor without wood, blown to the level.
double strip_core(const Wedge& w) {
  const BaseFloor floor = fixtures::floor_of({0}, 1, kInside + kGypsumR + kAttic,
                                             fixtures::framing_of(0, 5.5, 1 / kWood));
  Eave eave;
  eave.heel = inches(w.a0 + 1);  // the default gap of 1 in. lies above
  eave.rise_in_12 = w.pitch;
  const double wide = w.width() + kField;
  const EaveStrip strip{eave, inches(wide), 1 / wide};
  return strip_r(floor, fixtures::fill_of(1 / w.k, 0, 2), &strip, inches(w.level)).effective.us();
}

}  // namespace

// Independent: the oracle on a stepped roof line; the mesh adds 0.2 of a percent. With upright heat
// the same 18 stand 1.6 to 15.8 % high.
TEST_CASE("oracle: 18 eave wedges with heat along arcs are within 2 percent") {
  for (const double pitch : {3.0, 4.0, 5.0, 6.0, 8.0, 12.0})
    for (const double a0 : {0.5, 2.5, 5.0}) {
      CAPTURE(pitch);
      CAPTURE(a0);
      const Wedge w{a0, pitch, 16, 0.32};
      fixtures::near(off(strip_core(w), wedge_2d(w, 40)), 0, 2);
    }
}
