// SPDX-License-Identifier: MIT
#include "cli/batch_sources.hpp"

#include <fcntl.h>
#include <fmt/core.h>
#include <poll.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <cstring>
#include <istream>
#include <ostream>

#include "cli/files.hpp"

namespace overjoist::cli {
namespace {

class DescriptorSource : public ByteSource {
 public:
  DescriptorSource(int fd, bool owned, const std::atomic<int>& signal)
      : fd_(fd), owned_(owned), signal_(signal) {}
  ~DescriptorSource() override {
    if (owned_) ::close(fd_);
  }
  DescriptorSource(const DescriptorSource&) = delete;
  DescriptorSource& operator=(const DescriptorSource&) = delete;

  std::size_t read(char* to, std::size_t most) override {
    constexpr int kWake = 100;  // ms
    while (signal_ == 0) {
      pollfd ready{fd_, POLLIN, 0};
      const int polled = ::poll(&ready, 1, kWake);
      if (polled == 0 || (polled < 0 && errno == EINTR)) continue;
      const ssize_t n = ::read(fd_, to, most);
      if (n >= 0) return static_cast<std::size_t>(n);
      if (errno == EINTR || errno == EAGAIN) continue;
      fault_ = errno == EBADF ? "standard input is closed"
                              : fmt::format("it cannot be read: {}", std::strerror(errno));
      return 0;
    }
    return 0;
  }
  std::string fault() const override { return fault_; }

 private:
  int fd_;
  bool owned_;
  const std::atomic<int>& signal_;
  std::string fault_;
};

class StreamSource : public ByteSource {
 public:
  explicit StreamSource(std::istream& in) : in_(in) {}
  std::size_t read(char* to, std::size_t most) override {
    in_.read(to, static_cast<std::streamsize>(most));
    return static_cast<std::size_t>(in_.gcount());
  }
  std::string fault() const override { return in_.bad() ? "it cannot be read" : ""; }

 private:
  std::istream& in_;
};

void add_folder(BatchPaths& all, const std::string& folder, std::ostream& err) {
  const FolderFiles found = survey_files(folder);
  const std::size_t before = all.inputs.size();
  for (const std::string& file : found.surveys)
    if (!has_ending(file, "/record.json"))
      all.inputs.push_back({file, has_ending(file, ".jsonl")});  // of `inspect`, beside its survey
  all.links += found.links;
  all.odd += found.odd.size();
  tell_odd(found, err);
  std::string fault = found.fault;
  if (fault.empty() && all.inputs.size() == before)
    fault = "there is no survey in this folder, no .json or .jsonl file";
  if (fault.empty()) return;
  err << "overjoist: " << printable(folder) << ": " << fault << "\n";
  all.inputs.push_back({folder, false});
  all.faults[folder] = fault;
}

}  // namespace

std::vector<std::string> BatchPaths::files() const {
  std::vector<std::string> paths;
  for (const BatchInput& input : inputs)
    if (faults.find(input.path) == faults.end()) paths.push_back(input.path);
  return paths;
}

BatchPaths open_up(const std::vector<std::string>& paths, std::ostream& err) {
  BatchPaths all;
  for (const std::string& path : paths) {
    struct stat info {};
    if (path != "-" && ::stat(path.c_str(), &info) == 0 && S_ISDIR(info.st_mode))
      add_folder(all, path, err);
    else
      all.inputs.push_back({path, path == "-" || has_ending(path, ".jsonl")});
  }
  return all;
}

std::string read_survey_file(const std::string& path, std::string& text) {
  text.clear();
  const int fd = ::open(path.c_str(), O_RDONLY | O_CLOEXEC);
  if (fd < 0) return fmt::format("it cannot be opened: {}", std::strerror(errno));
  constexpr std::size_t kBlock = std::size_t{16} * 1024, kMost = std::size_t{16} * 1024 * 1024;
  std::string fault;
  for (std::size_t done = 0;;) {
    text.resize(done + kBlock);
    const ssize_t n = ::read(fd, text.data() + done, kBlock);
    if (n < 0 && errno == EINTR) continue;
    if (n < 0) fault = fmt::format("it cannot be read: {}", std::strerror(errno));
    done += n > 0 ? static_cast<std::size_t>(n) : 0;
    text.resize(done);
    if (n <= 0 || done > kMost) break;
  }
  ::close(fd);
  return fault;
}

std::unique_ptr<ByteSource> descriptor_source(int fd, bool owned, const std::atomic<int>& signal) {
  return std::make_unique<DescriptorSource>(fd, owned, signal);
}

std::unique_ptr<ByteSource> stream_source(std::istream& in) {
  return std::make_unique<StreamSource>(in);
}

}  // namespace overjoist::cli
