// SPDX-License-Identifier: MIT
#include "overjoist/goods.hpp"

#include <algorithm>

// The goods of a job: each list of the evaluation in turn.
namespace overjoist {
namespace {

constexpr std::string_view kInsulate = "insulate", kSeal = "seal", kVent = "vent",
                           kGuard = "dams-covers-markers", kLids = "lids";

std::optional<double> number(const std::optional<int>& n) {
  return n ? std::optional(static_cast<double>(*n)) : std::nullopt;
}

class List {
 public:
  /// Left out where both ends are known to need none.
  void add(Good good) {
    if (good.low == 0.0 && good.high == 0.0) return;
    goods_.push_back(std::move(good));
  }
  /// The same for both ends.
  void same(std::string_view what, std::string_view purpose, GoodUnit unit, std::optional<double> n,
            std::string note = {}) {
    add({std::string(what), purpose, std::move(note), unit, n, n, {}, {}, {}, {}});
  }
  void count(std::string_view what, std::string_view purpose, const std::optional<int>& low,
             const std::optional<int>& high) {
    add({std::string(what),
         purpose,
         {},
         GoodUnit::piece,
         number(low),
         number(high),
         {},
         {},
         {},
         {}});
  }
  std::vector<Good> take() { return std::move(goods_); }

 private:
  std::vector<Good> goods_;
};

std::optional<double> count_of(const Totals& t, const std::string& name) {
  for (const PackageCount& p : t.packages)
    if (p.name == name) return p.count;
  return 0.0;
}

/// Packages of each product that is laid, in the order in which the ends of the band name them; the
/// price stands on the last line, since it is of all of them.
void add_packages(List& list, const Evaluation& e, const Totals& low, const Totals& high) {
  std::vector<Good> lines;
  for (const Totals* t : {&e.planned.low.totals, &e.planned.high.totals, &low, &high})
    for (const PackageCount& p : t->packages) {
      const bool listed =
          std::any_of(lines.begin(), lines.end(), [&](const Good& g) { return g.what == p.name; });
      if (!listed)
        lines.push_back({p.name,
                         kInsulate,
                         {},
                         GoodUnit::package,
                         count_of(low, p.name),
                         count_of(high, p.name),
                         {},
                         {},
                         {},
                         {}});
    }
  if (!lines.empty()) {
    lines.back().price_low = low.material;
    lines.back().price_high = high.material;
  }
  for (Good& line : lines) list.add(std::move(line));
}

void add_insulation(List& list, const Evaluation& e, const Ends<const Planned&>& jobs) {
  const Totals &low = jobs.low.totals, &high = jobs.high.totals;
  if (e.added_material.empty()) return;
  if (e.method == Method::laid) return add_packages(list, e, low, high);
  if (e.method == Method::sprayed) {
    list.add({e.added_material,
              kInsulate,
              {},
              GoodUnit::board_ft,
              low.board_ft,
              high.board_ft,
              {},
              {},
              low.material,
              high.material});
    return;
  }
  Good bags{e.added_material, kInsulate, {}, GoodUnit::bag, low.bags, high.bags, high.bag_net,
            e.price_per_bag,  {},        {}};
  if (e.price_per_bag) {
    bags.price_low = low.material;
    bags.price_high = high.material;
  }
  list.add(std::move(bags));
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

void add_counts(List& list, const PlanCounts& low, const PlanCounts& high) {
  const auto plain_dams = [](const PlanCounts& c) {
    return c.dams && c.flue_dams ? std::optional(*c.dams - *c.flue_dams) : std::nullopt;
  };
  list.count("baffles", kVent, low.baffles, high.baffles);
  list.count("dams", kGuard, plain_dams(low), plain_dams(high));
  list.count("metal dams for flues and chimneys", kGuard, low.flue_dams, high.flue_dams);
  list.count("fire-rated light covers", kGuard, low.light_covers, high.light_covers);
  list.count("depth markers", kGuard, low.markers, high.markers);
  list.count("flags for buried junction boxes", kGuard, low.flags, high.flags);
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
  add_counts(list, jobs.low.counts, jobs.high.counts);
  add_lids(list, e);
  return list.take();
}

}  // namespace overjoist
