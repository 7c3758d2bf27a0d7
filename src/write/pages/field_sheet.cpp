// SPDX-License-Identifier: MIT
#include <algorithm>
#include <array>

#include "overjoist/form.hpp"
#include "overjoist/version.hpp"
#include "write/document/html.hpp"
#include "write/document/svg.hpp"

// The field sheet: before the visit, outside, the rooms below, the look before entry, the hatch,
// the attic, the drawing, photos.
namespace overjoist {
namespace {

using io::Html;

std::string spaced(std::string text) {
  std::replace(text.begin(), text.end(), '-', ' ');
  return text;
}

void lines(Html& html, std::initializer_list<std::string_view> labels) {
  html.open("div", {{"class", "columns"}});
  for (const std::string_view label : labels) html.form_line(label);
  html.close();
}

/// A table to write in: the first column is printed, the others are empty.
void fill_table(Html& html, std::string_view caption, std::initializer_list<std::string> heads,
                const std::vector<std::string>& rows) {
  html.table_begin(caption, heads, "fill");
  for (const std::string& row : rows) {
    std::vector<std::string> cells(heads.size());
    cells[0] = row;
    html.row(cells);
  }
  html.table_end();
}

void ticks(Html& html, const std::vector<std::string>& words) {
  html.open("ul", {{"class", "ticks columns"}});
  for (const std::string& w : words) html.tick(w);
  html.close();
}

/// Hazard kinds of the tables whose caution is urgent, or is not.
std::vector<std::string> hazards(const Tables& tables, bool stops) {
  std::vector<std::string> list;
  for (const CautionRow& row : tables.cautions)
    for (const std::string& kind : row.hazard_kinds)
      if ((row.level == CautionLevel::stop) == stops) list.push_back(spaced(kind));
  return list;
}

std::vector<std::string> leaks(const Tables& tables) {
  std::vector<const BypassRow*> rows;
  for (const BypassRow& row : tables.bypasses) rows.push_back(&row);
  std::stable_sort(rows.begin(), rows.end(),
                   [](const BypassRow* a, const BypassRow* b) { return a->rank < b->rank; });
  static constexpr std::string_view kUnits[] = {"count", "feet", "length x width", "bays"};
  std::vector<std::string> list;
  list.reserve(rows.size());
  for (const BypassRow* row : rows)
    list.push_back(row->name + " (" + std::string(kUnits[static_cast<std::size_t>(row->unit)]) +
                   ")");
  return list;
}

std::string materials(const Tables& tables) {
  std::string list;
  for (const Material& m : tables.materials)
    if (m.form == Form::loose || m.form == Form::batt) list += (list.empty() ? "" : ", ") + m.name;
  return list;
}

void before_the_visit(Html& html) {
  html.section_begin("1. At the desk");
  lines(html, {"house", "id of the survey", "surveyed by", "date", "climate zone, or degree days",
               "elevation", "year built", "storeys", "heating fuel", "efficiency or COP",
               "price of a unit", "a year of bills, units"});
  html.section_end();
}

void outside_and_below(Html& html) {
  html.section_begin("2. Round the outside");
  lines(html, {"eave vents, free area", "high vents, free area", "length of vented eaves",
               "rafter spacing", "roof rise in 12", "heel height", "chimneys and flues, where",
               "fans and dryer end outdoors?"});
  html.section_end();
  html.section_begin("3. The rooms below");
  lines(html, {"ceiling board and thickness", "stains or sag, where", "recessed lights, IC",
               "recessed lights, no IC label", "dropped ceilings, where",
               "rooms without heat, where", "appliances with a flue", "bath and kitchen fans"});
  html.section_end();
}

void look_first(Html& html, const Tables& tables) {
  html.section_begin("4. At the hatch, before you go in");
  html.callout_begin(io::Callout::stop, "tick what you see; do not go in, and touch nothing");
  ticks(html, hazards(tables, true));
  html.callout_end();
  html.paragraph(
      "Lamp, planks, mask, gloves, hard hat, someone below who knows that you are up there; not in "
      "the heat of the day.");
  lines(html, {"hatch, length and width", "board and insulation on it", "weatherstrip, latch, dam",
               "headroom over the hatch"});
  html.section_end();
}

void floors(Html& html, const Tables& tables) {
  html.section_begin("5. Each floor, slope and wall");
  fill_table(
      html, "What it is", {"", "1", "2", "3"},
      {"name", "kind: flat, decked, slope, knee wall ...", "length and width", "heated below?",
       "joist width and depth", "spacing, center to center", "least headroom", "layer 1: material",
       "  thickness, label R", "  state: sound, gaps, wet, soiled", "  facing, and on which side",
       "layer 2: material", "  thickness, label R", "  state and facing", "bare patch: what, area",
       "bare area, ft2"});
  html.paragraph("Materials: " + materials(tables) + ".", "quiet");
  html.section_end();
}

void readings(Html& html) {
  html.section_begin("6. Readings");
  html.paragraph(
      "Push a ruler down to the ceiling board, do not squeeze the fill. Spread the spots: middle, "
      "every quarter, near the eaves, near the "
      "hatch, trodden and wind-blown spots. A bare spot is 0; if you measured the bare area, read "
      "only what is covered. Where depths differ, write the share "
      "of the area too. Pebbles, flakes or "
      "grains that nobody has "
      "cleared: touch nothing, leave their depth empty.");
  for (const std::string_view floor : {"floor 1, depth above the ceiling", "floor 2", "floor 3"})
    html.form_boxes(floor, floor == "floor 2" || floor == "floor 3" ? 12 : 24);
  html.section_end();
}

void leaks_and_hazards(Html& html, const Tables& tables) {
  html.section_begin("7. Leaks, biggest first");
  fill_table(html, "Air leaks at the attic floor", {"leak", "how many", "size", "where"},
             leaks(tables));
  html.section_end();
  html.section_begin("8. Hazards and what runs through");
  ticks(html, hazards(tables, false));
  fill_table(html, "Ducts, pipes, fans", {"", "length", "R", "joints sealed", "ends where"},
             {"duct", "air handler", "pipe", "fan"});
  html.section_end();
}

void sketch(Html& html) {
  constexpr double kCell = 10.0, kAcross = 50.0, kDown = 34.0;
  html.section_begin("9. Sketch");
  html.open("figure", {{"class", "sketch"}});
  {
    io::Svg svg(html, {kAcross * kCell + 2.0, kDown * kCell + 2.0}, "Grid to draw on",
                "An empty grid of 50 by 34 squares.");
    for (int i = 0; i <= static_cast<int>(kAcross); ++i)
      svg.line(1.0 + i * kCell, 1.0, 1.0 + i * kCell, 1.0 + kDown * kCell,
               i % 5 == 0 ? "ink" : "quiet-line");
    for (int i = 0; i <= static_cast<int>(kDown); ++i)
      svg.line(1.0, 1.0 + i * kCell, 1.0 + kAcross * kCell, 1.0 + i * kCell,
               i % 5 == 0 ? "ink" : "quiet-line");
  }
  html.element("figcaption",
               "Plan seen from above: hatch, joist direction, flues, lights, leaks by number, "
               "reading spots. One square is ____ ft.");
  html.close();
  html.section_end();
}

void photos(Html& html) {
  html.section_begin("10. Photos");
  ticks(html,
        {"house from the street", "hatch, open and closed", "each reading, ruler in the frame",
         "joists with a tape", "each layer, its print or label", "each leak before it is covered",
         "eaves and vents", "flues and chimneys", "lights, labels read", "wiring",
         "stains, frost, droppings", "ducts and fans"});
  html.section_end();
}

}  // namespace

void write_field_sheet(std::string& out, const Tables& tables) {
  Html html(out, {"Field sheet for an attic", "Field sheet"});
  html.heading(1, "Attic survey");
  html.paragraph(
      "In the order in which you walk. What was not seen stays empty: the result then says what it "
      "assumed.",
      "quiet");
  before_the_visit(html);
  outside_and_below(html);
  look_first(html, tables);
  floors(html, tables);
  readings(html);
  leaks_and_hazards(html, tables);
  sketch(html);
  photos(html);
  html.paragraph(std::string("overjoist ") + kVersion, "quiet");
  html.finish();
}

}  // namespace overjoist
