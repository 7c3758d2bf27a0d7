// SPDX-License-Identifier: MIT
#include <array>
#include <charconv>
#include <cmath>
#include <ostream>
#include <set>

#include "cli/commands.hpp"
#include "cli/files.hpp"
#include "cli/outputs.hpp"
#include "overjoist/batch.hpp"
#include "write/json/writer.hpp"

namespace overjoist::cli {
namespace {

/// Which flag a place in the survey came from, longest pointer first.
constexpr std::array<std::pair<std::string_view, std::string_view>, 26> kFlags = {{
    {"/sections/0/layers/0/label_r", "--label-r"},
    {"/sections/0/layers/0/label_thickness_in", "--label-thickness"},
    {"/sections/0/layers/0/material", "--material"},
    {"/sections/0/layers/0", "--material"},
    {"/sections/0/area_ft2", "--area"},
    {"/sections/0/readings", "--depth"},
    {"/sections/0/joists/size", "--joist"},
    {"/sections/0/joists/spacing_in", "--spacing"},
    {"/sections/0/ceiling", "--ceiling"},
    {"/site/climate_zone", "--zone"},
    {"/target/low_r", "--target-low"},
    {"/target/high_r", "--target-high"},
    {"/proposal/material", "--add"},
    {"/proposal/bag_net_lb", "--bag-lb"},
    {"/proposal/price_per_bag", "--bag-price"},
    {"/proposal/labour", "--labour-per-ft2"},
    {"/proposal/currency", "--currency"},
    {"/heating/fuel", "--fuel"},
    {"/heating/efficiency", "--efficiency"},
    {"/heating/cop", "--cop"},
    {"/heating/price_per_unit", "--fuel-price"},
    {"/heating/hdd_f_day", "--degree-days"},
    {"/heating/base_f", "--degree-days"},
    {"/heating", "--fuel"},
    {"/compare", "--compare"},
    {"/sections/0", "--area"},
}};

/// Words of the survey file and the flags or words that a reader of flags knows, longer words
/// first.
constexpr std::array<std::pair<std::string_view, std::string_view>, 29> kWords = {{
    {"price_per_ft2", "--labour-per-ft2"},
    {"price_per_bag", "--bag-price"},
    {"add \"fuel\"", "say --fuel natural-gas, or what else heats"},
    {"degree days mean nothing without their base: give hdd_f_day and base_f together",
     "say --degree-days 5000"},
    {"; for an actual size give width_in and depth_in", ""},
    {"for an actual size give width_in and depth_in", "say --joist 2x6, or the size that is there"},
    {"list batts and boards under batts, with their labels",
     "batts go into a survey file: overjoist form writes an empty one"},
    {"name the board, such as gypsum-1/2, and put insulation under layers",
     "say --ceiling gypsum-1/2, and name insulation with --material"},
    {"or leave the key out if it is not required", "or leave the flag out"},
    {"leave the key out if the value is not known", "leave the flag out if it is not known"},
    {"bag_net", "bag weight"},
    {"give area_ft2, or length_ft and width_ft", "say --area 1200"},
    {"; how thick the layer lies is thickness_in", ""},
    {"name the material under layers, such as unknown-loose",
     "leave --material none out, or name what lies there"},
    {"give efficiency as a share, or the cop of a heat pump",
     "say --efficiency 0.8, or --cop 3 for a heat pump"},
    {"a heat pump's COP is given as cop", "a heat pump's COP is told with --cop"},
    {"price_per_unit", "--fuel-price"},
    {"hdd_f_day", "--degree-days"},
    {", or thickness_in", ""},
    {"label_thickness_in", "--label-thickness"},
    {"label_r", "--label-r"},
    {"area_ft2", "area"},
    {"spacing_in", "spacing"},
    {"low_r", "--target-low"},
    {"high_r", "--target-high"},
    {"bag_net_lb", "bag weight"},
    {"climate_zone", "zone"},
    {"; or define it under materials", "; or define it in a table of --materials"},
    {"define it under materials", "define it in a table of --materials"},
}};

std::string in_words_of_flags(std::string text) {
  for (const auto& [word, flag] : kWords)
    for (std::size_t at = text.find(word); at != std::string::npos;
         at = text.find(word, at + flag.size()))
      text.replace(at, word.size(), flag);
  return text;
}

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

void section(io::JsonWriter& json, const QuickOptions& o, bool leave_depth) {
  text_key(json, "name", "attic floor");
  text_key(json, "kind", "flat");
  text_key(json, "area_ft2", o.area);
  text_key(json, "ceiling", o.ceiling);
  object_of(json, "joists", {{"size", &o.joist}, {"spacing_in", &o.spacing}});
  layers(json, o);
  if (!leave_depth) readings(json, o.depths);
}

void proposal(io::JsonWriter& json, const QuickOptions& o) {
  text_key(json, "material", o.add.empty() ? "cellulose-loose" : o.add);
  text_key(json, "bag_net_lb", o.bag_lb);
  price_key(json, "price_per_bag", o.bag_price);
  text_key(json, "currency", o.currency);
  if (!o.labour_per_ft2.empty())
    json.object("labour", [&] { price_key(json, "price_per_ft2", o.labour_per_ft2); });
}

/// The survey that the flags stand for; what is not told is left out, so that `evaluate` fills and
/// lists it.
/// @param leave_depth  the depth of this material is not asked for: nobody may touch it
std::string survey_of(const QuickOptions& o, bool leave_depth) {
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

/// The faults in the words of the flags: there is no file that a line number could point into.
Diagnostics by_flag(const Diagnostics& faults, bool depth_told) {
  Diagnostics out;
  for (Diagnostic d : faults) {
    d.message = in_words_of_flags(d.message);
    d.hint = in_words_of_flags(d.hint);
    if (d.pointer == "/sections/0/readings" && !depth_told) {
      d.message = "no depth is told";
      d.hint = "say --depth 4,5,6, or --depth 0 --material none for a bare floor";
    }
    for (const auto& [pointer, flag] : kFlags)
      if (d.pointer.substr(0, pointer.size()) == pointer) {
        d.pointer = flag;
        break;
      }
    d.line = d.column = 0;
    out.push_back(d);
  }
  return out;
}

/// The command that gives the same answer from the survey that was saved.
std::string command_for_saved(const QuickOptions& options) {
  std::string command = "overjoist assess";
  if (options.common.units != "us") command += " --units " + options.common.units;
  if (options.common.framing_method != "parallel")
    command += " --framing-method " + options.common.framing_method;
  for (const std::string& file : options.common.rebates) command += " --rebate " + shell_word(file);
  for (const std::string& id : options.common.compare) command += " --compare " + shell_word(id);
  if (!options.common.materials_file.empty())
    command += " --materials " + shell_word(options.common.materials_file);
  return command + " " + shell_word(options.save_file);
}

/// A label belongs to a material that is told.
Diagnostics label_faults(const QuickOptions& o) {
  if (!o.material.empty() && o.material != "none") return {};
  Diagnostics faults;
  for (const auto& [told, flag] :
       {std::pair(&o.label_r, "--label-r"), std::pair(&o.thickness, "--label-thickness")}) {
    if (told->empty()) continue;
    Diagnostic d;
    d.pointer = flag;
    d.message = o.material.empty() ? "a label is told, but not of what"
                                   : "a label is told, but nothing lies there";
    d.hint = "say --material glass-fiber-batt, or what else the label is of";
    faults.push_back(d);
  }
  return faults;
}

int refuse(const Diagnostics& faults, const Streams& streams) {
  std::string message;
  write_faults_text(message, "quick", faults);
  streams.err << message << "See overjoist quick --help.\n";
  return kUsage;
}

}  // namespace

int quick(const QuickOptions& options, const Streams& streams) {
  std::vector<Output> outputs = {{"--output", options.common.output_file}};
  if (!options.save_file.empty()) outputs.push_back({"--save", options.save_file});
  if (outputs_meet(outputs, files_of(options.common), streams)) return kUsage;
  if (would_overwrite(options.save_file, options.force, streams.err)) return kUsage;
  if (const Diagnostics faults = label_faults(options); !faults.empty())
    return refuse(faults, streams);
  const auto basics = load_basics(options.common, streams.err);
  if (!basics) return kNoneUsable;
  const Tables& tables = basics->tables;
  const Material* found = tables.material(options.material);
  const std::string survey =
      survey_of(options, found != nullptr && tables.hands_off(*found) && options.depths.empty());
  const Outcome outcome = assess_text(survey, tables, options.common.compare, basics->rebates);
  if (!outcome.evaluation) {
    std::string message;
    write_faults_text(message, "quick", by_flag(outcome.faults, !options.depths.empty()));
    streams.err << message;
    if (outcome.bug) return kBug;
    streams.err << "See overjoist quick --help.\n";
    return kUsage;
  }
  if (!options.save_file.empty()) {
    const int saved = deliver(survey, options.save_file, streams);
    if (saved != kDone) return saved;
    tell_written(options.save_file, "next, run: " + command_for_saved(options), streams);
  }
  std::string text;
  write_evaluation(text, *outcome.evaluation, tables, options.common, streams);
  if (text.back() != '\n') text += '\n';
  const int delivered = deliver(text, options.common.output_file, streams);
  if (delivered != kDone) return delivered;
  return fails_on(*outcome.evaluation, options.common.fail_on) ? kSomeRejected : kDone;
}

}  // namespace overjoist::cli
