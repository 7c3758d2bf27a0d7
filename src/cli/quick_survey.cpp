// SPDX-License-Identifier: MIT
#include "cli/quick_survey.hpp"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <initializer_list>
#include <set>
#include <string_view>
#include <utility>
#include <vector>

#include "write/json/writer.hpp"

namespace overjoist::cli {
namespace {

void text_key(io::JsonWriter& json, std::string_view key, const std::string& value) {
  if (value.empty()) return;
  json.key(key);
  json.string(value);
}

/// A price or a plain number: a JSON number where it is one; else the text, which the reader
/// refuses with its reason.
void price_key(io::JsonWriter& json, std::string_view key, const std::string& value) {
  double number = 0.0;
  const auto read = std::from_chars(value.data(), value.data() + value.size(), number);
  if (read.ec != std::errc() || read.ptr != value.data() + value.size() || !std::isfinite(number))
    return text_key(json, key, value);
  json.field(key, number);
}

void object_of(io::JsonWriter& json, std::string_view key,
               std::initializer_list<std::pair<std::string_view, const std::string*>> entries) {
  bool any = false;
  for (const auto& entry : entries) any = any || !entry.second->empty();
  if (!any) return;
  json.object(key, [&] {
    for (const auto& entry : entries) text_key(json, entry.first, *entry.second);
  });
}

constexpr std::string_view kDigits = "0123456789";

std::string_view trimmed(std::string_view text) {
  while (!text.empty() && text.front() == ' ') text.remove_prefix(1);
  while (!text.empty() && text.back() == ' ') text.remove_suffix(1);
  return text;
}

bool is_made_of(std::string_view text, std::string_view signs) {
  return !text.empty() && text.find_first_not_of(signs) == std::string_view::npos;
}

/// The unit at the end of one depth: "cm" of "4 to 6 cm"; "" of a bare number and of "flush".
std::string_view unit_of(std::string_view depth) {
  const std::size_t digit = depth.find_last_of(kDigits);
  if (digit == std::string_view::npos) return {};
  const std::string_view rest = depth.substr(digit);
  const std::size_t letter = rest.find_first_not_of("0123456789./ -");
  return letter == std::string_view::npos ? std::string_view() : rest.substr(letter);
}

/// The depths of one list. The one unit that a list names, as people write "10, 12, 14 cm", is that
/// of its bare numbers too.
std::vector<std::string> depths_of(std::string_view list) {
  std::vector<std::string> depths;
  std::set<std::string_view> units;
  for (std::size_t at = 0; at <= list.size();) {
    const std::size_t comma = std::min(list.find(',', at), list.size());
    const std::string_view depth = trimmed(list.substr(at, comma - at));
    if (const std::string_view unit = unit_of(depth); !unit.empty()) units.insert(unit);
    depths.emplace_back(depth);
    at = comma + 1;
  }
  if (units.size() != 1) return depths;
  for (std::string& depth : depths)
    if (depth.find_first_of(kDigits) != std::string::npos && unit_of(depth).empty())
      depth += ' ' + std::string(*units.begin());
  return depths;
}

/// "4, 6 , 5 to 7" and repeated flags are all the same list; `5 1/2` without quotes, which a shell
/// parts, is one depth.
void readings(io::JsonWriter& json, const std::vector<std::string>& lists) {
  json.list("readings", [&] {
    for (std::size_t i = 0; i < lists.size(); ++i) {
      std::string list = lists[i];
      const bool parted = i + 1 < lists.size() && is_made_of(list, kDigits) &&
                          lists[i + 1].find('/') != std::string::npos &&
                          lists[i + 1].find_first_of(" ,") == std::string::npos;
      if (parted) list += ' ' + lists[++i];
      for (const std::string& depth : depths_of(list)) json.string(depth);
    }
  });
}

constexpr double kDegreeDayBase = 65.0;  // of --degree-days, as its help says

/// Left out where no flag of it was told; what is missing then is a fault of the reader, with its
/// reason.
void heating(io::JsonWriter& json, const QuickOptions& o) {
  if (o.fuel.empty() && o.efficiency.empty() && o.cop.empty() && o.fuel_price.empty() &&
      o.degree_days.empty())
    return;
  json.object("heating", [&] {
    text_key(json, "fuel", o.fuel);
    price_key(json, "efficiency", o.efficiency);
    price_key(json, "cop", o.cop);
    price_key(json, "price_per_unit", o.fuel_price);
    price_key(json, "hdd_f_day", o.degree_days);
    if (!o.degree_days.empty()) json.field("base_f", kDegreeDayBase);
  });
}

void layers(io::JsonWriter& json, const QuickOptions& o) {
  json.list("layers", [&] {
    if (o.material == "none") return;
    json.object([&] {
      text_key(json, "material", o.material.empty() ? "unknown-loose" : o.material);
      text_key(json, "label_r", o.label_r);
      text_key(json, "label_thickness_in", o.thickness);
    });
  });
}

/// An area, or a share of it as percent.
void bare(io::JsonWriter& json, const std::string& told) {
  constexpr double kPercent = 100.0;
  const std::string_view text = trimmed(told);
  if (text.empty() || text.back() != '%') return text_key(json, "bare_area_ft2", told);
  const std::string_view number = trimmed(text.substr(0, text.size() - 1));
  double percent = 0.0;
  const auto read = std::from_chars(number.data(), number.data() + number.size(), percent);
  if (read.ec != std::errc() || read.ptr != number.data() + number.size())
    return text_key(json, "bare_share", told);
  json.field("bare_share", percent / kPercent);
}

void section(io::JsonWriter& json, const QuickOptions& o, bool leave_depth) {
  text_key(json, "name", "attic floor");
  text_key(json, "kind", "flat");
  text_key(json, "area_ft2", o.area);
  text_key(json, "ceiling", o.ceiling);
  object_of(json, "joists", {{"size", &o.joist}, {"spacing_in", &o.spacing}});
  layers(json, o);
  if (!leave_depth) readings(json, o.depths);
  bare(json, o.bare);
}

void proposal(io::JsonWriter& json, const QuickOptions& o) {
  text_key(json, "material", o.add.empty() ? "cellulose-loose" : o.add);
  text_key(json, "bag_net_lb", o.bag_lb);
  price_key(json, "price_per_bag", o.bag_price);
  text_key(json, "currency", o.currency);
  if (!o.labour_per_ft2.empty())
    json.object("labour", [&] { price_key(json, "price_per_ft2", o.labour_per_ft2); });
}

}  // namespace

std::string survey_of_flags(const QuickOptions& o, bool leave_depth) {
  std::string text;
  io::JsonWriter json(text, true);
  json.object([&] {
    json.field("format", "overjoist-survey");
    json.field("version", 1.0);
    text_key(json, "label", "Quick what-if");
    object_of(json, "site", {{"climate_zone", &o.zone}});
    json.list("sections", [&] { json.object([&] { section(json, o, leave_depth); }); });
    object_of(json, "target", {{"low_r", &o.target_low}, {"high_r", &o.target_high}});
    json.object("proposal", [&] { proposal(json, o); });
    heating(json, o);
  });
  text += '\n';
  return text;
}

}  // namespace overjoist::cli
