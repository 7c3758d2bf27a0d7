// SPDX-License-Identifier: MIT
#include <fmt/core.h>
#include <algorithm>
#include <vector>

#include "write/parts/parts.hpp"

// The next-step table, and whether anything pays back.
namespace overjoist::io {
namespace {

using Cell = std::string;

constexpr std::size_t kStepCell = 8;

Cell cell_of(const std::optional<double>& value, int decimals, Toward toward) {
  return value ? number_text(*value, decimals, toward) : Cell(kNone);
}

Cell step_label(const Report& c, const StepResult& s) {
  if (!s.target_r) return "now, " + r_cell(s.effective_r, c.units) + " effective";
  const Cell target =
      c.units == Units::us ? r_given(*s.target_r, c.units) : r_given_cell(*s.target_r, c.units);
  return fmt::format("{}, {}{}", target, s.step, s.reached ? "" : "*");
}

std::vector<Cell> step_cells(const Report& c, const StepResult& s, bool rebates) {
  std::vector<Cell> cells = {depth_number(s.added, c.units, Toward::up),
                             cell_of(s.bags, 0, Toward::up), cell_of(s.cost, 0, Toward::up)};
  if (rebates) cells.push_back(cell_of(s.rebate, 0, Toward::down));
  const std::optional<double>& saved = c.e.money ? s.annual_saving : s.fuel_units;
  cells.push_back(cell_of(saved, saved.value_or(0.0) < 1.0 ? 3 : 1, Toward::down));
  if (!c.e.money) return cells;
  if (s.cost && !(*s.cost > 0)) {  // there is nothing that it could pay back
    cells.insert(cells.end(), {Cell(kNone), Cell(kNone)});
    return cells;
  }
  cells.push_back(s.cost && !s.payback ? Cell("never") : cell_of(s.payback, 1, Toward::up));
  cells.push_back(cell_of(s.sir, 2, Toward::down));
  return cells;
}

void step_row(const Report& c, std::string_view label, const std::vector<Cell>& cells) {
  const std::vector<std::string_view> views(cells.begin(), cells.end());
  c.page.row(label, views, kStepCell);
}

std::vector<Cell> step_heads(const Report& c, bool rebates) {
  std::vector<Cell> heads = {c.units == Units::us ? "in." : "cm", "bags", "cost"};
  if (rebates) heads.emplace_back("rebate");
  if (!c.e.money) return heads.push_back(c.e.heating->unit), heads;
  heads.insert(heads.end(), {"saving", "years", "SIR"});
  return heads;
}

Cell verdict_words(const Report& c) {
  const auto last = std::find_if(c.e.steps.begin(), c.e.steps.end(), [&](const StepResult& s) {
    return s.step == c.e.last_worthwhile;
  });
  const auto costs_nothing = [](const StepResult& s) { return s.cost && !(*s.cost > 0); };
  const Cell free =
      std::any_of(c.e.steps.begin() + 1, c.e.steps.end(), costs_nothing)
          ? " A step that costs no more than the one before it has no cost of its own to earn."
          : "";
  if (c.e.never_pays) return never_pays_words(c.e) + free;
  if (last == c.e.steps.end()) return "No step earns its cost." + free;
  const Cell whole = last->sir_so_far && !reaches(*last->sir_so_far, 1.0)
                         ? " Yet the whole job up to there does not: all its savings, worth today, "
                           "are less than it costs."
                         : "";
  if (last + 1 == c.e.steps.end())
    return "The last step still earns its cost: its SIR is 1 or more." + whole + free;
  const auto next = std::find_if_not(last + 1, c.e.steps.end(), costs_nothing);
  const Cell beyond = c.target(*last->target_r);
  if (next == c.e.steps.end())
    return beyond + " is the last step that earns its cost." + whole + free;
  if (next == last + 1)
    return fmt::format("Beyond {} the SIR is below 1: the next step does not earn its cost.",
                       beyond) +
           whole + free;
  return fmt::format("Beyond {} no step earns its cost: the SIR of that up to {} is below 1.",
                     beyond, c.target(*next->target_r)) +
         whole + free;
}

/// What each step saves at both ends, and where the low end would stop.
Cell low_end_words(const Report& c) {
  Cell spans;
  for (const StepResult& s : c.e.steps)
    if (s.range)
      spans += fmt::format("{}{} {}", spans.empty() ? "" : ", ", c.target(*s.target_r),
                           span_text(number_text(s.range->saving_low, 1, Toward::down),
                                     number_text(s.range->saving_high, 1, Toward::up)));
  if (spans.empty()) return {};
  spans = "A year's saving of each step at 90 %: " + spans + ".";
  if (c.e.last_worthwhile_low == c.e.last_worthwhile) return spans;
  const auto last = std::find_if(c.e.steps.begin(), c.e.steps.end(), [&](const StepResult& s) {
    return s.step == c.e.last_worthwhile_low;
  });
  return spans + (last == c.e.steps.end()
                      ? Cell(" At the low end no step earns its cost.")
                      : fmt::format(" At the low end {} is the last that earns its cost.",
                                    c.target(*last->target_r)));
}

/// True if years to pay back without interest, as the tables show them, lie within the life.
bool any_within_life(const Evaluation& e, std::optional<double> WorthLine::*years) {
  return either(e.planned, [&](const Planned& p) {
    const WorthLine& line = p.totals.measure;
    return line.cost && *line.cost > 0 && line.*years && *(line.*years) <= e.money->life_years;
  });
}

bool any_step_within_life(const Evaluation& e) {
  return std::any_of(e.steps.begin(), e.steps.end(), [&](const StepResult& s) {
    return s.payback && *s.payback <= e.money->life_years;
  });
}

/// What else the tables show that pays back in time, and why that is no step that earns its cost.
Cell other_payback_words(const Evaluation& e) {
  Cell out;
  if (any_within_life(e, &WorthLine::payback_after_rebate) &&
      !any_within_life(e, &WorthLine::payback))
    out += " No rebate is counted in that.";
  const auto within = [&](const WorthLine& line) {
    return line.payback && *line.payback <= e.money->life_years;
  };
  const bool sealed =
      e.sealing_saving && either(e.planned, [&](const Planned& p) {
        const WorthLine& package = p.totals.package;
        return package.cost.value_or(0.0) > 0 && within(package) && !within(p.totals.measure);
      });
  return out + (sealed ? " The whole package counts the saving of the sealing too." : "");
}

}  // namespace

std::string never_pays_words(const Evaluation& e) {
  if (!e.never_pays || !e.money) return {};
  const std::string life = counted(number_text(e.money->life_years, 1), "year");
  const std::string without = unpriced_words(e);
  std::string out;
  if (any_within_life(e, &WorthLine::payback) || any_step_within_life(e))
    out = fmt::format(
        "No step earns its cost: what each saves in its life of {}, at its worth today, is less "
        "than it costs. Years to pay back leave out the discount rate of {} %.",
        life, number_text(e.money->discount_percent, 2));
  else
    out = fmt::format(
        "No step pays back within its life of {}: what each saves in that time, at its worth "
        "today, is less than it costs.",
        life);
  out += other_payback_words(e);
  return without.empty() ? out : out + " That is " + without + ".";
}

namespace {

/// Plural words of a kind whose work no bag pays for.
std::string_view kind_words(SectionKind kind) {
  return kind == SectionKind::slope       ? "slopes"
         : kind == SectionKind::knee_wall ? "knee walls"
                                          : "lids";
}

bool any_eave(const Planned& planned) {
  return std::any_of(planned.sections.begin(), planned.sections.end(),
                     [](const TopUp& t) { return t.eave.has_value(); });
}

}  // namespace

std::string unpriced_kinds(const Evaluation& e) {
  std::string kinds;
  for (const std::string_view kind : {"slopes", "knee walls", "lids"}) {
    std::string names;
    bool all = true;
    for (const SectionResult& s : e.sections) {
      if (is_floor(s.kind) || kind_words(s.kind) != kind) continue;
      const bool without =
          std::find(e.unpriced.begin(), e.unpriced.end(), s.name) != e.unpriced.end();
      all = all && without;
      if (without) names += (names.empty() ? "" : ", ") + s.name;
    }
    if (names.empty()) continue;
    kinds += fmt::format("{}the {}{}", kinds.empty() ? "" : " and ", kind,
                         all ? "" : " (" + names + ")");
  }
  return kinds;
}

std::string unpriced_words(const Evaluation& e) {
  const std::string kinds = unpriced_kinds(e);
  return kinds.empty() ? kinds : fmt::format("without {}: their work has no price", kinds);
}

std::string free_saving_words(const Evaluation& e) {
  const std::string kinds = unpriced_kinds(e);
  if (kinds.empty()) return {};
  return fmt::format("The saving is that of {}: their work has no price, so no payback is known.",
                     kinds);
}

void write_next_steps(const Report& c) {
  if (c.e.steps.size() < 2) return;
  const auto any = [&](auto holds) {
    return std::any_of(c.e.steps.begin() + 1, c.e.steps.end(), holds);
  };
  const bool rebates = any([](const StepResult& s) { return s.rebate.has_value(); });
  const std::string_view currency = c.e.currency;
  c.page.heading("Step by step");
  c.page.paragraph(
      fmt::format("Rows are differences, what each step alone adds to the row before it: settled "
                  "depth, whole bags, cost, the saving of "
                  "a year, years to pay back; the first row is the whole job up to there.{}{}{}",
                  currency.empty() ? "" : " Money in ", currency, currency.empty() ? "" : "."),
      2);
  const std::vector<Cell> heads = step_heads(c, rebates);
  const std::vector<std::string_view> views(heads.begin(), heads.end());
  c.page.head("up to", views, kStepCell);
  c.page.aside(step_label(c, c.e.steps.front()), 2);
  for (std::size_t i = 1; i < c.e.steps.size(); ++i)
    step_row(c, step_label(c, c.e.steps[i]), step_cells(c, c.e.steps[i], rebates));
  const bool eave = either(c.e.planned, any_eave);
  if (any([](const StepResult& s) { return !s.reached; }))
    c.page.paragraph(
        eave ? "* the best that fits, or not reached with the eave" : "* the best that fits", 2);
  if (const auto& fixed = c.e.steps[1].fixed_cost)
    c.page.paragraph(
        fmt::format("The first step carries {} for labor and extras; a rebate is in no SIR.",
                    money_text(*fixed, currency)),
        2);
  const bool all_priced = !any([](const StepResult& s) { return !s.cost || !s.annual_saving; });
  if (const Cell without = unpriced_words(c.e); !without.empty())
    c.page.paragraph("All rows are " + without + ".", 2);
  if (c.e.money && all_priced) c.page.paragraph(verdict_words(c), 2);
  if (const Cell low = low_end_words(c); c.e.money && !low.empty()) c.page.paragraph(low, 2);
}

}  // namespace overjoist::io
