// SPDX-License-Identifier: MIT
#pragma once
#include <compare>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "cli/commands.hpp"

/// What a run reads and writes: no output may take the place of an input or of another output.
namespace overjoist::cli {

/// What a file is, whatever its name: device and inode of what its links lead to; where nothing is
/// there yet, those of its folder, and its name in it.
struct FileIdentity {
  unsigned long long device = 0, inode = 0;
  std::string name;  ///< "" if it is there
  auto operator<=>(const FileIdentity&) const = default;
};
/// Empty for what cannot be told, and for devices: what is written to them takes no file's place.
std::optional<FileIdentity> identity_of(const std::string& path);
/// Of a stream of the process, if that is a file.
std::optional<FileIdentity> identity_of_stream(int descriptor);

struct Output {
  std::string_view option;  ///< that named it
  std::string path;         ///< "" or "-": standard output
};

/// True, and told, if an output is the file of an input or of another output. Standard input and
/// output are told by where they lead.
/// @param inputs  paths, "-" for standard input; empty ones are passed over
bool outputs_meet(const std::vector<Output>& outputs, const std::vector<std::string>& inputs,
                  const Streams& streams);

/// True, and told, if `path` is a file that is there, and `force` was not said.
bool would_overwrite(const std::string& path, bool force, std::ostream& err);

/// `word` as a shell takes it: quoted where it must be.
std::string shell_word(const std::string& word);
/// Says what was written, and what to run next.
void tell_written(const std::string& path, const std::string& next, const Streams& streams);

}  // namespace overjoist::cli
