// SPDX-License-Identifier: MIT
#include "overjoist/two_column.hpp"

#include <fmt/core.h>
#include <algorithm>
#include <cmath>

#include "overjoist/diagnostics.hpp"
#include "sums/need.hpp"

namespace overjoist {
namespace {

constexpr Need kNeedBay{"joists", "check width, spacing, films and layers of the bay"};

void check(const TwoColumnBay& bay) {
  kNeedBay(bay.width > Length{}, "a joist width (in.) of", bay.width.us(), "above 0");
  kNeedBay(bay.spacing > bay.width, "a spacing (in.) of", bay.spacing.us(),
           "above the joist's width");
  kNeedBay(bay.ends.below >= Resistance{}, "an R below the fill of", bay.ends.below.us(),
           "0 or more");
  kNeedBay(bay.ends.above >= Resistance{}, "an R above the fill of", bay.ends.above.us(),
           "0 or more");
  kNeedBay(bay.proud >= Length{}, "a height above the fill (in.) of", bay.proud.us(), "0 or more");
  kNeedBay(!(bay.proud > Length{}) || bay.wood > Resistivity{}, "an R per inch of wood of",
           bay.wood.us(), "above 0");
  kNeedBay(bay.coupling >= 0, "a coupling of", bay.coupling, "0 or more");
  for (const BaySlice& s : bay.slices) {
    kNeedBay(s.height >= Length{}, "a height (in.) of", s.height.us(), "0 or more");
    kNeedBay(s.over_wood >= Resistivity{}, "an R per inch of", s.over_wood.us(), "0 or more");
    kNeedBay(s.beside >= Resistivity{}, "an R per inch of", s.beside.us(), "0 or more");
  }
}

/// R of the upper end of the wood's column, an inch of length: its film, or a fin of the joist's
/// bare top and sides. Without a film the surface itself is as cold as the attic.
double upper_end(const TwoColumnBay& bay, double a) {
  const double film = bay.ends.above.us(), e = bay.proud.us();
  if (!(film > 0) || !(e > 0)) return film / a;
  const double top = a / film;
  const double kw = 1.0 / bay.wood.us(), k0 = std::sqrt(kw * a / film);
  const double t = std::tanh(std::sqrt(1.0 / (film * kw * a)) * e);
  return (k0 + top * t) / (k0 * (top + k0 * t));
}

/// What lies above a plane, for a heat flow of 1 through both columns of which q goes through the
/// wood's: both differences of temperature are straight in q. Neither jumps where slices meet.
struct Above {
  double z, v;  ///< T1 - T2 = z·q + v
  double d, e;  ///< T2 - T of the attic air = d·q + e
};

/// The same at the foot of a slice. With p = A1/(A1 + A2), y = q - p, the difference follows
/// theta' = theta·cosh - S·y·sinh/m, y' = y·cosh - h·theta·sinh/m, and p·T1 + (1 - p)·T2 falls by
/// L/(A1 + A2).
Above under_slice(const Above& top, const BaySlice& slice, double a, double b, double coupling) {
  const double l = slice.height.us(), r1 = slice.over_wood.us(), r2 = slice.beside.us();
  const double s1 = r1 / a, s2 = r2 / b, s = s1 + s2;  // 1/A1, 1/A2
  if (!(l > 0) || !(s > 0)) return top;
  const double p = s2 / s, h = coupling * 3.0 / (a * r1 + b * r2), m = std::sqrt(h * s);
  const double x = m * l, once = std::exp(-x), twice = once * once;
  const double c = 2.0 * once / (1.0 + twice);
  // tanh(x)/m; straight for thin slices, where its digits would go
  const double t = x > 1e-4 ? (1.0 - twice) / (1.0 + twice) / m : l * (1.0 - x * x / 3.0);
  const double below = 1.0 + top.z * h * t, w = top.v + top.z * p;
  Above foot{};
  foot.z = (top.z + s * t) / below;
  foot.v = w * c / below - foot.z * p;
  const double q = c / below,
               q0 = p - (p * c + w * h * t) / below;  // q at the top by q at the foot
  const double sum = top.d + p * top.z;
  foot.d = sum * q - p * foot.z;
  foot.e = top.e + p * top.v + sum * q0 - p * foot.v + l * s1 * s2 / s;
  return foot;
}

}  // namespace

Resistance two_column_r(const TwoColumnBay& bay) {
  check(bay);
  const double a = bay.width.us() / 2, b = bay.spacing.us() / 2 - a;
  const double out = bay.ends.above.us(), in = bay.ends.below.us();
  Above plane{upper_end(bay, a) + out / b, -out / b, -out / b, out / b};
  for (std::size_t i = bay.slices.size(); i > 0; --i)
    plane = under_slice(plane, bay.slices[i - 1], a, b, bay.coupling);
  const double apart = plane.z + in / a + in / b;
  const double q = apart > 0 ? (in / b - plane.v) / apart : 0.0;  // 0: no R at all
  return r_value((plane.d * q + plane.e + (1.0 - q) * in / b) * (a + b));
}

void BayStack::push(Length height, Resistivity over_wood, Resistivity beside) {
  if (!(height > Length{})) return;
  if (count == slices.size())
    throw Error(ErrorCode::out_of_range, "layers",
                fmt::format("more than {} slices in a bay", slices.size()), "merge layers");
  slices[count++] = {height, over_wood, beside};
  surface += height;
}

void BayStack::add_loose(const Framing& framing, Length thickness, Resistance r, bool cut) {
  if (!(thickness > Length{})) return;
  const Resistivity rho = r / thickness;
  const Length below = std::min(thickness, std::max(Length{}, framing.depth - surface));
  push(below, framing.wood, rho);
  push(thickness - below, cut ? Resistivity{} : rho, rho);
}

void BayStack::close_gap(const Framing& framing) {
  if (!(framing.depth > surface)) return;
  const Length height = framing.depth - surface;
  push(height, framing.wood, r_value(kClosedGapR) / std::max(height, inches(kFullGap)));
  surface = framing.depth;
}

void BayStack::add_across(const Framing& framing, Length thickness, Resistance r) {
  if (!(thickness > Length{})) return;
  close_gap(framing);
  push(thickness, r / thickness, r / thickness);
}

BayStack bay_stack(const Framing& framing, std::span<const BuiltLayer> layers, const Column& column,
                   bool under_deck) {
  BayStack stack;
  stack.under_deck = under_deck;
  for (std::size_t i = 0; i < column.count; ++i) {
    const BuiltLayer& layer = layers[i];
    const Length t = column.thickness[i];
    const Resistance r = layer.counts_nothing() ? Resistance{} : layer.dry_r(t);
    if (layer.lies == Lies::across)
      stack.add_across(framing, t, r);
    else
      stack.add_loose(framing, t, r, layer.batt || layer.board);
  }
  return stack;
}

Resistance two_column_r(const PathEnds& ends, const Framing& framing, const BayStack& stack) {
  const bool short_of_top = framing.depth > stack.surface;
  if (short_of_top && stack.under_deck) {
    BayStack closed = stack;
    closed.close_gap(framing);
    return two_column_r(ends, framing, closed);
  }
  const std::span<const BaySlice> all = std::span(stack.slices).first(stack.count);
  if (!(framing.fraction > 0)) {
    Resistance sum = ends.both();
    for (const BaySlice& s : all) sum += s.beside * s.height;
    return sum;
  }
  if (framing.fraction >= 1.0) {  // joist beside joist
    Resistance sum = ends.both();
    for (const BaySlice& slice : all) sum += slice.over_wood * slice.height;
    return sum;
  }
  const Length proud = short_of_top ? framing.depth - stack.surface : Length{};
  return two_column_r(
      {framing.width, framing.width / framing.fraction, ends, all, proud, framing.wood});
}

Resistance two_column_r(const PathEnds& ends, const Framing& framing,
                        std::span<const BuiltLayer> layers, const Column& column, bool under_deck) {
  return two_column_r(ends, framing, bay_stack(framing, layers, column, under_deck));
}

}  // namespace overjoist
