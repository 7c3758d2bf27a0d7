// SPDX-License-Identifier: MIT
#pragma once
#include <iosfwd>
#include <string>
#include <vector>

/// Whole files in and out.
namespace overjoist::cli {

struct FileRead {
  std::string text;
  std::string fault;  ///< "" if it was read; else what is wrong and what to do
};

/// Reads a whole file, or standard input for "-"; more than 16 MiB is refused before it is all read.
FileRead read_input(const std::string& path, std::istream& in);

/// The survey files (*.json, *.jsonl) of a folder and the folders in it, sorted by path; links to folders are not followed.
/// @param fault  what could not be read, or ""
std::vector<std::string> survey_files(const std::string& folder, std::string& fault);

/// Writes a file under a temporary name beside it, then renames: the old file whole or the new one whole. A link stays
/// and its target is replaced; mode and, where allowed, owner are kept. A device or pipe is written to as it is.
/// @returns "" or what went wrong
std::string write_whole_file(const std::string& path, const std::string& text);

}  // namespace overjoist::cli
