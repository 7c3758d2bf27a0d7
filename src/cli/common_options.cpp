// SPDX-License-Identifier: MIT
#include "cli/common_options.hpp"

#include <CLI/CLI.hpp>

namespace overjoist::cli {

const CLI::Validator& named() {
  static const CLI::Validator check(
      [](const std::string& path) {
        return path.empty() ? std::string("an empty name: name a file or a folder") : std::string();
      },
      "");
  return check;
}

const CLI::Validator& told() {
  static const CLI::Validator check(
      [](const std::string& value) {
        return value.empty() ? std::string("an empty value: say what it is, or leave the flag out")
                             : std::string();
      },
      "");
  return check;
}

const CLI::Validator& folder() {
  static const CLI::Validator check(
      [](const std::string& path) {
        if (path == "-")
          return std::string("standard output is no folder; ./- is one of that name");
        return path.empty() ? std::string("an empty name: name a folder") : std::string();
      },
      "");
  return check;
}

CLI::Option* add_output(CLI::App& command, std::string& file) {
  return command
      .add_option("--output", file, "write to this file, whole or not at all; - is standard output")
      ->check(named())
      ->type_name("FILE");
}

void add_common(CLI::App& command, CommonOptions& o) {
  command.add_option("--units", o.units, "what people read: us or si")
      ->check(CLI::IsMember({"us", "si"}))
      ->type_name("");
  command.add_option("--format", o.format, "text for people, json for programs")
      ->check(CLI::IsMember({"text", "json"}))
      ->type_name("");
  command
      .add_option("--materials", o.materials_file,
                  "a table of your own: adds or overrides materials")
      ->check(named())
      ->type_name("FILE");
  add_output(command, o.output_file);
  command.add_flag("--no-color", o.no_color, "no color, also on a terminal (as NO_COLOR does)");
}

void set_formats(CLI::App& command, CommonOptions& o, const char* first,
                 const std::set<std::string>& formats, const char* words) {
  command.remove_option(command.get_option("--format"));
  o.format = first;
  command.add_option("--format", o.format, words)->check(CLI::IsMember(formats))->type_name("");
}

void add_csv(CLI::App& command, std::string& rows, bool& raw_text) {
  command.add_option("--rows", rows, "of CSV: a row for each survey or section")
      ->check(CLI::IsMember({"survey", "section"}))
      ->type_name("");
  command.add_flag("--raw-text", raw_text,
                   "CSV text as it stands, without escapes and the guard against formulas");
}

void add_fail_on(CLI::App& command, CommonOptions& o) {
  command
      .add_option("--fail-on", o.fail_on,
                  "exit 1 if a caution of this level or above stands: stop, fix-first, care")
      ->check(CLI::IsMember({"stop", "fix-first", "care"}))
      ->type_name("LEVEL");
}

void add_evaluation(CLI::App& command, CommonOptions& o) {
  command
      .add_option("--framing-method", o.framing_method,
                  "how joists and bays make one R: parallel, planes, mean or two-column; not told: "
                  "parallel")
      ->check(CLI::IsMember({"parallel", "planes", "mean", "two-column"}))
      ->type_name("");
  command
      .add_option("--rebate", o.rebates, "a file with the rules of a rebate; may be given again")
      ->check(named())
      ->type_name("FILE")
      ->expected(1)
      ->allow_extra_args(false)  // one each time, else it takes the files after it
      ->take_all();
}

void add_compare(CLI::App& command, CommonOptions& o) {
  command
      .add_option(
          "--compare", o.compare,
          "another material for the same attic, side by side in the report;\nmay be given again")
      ->type_name("MATERIAL")
      ->expected(1)
      ->allow_extra_args(false)
      ->take_all();
}

}  // namespace overjoist::cli
