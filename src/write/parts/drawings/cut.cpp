// SPDX-License-Identifier: MIT
#include <fmt/core.h>
#include <algorithm>

#include "write/parts/drawings/drawings.hpp"

// A floor cut across its joists: the bay with the least reading beside the bay with the greatest.
// One scale for width and height, and for both drawings of a pair.
namespace overjoist::io {
namespace {

constexpr double kCutWide = 360.0, kCutLeft = 36.0, kCutRight = 6.0, kCutTop = 30.0,
                 kCutBelow = 44.0, kCutTallest = 300.0;
constexpr double kCutAir = 1.5,
                 kCutBoardIfUnknown =
                     0.5;  // in.: air above all, and a board whose thickness is not known

/// Where inches lie in the drawing.
struct Frame {
  double scale = 1.0;    ///< drawing units per inch
  double ceiling = 0.0;  ///< y of the ceiling's upper face
  double x(double inches) const { return kCutLeft + inches * scale; }
  double y(double inches) const { return ceiling - inches * scale; }
};

double board_of(const SectionCut& cut) {
  return cut.ceiling_thickness ? cut.ceiling_thickness->us() : kCutBoardIfUnknown;
}
double width_of(const SectionCut& cut) { return 2.0 * cut.spacing.us() + cut.joist_width.us(); }

double tallest(const SectionEnds& s) {
  const SectionCut& cut = *s.found.cut;
  double top = std::max({cut.joist_depth.us(), cut.greatest.surface.us(), cut.greatest.reading.us(),
                         cut.least.stays.us() + cut.least.new_high.us(),
                         cut.greatest.stays.us() + cut.greatest.new_high.us()});
  for (const End end : {End::low, End::high})
    if (const auto& level = at(s, end).initial_level) top = std::max(top, level->us());
  return top + kCutAir;
}

Frame frame_of(const SectionEnds& s) {
  Frame f;
  const double top = tallest(s);
  f.scale = std::min((kCutWide - kCutLeft - kCutRight) / width_of(*s.found.cut), kCutTallest / top);
  f.ceiling = kCutTop + top * f.scale;
  return f;
}

struct Drawing {
  Svg& svg;
  const Frame& f;
  const HtmlReport& h;
  const SectionEnds& s;
  const SectionCut& cut;
  double bay_from(int bay) const {
    return bay * cut.spacing.us() + cut.joist_width.us() / 2.0;
  }  ///< middle of a joist
  double bay_middle(int bay) const { return f.x(bay_from(bay) + cut.spacing.us() / 2.0); }
  const CutSpot& spot(int bay) const { return bay == 0 ? cut.least : cut.greatest; }
};

/// What is drawn of a layer or a piece of wood, in inches: above the ceiling, and along it.
struct Block {
  double from, to, x1, x2;
};

void block(const Drawing& d, const Block& b, std::string_view css_class,
           std::optional<Svg::Hatch> hatch) {
  const auto& [from, to, x1, x2] = b;
  if (!(to > from) || !(x2 > x1)) return;  // joists side by side leave no bay
  const double x = d.f.x(x1), y = d.f.y(to), width = (x2 - x1) * d.f.scale,
               height = (to - from) * d.f.scale;
  d.svg.rect(x, y, width, height, css_class);
  if (hatch) d.svg.hatch(x, y, width, height, *hatch);
}

/// The layers of one bay, from the ceiling up; where something comes out, it is left away in the
/// drawing of the work done.
void draw_layers(const Drawing& d, int bay, bool after) {
  const CutSpot& spot = d.spot(bay);
  const double x1 = d.bay_from(bay), x2 = x1 + d.cut.spacing.us(),
               half = d.cut.joist_width.us() / 2.0;
  double top = 0.0;
  for (std::size_t i = 0; i < spot.layers.size(); ++i) {
    const CutLayer& layer = d.cut.layers[i];
    if (after && layer.comes_out) continue;
    if (layer.lies == Lies::across && spot.layers[i] > Length{})
      top = std::max(top, d.cut.joist_depth.us());
    const double thick = spot.layers[i].us(), next = top + thick;
    const bool over = layer.lies == Lies::across || (layer.loose && next > d.cut.joist_depth.us());
    const double inset = over ? 0.0 : half;
    block(d, {top, next, x1 + inset, x2 - inset},
          layer.comes_out ? "layer fill-loss edged" : "layer fill-old edged", Svg::Hatch::dots);
    top = next;
  }
}

/// New fill once settled, and the paler part that settling takes.
void draw_new(const Drawing& d, int bay) {
  const CutSpot& spot = d.spot(bay);
  const double from = spot.stays.us(), to = from + spot.new_high.us();
  const double x1 = d.bay_from(bay), x2 = x1 + d.cut.spacing.us();
  if (d.s.high.initial_level)
    block(d, {to, d.s.high.initial_level->us(), x1, x2}, "settles fill-soft", {});
  block(d, {from, to, x1, x2}, "new fill-new edged", Svg::Hatch::strokes);
}

void draw_wood(const Drawing& d) {
  const double depth = d.cut.joist_depth.us();
  for (int i = 0; i < 3; ++i) {
    const double x1 = i * d.cut.spacing.us();
    block(d, {0.0, depth, x1, x1 + d.cut.joist_width.us()}, "joist fill-wood edged", {});
  }
  block(d, {-board_of(d.cut), 0.0, 0.0, width_of(d.cut)}, "ceiling fill-board edged", {});
  if (d.cut.under_deck)
    d.svg.line(d.f.x(0), d.f.y(depth), d.f.x(width_of(d.cut)), d.f.y(depth), "deck mark");
}

void draw_axis(const Drawing& d) {
  const Units units = d.h.c.units;
  const double top = tallest(d.s), unit = axis_length(inches(1.0), units);
  const double step = round_step(top * unit, 6);
  d.svg.group_begin("axis");
  for (double value = 0.0; value <= top * unit; value += step) {
    const double y = d.f.y(value / unit);
    d.svg.line(kCutLeft - 5, y, kCutLeft - 1, y, "tick ink");
    d.svg.text(kCutLeft - 7, y + 4, tick_text(value, step), "tick-word said", Anchor::end);
  }
  d.svg.text(2, kCutTop - 18, axis_unit(units), "said");
  d.svg.group_end();
}

/// A line over fill and paper alike: its casing keeps it apart from any ground.
void across(const Drawing& d, double height, std::string_view css_class) {
  d.svg.line(d.f.x(0), d.f.y(height), d.f.x(width_of(d.cut)), d.f.y(height), "casing");
  d.svg.line(d.f.x(0), d.f.y(height), d.f.x(width_of(d.cut)), d.f.y(height), css_class);
}

void bay_words(const Drawing& d, bool after) {
  const double y = d.f.y(-board_of(d.cut)) + 16.0;
  const Units units = d.h.c.units;
  for (int bay = 0; bay < 2; ++bay) {
    const CutSpot& spot = d.spot(bay);
    d.svg.text(d.bay_middle(bay), y, bay == 0 ? "thinnest reading" : "deepest reading", "said",
               Anchor::middle);
    const std::string words = after
                                  ? depth_text(spot.new_high, units, Toward::down) + " of new fill"
                                  : depth_text(spot.reading, units, Toward::down);
    d.svg.text(d.bay_middle(bay), y + 16.0, words, "strong", Anchor::middle);
  }
}

/// A ruler that stands on the ceiling, its zero there: what an inspector reads.
void draw_marker(const Drawing& d, double level) {
  const double x = d.bay_middle(1) + d.cut.spacing.us() * d.f.scale * 0.28;
  d.svg.group_begin("marker");
  d.svg.rect(x, d.f.y(level + kCutAir * 0.8), 8, (level + kCutAir * 0.8) * d.f.scale,
             "ruler edged");
  for (int inch = 1; inch <= static_cast<int>(level); ++inch)
    d.svg.line(x, d.f.y(inch), x + (inch % 6 == 0 ? 8 : 4), d.f.y(inch), "ink");
  d.svg.group_end();
}

void draw_found(const Drawing& d) {
  for (int bay = 0; bay < 2; ++bay) draw_layers(d, bay, false);
  draw_wood(d);
  draw_axis(d);
  const double mean = d.s.found.existing.mean_depth.us();
  if (d.cut.greatest.reading > d.cut.least.reading) {
    across(d, mean, "average level dash");
    d.svg.text(
        d.f.x(width_of(d.cut)),
        d.f.y(std::max({mean, d.cut.greatest.reading.us(), d.cut.joist_depth.us()})) - 5.0,
        "yardstick average " + depth_text(d.s.found.existing.mean_depth, d.h.c.units, Toward::down),
        "level-word", Anchor::end);
  }
  bay_words(d, false);
}

void draw_after(const Drawing& d) {
  for (int bay = 0; bay < 2; ++bay) draw_layers(d, bay, true);
  const TopUp& t = d.s.high;
  for (int bay = 0; bay < 2; ++bay) draw_new(d, bay);
  draw_wood(d);
  draw_axis(d);
  if (t.initial_level) {
    draw_marker(d, t.initial_level->us());
    across(d, t.initial_level->us(), "level-high level");
    d.svg.text(d.f.x(0) + 6.0, d.f.y(t.initial_level->us()) - 6.0, level_words(d.h, t),
               "level-word");
  }
  if (d.s.low.initial_level && d.s.low.initial_level != t.initial_level) {
    across(d, d.s.low.initial_level->us(), "level-low level dash");
    d.svg.text(d.f.x(d.cut.joist_width.us()) + 4.0, d.f.y(d.s.low.initial_level->us()) + 14.0,
               planned_level_text(d.s.low, d.h.c.units) + " for " + d.h.c.target(d.s.low.target_r),
               "on-fill strong halo");
  }
  bay_words(d, true);
}

std::string found_words(const HtmlReport& h, const SectionResult& s) {
  return fmt::format(
      "Cut across the joists as found, to scale: {} at the thinnest reading, {} at the deepest, {} "
      "on average; joists {} deep.",
      depth_text(s.cut->least.reading, h.c.units, Toward::down),
      depth_text(s.cut->greatest.reading, h.c.units, Toward::down),
      depth_text(s.existing.mean_depth, h.c.units, Toward::down),
      depth_text(s.cut->joist_depth, h.c.units, Toward::nearest));
}

/// Only what is blown settles.
std::string_view once_settled(const HtmlReport& h) {
  return h.c.e.method == Method::blown ? ", once settled" : "";
}

std::string after_words(const HtmlReport& h, const SectionEnds& s) {
  std::string out = fmt::format(
      "The same cut after the work for {}: {} of {} at the thinnest reading, {} at the deepest{}.",
      h.c.target(s.high.target_r), depth_text(s.found.cut->least.new_high, h.c.units, Toward::down),
      h.c.e.method == Method::blown ? "new fill" : "new layer",
      depth_text(s.found.cut->greatest.new_high, h.c.units, Toward::down), once_settled(h));
  if (s.high.initial_level)
    out += fmt::format(" Blown level {} above the ceiling.", planned_level_text(s.high, h.c.units));
  return out;
}

void draw(const HtmlReport& h, const SectionEnds& s, const Frame& f, bool after) {
  h.html.open("figure", {{"class", after ? "cut after" : "cut found"}});
  const std::string title =
      fmt::format("After, for {}{}", h.c.target(s.high.target_r), once_settled(h));
  h.html.paragraph(after ? title : std::string("As found"), "small-head");
  {
    const double height = f.y(-board_of(*s.found.cut)) + kCutBelow;
    Svg svg(h.html, {kCutWide, height}, after ? "After the work" : "As found",
            after ? after_words(h, s) : found_words(h, s.found));
    svg.with_hatches();
    const Drawing d{svg, f, h, s, *s.found.cut};
    if (after)
      draw_after(d);
    else
      draw_found(d);
  }
  h.html.close();
}

void key(const HtmlReport& h, std::string_view css_class, std::string_view words) {
  h.html.open("li");
  h.html.element("span", "", {{"class", "swatch " + std::string(css_class)}});
  h.html.text(words);
  h.html.close();
}

void draw_keys(const HtmlReport& h, const SectionEnds& s) {
  const SectionCut& cut = *s.found.cut;
  h.html.open("ul", {{"class", "keys"}});
  for (const CutLayer& layer : cut.layers)
    key(h, layer.comes_out ? "sw-loss" : "sw-old",
        "found: " + layer.material +
            (!layer.comes_out  ? ""
             : h.c.e.hands_off ? " (stays as it lies, before the fill is cleared)"
                               : " (comes out)"));
  if (cut.least.new_high > Length{}) key(h, "sw-new", "new: " + h.c.e.added_material);
  if (s.high.initial_level && h.c.e.method == Method::blown) key(h, "sw-soft", "what settles");
  key(h, "sw-wood",
      fmt::format("joists {} x {}, {} on center",
                  depth_text(cut.joist_width, h.c.units, Toward::nearest),
                  depth_text(cut.joist_depth, h.c.units, Toward::nearest),
                  depth_text(cut.spacing, h.c.units, Toward::nearest)));
  key(h, "sw-board",
      "ceiling" + (cut.ceiling.empty() ? std::string() : ": " + cut.ceiling) +
          (cut.ceiling_thickness ? "" : " (thickness not known)"));
  h.html.close();
}

}  // namespace

void html_cut(const HtmlReport& h, const SectionEnds& s) {
  if (!s.found.cut) return;
  const Frame f = frame_of(s);
  h.html.open("div", {{"class", "pair"}});
  draw(h, s, f, false);
  if (s.found.cut->least.new_high > Length{} || s.found.cut->greatest.new_high > Length{})
    draw(h, s, f, true);
  h.html.close();
  draw_keys(h, s);
}

}  // namespace overjoist::io
