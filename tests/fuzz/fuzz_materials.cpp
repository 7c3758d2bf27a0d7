// SPDX-License-Identifier: MIT
// Any bytes as a user's material table: it is taken whole or refused whole, and what was taken can
// be printed.
#include <cstdint>
#include <cstdlib>

#include "overjoist/report.hpp"
#include "overjoist/survey_json.hpp"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  static const overjoist::Tables kTables = overjoist::builtin_tables();
  overjoist::Tables tables = kTables;
  const auto faults =
      overjoist::add_materials(tables, {reinterpret_cast<const char*>(data), size}, "fuzz");
  if (!faults.empty() && tables.materials.size() != kTables.materials.size()) std::abort();
  if (!faults.empty()) return 0;
  std::string out;
  overjoist::write_materials_text(out, tables, overjoist::Units::us);
  overjoist::write_materials_json(out, tables, false);
  return 0;
}
