// SPDX-License-Identifier: MIT
#include "words/nearest.hpp"

#include <algorithm>
#include <string>

namespace overjoist {

std::size_t edit_distance(std::string_view a, std::string_view b) {
  std::vector<std::size_t> row(b.size() + 1);
  for (std::size_t j = 0; j <= b.size(); ++j) row[j] = j;
  for (std::size_t i = 1; i <= a.size(); ++i) {
    std::size_t diagonal = row[0];
    row[0] = i;
    for (std::size_t j = 1; j <= b.size(); ++j) {
      const std::size_t changed = diagonal + (a[i - 1] == b[j - 1] ? 0 : 1);
      diagonal = row[j];
      row[j] = std::min({row[j] + 1, row[j - 1] + 1, changed});
    }
  }
  return row[b.size()];
}

namespace {

/// A name of which one part between hyphens is nearly the word: "chimny" -> "masonry-chimney".
std::string_view nearest_by_part(std::string_view word,
                                 const std::vector<std::string_view>& names) {
  std::string_view best;
  std::size_t least = word.size() / 3 + 1;
  for (const std::string_view name : names)
    for (std::size_t from = 0; from < name.size();) {
      const std::size_t to = std::min(name.find('-', from), name.size());
      if (const std::size_t d = edit_distance(word, name.substr(from, to - from));
          d < least && to - from > 3) {
        least = d;
        best = name;
      }
      from = to + 1;
    }
  return best;
}

}  // namespace

std::string_view nearest_name(std::string_view given, const std::vector<std::string_view>& names) {
  std::string_view best;
  std::size_t least = given.size() / 2 + 1;
  const std::string_view word = given.substr(0, 64);  // cost stays bounded whatever the file holds
  for (std::string_view name : names)
    if (const std::size_t d = edit_distance(word, name); d < least) {
      least = d;
      best = name;
    }
  return best.empty() ? nearest_by_part(word, names) : best;
}

}  // namespace overjoist
