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
  const std::string temporary = fmt::format("{}.{}.part", path, ::getpid());
  const int fd = ::open(temporary.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0666);
  if (fd < 0) return fmt::format("{}: {}", path, reason());
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
  if (::fsync(fd) != 0 && errno != EINVAL && fault.empty()) fault = reason();
  if (::close(fd) != 0 && fault.empty()) fault = reason();
  if (fault.empty() && ::rename(temporary.c_str(), path.c_str()) != 0) fault = reason();
  if (fault.empty()) return "";
  ::unlink(temporary.c_str());
  return fmt::format("{}: {}", path, fault);
}

}  // namespace overjoist::cli
