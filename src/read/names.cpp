// SPDX-License-Identifier: MIT
#include <fmt/format.h>
#include <algorithm>

#include "read/shapes.hpp"

#include "words/nearest.hpp"

// Materials named in a survey, and the nearest ones where a name is not known.
namespace overjoist::io {
namespace {

bool fits(const Material& m, Place place) {
  const bool board = m.form == Form::ceiling || m.form == Form::wood;
  if (place == Place::fill)
    return (m.form == Form::loose || m.form == Form::spray) && !m.existing_only;
  if (place == Place::laid) return m.form == Form::batt || m.form == Form::board;
  return place == Place::board ? board || m.form == Form::board : !board;
}

/// The words of a name in lower case without a plural s: "Glass-fiber batts" -> "glas", "fiber",
/// "batt".
std::vector<std::string> words_of(std::string_view name) {
  std::vector<std::string> words(1);
  for (char c : name.substr(0, kIdText)) {
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
    if ((c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '/')
      words.back() += c;
    else if (!words.back().empty())
      words.emplace_back();
  }
  for (std::string& w : words)
    if (w.size() > 1 && w.back() == 's') w.pop_back();
  if (words.back().empty()) words.pop_back();
  return words;
}

/// How well a row answers to `given`: 0 by its id or a word that people use for it, 1 by each word,
/// above that by the letters that would change; empty if it does not.
std::optional<std::size_t> distance(std::string_view given, const Material& m) {
  const std::vector<std::string> wanted = words_of(given);
  if (wanted.empty()) return {};
  std::vector<std::string> known = words_of(m.id);
  std::size_t letters = known == wanted ? 0 : edit_distance(given.substr(0, kIdText), m.id);
  for (const std::string& name : m.also) {
    const std::vector<std::string> words = words_of(name);
    letters =
        words == wanted ? 0 : std::min(letters, edit_distance(given.substr(0, kIdText), name));
    known.insert(known.end(), words.begin(), words.end());
    if (letters == 0) break;
  }
  const bool by_words = std::all_of(wanted.begin(), wanted.end(), [&](const std::string& w) {
    return std::find(known.begin(), known.end(), w) != known.end();
  });
  if (letters == 0) return 0;
  if (by_words) return 1;
  return letters <= std::max<std::size_t>(1, given.size() / 3) ? std::optional(letters + 1)
                                                               : std::nullopt;
}

/// The ids that come nearest to `given` and can stand there, in quotes with "or" between; "" if
/// none is near.
std::string near_materials(std::string_view given, const SurveyBuild& build, Place place) {
  constexpr std::size_t kMostNames = 4;
  std::vector<std::string_view> nearest;
  std::size_t least = kNowhere;
  for (const auto* rows : {&build.survey.materials, &build.tables->materials})
    for (const Material& m : *rows) {
      const auto d = fits(m, place) ? distance(given, m) : std::nullopt;
      if (!d || *d > least) continue;
      if (*d < least) nearest.clear();
      least = *d;
      if (nearest.size() < kMostNames &&
          std::find(nearest.begin(), nearest.end(), m.id) == nearest.end())
        nearest.push_back(m.id);
    }
  return nearest.empty() ? std::string() : fmt::format("\"{}\"", fmt::join(nearest, "\" or \""));
}

}  // namespace

const Material* known_material(Reader& r, const SurveyBuild& build, const std::string& id,
                               const std::string& pointer, Place place) {
  const Material* m = build.survey.material(*build.tables, id);
  if (m) return m;
  const std::string near = near_materials(id, build, place);
  r.fault_at(pointer, near.empty() ? make_fault<F::unknown_material>(shortened(id))
                                   : make_fault<F::misspelt_material>(shortened(id), near));
  return nullptr;
}

}  // namespace overjoist::io
