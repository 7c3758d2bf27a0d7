// SPDX-License-Identifier: MIT
#include "cli/files.hpp"

#include <fcntl.h>
#include <fmt/core.h>
#include <poll.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <atomic>
#include <cerrno>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <istream>
#include <ostream>

#include "overjoist/report.hpp"

namespace overjoist::cli {
namespace {

constexpr std::size_t kMostBytes = std::size_t{16} * 1024 * 1024;

FileRead read_stream(std::istream& in) {
  FileRead read;
  std::string block(std::size_t{64} * 1024, '\0');
  while (in.read(block.data(), static_cast<std::streamsize>(block.size())) || in.gcount() > 0) {
    read.text.append(block, 0, static_cast<std::size_t>(in.gcount()));
    if (read.text.size() > kMostBytes)
      return {"", "it is larger than 16 MiB; split the surveys into files of their own"};
  }
  if (in.bad()) read.fault = "it cannot be read";
  return read;
}

std::string reason() { return std::strerror(errno); }

/// Writes the text and closes the file.  @returns "" or what went wrong
std::string fill_and_close(int fd, std::string_view text) {
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
  if (::fsync(fd) != 0 && errno != EINVAL && fault.empty())
    fault = reason();  // pipes and devices cannot be synced
  if (::close(fd) != 0 && fault.empty()) fault = reason();
  return fault;
}

/// Names for what this process has open: a new file must not take the place of what lies behind.
bool is_open_descriptor(const std::string& path) {
  return path == "/dev/stdout" || path == "/dev/stderr" || path.rfind("/dev/fd/", 0) == 0 ||
         path.rfind("/proc/self/fd/", 0) == 0;
}

/// A device, a pipe: written to as it is. A folder is refused by the system.
std::string write_into(const std::string& path, const std::string& text) {
  const int fd = ::open(path.c_str(), O_WRONLY | O_APPEND | O_NOCTTY | O_CLOEXEC);
  return fd < 0 ? reason() : fill_and_close(fd, text);
}

/// Opens a new file beside `path`, of a name that nothing has yet.
int open_beside(const std::string& path, mode_t mode, std::string& name) {
  constexpr int kMostTries = 100;
  static std::atomic<unsigned> number{0};
  for (int i = 0; i < kMostTries; ++i) {
    name = fmt::format("{}.{}-{}.part", path, ::getpid(), ++number);
    const int fd = ::open(name.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, mode);
    if (fd >= 0 || errno != EEXIST) return fd;
  }
  return -1;
}

/// A new file beside the old one takes its place and keeps its mode, and its owner where that is
/// allowed.
/// @param old  of the file that is replaced; null if there is none
std::string replace_file(const std::string& path, const struct stat* old, std::string_view text) {
  if (old && ::access(path.c_str(), W_OK) != 0) return reason();
  std::string temporary;
  const int fd = open_beside(path, old ? 0600 : 0666, temporary);
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

/// Bytes of what was written that end where the text may break off.
std::size_t whole_part(std::string_view written, Cut cut) {
  if (cut == Cut::nowhere) return 0;
  std::size_t whole = 0;
  bool quoted = false;
  for (std::size_t i = 0; i < written.size(); ++i) {
    if (written[i] == '"' && cut == Cut::after_rows) quoted = !quoted;
    if (written[i] == '\n' && !quoted) whole = i + 1;
  }
  return whole;
}

/// Shortens a file by the last bytes that were written to it, unless someone else has written on.
void take_back(int fd, std::size_t bytes) {
  struct stat info {};
  const off_t at = ::lseek(fd, 0, SEEK_CUR);
  if (bytes == 0 || at < 0 || ::fstat(fd, &info) != 0 || !S_ISREG(info.st_mode) ||
      info.st_size != at)
    return;
  const off_t whole = at - static_cast<off_t>(bytes);
  if (::ftruncate(fd, whole) == 0) ::lseek(fd, whole, SEEK_SET);
}

}  // namespace

FileRead read_input(const std::string& path, std::istream& in) {
  if (path == "-") return read_stream(in);
  struct stat info {};
  if (::stat(path.c_str(), &info) != 0)
    return {"", fmt::format("it cannot be opened: {}; check the path", reason())};
  if (S_ISDIR(info.st_mode))
    return {"", "it is a folder; name the survey file in it, or run overjoist batch FOLDER"};
  std::ifstream file(path, std::ios::binary);
  if (!file)
    return {"", fmt::format("it cannot be opened: {}; check that you may read it", reason())};
  return read_stream(file);
}

bool has_ending(std::string_view path, std::string_view ending) {
  const auto same = [](char a, char b) {
    return a == b || (a >= 'A' && a <= 'Z' && a - 'A' + 'a' == b);
  };
  return path.size() >= ending.size() &&
         std::equal(ending.begin(), ending.end(),
                    path.end() - static_cast<std::ptrdiff_t>(ending.size()),
                    [&](char e, char p) { return same(p, e); });
}

FolderFiles survey_files(const std::string& folder) {
  namespace fs = std::filesystem;
  FolderFiles found;
  std::error_code code;
  fs::recursive_directory_iterator at(folder, code);
  for (; !code && at != fs::recursive_directory_iterator(); at.increment(code)) {
    std::error_code kind;
    const std::string path = at->path().string();
    const fs::file_type type = at->status(kind).type();
    if (type == fs::file_type::directory)
      found.links += at->is_symlink(kind) ? 1 : 0;
    else if (has_ending(path, ".json") || has_ending(path, ".jsonl"))
      // What leads nowhere or may not be looked at is kept: its record says so.
      (type == fs::file_type::fifo || type == fs::file_type::socket ||
               type == fs::file_type::character || type == fs::file_type::block
           ? found.odd
           : found.surveys)
          .push_back(path);
  }
  if (code) found.fault = fmt::format("the folder cannot be read: {}", code.message());
  std::sort(found.surveys.begin(), found.surveys.end());
  std::sort(found.odd.begin(), found.odd.end());
  return found;
}

void tell_odd(const FolderFiles& files, std::ostream& err) {
  for (const std::string& path : files.odd)
    err << "overjoist: " << printable(path)
        << ": passed over: a pipe, socket or device, not a file\n";
}

std::string behind_links(const std::string& path) {
  namespace fs = std::filesystem;
  constexpr int kMostLinks = 40;
  fs::path at = path;
  std::error_code code;
  for (int i = 0; i < kMostLinks && fs::is_symlink(fs::symlink_status(at, code)); ++i)
    at = at.parent_path() / fs::read_symlink(at, code);
  return at.string();
}

std::string write_whole_file(const std::string& path, const std::string& text) {
  struct stat info {};
  const bool exists = ::stat(path.c_str(), &info) == 0;
  if (!exists && errno != ENOENT) return fmt::format("{}: {}", path, reason());
  const bool direct = (exists && !S_ISREG(info.st_mode)) || is_open_descriptor(path);
  const std::string fault = direct
                                ? write_into(path, text)
                                : replace_file(behind_links(path), exists ? &info : nullptr, text);
  return fault.empty() ? "" : fmt::format("{}: {}", path, fault);
}

std::string place_file(const std::string& path, std::string_view text) {
  const std::string fault = replace_file(path, nullptr, text);
  return fault.empty() ? "" : fmt::format("{}: {}", path, fault);
}

bool write_descriptor(int fd, std::string_view text, Cut cut) {
  std::size_t done = 0;
  while (done < text.size()) {
    const ssize_t n = ::write(fd, text.data() + done, text.size() - done);
    if (n > 0) {
      done += static_cast<std::size_t>(n);
    } else if (n < 0 && errno == EAGAIN) {
      pollfd ready{fd, POLLOUT, 0};
      ::poll(&ready, 1, -1);
    } else if (n == 0 || errno != EINTR) {
      take_back(fd, done - whole_part(text.substr(0, done), cut));
      return false;
    }
  }
  return true;
}

}  // namespace overjoist::cli
