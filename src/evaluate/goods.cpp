// SPDX-License-Identifier: MIT
#include "overjoist/goods.hpp"

#include <algorithm>
#include <functional>
#include <utility>

// The goods of a job: each list of the evaluation in turn.
namespace overjoist {
namespace {

constexpr std::string_view kInsulate = "insulate", kSeal = "seal", kVent = "vent",
                           kGuard = "dams-covers-markers", kLids = "lids";

std::optional<double> number(const std::optional<int>& n) {
  return n ? std::optional(static_cast<double>(*n)) : std::nullopt;
}

using Jobs = Ends<const Planned&>;
using Amounts = Ends<std::optional<double>>;

/// A line that no price stands beside.
Good line_of(std::string what, std::string_view purpose, GoodUnit unit, const Amounts& amounts) {
  Good good;
  good.what = std::move(what);
  good.purpose = purpose;
  good.unit = unit;
  set(good, amounts);
  return good;
}

class List {
 public:
  /// Left out where both ends are known to need none.
  void add(Good good) {
    if (both(good, [](const auto& amount) { return amount == 0.0; })) return;
    goods_.push_back(std::move(good));
  }
  /// The same for both ends.
  void same(std::string_view what, std::string_view purpose, GoodUnit unit, std::optional<double> n,
            std::string note = {}) {
    Good good = line_of(std::string(what), purpose, unit, {n, n});
    good.note = std::move(note);
    add(std::move(good));
  }
  void count(std::string_view what, std::string_view purpose, const Ends<std::optional<int>>& n) {
    add(line_of(std::string(what), purpose, GoodUnit::piece, map(n, number)));
  }
  std::vector<Good> take() { return std::move(goods_); }

