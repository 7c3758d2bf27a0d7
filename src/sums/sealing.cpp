// SPDX-License-Identifier: MIT
#include "overjoist/sealing.hpp"

#include <fmt/core.h>
#include <algorithm>
#include <cmath>
#include <numbers>
#include <tuple>

#include "overjoist/diagnostics.hpp"
#include "words/nearest.hpp"

namespace overjoist {
namespace {

constexpr double kBoardFoot = 144.0;  // in3: 12 x 12 x 1 in. by definition

[[noreturn]] void refuse(std::string_view where, std::string_view what, double value,
                         std::string_view allowed) {
  throw Error(ErrorCode::out_of_range, std::string(where),
              fmt::format("{} {:g} is not allowed; allowed: {}", what, value, allowed),
              "correct it in the survey");
}
void need_from_zero(std::string_view where, std::string_view what, double value) {
  if (!(value >= 0 && std::isfinite(value))) refuse(where, what, value, "0 or more");
}
void need_above_zero(std::string_view where, std::string_view what, double value) {
  if (!(value > 0 && std::isfinite(value))) refuse(where, what, value, "above 0");
}

const BypassRow& row_of(const Bypass& bypass, const Tables& tables) {
  if (const BypassRow* row = tables.bypass(bypass.kind)) return *row;
  std::vector<std::string_view> names;
  for (const BypassRow& row : tables.bypasses) names.push_back(row.id);
  const std::string_view near = nearest_name(bypass.kind, names);
  throw Error(ErrorCode::unknown_name, "bypasses",
              fmt::format("no kind of bypass '{}'", bypass.kind),
              near.empty() ? "see the table of bypasses" : fmt::format("did you mean '{}'?", near));
}

void check(const Bypass& bypass, const SealingOptions& options) {
  need_from_zero(bypass.kind, "count", bypass.count);
  if (bypass.length) need_from_zero(bypass.kind, "length", bypass.length->us());
  if (bypass.width) need_from_zero(bypass.kind, "width", bypass.width->us());
  if (bypass.area) need_from_zero(bypass.kind, "area", bypass.area->us());
  if (!(options.waste >= 0 && options.waste < 1))
    refuse("waste", "waste", options.waste, "0 or more, below 1");
  if (options.board_ft_per_can)
    need_above_zero("board feet per can", "board feet per can", *options.board_ft_per_can);
  if (options.joist_spacing)
    need_above_zero("joist spacing", "joist spacing", options.joist_spacing->us());
}

/// What one bypass of the survey amounts to.
struct Extent {
  std::optional<double> quantity;
  double openings = 0.0;  ///< how many rims
  double rim_ft = 0.0;    ///< of one opening
  Area area;              ///< of one opening
  bool from_table = false, least = false;
};

/// Opening of one bypass: sides, else area (the rim of a square is the least that it can have),
/// else the table's size.
void size_opening(Extent& extent, const Bypass& bypass, const BypassRow& row) {
  const auto sides = [&](Length a, Length b) {
    extent.rim_ft = 2 * (a.us() + b.us()) / 12;
    extent.area = square_inches(a.us() * b.us());
  };
  const bool wall_length =
      row.unit == BypassUnit::bay;  // a bay's length in the survey is that of the wall
  if (bypass.length && bypass.width && !wall_length) {
    sides(*bypass.length, *bypass.width);
  } else if (bypass.area) {
    extent.area = *bypass.area;
    extent.rim_ft = 4 * std::sqrt(bypass.area->us());
    extent.least = row.rim;
  } else if (row.opening_length && row.opening_width) {
    sides(*row.opening_length, *row.opening_width);
    extent.from_table = true;
  }
}

std::optional<double> feet_of(const Bypass& bypass, const BypassRow& row) {
  if (!bypass.length) return {};
  const double around = row.rim && bypass.width ? 2 * (bypass.length->us() + bypass.width->us())
                                                : bypass.length->us();
  return around / 12;
}
std::optional<double> bays_of(const Bypass& bypass, const SealingOptions& options) {
  if (bypass.count > 0) return bypass.count;
  if (bypass.length && options.joist_spacing)
    return round_up(*bypass.length / *options.joist_spacing, 1.0);
  return {};
}

Extent extent_of(const Bypass& bypass, const BypassRow& row, const SealingOptions& options) {
  Extent extent;
  const double count = bypass.count > 0 ? bypass.count : 1;
  if (row.unit == BypassUnit::ft) {
    if (const auto feet = feet_of(bypass, row)) extent.quantity = *feet * count;
    return extent;
  }
  size_opening(extent, bypass, row);
  switch (row.unit) {
    case BypassUnit::each:
      extent.quantity = count;
      break;
    case BypassUnit::bay:
      extent.quantity = bays_of(bypass, options);
      break;
    default:
      if (extent.area > Area{}) extent.quantity = extent.area.us() * count;
  }
  extent.openings = row.unit == BypassUnit::ft2 ? count : extent.quantity.value_or(0.0);
  return extent;
}

/// Leakage areas are printed each, per metre and per square metre; the row's unit says which.
Area leak_area(double cm2, BypassUnit unit, double quantity) {
  const double units = unit == BypassUnit::ft    ? quantity * kMetrePerFoot
                       : unit == BypassUnit::ft2 ? square_feet(quantity).si()
                                                 : quantity;
  return Area::from_si(cm2 * 1e-4 * units);
}

void measure(SealingItem& item, const Extent& extent, const BypassRow& row, const Tables& tables) {
  const double n = *extent.quantity;
  item.opening = extent.area * extent.openings;
  item.size_from_table = extent.from_table;
  item.rim_is_least = extent.least;
  const double rims_ft = row.rim ? extent.rim_ft * extent.openings : 0.0;
  const bool strip = row.sealant == Sealant::weatherstrip;
  item.weatherstrip_ft = strip ? rims_ft : 0.0;
  item.bead_ft = row.bead_ft_per_unit * n + (strip ? 0.0 : rims_ft);
  const double volume = row.bead_width ? item.bead_ft * bead_volume_per_ft(*row.bead_width) : 0.0;
  const double small = tables.figure("tube-small"), large = tables.figure("tube-large");
  item.tubes_small = volume / small + row.tubes_per_unit * n;
  item.tubes_large = item.tubes_small * small / large;
  item.board = row.board_per_unit * n + (row.board_over_opening ? item.opening : Area{});
  item.metal_low = row.metal_per_unit_low * n;
  item.metal_high = row.metal_per_unit_high * n;
  item.covers = row.covers_per_unit * n;
  if (!row.leak || item.inferred) return;
  item.leak_typical = leak_area(row.leak->typical_cm2, row.unit, n);
  item.leak_tight = leak_area(row.leak->tight_cm2, row.unit, n);
  if (!row.hole || extent.from_table || !(item.opening > Area{})) return;
  // What was measured counts, and not a common hole of its kind.
  item.leak_typical = item.opening * tables.figure("hole-discharge");
  item.leak_tight = std::min(*item.leak_tight, *item.leak_typical);
}

SealingItem item_of(const Bypass& bypass, const Tables& tables, const SealingOptions& options) {
  check(bypass, options);
  const BypassRow& row = row_of(bypass, tables);
  SealingItem item;
  item.kind = row.id;
  item.where = bypass.where;
  item.name = row.name;
  item.seal_with = row.seal_with;
  item.fire_rule = row.fire_rule;
  item.rank = row.rank;
  item.unit = row.unit;
  item.sealant = row.sealant;
  item.bead_width = row.bead_width;
  item.inferred = bypass.inferred;
  if (row.leak && !item.inferred) item.leak_status = row.leak->status;
  const Extent extent = extent_of(bypass, row, options);
  item.quantity = extent.quantity;
  if (extent.quantity) measure(item, extent, row, tables);
  return item;
}

bool goes_first(const SealingItem& a, const SealingItem& b) {
  const auto key = [](const SealingItem& i) {
    return std::tuple(i.rank, -i.opening.us(), -i.quantity.value_or(0.0), std::string_view(i.kind),
                      std::string_view(i.where));
  };
  return key(a) < key(b);
}

void add_bead(std::vector<BeadTotal>& beads, const SealingItem& item) {
  if (!item.bead_width || !(item.bead_ft > 0)) return;
  const auto at =
      std::lower_bound(beads.begin(), beads.end(), *item.bead_width,
                       [](const BeadTotal& b, Length width) { return b.width < width; });
  if (at != beads.end() && at->width == *item.bead_width)
    at->feet += item.bead_ft;
  else
    beads.insert(at, {*item.bead_width, item.bead_ft});
}

void add_leak(SealingTotals& totals, const SealingItem& item) {
  if (!item.leak_typical) {
    ++totals.leaks_unknown;
    return;
  }
  ++totals.leaks_known;
  totals.leak_typical += *item.leak_typical;
  totals.leak_tight += *item.leak_tight;
  if (item.leak_status == "from memory") totals.leak_from_memory += *item.leak_typical;
}

/// Sealant in small tubes, by what may be used.
struct SealantSum {
  double foamable = 0.0, other = 0.0, heat = 0.0;
};

void add_sealant(SealantSum& sum, const SealingItem& item) {
  double& part = item.sealant == Sealant::heat            ? sum.heat
                 : item.sealant == Sealant::foam_or_caulk ? sum.foamable
                                                          : sum.other;
  part += item.tubes_small;
}

void add_goods(SealingTotals& totals, const SealingItem& item) {
  totals.board += item.board;
  totals.metal_low += item.metal_low;
  totals.metal_high += item.metal_high;
  totals.covers += item.covers;
  totals.weatherstrip_ft += item.weatherstrip_ft;
}

/// Whole tubes, cans and sheets after waste.
void round_totals(SealingTotals& totals, const SealantSum& sum, const Tables& tables,
                  const SealingOptions& options) {
  const double small = tables.figure("tube-small"), large = tables.figure("tube-large"),
               more = 1 + options.waste;
  totals.tubes_small = round_up((sum.foamable + sum.other) * more, 1.0);
  totals.tubes_large = round_up((sum.foamable + sum.other) * small / large * more, 1.0);
  totals.tubes_small_with_foam = round_up(sum.other * more, 1.0);
  totals.heat_tubes_small = round_up(sum.heat * more, 1.0);
  if (options.board_ft_per_can)
    totals.foam_cans =
        round_up(sum.foamable * small * more / (kBoardFoot * *options.board_ft_per_can), 1.0);
  totals.sheets = round_up(
      totals.board.us() / tables.figure("sheet-area") * (1 + tables.figure("sheet-waste") / 100),
      1.0);
  totals.weatherstrip_ft *= 1 + tables.figure("weatherstrip-waste") / 100;
}

}  // namespace

double bead_volume_per_ft(Length width) {
  need_above_zero("bead", "bead width", width.us());
  return 12 * std::numbers::pi / 4 * width.us() * width.us();
}

SealingList sealing_list(const std::vector<Bypass>& bypasses, const Tables& tables,
                         const SealingOptions& options) {
  SealingList list;
  for (const Bypass& bypass : bypasses) list.items.push_back(item_of(bypass, tables, options));
  std::stable_sort(list.items.begin(), list.items.end(), goes_first);
  SealantSum sealant;
  for (const SealingItem& item : list.items) {
    if (!item.quantity) ++list.totals.not_measured;
    add_leak(list.totals, item);
    add_bead(list.totals.beads, item);
    add_sealant(sealant, item);
    add_goods(list.totals, item);
  }
  round_totals(list.totals, sealant, tables, options);
  return list;
}

}  // namespace overjoist
