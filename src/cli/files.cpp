// SPDX-License-Identifier: MIT
#include "cli/files.hpp"

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <istream>

namespace overjoist::cli {
namespace {

constexpr std::size_t kMostBytes = std::size_t{16} * 1024 * 1024;

FileRead read_stream(std::istream& in) {
  FileRead read;
  std::string block(std::size_t{64} * 1024, '\0');
  while (in.read(block.data(), static_cast<std::streamsize>(block.size())) || in.gcount() > 0) {
    read.text.append(block, 0, static_cast<std::size_t>(in.gcount()));
    if (read.text.size() > kMostBytes) return {"", "it is larger than 16 MiB; split the surveys into files of their own"};
  }
  if (in.bad()) read.fault = "it cannot be read";
  return read;
}

std::string reason() { return std::strerror(errno); }

/// Writes the text and closes the file.  @returns "" or what went wrong
std::string fill_and_close(int fd, const std::string& text) {
  std::string fault;
  for (std::size_t done = 0; done < text.size();) {
    const ssize_t n = ::write(fd, text.data() + done, text.size() - done);
    if (n > 0)
      done += static_cast<std::size_t>(n);
    else if (n < 0 && errno != EINTR) {
      fault = reason();
      break;
    }
  }
  if (::fsync(fd) != 0 && errno != EINVAL && fault.empty()) fault = reason();  // pipes and devices cannot be synced
  if (::close(fd) != 0 && fault.empty()) fault = reason();
  return fault;
}

/// Names for what this process has open: a new file must not take the place of what lies behind.
bool is_open_descriptor(const std::string& path) {
  return path == "/dev/stdout" || path == "/dev/stderr" || path.rfind("/dev/fd/", 0) == 0 || path.rfind("/proc/self/fd/", 0) == 0;
}

/// A device, a pipe: written to as it is. A folder is refused by the system.
std::string write_into(const std::string& path, const std::string& text) {
  const int fd = ::open(path.c_str(), O_WRONLY | O_APPEND | O_NOCTTY | O_CLOEXEC);
  return fd < 0 ? reason() : fill_and_close(fd, text);
}

/// The path that links lead to, which need not exist; after too many links the path reached by then.
std::string behind_links(const std::string& path) {
  namespace fs = std::filesystem;
  constexpr int kMostLinks = 40;
  fs::path at = path;
  std::error_code code;
  for (int i = 0; i < kMostLinks && fs::is_symlink(fs::symlink_status(at, code)); ++i) at = at.parent_path() / fs::read_symlink(at, code);
  return at.string();
}

/// A new file beside the old one takes its place and keeps its mode, and its owner where that is allowed.
/// @param old  of the file that is replaced; null if there is none
std::string replace_file(const std::string& path, const struct stat* old, const std::string& text) {
  if (old && ::access(path.c_str(), W_OK) != 0) return reason();
  const std::string temporary = fmt::format("{}.{}.part", path, ::getpid());
  const int fd = ::open(temporary.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, old ? 0600 : 0666);
  if (fd < 0) return reason();
  std::string fault;
  if (old) {
    // Who may not give files away keeps the new one.
    const bool same_owner = ::fchown(fd, old->st_uid, old->st_gid) == 0;
    const mode_t most = same_owner ? 07777 : 0777;
    if (::fchmod(fd, old->st_mode & most) != 0) fault = reason();
  }
  const std::string written = fill_and_close(fd, text);
  if (fault.empty()) fault = written;
  if (fault.empty() && ::rename(temporary.c_str(), path.c_str()) != 0) fault = reason();
  if (!fault.empty()) ::unlink(temporary.c_str());
  return fault;
}

}  // namespace

FileRead read_input(const std::string& path, std::istream& in) {
  if (path == "-") return read_stream(in);
  struct stat info {};
  if (::stat(path.c_str(), &info) != 0) return {"", fmt::format("it cannot be opened: {}; check the path", reason())};
  if (S_ISDIR(info.st_mode)) return {"", "it is a folder; name the survey file in it"};
  std::ifstream file(path, std::ios::binary);
  if (!file) return {"", fmt::format("it cannot be opened: {}; check that you may read it", reason())};
  return read_stream(file);
}

std::vector<std::string> survey_files(const std::string& folder, std::string& fault) {
  namespace fs = std::filesystem;
  std::vector<std::string> found;
  std::error_code code;
  fs::recursive_directory_iterator at(folder, code);
  for (; !code && at != fs::recursive_directory_iterator(); at.increment(code)) {
    const fs::path extension = at->path().extension();
    std::error_code kind;
    if ((extension == ".json" || extension == ".jsonl") && !at->is_directory(kind)) found.push_back(at->path().string());
  }
  if (code) fault = fmt::format("the folder cannot be read: {}", code.message());
  std::sort(found.begin(), found.end());
  return found;
}

std::string write_whole_file(const std::string& path, const std::string& text) {
  struct stat info {};
  const bool exists = ::stat(path.c_str(), &info) == 0;
  if (!exists && errno != ENOENT) return fmt::format("{}: {}", path, reason());
  const bool direct = (exists && !S_ISREG(info.st_mode)) || is_open_descriptor(path);
  const std::string fault = direct ? write_into(path, text) : replace_file(behind_links(path), exists ? &info : nullptr, text);
  return fault.empty() ? "" : fmt::format("{}: {}", path, fault);
}

}  // namespace overjoist::cli
