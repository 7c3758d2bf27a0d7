// SPDX-License-Identifier: MIT
#include <fmt/core.h>
#include <algorithm>

#include "write/parts/plan.hpp"

// The work order: one end of the target band, in the order of the work, with what a crew loads.
namespace overjoist {
namespace {

using io::Report;
using io::Toward;

/// The report's parts, and the job that is ordered.
struct Order {
  const Report& c;
  const OrderStyle& style;
  const Planned& job;

  void step(int number, std::string_view name) const {
    c.page.heading(fmt::format("{}. {}", number, name));
  }
  void box(std::string_view text) const { c.page.tick(text, 2); }
  void line(std::string_view text) const { c.page.paragraph(text, 2); }
};

std::string plural(const std::optional<int>& n, std::string_view one, std::string_view many) {
  return fmt::format("{} {}", io::count_text(n), n == 1 ? one : many);
}

// ---- 1 and 2: make safe, seal

void write_tests(const Order& o, TestTime when) {
  for (const PlanTest& test : o.c.e.plan.tests) {
    if (test.when != when) continue;
    const CautionRow& row = o.c.tables.cautions.at(test.row);
    o.box(fmt::format("{}, {}: by {}", row.brief.empty() ? row.code : row.brief, io::word(when),
                      row.who));
  }
}

void write_safe(const Order& o) {
  o.step(1, "Make safe");
  o.line("Readiness: " + io::ready_words(o.c));
  for (const Caution& caution : o.c.findings.cautions) {
    if (caution.level > CautionLevel::care && !caution.cleared) continue;
    const CautionRow& row = o.c.tables.cautions.at(caution.row);
    if (caution.level == CautionLevel::stop) {  // the banner above says it in full
      o.box(fmt::format("stop: {}{}{}. What clears it: {}", row.brief,
                        caution.where == "attic" ? "" : ", ",
                        caution.where == "attic" ? "" : caution.where, caution.clears(row)));
      continue;
    }
    const std::string level(caution.cleared ? "cleared" : io::word(caution.level));
    o.box(level + ": " + io::caution_words(caution, row, o.style.units));
  }
  if (!o.c.e.hands_off) write_tests(o, TestTime::before_sealing);
}

void write_seal(const Order& o) {
  const SealingList& list = o.c.e.plan.sealing;
  o.step(2, "Seal, biggest holes first; photograph each before it is covered");
  if (o.c.e.plan.entered == 0) o.line("Air leaks: " + io::no_leaks_words(o.c.e.plan, "bypass"));
  for (const SealingItem& item : list.items) o.box(io::item_words(item, o.style.units));
  if (!list.items.empty()) o.line("Leakage: " + io::leak_words(o.c));
  write_tests(o, TestTime::after_sealing);
}

// ---- 3 and 4: vents; dams, covers, markers

void write_vents(const Order& o) {
  o.step(3, "Ventilate");
  for (const Equipment& x : o.c.e.plan.equipment)
    o.line("in the attic: " + io::equipment_words(x, o.style.units));
  o.line(io::vent_words(o.c));
  if (o.c.e.plan.unvented) return;
  o.box("baffles: " + plural(o.job.counts.baffles, "piece, one for each vented bay",
                             "pieces, one for each vented bay"));
}

void write_dams(const Order& o) {
  const PlanCounts& n = o.job.counts;
  const auto height = [&](Length h) {
    return h > Length{} ? ", at least " + io::level_text(h, o.style.units, Toward::up) + " high"
                        : "";
  };
  o.step(4, "Dams, covers and markers");
  if (!n.dams)
    o.box("dams: not known, a flue or chimney was seen but not counted" +
          std::string(height(n.dam_height)));
  else if (*n.dams > n.flue_dams.value_or(0))
    o.box(plural(*n.dams - n.flue_dams.value_or(0), "dam", "dams") +
          " at lids, equipment and open edges" + height(n.dam_height));
  if (n.flue_dams.value_or(0) > 0)
    o.box(plural(n.flue_dams, "metal dam", "metal dams") + " at flues and chimneys" +
          height(n.flue_dam_height));
  if (!n.light_covers)
    o.box("covers over lights without an IC label: not known, seen but not counted");
  else if (*n.light_covers > 0)
    o.box(plural(n.light_covers, "fire-rated cover", "fire-rated covers") +
          " over lights without an IC label");
  if (n.markers > 0)
    o.box(plural(n.markers, "depth marker", "depth markers") +
          ", zero at the ceiling, facing the opening");
  if (n.flags > 0) o.box(plural(n.flags, "flag", "flags") + " over buried junction boxes");
}

// ---- 5: insulate

std::string blow_words(const Order& o, const SectionResult& s, const TopUp& t) {
  std::string out = fmt::format("{}, {}: ", s.name, io::area_text(s.area, o.style.units));
  if (s.existing.in_doubt) return out + std::string(io::kLayerInDoubt);
  if (!t.adds()) return out + "no fill.";
  const bool full = t.status == TopUpStatus::unreachable;
  if (!t.batts.empty())
    out += "lay across the joists, from below up: " + io::laid_words(o.c, t);
  else if (o.c.e.method == Method::sprayed)
    out += fmt::format("spray {} of {} on the bare ceiling",
                       io::planned_level_text(t, o.style.units), o.c.e.added_material);
  else
    out +=
        fmt::format("blow flat to {} above the ceiling", io::planned_level_text(t, o.style.units));
  if (t.settled_level && o.c.e.method == Method::blown)
    out += fmt::format(", {} once settled",
                       io::depth_text(*t.settled_level, o.style.units, Toward::up));
  if (t.bags) out += "; " + io::bags_text(*t.bags);
  if (t.added_weight)
    out += fmt::format("; new fill {} on average",
                       io::weight_text(*t.added_weight, o.style.units, Toward::up));
  out += fmt::format("; then {} working, {} effective.", o.c.r(t.working_r), o.c.r(t.effective_r));
  if (full) return out + " The target is out of reach here: this is the best that fits.";
  if (!t.falls_short()) return out;
  return out + (t.eave && t.eave->no_field
                    ? " Its deepest part reaches the target, the section does not."
                    : " The field reaches the target, the section with its eave does not.");
}

void write_insulate(const Order& o) {
  o.step(5, "Insulate");
  for (std::size_t i = 0; i < o.c.e.sections.size(); ++i) {
    const SectionResult& s = o.c.e.sections[i];
    const TopUp& t = o.job.sections[i];
    for (const RemovalResult& r : s.removals)
      o.box(fmt::format("{}: first take out {}, {}, {}", s.name, r.material,
                        io::area_text(r.area, o.style.units),
                        io::volume_text(r.volume, o.style.units)));
    if (is_floor(s.kind)) o.box(blow_words(o, s, t));
    if (t.eave) o.line(io::eave_words(o.c, t));
    if (s.cavity) o.box(s.name + ": " + io::cavity_words(o.c, o.c.e.section(i)));
    if (is_cavity(s.kind) && s.existing.in_doubt)
      o.box(s.name + ": " + std::string(io::kLayerInDoubt));
    for (const PatchResult& p : s.patches)
      o.box(fmt::format("{}: leave bare {}{}{}, {}", s.name, p.kind, p.where.empty() ? "" : ", ",
                        p.where, io::area_text(p.area, o.style.units)));
  }
  if (o.job.totals.bags && *o.job.totals.bags > 0)
    o.line(
        fmt::format("{}: {} in all. Count them as they are opened; depth alone can be fluffed up.",
                    o.c.e.added_material, io::bags_text(*o.job.totals.bags)));
}

// ---- 6 and 7: hatch, inspect

void write_hatch(const Order& o) {
  o.step(6, "Hatch");
  if (!(o.job.counts.weatherstrip_ft > 0)) return o.line("No hatch or stair was entered.");
  for (std::size_t i = 0; i < o.c.e.sections.size(); ++i)
    if (const SectionResult& s = o.c.e.sections[i]; is_lid(s.kind))
      o.box(fmt::format("{}: found {}, planned {} (working)", s.name,
                        s.existing.spoiled_r ? io::spoiled_lid_words(o.c, *s.existing.spoiled_r)
                                             : o.c.r(s.existing.working_r),
                        o.c.r(o.job.sections[i].working_r)));
  std::string out = io::run_text(o.job.counts.weatherstrip_ft, o.style.units) + " of weatherstrip";
  if (o.job.counts.lid_board > Area{})
    out += " and " + io::area_text(o.job.counts.lid_board, o.style.units) +
           " of board on lids, for each layer";
  o.box(out + "; latch it.");
}

void write_inspect(const Order& o) {
  o.step(7, "Inspect, by someone other than the crew");
  if (const std::string packages = io::packages_words(o.job.totals); !packages.empty())
    o.box("used: ____ of " + packages);
  else
    o.box("bags opened: ____ of " + (o.job.totals.bags
                                         ? io::number_text(*o.job.totals.bags, 0, Toward::up)
                                         : std::string("(not known)")));
  o.box("depth at each marker read and written down: " +
        plural(o.job.counts.markers, "marker", "markers"));
  const bool lids = o.job.counts.weatherstrip_ft > 0;
  o.box(fmt::format("dams, covers{}{} looked at; photos of every seal",
                    o.c.e.plan.unvented ? "" : ", baffles", lids ? ", hatch" : ""));
  o.box("combustion safety passed after the last day of sealing");
  o.box("receipt dated, signed and posted beside the opening");
}

// ---- The truck and the prices

void write_load(const Order& o) {
  o.c.page.heading("Load the truck");
  for (const Good& good : goods_list(o.c.e, {o.job, o.job}, o.c.tables))
    o.box(io::load_words(good, o.style.units));
}

void write_prices(const Order& o) {
  if (!o.style.prices) return;
  o.c.page.heading("Prices");
  const auto price = [&](std::string_view what, const std::optional<double>& money) {
    o.c.page.row(what,
                 {money ? io::money_text(*money, o.c.e.currency) : std::string("not priced")});
  };
  price("insulation material", o.job.totals.material);
  price("labor", o.job.totals.labour);
  for (const ExtraCost& extra : o.c.e.extra_costs) price(extra.what, extra.price);
  price("sum", o.job.totals.cost);
  o.line(
      fmt::format("Sealing goods, dams{} and covers are in the sum only where the survey prices "
                  "them as extras.",
                  o.c.e.plan.unvented ? "" : ", baffles"));
}

/// The cautions that ask for nothing by themselves; all others stand under step 1.
void write_good_to_know(const Order& o) {
  o.c.page.heading("Good to know");
  for (const Caution& caution : o.c.findings.cautions)
    if (caution.level == CautionLevel::note && !caution.cleared)
      o.c.page.item(io::caution_words(caution, o.c.tables.cautions.at(caution.row), o.style.units),
                    2);
}

void write_head(const Order& o) {
  const Evaluation& e = o.c.e;
  o.c.page.title("Work order: " +
                 (e.label.empty() ? e.id.empty() ? std::string("attic") : e.id : e.label));
  if (!e.label.empty() && !e.id.empty()) o.c.page.paragraph(e.id);
  o.c.page.paragraph(
      fmt::format("Target {} ({} end of the band, {}). From one survey; figures are "
                  "estimates, local code and licensed practice come first.",
                  o.c.target(o.job.target), o.style.end == End::high ? "high" : "low",
                  io::word(e.target.basis)));
}

}  // namespace

void write_order_text(std::string& out, const Evaluation& e, const Tables& tables,
                      const OrderStyle& style) {
  io::Page page(out, style.colour);
  io::write_order({page, e, tables, style.units}, style);
}

void io::write_order(const Report& report, const OrderStyle& style) {
  const Evaluation& e = report.e;
  const Order order{report, style, e.planned[style.end]};
  write_head(order);
  io::write_stop_banner(report);
  write_safe(order);
  if (e.hands_off) {
    order.line("Then: " + std::string(kNothingElse));
    return write_good_to_know(order);
  }
  write_seal(order);
  write_vents(order);
  write_dams(order);
  write_insulate(order);
  write_hatch(order);
  write_inspect(order);
  write_load(order);
  write_prices(order);
  write_good_to_know(order);
}

}  // namespace overjoist
