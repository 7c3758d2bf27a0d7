// SPDX-License-Identifier: MIT
#include <fmt/core.h>
#include <algorithm>
#include <stdexcept>

#include "overjoist/survey_json.hpp"
#include "read/kind.hpp"
#include "read/tables/table.hpp"
#include "tables/embedded.hpp"

// The tables of data/ and a user's material table, read by the same reader as a survey.
namespace overjoist {
namespace io {
namespace {

/// 64-bit FNV-1a, in hexadecimal: tells two states of a table apart; no protection against forgery.
std::string hash_of(std::string_view text) {
  std::uint64_t hash = 0xCBF29CE484222325U;
  for (char c : text) hash = (hash ^ static_cast<unsigned char>(c)) * 0x100000001B3U;
  return fmt::format("{:016x}", hash);
}

template <class Row>
void sort_by(std::vector<Row>& rows, std::string Row::*key) {
  std::stable_sort(rows.begin(), rows.end(),
                   [&](const Row& a, const Row& b) { return a.*key < b.*key; });
}

Header read_builtin(Tables& tables, const Shape<Tables>& shape, std::string_view name,
                    std::string_view text) {
  Header header{name, {}, {}, {}, 0};
  Reader reader(text, &header);
  reader.read(shape, tables, "table");
  for (const Diagnostic& d : reader.faults())
    throw std::logic_error(
        fmt::format("table {}:{}:{}: {}: {}", name, d.line, d.column, d.pointer, d.message));
  tables.stamps.push_back({std::string(name), header.version, hash_of(text)});
  return header;
}

/// The words of a plausible figure are those of a caution with its code; they stand behind the
/// table of cautions.
void add_plausible(Tables& t) {
  const Header header = read_builtin(t, kPlausibleTable, "plausible", embedded::plausible);
  std::stable_sort(
      t.plausible.begin(), t.plausible.end(),
      [](const PlausibleRow& a, const PlausibleRow& b) { return a.measure < b.measure; });
  for (const PlausibleRow& row : t.plausible) {
    CautionRow& caution = t.cautions.emplace_back();
    caution.code = row.code;
    caution.level = row.level;
    caution.brief = row.brief;
    caution.text = row.text;
    caution.who = header.who;
    caution.clears = header.clears;
    caution.sources = row.sources;
    caution.status = row.status;
  }
}

Tables read_all_builtin() {
  Tables t;
  read_builtin(t, kMaterialTable, "materials", embedded::materials);
  read_builtin(t, kTargetTable, "targets", embedded::targets);
  read_builtin(t, kLimitTable, "limits", embedded::limits);
  read_builtin(t, kCautionTable, "cautions", embedded::cautions);
  read_builtin(t, kAssumptionTable, "assumptions", embedded::assumptions);
  read_builtin(t, kFuelTable, "fuels", embedded::fuels);
  read_builtin(t, kMoneyTable, "money", embedded::money);
  read_builtin(t, kSourceTable, "sources", embedded::sources);
  read_builtin(t, kBypassTable, "bypasses", embedded::bypasses);
  add_plausible(t);
  sort_by(t.materials, &Material::id);
  sort_by(t.assumptions, &AssumptionRow::code);
  sort_by(t.fuels, &Fuel::id);
  sort_by(t.money, &MoneyDefault::id);
  sort_by(t.sources, &SourceRow::id);
  sort_by(t.bypasses, &BypassRow::id);
  sort_by(t.figures, &FigureRow::id);
  t.build_indexes();
  return t;
}

/// A source that a user's row names and that no table knows is listed by the user's own words.
void add_sources(Tables& tables, const std::vector<std::string>& names) {
  tables.source_index = {};  // rows come in: search until the indexes are built again
  for (const std::string& name : names) {
    if (tables.source(name)) continue;
    tables.sources.push_back({name, name, "user's table", {}, {}, "other texts"});
    sort_by(tables.sources, &SourceRow::id);
  }
}

void add_row(Tables& tables, Material&& row) {
  add_sources(tables, row.sources);
  tables.material_index = {};
  const auto at =
      std::lower_bound(tables.materials.begin(), tables.materials.end(), row.id,
                       [](const Material& m, const std::string& id) { return m.id < id; });
  row.caution =
      tables.caution_of(row);  // a stock row's caution stays, whatever a user says of its id
  if (at != tables.materials.end() && at->id == row.id)
    *at = std::move(row);
  else
    tables.materials.insert(at, std::move(row));
}

/// Of a list of all tables that was edited: what is as it was stays ours, and a changed figure is
/// no longer its source's.
void keep_changed(std::vector<Material>& rows, const Tables& tables) {
  const auto as_it_was = [&](const Material& row) {
    const Material* const ours = tables.material(row.id);
    return ours && *ours == row;
  };
  rows.erase(std::remove_if(rows.begin(), rows.end(), as_it_was), rows.end());
  for (Material& row : rows) {
    const Material* const ours = tables.material(row.id);
    if (!ours || row.sources != ours->sources || row.status != ours->status) continue;
    row.sources.clear();
    row.status = "survey";
  }
}

}  // namespace

}  // namespace io

Tables builtin_tables() {
  static const Tables tables = io::read_all_builtin();
  return tables;
}

Diagnostics add_materials(Tables& tables, std::string_view text, std::string_view name) {
  io::Header header{"materials", {}, {}, {}, 0};
  Tables added;
  io::Reader reader(text, &header);
  const bool listed = io::format_of(text) == "overjoist-materials";
  const io::Shape<Tables>& shape = listed ? io::kMaterialList : io::kMaterialTable;
  if (reader.read(shape, added, "table"))
    io::check_materials(reader, added.materials, tables, listed ? "/materials" : "/rows");
  if (reader.fault_count() > 0)
    return io::by_kind(text, listed ? "overjoist-materials" : "materials", reader.faults());
  if (listed) io::keep_changed(added.materials, tables);
  for (Material& row : added.materials) row.own();
  for (Material& row : added.materials) io::add_row(tables, std::move(row));
  tables.stamps.push_back({std::string(name), header.version, io::hash_of(text)});
  tables.build_indexes();
  return {};
}

}  // namespace overjoist
