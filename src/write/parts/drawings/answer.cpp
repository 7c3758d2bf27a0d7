// SPDX-License-Identifier: MIT
#include <fmt/core.h>
#include <algorithm>

#include "write/parts/drawings/drawings.hpp"
#include "write/parts/plan.hpp"

// The answer in large figures, and the work in its order.
namespace overjoist::io {
namespace {

void figure(const HtmlReport& h, std::string_view term, std::string_view words) {
  h.html.element("dt", term);
  h.html.element("dd", words, {{"class", "figure"}});
}

void also(const HtmlReport& h, std::string_view words) {
  if (!words.empty()) h.html.element("dd", words, {{"class", "also"}});
}

void have_tile(const HtmlReport& h) {
  h.html.open("div");
  if (h.c.e.attic.area > Area{}) {
    figure(h, "You have",
           (left_unmeasured(h.c.e) ? "at least " : "") + h.c.r(h.c.e.attic.existing.effective_r));
    also(h, "over the whole attic, joists and thin spots counted (effective)" +
                range_words(h.c, h.c.e.attic.existing.effective_r_range) + ".");
  } else {
    figure(h, "You have", "no heated rooms below");
    also(h,
         "so no saving is worked out. Is there a heated room above one of them? Then its floor "
         "needs insulation all the same.");
  }
  h.html.close();
}

void want_tile(const HtmlReport& h) {
  const TargetBand& t = h.c.e.target;
  h.html.open("div");
  figure(h, "You want", target_words(h.c));
  also(h, std::string(t.basis == Basis::working ? "for the insulation alone (working)"
                                                : "in all (effective)") +
              (t.zone.empty() ? "." : ", climate zone " + t.zone + "."));
  h.html.close();
}

/// What is done on one floor: "to 16 3/4 in.".
struct Done {
  std::string words;
  bool acts = false;  ///< something is done
};
Done done_on(const HtmlReport& h, const TopUp& t) {
  if (t.status == TopUpStatus::met) return {"nothing, it is met now", false};
  if (t.status == TopUpStatus::not_applicable) return {"nothing", false};
  if (!t.batts.empty()) return {laid_words(h.c, t), true};
  if (t.initial_level) return {"to " + planned_level_text(t, h.c.units), true};
  if (t.status == TopUpStatus::unreachable) return {"nothing fits", false};
  return {"more insulation", true};
}

std::string out_of_reach_words(const TopUp& t) {
  if (t.status == TopUpStatus::unreachable) return " (out of reach: the best that fits)";
  if (!t.falls_short()) return "";
  return t.eave && t.eave->no_field ? " (reached where it is deepest, not as a whole)"
                                    : " (reached in the field, not with the eave)";
}

std::string amount_words(const HtmlReport& h, const Totals& t) {
  if (std::string packages = packages_words(t); !packages.empty()) return packages;
  if (h.c.e.method != Method::blown) return "nothing to buy";
  if (!t.bags) return "a number of bags that is not known";
  return bags_text(*t.bags) +
         (t.bag_net ? " of " + mass_text(*t.bag_net, h.c.units, Toward::nearest) : "");
}

void money_lines(const HtmlReport& h, const Totals& t) {
  const Evaluation& e = h.c.e;
  const std::string insulation = measure_cost_text(t, e.currency);
  also(h, "Cost: " + (t.cost ? money_text(*t.cost, e.currency) : std::string("not priced")) +
              (insulation.empty() ? "" : ", of it the insulation " + insulation));
  const auto& year = t.year_by_bills ? t.year_by_bills : t.year;
  if (!year || !year->fuel.money) return;
  if (t.worse) return also(h, "Saves nothing: this leaves the attic worse than found.");
  also(h, "Saves " + money_text(*year->fuel.money, e.currency, Toward::down) + " a year" +
              saving_span_words(t) + ", an estimate" +
              (t.year_by_bills ? " scaled to the bills" : ""));
  if (!t.package.cost) return also(h, nothing_to_do(e) ? free_saving_words(e) : std::string());
  const std::string without = unpriced_words(e);
  also(h, "Pays back in: " +
              (t.package.payback ? counted(number_text(*t.package.payback, 1, Toward::up), "year")
                                 : std::string("never")) +
              (without.empty() ? "" : ", " + without));
}

/// What goes into slopes and walls; the first of them in large letters where no floor takes
/// anything.
bool cavity_lines(const HtmlReport& h, std::string_view term, bool large) {
  bool any = false;
  for (const SectionResult& s : h.c.e.sections) {
    if (!fills_cavity(s)) continue;
    if (large && !any)
      figure(h, std::string(term), into_cavity(h.c, s));
    else
      also(h, into_cavity(h.c, s));
    any = true;
  }
  return any;
}

/// The largest floor's level in large letters, the other floors below it.
/// @param step  of the next-step table, that this job is
void job_tile(const HtmlReport& h, const Planned& job, std::string_view step) {
  const Evaluation& e = h.c.e;
  struct Floor {
    const SectionResult* found;
    const TopUp* planned;
  };
  std::vector<Floor> floors;
  for (std::size_t i = 0; i < e.sections.size(); ++i)
    if (takes_fill(e.section(i))) floors.push_back({&e.sections[i], &job.sections[i]});
  std::stable_sort(floors.begin(), floors.end(),
                   [](const Floor& a, const Floor& b) { return a.found->area > b.found->area; });
  h.html.open("div");
  const std::string verb = e.method == Method::blown  ? "blow"
                           : e.method == Method::laid ? "lay"
                                                      : "spray";
  const std::string term = fmt::format("For {}", h.c.target(job.target)) +
                           (floors.size() > 1 ? ", " + floors.front().found->name : "");
  if (e.added_material.empty() || floors.empty()) {
    if (!cavity_lines(h, term, true)) {
      figure(h, term, "nothing to add");
      also(h, e.added_material.empty() ? "No material to add was named."
                                       : "No section here takes new fill.");
    }
    return h.html.close();
  }
  const auto words = [&](const Floor& f) { return done_on(h, *f.planned).words; };
  const bool acts = done_on(h, *floors.front().planned).acts;
  const bool aside = !acts && cavity_lines(h, term, true);
  if (aside)
    also(h, floors.front().found->name + ": " + words(floors.front()));
  else
    figure(h, term,
           (acts ? (e.hands_off ? "once cleared: " : verb + " ") : "") + words(floors.front()));
  also(h, out_of_reach_words(*floors.front().planned));
  for (std::size_t i = 1; i < floors.size(); ++i)
    also(h,
         floors[i].found->name + ": " + words(floors[i]) + out_of_reach_words(*floors[i].planned));
  if (!aside) cavity_lines(h, term, false);
  if (!nothing_to_do(e)) {
    also(h, e.added_material + ": " + amount_words(h, job.totals));
    money_lines(h, job.totals);
  }
  if (!e.last_worthwhile.empty() && e.last_worthwhile == step)
    also(h, "The step to stop at: beyond it the next one does not earn its cost.");
  h.html.close();
}

// ---- The plan in order

std::string count_of(const std::optional<int>& n, std::string_view one, std::string_view many) {
  if (!n) return std::string(many) + " (count not known)";
  return *n == 0 ? std::string() : fmt::format("{} {}", *n, *n == 1 ? one : many);
}

std::string joined(const std::vector<std::string>& parts, std::string_view none,
                   std::string_view between = ", ") {
  std::string out;
  for (const std::string& part : parts)
    if (!part.empty()) out += std::string(out.empty() ? "" : between) + part;
  return (out.empty() ? std::string(none) : out) + ".";
}

std::string seal_line(const HtmlReport& h) {
  const SealingList& list = h.c.e.plan.sealing;
  if (list.items.empty()) return no_leaks_words(h.c.e.plan, "leak");
  std::string names;
  for (const SealingItem& item : list.items)
    names += (names.empty() ? "" : "; ") + item.name +
             (item.where.empty() ? "" : " (" + item.where + ")");
  return "biggest holes first: " + names + ".";
}

std::string safe_line(const HtmlReport& h) {
  const std::string stop = short_list(h.c, CautionLevel::stop),
                    fix = short_list(h.c, CautionLevel::fix_first);
  std::string out;
  if (!stop.empty()) out += "STOP, until these are cleared: " + stop + ". ";
  if (!fix.empty()) out += "fix first: " + fix + ". ";
  return out.empty() ? "nothing that was found stands in the way." : out;
}

std::string dams_line(const HtmlReport& h) {
  const PlanCounts n = h.c.e.planned.high.counts;
  const std::string board = n.lid_board > Area{}
                                ? area_text(n.lid_board, h.c.units) + " of board on lids"
                                : std::string();
  return joined({count_of(n.dams, "dam", "dams"),
                 count_of(n.light_covers, "cover over lights", "covers over lights"),
                 count_of(n.markers, "depth marker", "depth markers"),
                 count_of(n.flags, "flag over buried boxes", "flags over buried boxes"), board},
                "none");
}

/// "blow flat to 16 3/4 in. for R-49"; "" where nothing is added.
std::string end_line(const HtmlReport& h, const TopUp& t) {
  if (!t.adds()) return {};
  const bool full = t.status == TopUpStatus::unreachable;
  const std::string target =
      " for " + h.c.target(t.target_r) + (full ? " (the best that fits)" : field_words(h.c, t));
  if (!t.batts.empty()) return "lay " + laid_words(h.c, t) + target;
  if (!t.initial_level) return {};
  return (h.c.e.method == Method::blown ? "blow flat to " : "spray ") +
         planned_level_text(t, h.c.units) + target;
}

std::string fill_line(const HtmlReport& h) {
  std::vector<std::string> parts;
  for (const SectionResult& s : h.c.e.sections)
    for (const RemovalResult& r : s.removals)
      parts.push_back(fmt::format("first take out {} in {}", r.material, s.name));
  for (const SectionEnds& s : h.c.e.with_ends()) {
    if (fills_cavity(s.found)) parts.push_back(into_cavity(h.c, s.found));
    if (!is_floor(s.found.kind)) continue;
    const auto line = [&](const TopUp& t) { return end_line(h, t); };
    const std::string lines = h.c.one_target() ? line(s.high) : join(map(s, line), "; ");
    if (!lines.empty()) parts.push_back(fmt::format("{}: {}", s.found.name, lines));
  }
  return joined(parts, "nothing to add", ". ");
}

std::string vent_line(const HtmlReport& h) {
  const Plan& plan = h.c.e.plan;
  if (plan.unvented || !plan.ventilation) return vent_words(h.c);
  const std::string baffles = count_of(h.c.e.planned.high.counts.baffles, "baffle", "baffles");
  const VentVerdict verdict = plan.ventilation->need.verdict;
  const std::string_view said =
      verdict == VentVerdict::meets ? "the vents are enough."
      : verdict == VentVerdict::short_of
          ? "the vents are short of what the code asks; the plan below says by how much."
          : "whether the vents are enough is not known.";
  return (baffles.empty() ? "" : baffles + "; ") + std::string(said);
}

void in_order(const HtmlReport& h, std::string_view name, std::string_view words) {
  h.html.open("li");
  h.html.element("strong", std::string(name) + ": ");
  h.html.text(words);
  h.html.close();
}

}  // namespace

void html_answer(const HtmlReport& h) {
  const Evaluation& e = h.c.e;
  h.html.open("dl", {{"class", h.c.one_target() ? "answer three" : "answer"}});
  have_tile(h);
  want_tile(h);
  for (const End end : h.c.ends()) job_tile(h, e.planned[end], word(end));
  h.html.close();
  if (const std::string never = never_pays_words(e); !never.empty()) h.html.paragraph(never);
  const std::string first = short_list(h.c, CautionLevel::fix_first);
  if (first.empty()) return;
  h.html.callout_begin(Callout::fix_first, first + ". More under Cautions.");
  h.html.callout_end();
}

void html_steps_in_order(const HtmlReport& h) {
  h.html.section_begin("The work, in order");
  h.html.open("ol", {{"class", "order"}});
  in_order(h, "Make safe", safe_line(h));
  if (h.c.e.hands_off) {
    in_order(h, "Then", kNothingElse);
    h.html.close();
    return h.html.section_end();
  }
  in_order(h, "Seal", seal_line(h));
  const PlanCounts n = h.c.e.planned.high.counts;
  in_order(h, "Vent", vent_line(h));
  in_order(h, "Dams, covers, markers", dams_line(h));
  in_order(h, "Insulate", fill_line(h));
  in_order(h, "Hatch",
           n.weatherstrip_ft > 0 ? run_text(n.weatherstrip_ft, h.c.units) +
                                       " of weatherstrip, latch, and board on the lid."
                                 : "no hatch was entered.");
  in_order(h, "Inspect",
           "someone other than the crew reads the depth at every marker, counts the bags and looks "
           "at the photos of every seal.");
  h.html.close();
  h.html.section_end();
}

}  // namespace overjoist::io
