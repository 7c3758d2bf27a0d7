// SPDX-License-Identifier: MIT
#include "cli/options.hpp"

#include <CLI/CLI.hpp>
#include <array>

#include "cli/common_options.hpp"

// What each command is called, what it does and what it takes: the help page is written from here.
namespace overjoist::cli {
namespace {

void add_quick(CLI::App& c, QuickOptions& o) {
  c.add_option("--area", o.area, "ceiling area: 1200 (ft2), '110 m2'")->type_name("AREA");
  c.add_option("--depth", o.depths, "readings from the ceiling up: 4,5,6 or '4 to 6' or '8 cm'")
      ->type_name("LIST");
  c.add_option("--bare", o.bare,
               "area without insulation, as measured: 60 (ft2), '5 m2', 5%; 0 for none")
      ->type_name("AREA");
  c.add_option("--material", o.material, "what lies there, or none; not told: unknown loose fill")
      ->type_name("ID");
  c.add_option("--label-r", o.label_r, "of a batt")->type_name("R");
  c.add_option("--label-thickness", o.thickness, "of a batt, in.")->type_name("DEPTH");
  c.add_option("--joist", o.joist, "nominal size; not told: 2x6")->type_name("SIZE");
  c.add_option("--spacing", o.spacing, "joists on center, in.; not told: 16")->type_name("LENGTH");
  c.add_option("--ceiling", o.ceiling, "board; not told: gypsum-1/2")->type_name("ID");
  c.add_option("--zone", o.zone, "climate zone, such as 5 or 4C: sets the target band")
      ->type_name("ZONE");
  c.add_option("--target-low", o.target_low, "low end of the target band")->type_name("R");
  c.add_option("--target-high", o.target_high, "high end of the target band")->type_name("R");
  c.add_option("--add", o.add, "loose fill to add; not told: cellulose-loose")->type_name("ID");
  c.add_option("--bag-lb", o.bag_lb, "net weight of a bag, lb")->type_name("MASS");
  c.add_option("--bag-price", o.bag_price, "price of a bag")->type_name("MONEY");
  c.add_option("--labour-per-ft2", o.labour_per_ft2, "price of labor per ft2; 0 for your own")
      ->type_name("MONEY");
  c.add_option("--currency", o.currency, "shown before prices")->type_name("TEXT");
  c.add_option("--fuel", o.fuel, "of the heating, such as natural-gas: works out a yearly saving")
      ->type_name("ID");
  c.add_option("--efficiency", o.efficiency, "of the heating, as a share: 0.8")->type_name("SHARE");
  c.add_option("--cop", o.cop, "seasonal COP of a heat pump, instead of --efficiency")
      ->type_name("COP");
  c.add_option("--fuel-price", o.fuel_price, "price of the fuel's unit")->type_name("MONEY");
  c.add_option("--degree-days", o.degree_days, "heating degree days at base 65 F, F day")
      ->type_name("HDD");
  c.add_option("--save", o.save_file,
               "write the survey that the flags stood for; - is standard output")
      ->check(named())
      ->type_name("FILE");
  c.add_flag("--force", o.force, "--save writes over a file that is there");
  add_common(c, o.common);
  set_formats(c, o.common, "text", {"text", "html", "json"},
              "text or html (a page) for people, json for programs");
  add_fail_on(c, o.common);
  add_evaluation(c, o.common);
  add_compare(c, o.common);
  for (CLI::Option* option : c.get_options())
    if (option->get_expected_max() > 0) option->check(told());
}

void add_assess(CLI::App& c, AssessOptions& o) {
  c.add_option("survey", o.surveys, "survey files; - is standard input")
      ->required()
      ->type_name("SURVEY");
  add_common(c, o.common);
  set_formats(c, o.common, "text", {"text", "html", "json", "csv"},
              "text or html (the owner's report as a page) for people, json and csv for programs");
  add_csv(c, o.rows, o.raw_text);
  add_fail_on(c, o.common);
  add_evaluation(c, o.common);
  add_compare(c, o.common);
}

void add_check(CLI::App& c, AssessOptions& o) {
  c.add_option("survey", o.surveys, "survey files; - is standard input")
      ->required()
      ->type_name("SURVEY");
  c.add_option("--materials", o.common.materials_file,
               "a table of your own: adds or overrides materials")
      ->check(named())
      ->type_name("FILE");
}

void add_batch(CLI::App& c, BatchCommandOptions& o) {
  c.add_option("path", o.paths,
               "survey files, folders, *.jsonl (one survey a line); - is standard input as *.jsonl")
      ->required()
      ->type_name("PATH");
  add_common(c, o.common);
  set_formats(c, o.common, "json", {"json", "csv"}, "json: one record a line; csv: RFC 4180");
  add_csv(c, o.rows, o.raw_text);
  add_fail_on(c, o.common);
  add_evaluation(c, o.common);
  add_compare(c, o.common);
  c.remove_option(c.get_option("--output"));
  c.remove_option(c.get_option("--no-color"));
  c.add_option("--to", o.folder, "a file for each record in this folder")
      ->check(folder())
      ->type_name("DIR");
  c.add_option("--html-folder", o.html_folder,
               "the owner's report of each survey as a page in this folder, beside the records")
      ->check(folder())
      ->type_name("DIR");
  c.add_option("--name", o.name, "what standard input is called in the names of those files")
      ->check(named())
      ->type_name("NAME");
  c.add_option("--jobs", o.jobs,
               "threads; not told: one for each core. The bytes are the same for any number")
      ->check(CLI::Range(1, 256))
      ->type_name("N");
  c.add_option("--rank", o.rank,
               "short records, greatest first: ua-lost, r-gap, bags or saving-per-cost")
      ->check(CLI::IsMember({"ua-lost", "r-gap", "bags", "saving-per-cost"}))
      ->type_name("KEY");
  c.add_option("--summary", o.summary_file,
               "counts and portfolio totals as JSON; - is standard output")
      ->check(named())
      ->type_name("FILE");
  c.add_flag("--rejects-ok", o.rejects_ok,
             "exit 0 although surveys were refused: for line engines");
}

void add_prices(CLI::App& c, bool& prices, bool& no_prices) {
  CLI::Option* with = c.add_flag("--prices", prices, "show prices; so it is unless told otherwise");
  c.add_flag("--no-prices", no_prices, "no money anywhere")->excludes(with);
}

void add_order(CLI::App& c, OrderOptions& o) {
  c.add_option("survey", o.survey, "a survey file; - is standard input")
      ->required()
      ->type_name("SURVEY");
  add_common(c, o.common);
  set_formats(c, o.common, "text", {"text", "html"}, "text, or html: a page to print");
  add_fail_on(c, o.common);
  add_evaluation(c, o.common);
  add_compare(c, o.common);
  c.add_option("--target", o.target,
               "the end of the target band to build: low or high; not told: high")
      ->check(CLI::IsMember({"low", "high"}))
      ->type_name("");
  add_prices(c, o.prices, o.no_prices);
}

void add_goods(CLI::App& c, GoodsOptions& o) {
  c.add_option("survey", o.surveys, "survey files; - is standard input")
      ->required()
      ->type_name("SURVEY");
  add_common(c, o.common);
  set_formats(c, o.common, "text", {"text", "html", "json", "csv"},
              "text or html for people, json and csv for programs");
  c.add_flag("--raw-text", o.raw_text,
             "CSV text as it stands, without escapes and the guard against formulas");
  add_fail_on(c, o.common);
  add_evaluation(c, o.common);
  add_compare(c, o.common);
  add_prices(c, o.prices, o.no_prices);
}

void add_inspect(CLI::App& c, InspectOptions& o) {
  c.add_option("path", o.paths,
               "a survey and its record, as often as needed;\nor a folder: every survey.json and "
               "record.json below it")
      ->required()
      ->type_name("SURVEY RECORD");
  add_common(c, o.common);
  set_formats(
      c, o.common, "text", {"text", "html", "json", "jsonl", "csv"},
      "text for people; html with --receipt;\njson, jsonl (a record a line) and csv for programs");
  c.add_flag("--receipt", o.receipt,
             "the receipt of 16 CFR 460.17 instead of the inspection: text or html");
  c.add_flag("--raw-text", o.raw_text,
             "CSV text as it stands, without escapes and the guard against formulas");
  c.add_option("--fail-on", o.common.fail_on,
               "exit 1 if bags, depths or area fall short of the plan (short),\n"
               "also if bags and depths do not prove the plan, or a stop is open (unproven),\n"
               "or a caution of this level or above stands: stop, fix-first, care")
      ->check(CLI::IsMember({"short", "unproven", "stop", "fix-first", "care"}))
      ->type_name("LEVEL");
  add_evaluation(c, o.common);
}

void add_form(CLI::App& c, FormOptions& o) {
  c.add_option("--format", o.format,
               "json: an empty survey to fill in; html: a field sheet to print")
      ->check(CLI::IsMember({"json", "html"}))
      ->type_name("");
  add_output(c, o.output_file);
  c.add_flag("--force", o.force, "write over a file that is there");
}

/// The rows of the help page, in its order.
constexpr std::array<Command, 9> kCommands = {{
    {"assess", "the main job: what you have, what to add, what it takes",
     "  overjoist assess survey.json\n"
     "  overjoist assess --format html --output report.html survey.json\n"
     "  overjoist assess --units si --format json survey.json\n"
     "  cat survey.json | overjoist assess --fail-on stop -\n",
     [](CLI::App& c, Options& o) { add_assess(c, o.assess); },
     [](const Options& o, const Streams& s) { return assess(o.assess, s); }},
    {"quick", "a what-if from flags alone, without a file",
     "  overjoist quick --area 1200 --depth 4,5,6 --material cellulose-loose --zone 5\n"
     "  overjoist quick --area '110 m2' --depth '8 cm' --joist 2x8 --units si\n"
     "  overjoist quick --area 900 --depth 0 --material none --bag-price 14.50\n"
     "  overjoist quick --area 900 --depth 5 --fuel natural-gas --efficiency 0.8 \\\n"
     "      --fuel-price 1.3 --degree-days 5200\n",
     [](CLI::App& c, Options& o) { add_quick(c, o.quick); },
     [](const Options& o, const Streams& s) { return quick(o.quick, s); }},
    {"check", "faults of survey files, nothing else", "  overjoist check survey.json\n",
     [](CLI::App& c, Options& o) { add_check(c, o.check); },
     [](const Options& o, const Streams& s) { return check(o.check, s); }},
    {"batch", "many surveys: one record out for each record in",
     "  overjoist batch surveys/ > results.jsonl\n"
     "  overjoist batch --rank ua-lost - < surveys.jsonl\n",
     [](CLI::App& c, Options& o) { add_batch(c, o.batch); },
     [](const Options& o, const Streams& s) { return batch(o.batch, s); }},
    {"order", "the work order: steps, quantities, what to load",
     "  overjoist order survey.json\n  overjoist order --target low --no-prices survey.json\n",
     [](CLI::App& c, Options& o) { add_order(c, o.order); },
     [](const Options& o, const Streams& s) { return order(o.order, s); }},
    {"goods", "the shopping list: what to buy and load, for both ends of the band",
     "  overjoist goods survey.json\n"
     "  overjoist goods --no-prices --format csv survey.json > goods.csv\n",
     [](CLI::App& c, Options& o) { add_goods(c, o.goods); },
     [](const Options& o, const Streams& s) { return goods(o.goods, s); }},
    {"form", "an empty survey to fill in, and a field sheet to print",
     "  overjoist form > survey.json\n  overjoist form --format html --output sheet.html\n",
     [](CLI::App& c, Options& o) { add_form(c, o.form); },
     [](const Options& o, const Streams& s) { return form(o.form, s); }},
    {"inspect", "after the job: bags and depths against the plan, receipt, rebate papers",
     "  overjoist inspect survey.json record.json\n"
     "  overjoist inspect --receipt --format html survey.json record.json > page.html\n"
     "  overjoist inspect --format csv --fail-on short jobs/\n",
     [](CLI::App& c, Options& o) { add_inspect(c, o.inspect); },
     [](const Options& o, const Streams& s) { return inspect(o.inspect, s); }},
    {"materials", "the tables in use, with sources",
     "  overjoist materials\n  overjoist materials --materials mine.json --format json\n",
     [](CLI::App& c, Options& o) { add_common(c, o.materials); },
     [](const Options& o, const Streams& s) { return materials(o.materials, s); }},
}};

}  // namespace

std::span<const Command> commands() { return kCommands; }

}  // namespace overjoist::cli