 private:
  std::vector<Good> goods_;
};

std::optional<double> count_of(const Planned& job, const std::string& name) {
  for (const PackageCount& p : job.totals.packages)
    if (p.name == name) return p.count;
  return 0.0;
}

Amounts of_totals(const Jobs& jobs, std::optional<double> Totals::*figure) {
  return map(jobs, [&](const Planned& job) { return job.totals.*figure; });
}

void set_price(Good& good, const Jobs& jobs) {
  const Amounts price = of_totals(jobs, &Totals::material);
  good.price_low = price.low;
  good.price_high = price.high;
}

/// Packages of each product that is laid, in the order in which the ends of the band name them; the
/// price stands on the last line, since it is of all of them.
void add_packages(List& list, const Evaluation& e, const Jobs& jobs) {
  std::vector<Good> lines;
  const auto add_those_of = [&](const Planned& named) {
    for (const PackageCount& p : named.totals.packages) {
      const bool listed =
          std::any_of(lines.begin(), lines.end(), [&](const Good& g) { return g.what == p.name; });
      const auto count = [&](const Planned& job) { return count_of(job, p.name); };
      if (!listed) lines.push_back(line_of(p.name, kInsulate, GoodUnit::package, map(jobs, count)));
    }
  };
  for (const Planned* named : each(e.planned)) add_those_of(*named);
  for (const Planned* named : each(jobs)) add_those_of(*named);
  if (!lines.empty()) set_price(lines.back(), jobs);
  for (Good& line : lines) list.add(std::move(line));
}

void add_insulation(List& list, const Evaluation& e, const Jobs& jobs) {
  if (e.added_material.empty()) return;
  if (e.method == Method::laid) return add_packages(list, e, jobs);
  const bool sprayed = e.method == Method::sprayed;
  Good good = line_of(e.added_material, kInsulate, sprayed ? GoodUnit::board_ft : GoodUnit::bag,
                      of_totals(jobs, sprayed ? &Totals::board_ft : &Totals::bags));
  if (!sprayed) {
    good.net = jobs.high.totals.bag_net;
    good.unit_price = e.price_per_bag;
  }
  if (sprayed || e.price_per_bag) set_price(good, jobs);
  list.add(std::move(good));
}

/// What goes into slopes and walls: loose fill by weight without waste, all else by the face's
/// area, wood not taken out.
void add_cavities(List& list, const Evaluation& e, const Tables& tables) {
  for (const SectionResult& s : e.sections) {
    if (!s.cavity) continue;
    const CavityResult& c = *s.cavity;
    const auto row = std::find_if(tables.materials.begin(), tables.materials.end(),
                                  [&](const Material& m) { return m.name == c.material; });
    const bool loose = row != tables.materials.end() && row->form == Form::loose;
    if (c.added > Length{} && loose)
      list.same(c.material, kInsulate, GoodUnit::lb,
                c.added_mass ? std::optional(c.added_mass->us()) : std::nullopt,
                s.name + ", dense pack");
    else if (c.added > Length{})
      list.same(c.material, kInsulate, GoodUnit::ft2, s.area.us(), s.name);
    if (c.continuous_r > Resistance{})
      list.same("board across the wood", kInsulate, GoodUnit::ft2, s.area.us(), s.name);
  }
}

void add_sealing(List& list, const SealingList& sealing) {
  const SealingTotals& t = sealing.totals;
  if (t.foam_cans) list.same("one-part foam", kSeal, GoodUnit::can, t.foam_cans);
  const double tubes = t.foam_cans ? t.tubes_small_with_foam : t.tubes_small;
  std::string large;
  if (!t.foam_cans && t.tubes_large > 0)
    large = "or large tubes: " + std::to_string(static_cast<int>(t.tubes_large));
  list.same("caulk", kSeal, GoodUnit::small_tube, tubes, std::move(large));
  list.same("high-temperature non-combustible sealant", kSeal, GoodUnit::small_tube,
            t.heat_tubes_small);
  list.same("rigid board, 4 x 8 ft", kSeal, GoodUnit::sheet, t.sheets,
            "openings, and one layer on lids");
  list.same("sheet metal", kSeal, GoodUnit::ft2, t.metal_high.us(), "the most that may be needed");
  list.same("weatherstrip", kSeal, GoodUnit::ft, t.weatherstrip_ft);
  for (const SealingItem& item : sealing.items)
    if (!item.quantity)
      list.same("goods for: " + item.name, kSeal, GoodUnit::piece, {}, item.where);
}

void add_counts(List& list, const Jobs& jobs) {
  const auto counts = [&](auto of) {
    return map(jobs, [&](const Planned& job) -> std::optional<int> {
      return std::invoke(of, job.counts);
    });
  };
  const auto plain_dams = [](const PlanCounts& c) {
    return c.dams && c.flue_dams ? std::optional(*c.dams - *c.flue_dams) : std::nullopt;
  };
  list.count("baffles", kVent, counts(&PlanCounts::baffles));
  list.count("dams", kGuard, counts(plain_dams));
  list.count("metal dams for flues and chimneys", kGuard, counts(&PlanCounts::flue_dams));
  list.count("fire-rated light covers", kGuard, counts(&PlanCounts::light_covers));
  list.count("depth markers", kGuard, counts(&PlanCounts::markers));
  list.count("flags for buried junction boxes", kGuard, counts(&PlanCounts::flags));
}

/// The sealing list holds one layer of board on a lid; a planned R may take more of them, of a
/// board that nobody has named.
/// What a lid gets is the survey's own, so the high end asks for all jobs alike.
void add_lids(List& list, const Evaluation& e) {
  for (const auto& [s, low, high] : e.with_ends()) {
    if (!is_lid(s.kind) || !s.heated_below) continue;
    const bool raised = high.working_r > s.existing.working_r;
    if (high.status != TopUpStatus::met || raised)
      list.same(raised ? "insulation on the lid, to the planned R"
                       : "insulation on the lid, no plan given",
                kLids, GoodUnit::sheet, {}, s.name);
  }
}

}  // namespace

std::vector<Good> goods_list(const Evaluation& e, const Tables& tables) {
  return goods_list(e, {e.planned.low, e.planned.high}, tables);
}

std::vector<Good> goods_list(const Evaluation& e, const Ends<const Planned&>& jobs,
                             const Tables& tables) {
  List list;
  add_insulation(list, e, jobs);
  add_cavities(list, e, tables);
  add_sealing(list, e.plan.sealing);
  add_counts(list, jobs);
  add_lids(list, e);
  return list.take();
}

}  // namespace overjoist
