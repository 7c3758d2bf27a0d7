// SPDX-License-Identifier: MIT
#include "cli/outputs.hpp"

#include <fmt/core.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <filesystem>
#include <ostream>

#include "cli/files.hpp"

namespace overjoist::cli {
namespace {

std::optional<FileIdentity> identity(const struct stat& info) {
  if (S_ISCHR(info.st_mode) || S_ISBLK(info.st_mode)) return {};
  return FileIdentity{info.st_dev, info.st_ino, ""};
}

bool is_standard(const std::string& path) { return path.empty() || path == "-"; }

std::string shown(const Output& output) {
  if (is_standard(output.path)) return "standard output";
  return fmt::format("{} {}", output.option, printable(output.path));
}

bool same(const std::optional<FileIdentity>& a, const std::optional<FileIdentity>& b) {
  return a && a == b;
}

}  // namespace

std::optional<FileIdentity> identity_of(const std::string& path) {
  struct stat info {};
  if (::stat(path.c_str(), &info) == 0) return identity(info);
  if (errno != ENOENT) return {};
  const std::filesystem::path target = behind_links(path);
  const std::string folder = target.has_parent_path() ? target.parent_path().string() : ".";
  if (::stat(folder.c_str(), &info) != 0) {
    // A folder that is still to be made: by its name alone.
    std::error_code code;
    return FileIdentity{0, 0, std::filesystem::weakly_canonical(target, code).string()};
  }
  return FileIdentity{info.st_dev, info.st_ino, target.filename().string()};
}

std::optional<FileIdentity> identity_of_stream(int descriptor) {
  struct stat info {};
  if (descriptor < 0 || ::fstat(descriptor, &info) != 0 || !S_ISREG(info.st_mode)) return {};
  return identity(info);
}

bool outputs_meet(const std::vector<Output>& outputs, const std::vector<std::string>& inputs,
                  const Streams& streams) {
  std::vector<std::optional<FileIdentity>> taken;
  for (const Output& o : outputs) {
    taken.push_back(is_standard(o.path) ? identity_of_stream(streams.terminal.output)
                                        : identity_of(o.path));
    for (std::size_t i = 0; i + 1 < taken.size(); ++i) {
      const bool both_standard = is_standard(o.path) && is_standard(outputs[i].path);
      if (!both_standard && !same(taken.back(), taken[i])) continue;
      streams.err << fmt::format(
          "overjoist: {} is the same file as {}; name another for one of them\n",
          both_standard ? fmt::format("{} -", o.option.empty() ? outputs[i].option : o.option)
                        : shown(o),
          shown(outputs[i]));
      return true;
    }
  }
  for (const std::string& path : inputs) {
    if (path.empty()) continue;
    const auto read = path == "-" ? identity_of_stream(streams.terminal.input) : identity_of(path);
    const auto at =
        std::find_if(taken.begin(), taken.end(), [&](const auto& t) { return same(t, read); });
    if (at == taken.end()) continue;
    const Output& output = outputs[static_cast<std::size_t>(at - taken.begin())];
    const std::string input = path == "-" ? "standard input" : printable(path);
    streams.err << fmt::format(
        "overjoist: {} would take the place of {}, which this run reads; name another file\n",
        shown(output), input);
    return true;
  }
  return false;
}

bool would_overwrite(const std::string& path, bool force, std::ostream& err) {
  struct stat info {};
  if (force || is_standard(path) || ::stat(path.c_str(), &info) != 0 || !S_ISREG(info.st_mode))
    return false;
  err << fmt::format(
      "overjoist: {} is there already; name another file, or say --force to write over it\n",
      printable(path));
  return true;
}

std::string shell_word(const std::string& word) {
  const auto safe = [](char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') ||
           std::string_view("._-/+,:=@%").find(c) != std::string_view::npos;
  };
  std::string path = !word.empty() && word.front() == '-' ? "./" + word : word;
  if (!path.empty() && std::all_of(path.begin(), path.end(), safe)) return path;
  std::string quoted = "'";
  for (const char c : path) quoted += c == '\'' ? std::string("'\\''") : std::string(1, c);
  return quoted + "'";
}

void tell_written(const std::string& path, const std::string& next, const Streams& streams) {
  if (is_standard(path)) return;
  streams.err << fmt::format("overjoist: wrote {}; {}\n", printable(path), printable(next));
}

}  // namespace overjoist::cli
