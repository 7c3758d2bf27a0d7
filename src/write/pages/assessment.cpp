// SPDX-License-Identifier: MIT
#include <algorithm>
#include <array>
#include <cmath>
#include <string>

#include <fmt/core.h>

#include "overjoist/framing.hpp"
#include "write/parts/parts.hpp"
#include "write/parts/quote.hpp"

namespace overjoist {
namespace {

using io::Columns;
using io::kHang;
using io::kNone;
using io::Page;
using io::r_unit;
using io::Report;
using io::Toward;

// ---- From the yardstick to the real figure

/// How far off the effective R is by the method that is nearest to two dimensions; "" where it is
/// that figure.
std::string columns_words(const Report& c, const ExistingResult& x) {
  const double less = 100.0 * (1.0 - x.effective_r_two_column / x.effective_r);
  const std::string percent = fmt::format("{:.1f}", std::fabs(less));
  if (percent == "0.0") return {};
  return fmt::format(" By the two-column method (within 1 % of two dimensions) {}, {} % {}.",
                     c.r(x.effective_r_two_column), percent, less > 0 ? "less" : "more");
}

// Changes are the differences of the rounded figures, so that the printed column adds up; a step
// that changes nothing is left out.
void write_steps(const Report& c, const SectionResult& s) {
  const std::string unit = r_unit(c);
  c.page.head(s.name, {"change", "R after" + unit});
  const std::vector<LossStep>& steps = s.existing.steps;
  for (std::size_t i = 0; i < steps.size(); ++i) {
    const double before = i == 0 ? 0.0 : io::r_shown(steps[i - 1].after, c.units);
    const std::string change = io::r_change(io::r_shown(steps[i].after, c.units) - before, c.units);
    if (i > 0 && change == "0") continue;
    c.page.below(io::loss_words(steps[i].code),
                 {i == 0 ? std::string() : change, io::r_cell(steps[i].after, c.units)});
  }
  const bool usual = c.e.framing_method == FramingMethod::parallel;
  const std::string method = usual ? "" : fmt::format(", by {}", method_words(c.e.framing_method));
  c.page.aside(fmt::format("Insulation alone {} (working), all in {} (effective{}).{}",
                           c.r(s.existing.working_r), c.r(s.existing.effective_r), method,
                           columns_words(c, s.existing)),
               4);
}

// A hatch has films and nothing else between yardstick and real figure: its own part says enough.
void write_losses(const Report& c) {
  const auto layered = [](const SectionResult& s) { return s.existing.steps.size() > 2; };
  if (std::none_of(c.e.sections.begin(), c.e.sections.end(), layered)) return;
  c.page.heading("From the yardstick to the real figure");
  for (const SectionResult& s : c.e.sections)
    if (layered(s)) write_steps(c, s);
  if (c.e.attic.area.us() <= 0) return;
  c.page.paragraph(
      fmt::format("Whole attic, with its hatches and bare patches: {} (effective) over {}.",
                  c.r(c.e.attic.existing.effective_r), io::area_text(c.e.attic.area, c.units)),
      2);
}

// ---- Totals

std::string price_cell(const Report& c, const std::optional<double>& price, std::string_view none) {
  return price ? io::money_text(*price, c.e.currency) : std::string(none);
}

void write_costs(const Report& c, Columns& table) {
  const auto price = [&](std::string_view label, std::optional<double> Totals::*which,
                         std::string_view none) {
    table.row(label, c.totals(), [&](const Totals& t) { return price_cell(c, t.*which, none); });
  };
  price("material", &Totals::material, "not priced");
  price("labor", &Totals::labour, "not priced");
  price("extras", &Totals::extras, kNone);
  std::string extras;
  for (const ExtraCost& extra : c.e.extra_costs)
    extras += (extras.empty() ? "" : "; ") + extra.what;
  if (!extras.empty()) c.page.aside(extras, 4);
  price("tax", &Totals::tax, kNone);
  price("cost", &Totals::cost, "not priced");
}

void write_bags(const Report& c, Columns& table) {
  const auto mass = [&](const std::optional<Mass>& m, Toward toward) {
    return m ? io::mass_text(*m, c.units, toward) : std::string(kNone);
  };
  table.row(c.e.sections.size() > 1 ? "bags, all sections together" : "bags", c.totals(),
            [&](const Totals& t) {
              return t.bags ? io::bags_cell(t.bags)
                            : std::string(c.e.method == Method::blown ? "not known" : kNone);
            });
  table.row("net weight of a bag", c.totals(),
            [&](const Totals& t) { return mass(t.bag_net, Toward::nearest); });
  table.row("new fill", c.totals(),
            [&](const Totals& t) { return mass(t.added_mass, Toward::up); });
  for (const End end : c.ends()) {
    const Planned& job = c.e.planned[end];
    if (const std::string words = io::packages_words(job.totals); !words.empty())
      c.page.fact("  to buy", fmt::format("for {}: {}", c.target(job.target), words), kHang);
  }
}

void write_totals(const Report& c) {
  if (c.e.added_material.empty() || io::nothing_to_do(c.e)) return;
  c.page.heading("In total");
  Columns table(c);
  const Ends<Planned>& jobs = c.e.planned;
  table.head("for the target of" + r_unit(c), c.e.target,
             [&](Resistance r) { return io::r_given_cell(r, c.units); });
  if (either(jobs, io::out_of_reach))
    table.row("reached in every section", jobs,
              [](const Planned& job) { return io::out_of_reach(job) ? "no" : "yes"; });
  table.row("effective R of the attic after" + r_unit(c), jobs,
            [&](const Planned& job) { return io::r_cell(job.attic.effective_r, c.units); });
  table.row("heat loss per degree, now", jobs,
            [&](const Planned&) { return io::conductance_text(c.e.attic.existing.ua, c.units); });
  table.row("heat loss per degree, after", jobs,
            [&](const Planned& job) { return io::conductance_text(job.attic.ua, c.units); });
  table.row(c.e.hands_off                 ? "area, once cleared"
            : c.e.method == Method::blown ? "area to blow"
            : c.e.method == Method::laid  ? "area to cover"
                                          : "area to spray",
            c.totals(), [&](const Totals& t) { return io::area_text(t.blown_area, c.units); });
  write_bags(c, table);
  write_costs(c, table);
}

void write_title(Page& page, const Evaluation& e) {
  if (e.label.empty()) return page.title(e.id.empty() ? "Attic" : e.id);
  page.title(e.label);
  if (!e.id.empty()) page.paragraph(e.id);
}

}  // namespace

namespace io {

std::string_view loss_words(std::string_view code) {
  constexpr std::string_view words[][2] = {
      {"yardstick", "yardstick: mean depth x R of the fill"},
      {"batts-squeezed", "batts squeezed below label depth"},
      {"wet", "wet, soiled or condemned fill"},
      {"uneven", "uneven depth, thin spots lose more"},
      {"bare", "bare spots and voids"},
      {"films-and-ceiling", "air films, ceiling and deck"},
      {"framing", "joists beside the fill"},
  };
  for (const auto& pair : words)
    if (pair[0] == code) return pair[1];
  return code;
}

void write_figures(const Report& c) {
  write_losses(c);
  for (const SectionEnds& section : c.e.with_ends()) io::write_section(c, section);
  write_totals(c);
}

}  // namespace io

void write_text(std::string& out, const Evaluation& evaluation, const Tables& tables,
                TextStyle style) {
  Page page(out, style.colour);
  const Report report{page, evaluation, tables, style.units};
  write_title(page, evaluation);
  io::write_stop_banner(report);
  io::write_answer(report);
  io::write_figures(report);
  io::write_compare(report);
  io::write_plan(report);
  io::write_year(report);
  io::write_next_steps(report);
  io::write_rebates(report);
  io::write_claims(report);
  io::write_notes(report);
}

void write_faults_text(std::string& out, std::string_view file, const Diagnostics& faults) {
  for (const Diagnostic& fault : faults) {
    out += printable(file);
    if (fault.line > 0) out += fmt::format(":{}:{}", fault.line, fault.column);
    if (!fault.pointer.empty()) out += ": " + printable(fault.pointer);
    out += ": " + printable(fault.message) + '\n';
    if (!fault.hint.empty()) out += "  " + printable(fault.hint) + '\n';
  }
}

}  // namespace overjoist
