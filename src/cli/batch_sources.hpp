// SPDX-License-Identifier: MIT
#pragma once
#include <atomic>
#include <iosfwd>
#include <map>
#include <memory>
#include <string>
#include <vector>

#include "overjoist/batch.hpp"

/// Where the surveys of a batch come from.
namespace overjoist::cli {

/// Paths as given, folders opened up.
struct BatchPaths {
  std::vector<BatchInput> inputs;
  std::map<std::string, std::string>
      faults;  ///< of folders that give no survey: their records say so
  std::size_t links = 0,
              odd = 0;  ///< passed over in folders: links to folders; pipes, sockets, devices
  std::vector<std::string> files() const;  ///< of the inputs
};
/// What is passed over or cannot be read is told.
BatchPaths open_up(const std::vector<std::string>& paths, std::ostream& err);

/// Reads a file by its descriptor into a text that keeps its room from one survey to the next.
/// @returns "" or what is wrong
std::string read_survey_file(const std::string& path, std::string& text);

/// The lines of a descriptor. Wakes up now and then to see whether a signal came, whichever thread
/// took it.
/// @param owned  closed at the end  @param signal  not 0: no more is read
std::unique_ptr<ByteSource> descriptor_source(int fd, bool owned, const std::atomic<int>& signal);
std::unique_ptr<ByteSource> stream_source(std::istream& in);

}  // namespace overjoist::cli
