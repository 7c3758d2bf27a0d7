// SPDX-License-Identifier: MIT
#include "cli/app.hpp"

#include <fcntl.h>
#include <unistd.h>

#include <CLI/CLI.hpp>
#include <algorithm>
#include <cerrno>
#include <csignal>
#include <cstdlib>
#include <map>
#include <new>
#include <set>
#include <sstream>

#include "cli/commands.hpp"
#include "overjoist/survey_json.hpp"
#include "overjoist/version.hpp"

namespace overjoist::cli {
namespace {

constexpr const char* kExitCodes =
    "Exit codes: 0 done; 1 several surveys and at least one refused, or a caution or\n"
    "verdict of the level named by --fail-on; 2 wrong use; 3 input unreadable or\n"
    "invalid, and none usable; 4 output could not be written; 70 a bug or out of\n"
    "memory; 130, 143 interrupted or terminated.\n"
    "Estimates only: local code and licensed practice come first.";

/// Help with examples first.
class ExamplesFirst : public CLI::Formatter {
 public:
  std::string make_help(const CLI::App* app, std::string name, CLI::AppFormatMode mode) const override {
    static const std::map<std::string, std::string> kExamples = {
        {"",
         "  overjoist quick --area 1200 --depth 4,5,6 --material cellulose-loose --zone 5\n"
         "  overjoist assess survey.json\n"},
        {"assess",
         "  overjoist assess survey.json\n"
         "  overjoist assess --format html --output report.html survey.json\n"
         "  overjoist assess --units si --format json survey.json\n"
         "  cat survey.json | overjoist assess --fail-on stop -\n"},
        {"batch",
         "  overjoist batch surveys/ > results.jsonl\n"
         "  overjoist batch --rank ua-lost - < surveys.jsonl\n"},
        {"check", "  overjoist check survey.json\n"},
        {"quick",
         "  overjoist quick --area 1200 --depth 4,5,6 --material cellulose-loose --zone 5\n"
         "  overjoist quick --area '110 m2' --depth '8 cm' --joist 2x8 --units si\n"
         "  overjoist quick --area 900 --depth 0 --material none --bag-price 14.50\n"
         "  overjoist quick --area 900 --depth 5 --fuel natural-gas --efficiency 0.8 --fuel-price 1.3 --degree-days 5200\n"},
        {"order", "  overjoist order survey.json\n  overjoist order --target low --no-prices survey.json\n"},
        {"goods", "  overjoist goods survey.json\n  overjoist goods --no-prices --format csv survey.json > goods.csv\n"},
        {"inspect",
         "  overjoist inspect survey.json record.json\n"
         "  overjoist inspect --receipt --format html survey.json record.json > receipt.html\n"
         "  overjoist inspect --format csv --fail-on short jobs/\n"},
        {"form", "  overjoist form > survey.json\n  overjoist form --format html --output sheet.html\n"},
        {"materials", "  overjoist materials\n  overjoist materials --materials mine.json --format json\n"},
    };
    if (mode != CLI::AppFormatMode::Normal) return CLI::Formatter::make_help(app, name, mode);
    const auto at = kExamples.find(app->get_parent() ? app->get_name() : "");
    const std::string examples = at == kExamples.end() ? "" : "Examples:\n" + at->second + "\n";
    return examples + CLI::Formatter::make_help(app, name, mode);
  }
};

/// An empty name, as an unset variable of a shell leaves it, names nothing.
const CLI::Validator& named() {
  static const CLI::Validator check(
      [](const std::string& path) { return path.empty() ? std::string("an empty name: name a file or a folder") : std::string(); }, "");
  return check;
}

const CLI::Validator& folder() {
  static const CLI::Validator check(
      [](const std::string& path) {
        if (path == "-") return std::string("standard output is no folder; ./- is one of that name");
        return path.empty() ? std::string("an empty name: name a folder") : std::string();
      },
      "");
  return check;
}

CLI::Option* add_output(CLI::App& command, std::string& file) {
  return command.add_option("--output", file, "write to this file, whole or not at all; - is standard output")
      ->check(named())
      ->type_name("FILE");
}

void add_common(CLI::App& command, CommonOptions& o) {
  command.add_option("--units", o.units, "what people read: us or si")->check(CLI::IsMember({"us", "si"}))->type_name("");
  command.add_option("--format", o.format, "text for people, json for programs")->check(CLI::IsMember({"text", "json"}))->type_name("");
  command.add_option("--materials", o.materials_file, "a table of your own: adds or overrides materials")
      ->check(named())
      ->type_name("FILE");
  add_output(command, o.output_file);
  command.add_flag("--no-color", o.no_color, "no color, also on a terminal (as NO_COLOR does)");
}

/// Replaces the formats of add_common.
void set_formats(CLI::App& command, CommonOptions& o, const char* first, const std::set<std::string>& formats, const char* words) {
  command.remove_option(command.get_option("--format"));
  o.format = first;
  command.add_option("--format", o.format, words)->check(CLI::IsMember(formats))->type_name("");
}

void add_csv(CLI::App& command, std::string& rows, bool& raw_text) {
  command.add_option("--rows", rows, "of CSV: a row for each survey or section")
      ->check(CLI::IsMember({"survey", "section"}))
      ->type_name("");
  command.add_flag("--raw-text", raw_text, "CSV text as it stands, without escapes and the guard against formulas");
}

void add_fail_on(CLI::App& command, CommonOptions& o) {
  command.add_option("--fail-on", o.fail_on, "exit 1 if a caution of this level or above stands: stop, fix-first, care")
      ->check(CLI::IsMember({"stop", "fix-first", "care"}))
      ->type_name("LEVEL");
}

void add_framing(CLI::App& command, CommonOptions& o) {
  command.add_option("--framing-method", o.framing_method, "how joists and bays make one R: parallel, planes or mean; not told: parallel")
      ->check(CLI::IsMember({"parallel", "planes", "mean"}))
      ->type_name("");
}

void add_quick(CLI::App& c, QuickOptions& o) {
  c.add_option("--area", o.area, "ceiling area: 1200 (ft2), '110 m2'")->type_name("AREA");
  c.add_option("--depth", o.depths, "readings from the ceiling up: 4,5,6 or '4 to 6' or '8 cm'")->type_name("LIST");
  c.add_option("--material", o.material, "what lies there, or none; not told: unknown loose fill")->type_name("ID");
  c.add_option("--label-r", o.label_r, "of a batt")->type_name("R");
  c.add_option("--label-thickness", o.thickness, "of a batt, in.")->type_name("DEPTH");
  c.add_option("--joist", o.joist, "nominal size; not told: 2x6")->type_name("SIZE");
  c.add_option("--spacing", o.spacing, "joists on center, in.; not told: 16")->type_name("LENGTH");
  c.add_option("--ceiling", o.ceiling, "board; not told: gypsum-1/2")->type_name("ID");
  c.add_option("--zone", o.zone, "climate zone, such as 5 or 4C: sets the target band")->type_name("ZONE");
  c.add_option("--target-low", o.target_low, "low end of the target band")->type_name("R");
  c.add_option("--target-high", o.target_high, "high end of the target band")->type_name("R");
  c.add_option("--add", o.add, "loose fill to add; not told: cellulose-loose")->type_name("ID");
  c.add_option("--bag-lb", o.bag_lb, "net weight of a bag, lb")->type_name("MASS");
  c.add_option("--bag-price", o.bag_price, "price of a bag")->type_name("MONEY");
  c.add_option("--labour-per-ft2", o.labour_per_ft2, "price of labor per ft2; 0 for your own")->type_name("MONEY");
  c.add_option("--currency", o.currency, "shown before prices")->type_name("TEXT");
  c.add_option("--fuel", o.fuel, "of the heating, such as natural-gas: works out a yearly saving")->type_name("ID");
  c.add_option("--efficiency", o.efficiency, "of the heating, as a share: 0.8")->type_name("SHARE");
  c.add_option("--cop", o.cop, "seasonal COP of a heat pump, instead of --efficiency")->type_name("COP");
  c.add_option("--fuel-price", o.fuel_price, "price of the fuel's unit")->type_name("MONEY");
  c.add_option("--degree-days", o.degree_days, "heating degree days at base 65 F, F day")->type_name("HDD");
  c.add_option("--save", o.save_file, "write the survey that the flags stood for; - is standard output")->check(named())->type_name("FILE");
  c.add_flag("--force", o.force, "--save writes over a file that is there");
}

void add_batch(CLI::App& c, BatchCommandOptions& o) {
  c.add_option("path", o.paths, "survey files, folders, *.jsonl (one survey a line); - is standard input as *.jsonl")
      ->required()
      ->type_name("PATH");
  add_common(c, o.common);
  set_formats(c, o.common, "json", {"json", "csv"}, "json: one record a line; csv: RFC 4180");
  add_csv(c, o.rows, o.raw_text);
  add_fail_on(c, o.common);
  add_framing(c, o.common);
  c.remove_option(c.get_option("--output"));
  c.remove_option(c.get_option("--no-color"));
  c.add_option("--to", o.folder, "a file for each record in this folder")->check(folder())->type_name("DIR");
  c.add_option("--html-folder", o.html_folder, "the owner's report of each survey as a page in this folder, beside the records")
      ->check(folder())
      ->type_name("DIR");
  c.add_option("--name", o.name, "what standard input is called in the names of those files")->check(named())->type_name("NAME");
  c.add_option("--jobs", o.jobs, "threads; not told: one for each core. The bytes are the same for any number")
      ->check(CLI::Range(1, 256))
      ->type_name("N");
  c.add_option("--rank", o.rank, "short records, greatest first: ua-lost, r-gap, bags or saving-per-cost")
      ->check(CLI::IsMember({"ua-lost", "r-gap", "bags", "saving-per-cost"}))
      ->type_name("KEY");
  c.add_option("--summary", o.summary_file, "counts and portfolio totals as JSON; - is standard output")->check(named())->type_name("FILE");
  c.add_flag("--rejects-ok", o.rejects_ok, "exit 0 although surveys were refused: for line engines");
}

void add_prices(CLI::App& c, bool& prices, bool& no_prices) {
  CLI::Option* with = c.add_flag("--prices", prices, "show prices; so it is unless told otherwise");
  c.add_flag("--no-prices", no_prices, "no money anywhere")->excludes(with);
}

void add_order(CLI::App& c, OrderOptions& o) {
  c.add_option("survey", o.survey, "a survey file; - is standard input")->required()->type_name("SURVEY");
  add_common(c, o.common);
  set_formats(c, o.common, "text", {"text", "html"}, "text, or html: a page to print");
  add_fail_on(c, o.common);
  add_framing(c, o.common);
  c.add_option("--target", o.target, "the end of the target band to build: low or high; not told: high")
      ->check(CLI::IsMember({"low", "high"}))
      ->type_name("");
  add_prices(c, o.prices, o.no_prices);
}

void add_goods(CLI::App& c, GoodsOptions& o) {
  c.add_option("survey", o.surveys, "survey files; - is standard input")->required()->type_name("SURVEY");
  add_common(c, o.common);
  set_formats(c, o.common, "text", {"text", "html", "json", "csv"}, "text or html for people, json and csv for programs");
  c.add_flag("--raw-text", o.raw_text, "CSV text as it stands, without escapes and the guard against formulas");
  add_fail_on(c, o.common);
  add_prices(c, o.prices, o.no_prices);
}

void add_inspect(CLI::App& c, InspectOptions& o) {
  c.add_option("path", o.paths, "a survey and its record, as often as needed;\nor a folder: every survey.json and record.json below it")
      ->required()
      ->type_name("SURVEY RECORD");
  add_common(c, o.common);
  set_formats(c, o.common, "text", {"text", "html", "json", "jsonl", "csv"},
              "text for people; html with --receipt;\njson, jsonl (a record a line) and csv for programs");
  c.add_flag("--receipt", o.receipt, "the receipt of 16 CFR 460.17 instead of the inspection: text or html");
  c.add_flag("--raw-text", o.raw_text, "CSV text as it stands, without escapes and the guard against formulas");
  c.add_option("--rebate", o.rebates, "a file with the rules of a rebate; may be given again")
      ->check(named())
      ->type_name("FILE")
      ->expected(1)
      ->allow_extra_args(false)  // one each time, else it takes the files after it
      ->multi_option_policy(CLI::MultiOptionPolicy::TakeAll);
  c.add_option("--fail-on", o.common.fail_on,
               "exit 1 if bags or depths fall short of the plan (short),\nalso if not all was recorded or a stop is open (unproven),\nor a "
               "caution of this level or above stands: stop, fix-first, care")
      ->check(CLI::IsMember({"short", "unproven", "stop", "fix-first", "care"}))
      ->type_name("LEVEL");
  add_framing(c, o.common);
}

void add_form(CLI::App& c, FormOptions& o) {
  c.add_option("--format", o.format, "json: an empty survey to fill in; html: a field sheet to print")
      ->check(CLI::IsMember({"json", "html"}))
      ->type_name("");
  add_output(c, o.output_file);
  c.add_flag("--force", o.force, "write over a file that is there");
}

/// Adds the nearest known option or command to a message about an unknown one.
std::string with_nearest(std::string message, const CLI::App& app, std::span<const std::string_view> args) {
  std::vector<std::string> names;
  for (const CLI::App* a : app.get_subcommands({}))
    for (const CLI::Option* o : a->get_options())
      for (const std::string& l : o->get_lnames()) names.push_back("--" + l);
  const std::vector<std::string_view> known(names.begin(), names.end());
  for (std::string_view arg : args) {
    const std::string_view word = arg.substr(0, arg.find('='));
    if (word.substr(0, 2) != "--" || word.size() == 2 || std::find(known.begin(), known.end(), word) != known.end()) continue;
    const std::string_view near = nearest_name(word, known);
    if (!near.empty()) message += "\nDid you mean " + std::string(near) + "?";
  }
  return message;
}

int wrong_use(std::ostream& err, const std::string& message) {
  err << "overjoist: ";
  std::istringstream lines(message);
  for (std::string line; std::getline(lines, line);) err << printable(line) << '\n';
  err << "See overjoist --help.\n";
  return kUsage;
}

int dispatch(std::span<const std::string_view> args, const Streams& streams) {
  CLI::App app{"Works out what an attic's insulation is really worth, and what it takes to bring it to a target.", "overjoist"};
  app.formatter(std::make_shared<ExamplesFirst>());
  app.footer(kExitCodes);
  app.set_version_flag("--version", [] {
    std::string text = std::string("overjoist ") + kVersion;
    for (const TableStamp& t : builtin_tables().stamps) text += "\n  table " + t.name + " version " + t.version + " hash " + t.hash;
    return text;
  });
  app.require_subcommand(1);

  AssessOptions assess_options, check_options;
  QuickOptions quick_options;
  BatchCommandOptions batch_options;
  CommonOptions materials_options;
  OrderOptions order_options;
  GoodsOptions goods_options;
  InspectOptions inspect_options;
  FormOptions form_options;
  CLI::App& assess_command = *app.add_subcommand("assess", "the main job: what you have, what to add, what it takes");
  assess_command.add_option("survey", assess_options.surveys, "survey files; - is standard input")->required()->type_name("SURVEY");
  assess_command.add_option("--rebate", assess_options.rebates, "a file with the rules of a rebate; may be given again")
      ->check(named())
      ->type_name("FILE")
      ->expected(1)
      ->allow_extra_args(false)  // one each time, else it takes the files after it
      ->multi_option_policy(CLI::MultiOptionPolicy::TakeAll);
  add_common(assess_command, assess_options.common);
  add_fail_on(assess_command, assess_options.common);
  add_framing(assess_command, assess_options.common);
  set_formats(assess_command, assess_options.common, "text", {"text", "html", "json", "csv"},
              "text or html (the owner's report as a page) for people, json and csv for programs");
  add_csv(assess_command, assess_options.rows, assess_options.raw_text);
  assess_command.add_option("--compare", assess_options.compare, "another material for the same attic, side by side; may be repeated")
      ->type_name("MATERIAL")
      ->expected(1)
      ->allow_extra_args(false)
      ->take_all();
  CLI::App& quick_command = *app.add_subcommand("quick", "a what-if from flags alone, without a file");
  add_quick(quick_command, quick_options);
  add_common(quick_command, quick_options.common);
  set_formats(quick_command, quick_options.common, "text", {"text", "html", "json"}, "text or html (a page) for people, json for programs");
  add_fail_on(quick_command, quick_options.common);
  add_framing(quick_command, quick_options.common);
  CLI::App& check_command = *app.add_subcommand("check", "faults of survey files, nothing else");
  check_command.add_option("survey", check_options.surveys, "survey files; - is standard input")->required()->type_name("SURVEY");
  check_command.add_option("--materials", check_options.common.materials_file, "a table of your own: adds or overrides materials")
      ->check(named())
      ->type_name("FILE");
  CLI::App& batch_command = *app.add_subcommand("batch", "many surveys: one record out for each record in");
  add_batch(batch_command, batch_options);
  CLI::App& order_command = *app.add_subcommand("order", "the work order: steps, quantities, what to load");
  add_order(order_command, order_options);
  CLI::App& goods_command = *app.add_subcommand("goods", "the shopping list: what to buy and load, for both ends of the band");
  add_goods(goods_command, goods_options);
  CLI::App& form_command = *app.add_subcommand("form", "an empty survey to fill in, and a field sheet to print");
  add_form(form_command, form_options);
  CLI::App& inspect_command = *app.add_subcommand("inspect", "after the job: bags and depths against the plan, receipt, rebate papers");
  add_inspect(inspect_command, inspect_options);
  CLI::App& materials_command = *app.add_subcommand("materials", "the tables in use, with sources");
  add_common(materials_command, materials_options);

  if (args.empty()) return wrong_use(streams.err, "name a command: assess, quick, check, batch, order, goods, inspect, form or materials");
  if (!args[0].empty() && args[0][0] != '-') {
    std::vector<std::string> names;
    for (const CLI::App* sub : app.get_subcommands({})) names.push_back(sub->get_name());
    const std::vector<std::string_view> known(names.begin(), names.end());
    if (std::find(known.begin(), known.end(), args[0]) == known.end()) {
      const std::string_view near = nearest_name(args[0], known);
      return wrong_use(streams.err, "there is no command '" + std::string(args[0]) + "'" +
                                        (near.empty() ? "" : "; did you mean '" + std::string(near) + "'?"));
    }
  }
  try {
    app.parse(std::vector<std::string>(args.rbegin(), args.rend()));
  } catch (const CLI::CallForHelp&) {
    const auto chosen = app.get_subcommands();
    return deliver(chosen.empty() ? app.help() : chosen.front()->help("overjoist"), "", streams);
  } catch (const CLI::CallForVersion& e) {
    return deliver(std::string(e.what()) + "\n", "", streams);
  } catch (const CLI::ParseError& e) {
    return wrong_use(streams.err, with_nearest(e.what(), app, args));
  }
  for (CommonOptions* o : {&assess_options.common, &quick_options.common, &materials_options, &order_options.common, &goods_options.common,
                           &inspect_options.common})
    if (o->output_file == "-") o->output_file.clear();
  if (assess_command) return assess(assess_options, streams);
  if (check_command) return check(check_options, streams);
  if (batch_command) return batch(batch_options, streams);
  if (order_command) return order(order_options, streams);
  if (goods_command) return goods(goods_options, streams);
  if (inspect_command) return inspect(inspect_options, streams);
  if (form_command) return form(form_options, streams);
  if (quick_command) return quick(quick_options, streams);
  return materials(materials_options, streams);
}

}  // namespace

Terminal terminal_of_process() {
  const char* no_color = std::getenv("NO_COLOR");
  const char* term = std::getenv("TERM");
  const bool dumb = term && std::string_view(term) == "dumb";
  return {::isatty(STDOUT_FILENO) == 1 && !(no_color && *no_color) && !dumb, ::isatty(STDERR_FILENO) == 1, STDIN_FILENO, STDOUT_FILENO};
}

void prepare_process() {
  std::signal(SIGXFSZ, SIG_IGN);
  for (int fd = STDIN_FILENO; fd <= STDERR_FILENO; ++fd) {
    if (::fcntl(fd, F_GETFD) != -1 || errno != EBADF) continue;
    // Opened for what the stream is not used for, so that its use still fails.
    if (::open("/dev/null", fd == STDIN_FILENO ? O_WRONLY : O_RDONLY) != fd) return;
  }
}

int run(std::span<const std::string_view> args, std::istream& in, std::ostream& out, std::ostream& err, Terminal terminal) {
  try {
    return dispatch(args, {in, out, err, terminal});
  } catch (const std::bad_alloc&) {
    err << "overjoist: out of memory\n";
  } catch (const std::exception& e) {
    err << "overjoist: this is a bug: " << printable(e.what()) << "\n";
  }
  return kBug;
}

}  // namespace overjoist::cli
