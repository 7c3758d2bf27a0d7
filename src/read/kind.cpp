// SPDX-License-Identifier: MIT
#include "read/kind.hpp"

#include <algorithm>
#include <array>

#include "read/json/text.hpp"
#include "read/json/top.hpp"

namespace overjoist::io {
namespace {

using F = FaultCode;

struct FileKind {
  std::string_view mark;  ///< its "format" or "table"
  std::string_view name;
  std::string_view use;  ///< the command that takes it or writes it
};

constexpr std::array<FileKind, 8> kKinds = {{
    {"overjoist-survey", "a survey", "overjoist assess SURVEY reads it"},
    {"overjoist-record", "a record of a finished job",
     "overjoist inspect SURVEY RECORD holds it against its survey"},
    {"overjoist-rebate", "the rules of a rebate",
     "overjoist assess --rebate RULES SURVEY reads it"},
    {"materials", "a table of materials", "overjoist assess --materials TABLE SURVEY reads it"},
    {"overjoist-materials", "the list of all tables",
     "its rows of materials are a table for --materials: overjoist materials --format json"},
    {"overjoist-evaluation", "a result", "give the survey that it was made from"},
    {"overjoist-inspection", "a result", "give the survey and the record that it was made from"},
    {"overjoist-goods", "a result", "give the survey that it was made from"},
}};
constexpr FileKind kSchema = {"", "a JSON Schema",
                              "overjoist form > survey.json writes an empty survey to fill in"};
constexpr FileKind kPage = {"", "a page to read in a browser",
                            "give the survey that it was made from"};
constexpr FileKind kLines = {"", "several surveys, one a line", "overjoist batch FILE reads them"};

const FileKind* known_kind(std::string_view mark) {
  const auto found = std::find_if(kKinds.begin(), kKinds.end(),
                                  [&](const FileKind& kind) { return kind.mark == mark; });
  return found == kKinds.end() ? nullptr : &*found;
}

std::string_view without_blanks_before(std::string_view text) {
  const std::size_t first = text.find_first_not_of(" \t\r\n\xEF\xBB\xBF");
  return first == std::string_view::npos ? std::string_view() : text.substr(first);
}

/// The first line is a whole survey and another line begins one.
bool is_lines(std::string_view text) {
  const std::size_t end = text.find('\n');
  if (end == std::string_view::npos) return false;
  const auto first = top_texts(text.substr(0, end));
  const auto format = first.find("format");
  return format != first.end() && format->second == kKinds[0].mark &&
         without_blanks_before(text.substr(end)).starts_with('{');
}

struct Found {
  const FileKind* kind = nullptr;
  std::string pointer;  ///< to the key that says so
};

Found kind_of(std::string_view text) {
  constexpr std::size_t kMostBytes = std::size_t{16} << 20U;  // a longer one is told fault by fault
  if (text.size() > kMostBytes) return {};
  const std::string_view begin = without_blanks_before(text);
  if (begin.starts_with('<')) return {&kPage, ""};
  if (!begin.starts_with('{')) return {};
  const auto texts = top_texts(begin);
  for (const char* key : {"format", "table"})
    if (const auto mark = texts.find(key); mark != texts.end())
      return {known_kind(mark->second), '/' + mark->first};
  if (texts.count("$schema") > 0) return {&kSchema, "/$schema"};
  return {is_lines(begin) ? &kLines : nullptr, ""};
}

}  // namespace

std::string format_of(std::string_view text) {
  const auto texts = top_texts(text);
  const auto format = texts.find("format");
  return format == texts.end() ? std::string() : format->second;
}

Diagnostics by_kind(std::string_view text, std::string_view wanted, Diagnostics faults) {
  if (faults.empty()) return faults;
  const Found found = kind_of(text);
  const FileKind* const asked = known_kind(wanted);
  if (!found.kind || !asked || found.kind->name == asked->name) return faults;
  const bool swapped = found.kind == &kKinds[0] && asked == &kKinds[1];
  Fault fault = swapped ? make_fault<F::survey_for_record>(found.kind->name, asked->name)
                        : make_fault<F::other_file>(found.kind->name, asked->name, found.kind->use);
  return placed(text, {{found.pointer, kNowhere, std::move(fault)}});
}

}  // namespace overjoist::io
