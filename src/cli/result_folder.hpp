// SPDX-License-Identifier: MIT
#pragma once
#include <mutex>
#include <string>
#include <string_view>
#include <vector>

#include "cli/outputs.hpp"

/// A folder that takes a file for each record of a batch.
namespace overjoist::cli {

/// Where a record came from, as the names of its files tell it.
struct RecordOrigin {
  std::string stem;      ///< what it is called: name of its file, or what --name says
  std::string key;       ///< what it is: absolute path behind links, or the name of standard input
  std::size_t line = 0;  ///< 0: the whole file is one survey
};

/// Of a record of the input `path`.  @param name  of standard input
RecordOrigin origin_of(const std::string& path, std::size_t line, const std::string& name);

/// Name of a result: letters, digits, '.', '_' and '-' of `called`, a short hash of where the
/// record came from, its line, and the ending. Files of one name never meet, and the same input
/// gives the same name again.
std::string result_name(std::string_view called, const RecordOrigin& origin,
                        std::string_view ending);
/// True for what `result_name` may have made.
bool is_result_name(std::string_view name, std::string_view ending);

class ResultFolder {
 public:
  /// @param option  that named it  @param path  "" for none  @param ending  ".json" or ".html"
  ResultFolder(std::string_view option, std::string path, std::string_view ending);
  bool used() const { return !path_.empty(); }
  const std::string& path() const { return path_; }
  /// Results that lay in it before this run.
  const std::vector<std::string>& found() const { return found_; }
  /// True if results of any kind, records or pages, lay in it before this run.
  bool holds_results() const { return holds_results_; }
  /// True, and told, if a file that the run reads, or another that it writes, is one that a result
  /// may take the place of. Standard input and output are told by where they lead.
  bool meets(const std::vector<std::string>& inputs, const std::vector<Output>& outputs,
             const Streams& streams) const;
  /// Makes the folder if it is not there.  @returns "" or what went wrong
  std::string make() const;
  /// Writes a result under a temporary name, then renames it; a link of that name is replaced,
  /// never followed. For many threads.
  /// @returns "" or what went wrong
  std::string put(const std::string& name, std::string_view text);
  /// Says which results of earlier runs this run did not write.
  void tell_left(std::ostream& err) const;

 private:
  std::string_view option_, ending_;
  std::string path_;
  std::vector<std::string> found_;  ///< sorted
  std::vector<char> written_;       ///< of `found_`
  std::vector<FileIdentity> files_;
  bool holds_results_ = false;
  std::mutex mutex_;
};

}  // namespace overjoist::cli
