// SPDX-License-Identifier: MIT
#include "cli/app.hpp"

#include <fcntl.h>
#include <unistd.h>

#include <CLI/CLI.hpp>
#include <algorithm>
#include <cerrno>
#include <csignal>
#include <cstdlib>
#include <new>
#include <sstream>

#include "cli/options.hpp"
#include "overjoist/survey_json.hpp"
#include "overjoist/version.hpp"
#include "words/nearest.hpp"

namespace overjoist::cli {
namespace {

constexpr const char* kExitCodes =
    "Exit codes: 0 done; 1 several surveys and at least one refused, or a caution or\n"
    "verdict of the level named by --fail-on; 2 wrong use; 3 input unreadable or\n"
    "invalid, and none usable; 4 output could not be written; 70 a bug or out of\n"
    "memory; 129, 130, 143 hung up, interrupted or terminated.\n"
    "Estimates only: local code and licensed practice come first.";

constexpr const char* kFirstExamples =
    "  overjoist quick --area 1200 --depth 4,5,6 --material cellulose-loose --zone 5\n"
    "  overjoist assess survey.json\n";

/// The words in lines of at most `most` columns.
std::string wrapped(const std::string& text, std::size_t most) {
  std::istringstream words(text);
  std::string out, line;
  for (std::string word; words >> word;) {
    if (!line.empty() && line.size() + 1 + word.size() > most) {
      out += line + '\n';
      line.clear();
    }
    line += (line.empty() ? "" : " ") + word;
  }
  return out + line;
}

/// Help with examples first.
class ExamplesFirst : public CLI::Formatter {
 public:
  std::string make_help(const CLI::App* app, std::string name,
                        CLI::AppFormatMode mode) const override {
    std::string page = CLI::Formatter::make_help(app, name, mode);
    if (mode != CLI::AppFormatMode::Normal) return page;
    if (!app->get_parent()) return "Examples:\n" + std::string(kFirstExamples) + "\n" + page;
    const auto all = commands();
    const auto at = std::find_if(all.begin(), all.end(),
                                 [&](const Command& c) { return app->get_name() == c.name; });
    return at == all.end() ? page : "Examples:\n" + std::string(at->examples) + "\n" + page;
  }
  /// What an option is, beside its name and within 80 columns.
  std::string make_option_desc(const CLI::Option* option) const override {
    constexpr std::size_t kColumns = 80;
    return wrapped(CLI::Formatter::make_option_desc(option), kColumns - get_column_width());
  }
};

/// Adds the nearest known option or command to a message about an unknown one.
std::string with_nearest(std::string message, const CLI::App& app,
                         std::span<const std::string_view> args) {
  std::vector<std::string> names;
  for (const CLI::App* a : app.get_subcommands({}))
    for (const CLI::Option* o : a->get_options())
      for (const std::string& l : o->get_lnames()) names.push_back("--" + l);
  const std::vector<std::string_view> known(names.begin(), names.end());
  for (std::string_view arg : args) {
    const std::string_view word = arg.substr(0, arg.find('='));
    if (word.substr(0, 2) != "--" || word.size() == 2 ||
        std::find(known.begin(), known.end(), word) != known.end())
      continue;
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

/// The nearest known command where the first word names none.
std::string unknown_command(std::string_view word) {
  std::vector<std::string_view> known;
  for (const Command& command : commands()) known.emplace_back(command.name);
  if (word.empty() || word[0] == '-' || std::find(known.begin(), known.end(), word) != known.end())
    return "";
  const std::string_view near = nearest_name(word, known);
  const std::string hint = near.empty() ? "" : "; did you mean '" + std::string(near) + "'?";
  return "there is no command '" + std::string(word) + "'" + hint;
}

std::string version_text() {
  std::string text = std::string("overjoist ") + kVersion;
  for (const TableStamp& t : builtin_tables().stamps)
    text += "\n  table " + t.name + " version " + t.version + " hash " + t.hash;
  return text;
}

/// "name a command: assess, quick, ... or materials"
std::string name_a_command() {
  std::string text = "name a command: ";
  const auto all = commands();
  for (std::size_t i = 0; i < all.size(); ++i)
    text += (i == 0 ? "" : i + 1 < all.size() ? ", " : " or ") + std::string(all[i].name);
  return text;
}

int dispatch(std::span<const std::string_view> args, const Streams& streams) {
  CLI::App app{
      "Works out what an attic's insulation is really worth, and what it takes to bring it to a "
      "target.",
      "overjoist"};
  app.formatter(std::make_shared<ExamplesFirst>());
  app.footer(kExitCodes);
  app.set_version_flag("--version", version_text);
  app.require_subcommand(1);
  Options options;
  std::vector<const CLI::App*> declared;
  for (const Command& command : commands()) {
    CLI::App* const page = app.add_subcommand(command.name, command.summary);
    command.declare(*page, options);
    declared.push_back(page);
  }
  if (args.empty()) return wrong_use(streams.err, name_a_command());
  if (const std::string unknown = unknown_command(args[0]); !unknown.empty())
    return wrong_use(streams.err, unknown);
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
  const auto chosen = std::find_if(declared.begin(), declared.end(),
                                   [](const CLI::App* page) { return page->parsed(); });
  return commands()[static_cast<std::size_t>(chosen - declared.begin())].run(options, streams);
}

}  // namespace

Terminal terminal_of_process() {
  const char* no_color = std::getenv("NO_COLOR");
  const char* term = std::getenv("TERM");
  const bool dumb = term && std::string_view(term) == "dumb";
  return {::isatty(STDOUT_FILENO) == 1 && !(no_color && *no_color) && !dumb,
          ::isatty(STDERR_FILENO) == 1, STDIN_FILENO, STDOUT_FILENO};
}

void prepare_process() {
  std::signal(SIGXFSZ, SIG_IGN);
  for (int fd = STDIN_FILENO; fd <= STDERR_FILENO; ++fd) {
    if (::fcntl(fd, F_GETFD) != -1 || errno != EBADF) continue;
    // Opened for what the stream is not used for, so that its use still fails.
    if (::open("/dev/null", fd == STDIN_FILENO ? O_WRONLY : O_RDONLY) != fd) return;
  }
}

int run(std::span<const std::string_view> args, std::istream& in, std::ostream& out,
        std::ostream& err, Terminal terminal) {
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
