// SPDX-License-Identifier: MIT
#include <cmath>

#include <fmt/core.h>

#include "overjoist/report.hpp"
#include "words/words.hpp"
#include "write/document/page.hpp"
#include "write/json/parts.hpp"
#include "write/json/writer.hpp"

namespace overjoist {
namespace {

using io::JsonWriter;

// ---- JSON: each row has the keys of data/materials.json, so that it can be put into a user's
// table.

template <class T>
void given(JsonWriter& w, std::string_view key, const std::optional<T>& value) {
  if (value) w.field(key, *value);
}

void given_text(JsonWriter& w, std::string_view key, std::string_view text) {
  if (!text.empty()) w.field(key, text);
}

// A share is stored, a percentage was read: 0.07 becomes 7 again and not 7.000000000000001.
void given_percent(JsonWriter& w, std::string_view key, const std::optional<double>& share) {
  if (share) w.field(key, std::round(*share * 1e8) / 1e6);
}

void write_row(JsonWriter& w, const Material& m) {
  w.field("id", m.id);
  w.field("name", m.name);
  if (!m.also.empty()) w.texts("also", m.also);
  w.field("form", io::word(m.form));
  given(w, "r_per_inch_low", m.low);
  given(w, "r_per_inch", m.typical);
  given(w, "r_per_inch_high", m.high);
  given(w, "found_r_per_inch_low", m.found_low);
  given(w, "found_r_per_inch", m.found_typical);
  given(w, "found_r_per_inch_high", m.found_high);
  given(w, "thick_r_per_inch", m.thick);
  given(w, "thick_over_in", m.thick_over);
  given(w, "thickness_in", m.thickness);
  given(w, "r", m.resistance);
  given(w, "density_low_lb_ft3", m.density_low);
  given(w, "density_high_lb_ft3", m.density_high);
  given_percent(w, "settling_low_percent", m.settling_low);
  given_percent(w, "settling_high_percent", m.settling_high);
  if (m.existing_only) w.field("use", "existing");
  if (m.tight) w.field("tight", true);
  given_text(w, "caution", m.caution);
  w.texts("source", m.sources);
  given_text(w, "status", m.status);
  if (!m.found_sources.empty()) w.texts("found_source", m.found_sources);
  given_text(w, "found_status", m.found_status);
  given_text(w, "note", m.note);
}

// ---- Text

std::string span(const std::optional<std::string>& low, const std::optional<std::string>& high) {
  if (!low && !high) return "-";
  if (!low || !high || *low == *high) return low ? *low : *high;
  return *low + " to " + *high;
}

template <class Tag>
std::optional<std::string> number(const std::optional<Quantity<Tag>>& q, Units units,
                                  int decimals) {
  if (!q) return std::nullopt;
  return io::number_text(units == Units::us ? q->us() : q->si(), decimals);
}

std::optional<std::string> percent(const std::optional<double>& share) {
  if (!share) return std::nullopt;
  return io::number_text(*share * 100.0, 1);
}

// Sheets are thin: their R and thickness need more places than those of a layer.
std::string sheet_thickness(Length thickness, Units units) {
  constexpr double kCentimetrePerMetre = 100.0;
  if (units == Units::us) return io::number_text(thickness.us(), 3) + " in.";
  return io::number_text(thickness.si() * kCentimetrePerMetre, 2) + " cm";
}

std::string r_cell(const Material& m, Units units) {
  if (m.resistance)
    return units == Units::us ? "R-" + io::number_text(m.resistance->us(), 2)
                              : "RSI " + io::number_text(m.resistance->si(), 3);
  const int decimals = units == Units::us ? 2 : 1;
  bool any = false;
  std::string out;
  for (const std::optional<Resistivity>* rho : {&m.low, &m.typical, &m.high}) {
    any = any || *rho;
    out += (out.empty() ? "" : " / ") + number(*rho, units, decimals).value_or("-");
  }
  return any ? out : "-";
}

std::string settling_cell(const Material& m) {
  const std::string cell = span(percent(m.settling_low), percent(m.settling_high));
  return cell == "-" ? cell : cell + " %";
}

std::string joined(const std::vector<std::string>& ids) {
  std::string out;
  for (const std::string& id : ids) out += (out.empty() ? "" : ", ") + id;
  return out;
}

void write_row(io::Page& page, const Material& m, Units units) {
  const std::string density =
      span(number(m.density_low, units, 2), number(m.density_high, units, 2));
  page.row(m.id, {r_cell(m, units), density, settling_cell(m)});
  std::string words = m.name;
  if (m.resistance && m.thickness)
    words += "; R of a sheet of " + sheet_thickness(*m.thickness, units);
  if (!m.also.empty()) words += "; also " + joined(m.also);
  if (m.existing_only) words += "; may be found, is never added";
  if (!m.caution.empty()) words += "; caution: " + m.caution;
  words += "; " + (m.status.empty() ? std::string("no status") : m.status);
  if (!m.sources.empty()) words += ": " + joined(m.sources);
  page.aside(words + '.', 6);
  if (m.found_typical)
    page.aside(
        fmt::format("Where it lies already: {} ({}: {}).", r_cell(m.as_found(), units),
                    m.found_status.empty() ? "no status" : m.found_status, joined(m.found_sources)),
        6);
  if (!m.note.empty()) page.aside(m.note, 6);
}

}  // namespace

void write_materials_text(std::string& out, const Tables& tables, Units units) {
  io::Page page(out, false);
  page.title("Materials in use");
  const bool us = units == Units::us;
  page.paragraph(us ? "R per inch in h ft2 F/Btu: low / typical / high; density in lb/ft3."
                    : "R per meter in m K/W: low / typical / high; density in kg/m3.");
  page.blank();
  page.row("id", {us ? "R per inch" : "R per meter", us ? "lb/ft3" : "kg/m3", "settles"});
  for (const Material& m : tables.materials) write_row(page, m, units);
  page.heading("Sources");
  for (const SourceRow& s : tables.sources)
    page.item(fmt::format("{}: {} ({}; {})", s.id, s.title, s.status,
                          s.read == "not read" ? s.read : "read: " + s.read),
              2);
  for (const TableStamp& s : tables.stamps)
    page.paragraph(fmt::format("table {} {}, {}", s.name, s.version, s.hash), 2, 4);
}

void write_materials_json(std::string& out, const Tables& tables, bool pretty) {
  JsonWriter w(out, pretty);
  w.object([&] {
    w.field("format", "overjoist-materials");
    w.field("version", 1.0);
    w.objects("materials", tables.materials, [&](const Material& m) { write_row(w, m); });
    w.objects("sources", tables.sources,
              [&](const SourceRow& s) { io::write_source(w, s.id, &s); });
    io::write_stamps(w, tables.stamps);
  });
}

}  // namespace overjoist
