// SPDX-License-Identifier: MIT
#include <fmt/core.h>
#include <algorithm>

#include "write/parts/drawings/drawings.hpp"

// Next steps of R as a line that flattens: cost of all steps so far to the right, saving of a year
// upwards.
namespace overjoist::io {
namespace {

constexpr double kStepsWide = 460.0, kStepsLeft = 52.0, kStepsRight = 440.0, kStepsTop = 26.0,
                 kStepsBottom = 250.0, kStepsBelow = 40.0;

bool drawable(const std::vector<StepResult>& steps) {
  if (steps.size() < 2) return false;
  return std::all_of(steps.begin() + 1, steps.end(), [](const StepResult& s) {
    return s.cost_so_far && s.saving_so_far && *s.saving_so_far > 0 && *s.cost_so_far > 0;
  });
}

bool earns(const StepResult& s) { return s.earns_cost.value_or(false); }

std::string money(const HtmlReport& h, double amount, Toward toward) {
  return money_text(amount, h.c.e.currency, toward);
}

void draw_axes(Svg& svg, const HtmlReport& h, const Scale& cost, const Scale& saving) {
  svg.group_begin("axis cost-axis");
  svg.line(kStepsLeft, kStepsBottom, kStepsRight, kStepsBottom, "ink");
  const double cost_step = round_step(cost.to, 5), saving_step = round_step(saving.to, 5);
  for (double value = 0.0; value <= cost.to; value += cost_step) {
    svg.line(cost(value), kStepsBottom, cost(value), kStepsBottom + 5.0, "tick ink");
    svg.text(cost(value), kStepsBottom + 18.0, tick_text(value, cost_step), "tick-word said",
             Anchor::middle);
  }
  const std::string in = h.c.e.currency.empty() ? "" : ", " + h.c.e.currency;
  svg.text(kStepsRight, kStepsBottom + 34.0, "cost of all steps so far" + in, "said", Anchor::end);
  svg.group_end();
  svg.group_begin("axis saving-axis");
  svg.line(kStepsLeft, kStepsTop, kStepsLeft, kStepsBottom, "ink");
  for (double value = 0.0; value <= saving.to; value += saving_step) {
    svg.line(kStepsLeft - 5.0, saving(value), kStepsLeft, saving(value), "tick ink");
    svg.text(kStepsLeft - 8.0, saving(value) + 4.0, tick_text(value, saving_step), "tick-word said",
             Anchor::end);
  }
  svg.text(2.0, kStepsTop - 12.0, "saved in a year" + in, "said");
  svg.group_end();
}

/// A full dot where the step earns its cost, a hollow one where it does not; a number that the list
/// below takes up.
void draw_points(Svg& svg, const HtmlReport& h, const Scale& cost, const Scale& saving) {
  const std::vector<StepResult>& steps = h.c.e.steps;
  double x = cost(0.0), y = saving(0.0);
  for (std::size_t i = 1; i < steps.size(); ++i) {
    const double nx = cost(*steps[i].cost_so_far), ny = saving(*steps[i].saving_so_far);
    svg.line(x, y, nx, ny, earns(steps[i]) ? "level" : "mark dash");
    x = nx;
    y = ny;
  }
  for (std::size_t i = 1; i < steps.size(); ++i) {
    const bool good = earns(steps[i]);
    const double px = cost(*steps[i].cost_so_far), py = saving(*steps[i].saving_so_far);
    svg.circle(px, py, 5.0, good ? "point fill-new edged" : "point fill-card edged");
    svg.text(px, py - 10.0, std::to_string(i), "strong", Anchor::middle);
  }
}

std::string step_words(const HtmlReport& h, std::size_t i) {
  const StepResult& s = h.c.e.steps[i];
  std::string out =
      fmt::format("{}{}: costs {} so far, saves {} a year so far", h.c.target(*s.target_r),
                  s.reached ? "" : " (the best that fits)", money(h, *s.cost_so_far, Toward::up),
                  money(h, *s.saving_so_far, Toward::down));
  if (!(*s.cost > 0)) return out + ". This step has no cost of its own.";
  return out + (earns(s) ? ". This step earns its cost."
                         : ". This step by itself does not earn its cost.");
}

}  // namespace

void html_next_steps(const HtmlReport& h) {
  const std::vector<StepResult>& steps = h.c.e.steps;
  if (!h.c.e.money || !drawable(steps)) return;
  const StepResult& last = steps.back();
  double most_saved = 0.0, most_cost = 0.0;
  std::vector<std::string> list;
  for (std::size_t i = 1; i < steps.size(); ++i) {
    most_saved = std::max(most_saved, *steps[i].saving_so_far);
    most_cost = std::max(most_cost, *steps[i].cost_so_far);
    list.push_back(step_words(h, i));
  }
  const Scale cost{0.0, most_cost, kStepsLeft, kStepsRight - 8.0},
      saving{0.0, most_saved, kStepsBottom, kStepsTop};
  h.html.section_begin("What each next step costs and saves");
  h.html.open("figure", {{"class", "next-steps"}});
  {
    Svg svg(
        h.html, {kStepsWide, kStepsBottom + kStepsBelow},
        "Cost against yearly saving, step by step",
        fmt::format("A line that rises to {} saved in a year for {}; its steps are listed below.",
                    money(h, *last.saving_so_far, Toward::down),
                    money(h, *last.cost_so_far, Toward::up)));
    draw_axes(svg, h, cost, saving);
    draw_points(svg, h, cost, saving);
  }
  h.html.list(list, true);
  const std::string without = unpriced_words(h.c.e);
  h.html.element("figcaption",
                 "A full dot: the step earns its cost over its life. A hollow dot and a broken "
                 "line: it does not. Cost of the insulation, "
                 "in whole bags; safety and sealing are not in it." +
                     (without.empty() ? without : " All steps are " + without + "."));
  h.html.close();
  h.html.section_end();
}

}  // namespace overjoist::io
