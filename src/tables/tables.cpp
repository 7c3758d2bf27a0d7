// SPDX-License-Identifier: MIT
#include "overjoist/materials.hpp"

#include <fmt/core.h>
#include <algorithm>
#include <memory>
#include <utility>

#include "overjoist/diagnostics.hpp"

namespace overjoist {

void Material::derive() {
  if (!found_typical) return;
  auto row = std::make_shared<Material>(*this);
  row->low = found_low;
  row->typical = found_typical;
  row->high = found_high;
  row->sources = found_sources;
  row->status = found_status;
  row->aged = true;
  found_row.row = std::move(row);
}

namespace {

template <class Rows, class Key>
auto find_sorted(const Rows& rows, std::string_view wanted, Key key) -> decltype(&rows.front()) {
  const auto at = std::lower_bound(
      rows.begin(), rows.end(), wanted,
      [&](const auto& row, std::string_view w) { return std::string_view(key(row)) < w; });
  return at != rows.end() && key(*at) == wanted ? &*at : nullptr;
}

}  // namespace

WordIndex::WordIndex(const std::vector<std::string_view>& words) {
  std::size_t size = 4;
  while (size < 2 * words.size()) size *= 2;
  slots_.assign(size, kNone);
  for (std::size_t row = 0; row < words.size(); ++row) {
    std::size_t at = hash(words[row]);
    while (slots_[at & (size - 1)] != kNone) ++at;
    slots_[at & (size - 1)] = row;
  }
}

void Tables::build_indexes() {
  for (const QuietWords& words : quiet_cautions)
    for (CautionRow& row : cautions)
      if (row.code == words.code) {
        row.quiet = true;
        row.quiet_words = words;
      }
  const auto index = [](const auto& rows, auto key) {
    std::vector<std::string_view> words;
    words.reserve(rows.size());
    for (const auto& row : rows) words.push_back(row.*key);
    return WordIndex(words);
  };
  caution_index = index(cautions, &CautionRow::code);
  assumption_index = index(assumptions, &AssumptionRow::code);
  source_index = index(sources, &SourceRow::id);
  material_index = index(materials, &Material::id);
  std::size_t row = 0;
  for (std::size_t m = 0; m <= kMeasures; ++m) {
    while (row < plausible.size() && static_cast<std::size_t>(plausible[row].measure) < m) ++row;
    plausible_from[m] = row;
  }
}

namespace {

/// The Latin letters of a text in lower case, full-width ones too. What stands between them is left
/// out: blanks, hyphens, signs that are not seen.
std::string letters_of(std::string_view text) {
  std::string out;
  for (std::size_t i = 0; i < text.size(); ++i) {
    char c = text[i];
    const auto wide = [&](char second) {
      return c == '\xEF' && i + 2 < text.size() && text[i + 1] == second;
    };
    if (wide('\xBC') || wide('\xBD')) {  // U+FF21 to U+FF5A
      const int point =
          (text[i + 1] == '\xBD' ? 0x40 : 0) + (static_cast<unsigned char>(text[i + 2]) & 0x3F);
      c = static_cast<char>(point + 0x20);
      i += 2;
    }
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
    if (c >= 'a' && c <= 'z') out += c;
  }
  return out;
}

/// The row with this word, by the index if it was built, else by a search; kNone if there is none.
template <class Rows, class Key>
std::size_t row_of(const Rows& rows, const WordIndex& index, std::string_view word, Key key) {
  const auto is = [&](std::size_t row) { return rows[row].*key == word; };
  if (!index.empty()) return index.find(word, is);
  for (std::size_t row = 0; row < rows.size(); ++row)
    if (is(row)) return row;
  return WordIndex::kNone;
}

}  // namespace

const Material* Tables::material(std::string_view id) const {
  const std::size_t row = row_of(materials, material_index, id, &Material::id);
  return row == WordIndex::kNone ? nullptr : &materials[row];
}
std::string_view Tables::caution_of(const Material& m) const {
  const Material* stock = material(m.id);
  if (stock != nullptr && !stock->caution.empty()) return stock->caution;
  std::string words = letters_of(m.id) + ' ' + letters_of(m.name);
  for (const std::string& word : m.also) words += ' ' + letters_of(word);
  const auto says = [&](const std::string& part) { return words.find(part) != std::string::npos; };
  for (const CautionRow& row : cautions)
    if (std::any_of(row.names.begin(), row.names.end(), says))
      return m.form == Form::ceiling || m.form == Form::board ? std::string_view("other-asbestos")
                                                              : std::string_view(row.code);
  return m.caution;
}
bool Tables::hands_off(const Material& m) const {
  const std::string_view code = caution_of(m);
  return !code.empty() && cautions[caution(code)].hands_off;
}
const SourceRow* Tables::source(std::string_view id) const {
  const std::size_t row = row_of(sources, source_index, id, &SourceRow::id);
  return row == WordIndex::kNone ? nullptr : &sources[row];
}
const Fuel* Tables::fuel(std::string_view id) const {
  return find_sorted(fuels, id, [](const Fuel& f) -> const std::string& { return f.id; });
}
double Tables::money_default(std::string_view id) const {
  const auto* row =
      find_sorted(money, id, [](const MoneyDefault& d) -> const std::string& { return d.id; });
  if (!row) throw Error(ErrorCode::unknown_name, "money", fmt::format("no default '{}'", id));
  return row->value;
}
const BypassRow* Tables::bypass(std::string_view id) const {
  return find_sorted(bypasses, id, [](const BypassRow& b) -> const std::string& { return b.id; });
}
double Tables::figure(std::string_view id) const {
  const auto* row =
      find_sorted(figures, id, [](const FigureRow& f) -> const std::string& { return f.id; });
  if (!row) throw Error(ErrorCode::unknown_name, "figures", fmt::format("no figure '{}'", id));
  return row->value;
}
std::size_t Tables::assumption(std::string_view code) const {
  const std::size_t row = row_of(assumptions, assumption_index, code, &AssumptionRow::code);
  if (row == WordIndex::kNone)
    throw Error(ErrorCode::unknown_name, "assumptions", fmt::format("no assumption '{}'", code));
  return row;
}
std::size_t Tables::caution(std::string_view code) const {
  const std::size_t row = row_of(cautions, caution_index, code, &CautionRow::code);
  if (row == WordIndex::kNone)
    throw Error(ErrorCode::unknown_name, "cautions", fmt::format("no caution '{}'", code));
  return row;
}

}  // namespace overjoist
