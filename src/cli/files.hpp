// SPDX-License-Identifier: MIT
#pragma once
#include <iosfwd>
#include <string>
#include <string_view>
#include <vector>

/// Whole files in and out.
namespace overjoist::cli {

struct FileRead {
  std::string text;
  std::string fault;  ///< "" if it was read; else what is wrong and what to do
};

/// Reads a whole file, or standard input for "-"; more than 16 MiB is refused before it is all
/// read.
FileRead read_input(const std::string& path, std::istream& in);

/// True if `path` ends so, in large letters or small.
bool has_ending(std::string_view path, std::string_view ending);

/// What a folder and the folders in it hold for a batch.
struct FolderFiles {
  std::vector<std::string>
      surveys;                   ///< *.json and *.jsonl, in large letters or small, sorted by path
  std::vector<std::string> odd;  ///< named so, but pipes, sockets or devices: not opened
  std::size_t links = 0;         ///< to folders: not followed
  std::string fault;             ///< what could not be read, or ""
};
FolderFiles survey_files(const std::string& folder);
/// Says which odd ones were passed over.
void tell_odd(const FolderFiles& files, std::ostream& err);

/// The path that links lead to, which need not exist; after too many links the path reached by
/// then.
std::string behind_links(const std::string& path);

/// Writes a file under a temporary name beside it, then renames: the old file whole or the new one
/// whole. A link stays and its target is replaced; mode and, where allowed, owner are kept. A
/// device or pipe is written to as it is.
/// @returns "" or what went wrong
std::string write_whole_file(const std::string& path, const std::string& text);

/// Writes a file under a temporary name beside it, then renames. What has the name already is
/// replaced, a link too: nothing is written through it.  @returns "" or what went wrong
std::string place_file(const std::string& path, std::string_view text);

/// Where a text may break off if not all of it can be written.
enum class Cut {
  nowhere,      ///< all of it or nothing
  after_lines,  ///< a record a line
  after_rows    ///< CSV: a line break inside quotes ends no row
};
/// Writes to a descriptor of this process, such as standard output. If that is a file and not all
/// can be written, what got out of `text` is taken back to the last place where it may break off.
/// @returns false if not all was written
bool write_descriptor(int fd, std::string_view text, Cut cut);

}  // namespace overjoist::cli
