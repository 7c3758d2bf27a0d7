// SPDX-License-Identifier: MIT
#include "cli/result_folder.hpp"

#include <fmt/core.h>
#include <sys/stat.h>

#include <algorithm>
#include <cerrno>
#include <cstdint>
#include <cstring>
#include <filesystem>
#include <ostream>

#include "cli/files.hpp"

namespace overjoist::cli {
namespace {

namespace fs = std::filesystem;

constexpr std::size_t kMostStem = 60;   // characters of a name before its hash
constexpr std::size_t kHash = 12;       // of the hash
constexpr std::size_t kMostShown = 20;  // names told at the end
constexpr std::string_view kRecordEnding = ".json", kPageEnding = ".html";

bool is_digit(char c) { return c >= '0' && c <= '9'; }

/// FNV-1a of 64 bits as twelve digits: a letter from a to f, so that no date or number is taken for
/// one, then eleven of base 16.
std::string short_hash_of(std::string_view text) {
  std::uint64_t hash = 0xCBF29CE484222325U;
  for (const char c : text) hash = (hash ^ static_cast<unsigned char>(c)) * 0x100000001B3U;
  const std::uint64_t rest = hash & 0xFFFFFFFFFFFU;
  return fmt::format("{:c}{:011x}", static_cast<char>('a' + static_cast<int>((hash >> 44U) % 6)),
                     rest);
}

/// What is safe in a file's name; never hidden, never like an option.
std::string safe_stem(std::string_view called) {
  std::string safe;
  for (const char c : called.substr(0, kMostStem)) {
    const bool kept = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || is_digit(c) || c == '.' ||
                      c == '_' || c == '-';
    safe += kept ? c : '-';
  }
  if (safe.empty()) return "survey";
  if (safe.front() == '.' || safe.front() == '-') safe.front() = '_';
  return safe;
}

/// The link itself, not what it leads to.
std::optional<FileIdentity> own_identity(const std::string& path) {
  struct stat info {};
  if (::lstat(path.c_str(), &info) != 0) return {};
  return FileIdentity{info.st_dev, info.st_ino, ""};
}

}  // namespace

RecordOrigin origin_of(const std::string& path, std::size_t line, const std::string& name) {
  if (path == "-") {
    const std::string called = name.empty() ? "stdin" : name;
    return {called, "-" + called, line};
  }
  std::error_code code;
  fs::path real = fs::weakly_canonical(fs::absolute(path, code), code);
  const std::string base = fs::path(path).filename().string();
  return {base.substr(0, base.find_last_of('.')), code ? path : real.string(), line};
}

std::string result_name(std::string_view called, const RecordOrigin& origin,
                        std::string_view ending) {
  const std::string line = origin.line > 0 ? fmt::format("-line-{:06}", origin.line) : "";
  return fmt::format("{}-{}{}{}", safe_stem(called), short_hash_of(origin.key), line, ending);
}

bool is_result_name(std::string_view name, std::string_view ending) {
  if (!name.ends_with(ending)) return false;
  name.remove_suffix(ending.size());
  constexpr std::string_view kLine = "-line-";
  std::string_view before = name;
  while (!before.empty() && is_digit(before.back())) before.remove_suffix(1);
  if (before.size() < name.size() && before.ends_with(kLine))
    name = before.substr(0, before.size() - kLine.size());
  if (name.size() < kHash + 2 || name[name.size() - kHash - 1] != '-') return false;
  const std::string_view hash = name.substr(name.size() - kHash);
  return hash[0] >= 'a' && hash[0] <= 'f' && std::all_of(hash.begin(), hash.end(), [](char c) {
           return is_digit(c) || (c >= 'a' && c <= 'f');
         });
}

ResultFolder::ResultFolder(std::string_view option, std::string path, std::string_view ending)
    : option_(option), ending_(ending), path_(std::move(path)) {
  if (!used()) return;
  std::error_code code;
  for (fs::directory_iterator at(path_, code); !code && at != fs::directory_iterator();
       at.increment(code)) {
    const std::string name = at->path().filename().string();
    std::error_code kind;
    const bool own = is_result_name(name, ending_);
    if ((!own && !is_result_name(name, kRecordEnding) && !is_result_name(name, kPageEnding)) ||
        fs::is_directory(at->symlink_status(kind)))
      continue;
    holds_results_ = true;
    if (own) found_.push_back(name);
  }
  std::sort(found_.begin(), found_.end());
  written_.assign(found_.size(), 0);
  for (const std::string& name : found_)
    if (const auto one = own_identity(path_ + "/" + name)) files_.push_back(*one);
  std::sort(files_.begin(), files_.end());
}

bool ResultFolder::meets(const std::vector<std::string>& inputs, const std::vector<Output>& outputs,
                         const Streams& streams) const {
  if (!used()) return false;
  const auto holds = [&](const std::optional<FileIdentity>& one) {
    return one && std::binary_search(files_.begin(), files_.end(), *one);
  };
  const auto refuse = [&](const std::string& path, const char* what) {
    streams.err << fmt::format("overjoist: {} {} holds {}, {}; name another folder\n", option_,
                               printable(path_), printable(path), what);
    return true;
  };
  for (const std::string& path : inputs)
    if (path == "-") {
      if (holds(identity_of_stream(streams.terminal.input)))
        return refuse("standard input", "which this run reads");
    } else if (!path.empty() && (holds(own_identity(path)) || holds(identity_of(path)))) {
      return refuse(path, "which this run reads");
    }
  std::error_code code;
  const fs::path here = fs::weakly_canonical(path_, code);
  for (const Output& o : outputs) {
    if (o.path.empty() || o.path == "-") {
      if (!holds(identity_of_stream(streams.terminal.output))) continue;
      return refuse("standard output", "which may be the name of a result");
    }
    const fs::path there = fs::weakly_canonical(fs::absolute(behind_links(o.path), code), code);
    if (holds(identity_of(o.path)) || (there.parent_path() == fs::absolute(here, code) &&
                                       is_result_name(there.filename().string(), ending_)))
      return refuse(o.path, "which may be the name of a result");
  }
  return false;
}

std::string ResultFolder::make() const {
  if (!used() || ::mkdir(path_.c_str(), 0777) == 0 || errno == EEXIST) return "";
  return fmt::format("{}: {}", path_, std::strerror(errno));
}

std::string ResultFolder::put(const std::string& name, std::string_view text) {
  std::string fault = place_file(path_ + "/" + name, text);
  if (!fault.empty()) return fault;
  const std::lock_guard<std::mutex> lock(mutex_);
  const auto at = std::lower_bound(found_.begin(), found_.end(), name);
  if (at != found_.end() && *at == name)
    written_[static_cast<std::size_t>(at - found_.begin())] = 1;
  return "";
}

void ResultFolder::tell_left(std::ostream& err) const {
  const auto left = static_cast<std::size_t>(std::count(written_.begin(), written_.end(), 0));
  if (left == 0) return;
  err << fmt::format("overjoist: {} {} of earlier runs in {} {} not written by this one:\n", left,
                     left == 1 ? "file" : "files", printable(path_), left == 1 ? "was" : "were");
  std::size_t shown = 0;
  for (std::size_t i = 0; i < found_.size() && shown < kMostShown; ++i) {
    if (written_[i] != 0) continue;
    err << "  " << printable(found_[i]) << "\n";
    ++shown;
  }
  if (left > shown) err << fmt::format("  and {} more\n", left - shown);
}

}  // namespace overjoist::cli
