// SPDX-License-Identifier: MIT
#include "overjoist/goods.hpp"

#include <fmt/core.h>
#include <array>

#include "write/csv/row.hpp"
#include "write/json/findings.hpp"
#include "write/json/parts.hpp"
#include "write/json/writer.hpp"
#include "write/parts/parts.hpp"
#include "write/parts/plan.hpp"

// The shopping list as text, JSON and CSV.
namespace overjoist {
namespace {

using io::Report;
using io::Toward;

constexpr std::string_view kNotKnown = "not known: measure";

/// Nobody measures where hands are kept off.
std::string_view not_known(const Evaluation& e) {
  return e.hands_off ? std::string_view("not known") : kNotKnown;
}

// ---- Text

std::string amount_text(GoodUnit unit, const std::optional<double>& n, Units units) {
  if (!n) return "not known";
  if (unit == GoodUnit::ft) return io::run_text(*n, units);
  if (unit == GoodUnit::ft2) return io::area_text(square_feet(*n), units);
  if (unit == GoodUnit::lb) return io::mass_text(Mass::from_us(*n), units, Toward::up);
  std::string count = io::number_text(*n, 0, Toward::up);
  if (unit == GoodUnit::piece) return count;
  std::string name(io::word(unit));
  if (unit == GoodUnit::small_tube) name = "tube";
  if (unit == GoodUnit::board_ft) return count + (*n == 1 ? " board foot" : " board feet");
  return count + ' ' + name + (*n == 1 ? "" : "s");
}

/// What it is, with the net weight of a bag and what else tells how much.
std::string good_words(const Good& good, Units units) {
  std::string out = good.what;
  if (good.net) out += ", bags of " + io::mass_text(*good.net, units, Toward::nearest);
  if (good.unit == GoodUnit::small_tube) out += ", small tubes";
  if (!good.note.empty()) out += " (" + good.note + ")";
  return out;
}

}  // namespace

std::string io::load_words(const Good& good, Units units) {
  const std::optional<double>& n = good.low;  // of a list of one job, where both are the same
  return good_words(good, units) + ": " +
         (n ? amount_text(good.unit, n, units) : std::string(kNotKnown));
}

namespace {

std::string_view purpose_heading(std::string_view purpose) {
  if (purpose == "insulate") return "Insulate";
  if (purpose == "seal") return "Seal";
  if (purpose == "vent") return "Vent";
  return purpose == "lids" ? "Lids" : "Dams, covers and markers";
}

void write_good(const Report& c, const Good& good) {
  const std::string words = good_words(good, c.units);
  const auto known = [](const std::optional<double>& n) { return n.has_value(); };
  if (!either(good, known)) return c.page.tick(fmt::format("{}: {}", words, not_known(c.e)), 4);
  const auto amounts =
      map(good, [&](const std::optional<double>& n) { return amount_text(good.unit, n, c.units); });
  std::vector<std::string_view> cells;
  for (const End end : c.ends()) cells.push_back(amounts[end]);
  c.page.tick_row(words, cells);
}

void write_goods(const Report& c, const std::vector<Good>& goods) {
  std::string_view purpose;
  c.page.heading("Buy and load");
  if (goods.empty())
    return c.page.paragraph("nothing: no good is needed as far as this survey tells.", 2);
  if (c.one_target())
    c.page.head("", {c.target(c.e.target.high)});
  else
    c.page.head("", {"low, " + c.target(c.e.target.low), "high, " + c.target(c.e.target.high)});
  for (const Good& good : goods) {
    if (good.purpose != purpose) c.page.group(purpose_heading(good.purpose));
    purpose = good.purpose;
    write_good(c, good);
  }
}

void write_goods_prices(const Report& c, const std::vector<Good>& goods) {
  const auto money = [&](const std::optional<double>& m) {
    return m ? io::money_text(*m, c.e.currency) : std::string("not priced");
  };
  const auto both = [&](std::string_view what, const std::optional<double>& low,
                        const std::optional<double>& high) {
    if (c.one_target())
      c.page.row(what, {money(high)});
    else
      c.page.row(what, {money(low), money(high)});
  };
  c.page.heading("Prices");
  for (const Good& good : goods)
    if (good.unit_price)
      both(
          fmt::format("{}, a bag {}{}", good.what, io::number_text(*good.unit_price, 2, Toward::up),
                      c.e.currency.empty() ? "" : " " + c.e.currency),
          good.price_low, good.price_high);
    else if (good.price_high)
      both(good.unit == GoodUnit::package ? "all packages together" : good.what, good.price_low,
           good.price_high);
  for (const ExtraCost& extra : c.e.extra_costs) both(extra.what, extra.price, extra.price);
  c.page.paragraph(
      "Goods without a line here are not priced, unless an extra of the survey holds them. "
      "Labor is not in this list.",
      2);
}

/// The banner stands above; what must be done first and with care follows the list.
void write_before(const Report& c) {
  c.page.heading("Before the work");
  c.page.paragraph("Readiness: " + io::ready_words(c), 2);
  for (const Caution& caution : c.findings.cautions) {
    if (caution.level == CautionLevel::stop) continue;
    c.page.item(std::string(io::word(caution.level)) + ": " +
                    io::caution_words(caution, c.tables.cautions.at(caution.row), c.units),
                2);
  }
}

// ---- JSON

void write_good_json(io::JsonWriter& w, const Good& good, bool prices) {
  w.field("what", good.what);
  w.field("for", good.purpose);
  w.field_or_null("note", good.note);
  w.field("unit", io::word(good.unit));
  io::field_ends(w, good, {"quantity_low", "quantity_high"});
  w.field("bag_net_lb", good.net);
  if (prices) {
    w.field("unit_price", good.unit_price);
    w.field("price_low", good.price_low);
    w.field("price_high", good.price_high);
  }
}

void write_extras_json(io::JsonWriter& w, const Evaluation& e) {
  w.field_or_null("currency", e.currency);
  w.objects("extras", e.extra_costs, [&](const ExtraCost& extra) {
    w.field("what", extra.what);
    w.field("price", extra.price);
  });
}

}  // namespace

void write_goods_text(std::string& out, const Evaluation& e, const Tables& tables,
                      const GoodsStyle& style) {
  io::Page page(out, style.colour);
  io::write_goods_list({page, e, tables, style.units}, style);
}

void io::write_goods_list(const Report& report, const GoodsStyle& style) {
  const Evaluation& e = report.e;
  Page& page = report.page;
  const std::vector<Good> goods = goods_list(e, report.tables);
  page.title("Shopping list: " +
             (e.label.empty() ? e.id.empty() ? std::string("attic") : e.id : e.label));
  if (!e.label.empty() && !e.id.empty()) page.paragraph(e.id);
  std::string head =
      "From one survey; quantities are estimates and hold the waste that the survey gives.";
  page.paragraph(head + (e.hands_off ? " Nothing is bought before the fill is cleared."
                                     : " What is not known must be measured."));
  io::write_stop_banner(report);
  write_goods(report, goods);
  if (style.prices) write_goods_prices(report, goods);
  write_before(report);
}

void write_goods_json(std::string& out, const Evaluation& e, const Tables& tables,
                      const GoodsStyle& style) {
  io::JsonWriter w(out, true);
  w.object([&] {
    w.field("format", "overjoist-goods");
    w.field("version", 1.0);
    w.field_or_null("id", e.id);
    w.field_or_null("label", e.label);
    w.field("status", "done");
    io::field_ends(w, e.target, {"target_low_r", "target_high_r"});
    w.objects("goods", goods_list(e, tables),
              [&](const Good& good) { write_good_json(w, good, style.prices); });
    if (style.prices) write_extras_json(w, e);
    io::write_words_json(w, e.findings, tables, {style.units, true});
  });
}

void write_goods_csv_header(std::string& out, const GoodsStyle& style) {
  out += "id,file,what,for,note,unit,quantity_low,quantity_high,bag_net_lb,";
  if (style.prices) out += "unit_price,price_low,price_high,currency,";
  out += "stop_cautions,cautions\r\n";
}

void write_goods_csv(std::string& out, const Evaluation& e, const Tables& tables,
                     const Origin& origin, const GoodsStyle& style) {
  io::CsvRow row(out, style.raw_text);
  std::vector<Good> goods = goods_list(e, tables);
  const bool none = goods.empty();
  if (none) goods.push_back({"nothing", "", {}, GoodUnit::piece, 0.0, 0.0, {}, {}, {}, {}});
  for (const Good& good : goods) {
    for (const std::string_view cell : std::array<std::string_view, 6>{
             e.id, origin.file, good.what, good.purpose, good.note, io::word(good.unit)})
      row.text(cell);
    for (const End end : {End::low, End::high}) {
      if (const std::optional<double>& n = at(good, end))
        row.number(n);
      else
        row.text(not_known(e));
    }
    row.number(good.net);
    if (style.prices) {
      row.number(good.unit_price);
      row.number(good.price_low);
      row.number(good.price_high);
      row.text(e.currency);
    }
    io::caution_cells(row, e.findings, tables);
    row.end();
  }
}

}  // namespace overjoist
