// SPDX-License-Identifier: MIT
#pragma once
#include <string>

#include "overjoist/batch.hpp"

/// A survey's record in the format that the batch asks for.
namespace overjoist {

/// A record says where it came from only as far as that is the same under any cutting of a stream
/// into pieces. A refused one of a named file has its line, since somebody must find and mend it;
/// standard input may be a piece of something, so there only what has no id has one.
Origin shown_origin(const Origin& origin, const Outcome& outcome);

class RecordWriter {
 public:
  RecordWriter(const BatchOptions& options, const Tables& tables)
      : options_(options), tables_(tables), words_(prepare_words(tables)) {}

  CsvStyle csv() const { return {options_.format == BatchFormat::csv_sections, options_.raw_text}; }
  /// Adds a line of JSON or rows of CSV.
  void write(std::string& out, const Outcome& outcome, const Origin& origin) const;

 private:
  const BatchOptions& options_;
  const Tables& tables_;
  PreparedWords words_;
};

}  // namespace overjoist
