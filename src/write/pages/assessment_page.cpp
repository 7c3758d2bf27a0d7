// SPDX-License-Identifier: MIT
#include "write/parts/drawings/drawings.hpp"

#include <fmt/core.h>
#include <algorithm>

#include "overjoist/version.hpp"
#include "write/parts/quote.hpp"

// The pages of people: owner's report, work order, shopping list. What the text report holds stands
// here too, by the same functions.
namespace overjoist {
namespace {

using io::HtmlReport;

std::string name_of(const Evaluation& e) {
  return !e.label.empty() ? e.label : !e.id.empty() ? e.id : std::string("Attic");
}

void write_head(const HtmlReport& h) {
  const Evaluation& e = h.c.e;
  h.html.heading(1, name_of(e));
  std::string line = e.label.empty() ? std::string() : e.id;
  const auto add = [&](const std::string& words) { line += (line.empty() ? "" : ", ") + words; };
  if (!e.surveyed_by.empty()) add("surveyed by " + e.surveyed_by);
  if (!e.surveyed_date.empty())
    add((e.surveyed_by.empty() ? "surveyed on " : "on ") + e.surveyed_date);
  if (!line.empty()) h.html.paragraph(line, "quiet");
}

/// Sections that have a picture, the largest floor first.
std::vector<std::size_t> floors(const Evaluation& e) {
  std::vector<std::size_t> list;
  for (std::size_t i = 0; i < e.sections.size(); ++i)
    if (e.sections[i].cut) list.push_back(i);
  std::stable_sort(list.begin(), list.end(), [&](std::size_t a, std::size_t b) {
    return e.sections[a].area > e.sections[b].area;
  });
  return list;
}

void write_pictures(const HtmlReport& h) {
  const auto list = floors(h.c.e);
  if (list.empty()) return;
  h.html.section_begin("What it looks like");
  for (const std::size_t i : list) {
    const SectionEnds s = h.c.e.section(i);
    if (list.size() > 1)
      h.html.heading(3,
                     fmt::format("{} ({})", s.found.name, io::area_text(s.found.area, h.c.units)));
    io::html_cut(h, s);
    io::html_depths(h, s);
  }
  std::string without;
  for (const SectionResult& s : h.c.e.sections)
    if (!s.cut && !is_lid(s.kind) && !s.existing.unmeasured)
      without += (without.empty() ? "" : ", ") + s.name;
  for (const SectionResult& s : h.c.e.sections)
    if (s.existing.unmeasured)
      h.html.paragraph(
          "Not drawn, since its depth was not measured and must not be: " + s.name + ".", "quiet");
  if (!without.empty())
    h.html.paragraph("Not drawn, since no floor: " + without + ". The figures follow below.",
                     "quiet");
  h.html.section_end();
}

void write_losses(const HtmlReport& h) {
  const auto list = floors(h.c.e);
  const auto layered = [&](std::size_t i) { return h.c.e.sections[i].existing.steps.size() > 2; };
  if (std::none_of(list.begin(), list.end(), layered)) return;
  h.html.section_begin("What the yardstick leaves out");
  for (const std::size_t i : list) {
    const SectionResult& s = h.c.e.sections[i];
    if (list.size() > 1) h.html.heading(3, s.name);
    io::html_losses(h, s);
  }
  h.html.section_end();
}

void write_who(const HtmlReport& h, bool with_tables) {
  h.html.section_begin("Who, when, by what");
  const Evaluation& e = h.c.e;
  std::vector<io::Fact> facts = {{"program", std::string("overjoist ") + kVersion}};
  for (const TableStamp& stamp : h.c.tables.stamps)
    if (with_tables)
      facts.push_back(
          {"table " + stamp.name, fmt::format("version {}, {}", stamp.version, stamp.hash)});
  if (!e.surveyed_by.empty()) facts.insert(facts.begin(), {"surveyed by", e.surveyed_by});
  if (!e.surveyed_date.empty()) facts.insert(facts.begin(), {"surveyed on", e.surveyed_date});
  h.html.facts(facts);
  if (e.surveyed_by.empty()) h.html.form_line("surveyed by");
  if (e.surveyed_date.empty()) h.html.form_line("on");
  h.html.section_end();
}

/// All that the text report says, by the same functions.
void write_in_full(const HtmlReport& h) {
  h.html.open("div", {{"class", "in-full"}});
  h.page.heading("The answer in words");
  io::write_answer(h.c);
  io::write_figures(h.c);
  io::write_compare(h.c);
  io::write_plan(h.c);
  io::write_year(h.c);
  io::write_next_steps(h.c);
  io::write_rebates(h.c);
  io::write_claims(h.c);
  io::write_basis(h.c);
  h.page.end();
  write_who(h, false);  // the tables stand above, with the sources
  h.html.close();
}

void write_report(const HtmlReport& h) {
  write_head(h);
  io::write_stop_banner(h.c);
  h.page.end();
  io::html_answer(h);
  write_pictures(h);
  io::html_steps_in_order(h);
  io::html_next_steps(h);
  write_losses(h);
  io::html_cautions(h);
  write_in_full(h);
}

/// A page of a report that is written on `Page`, with its frame.
struct Shown {
  const Evaluation& e;
  const Tables& tables;
  Units units;
};
template <class F>
void on_page(std::string& out, const io::PageHead& head, const Shown& shown, F write) {
  const auto& [e, tables, units] = shown;
  io::Html html(out, head);
  {
    io::HtmlPage page(html);
    const io::Report report{page, e, tables, units};
    if (!report.one_target())
      page.name_ends(map(e.target, [&](Resistance r) { return "for " + report.target(r); }));
    write(HtmlReport{html, page, report});
  }
  html.finish();
}

}  // namespace

void write_html(std::string& out, const Evaluation& evaluation, const Tables& tables, Units units) {
  on_page(out, {"Attic report: " + name_of(evaluation), "Attic report"},
          {evaluation, tables, units}, write_report);
}

void write_order_html(std::string& out, const Evaluation& evaluation, const Tables& tables,
                      const OrderStyle& style) {
  on_page(out, {"Work order: " + name_of(evaluation), "For the crew"},
          {evaluation, tables, style.units}, [&](const HtmlReport& h) {
            io::write_order(h.c, style);
            h.page.end();
            write_who(h, true);
          });
}

void write_goods_html(std::string& out, const Evaluation& evaluation, const Tables& tables,
                      const GoodsStyle& style) {
  on_page(out, {"Shopping list: " + name_of(evaluation), "For the store"},
          {evaluation, tables, style.units}, [&](const HtmlReport& h) {
            io::write_goods_list(h.c, style);
            h.page.end();
            write_who(h, true);
          });
}

}  // namespace overjoist
