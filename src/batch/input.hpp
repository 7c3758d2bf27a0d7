// SPDX-License-Identifier: MIT
#pragma once
#include "overjoist/batch.hpp"

/// Cuts the inputs of a batch into chunks of whole records.
namespace overjoist {

/// Some lines of one stream, or some files.
struct Chunk {
  std::string text;  ///< whole lines; unused for files
  std::string path;  ///< of the stream
  std::size_t first_line = 1;
  std::vector<std::string> files;  ///< one survey each
  std::string fault, hint;      ///< of a stream that could not be read, or of a survey spread over
                                ///< lines: one refused record
  bool spread_out = false;      ///< the fault is that one survey stands on several lines
  std::size_t blank_lines = 0;  ///< passed over before that survey
};

class ChunkReader {
 public:
  ChunkReader(const std::vector<BatchInput>& inputs, const BatchPorts& ports)
      : inputs_(inputs), ports_(ports) {}
  /// Fills the next chunk.  @returns false at the end of all inputs
  bool next(Chunk& chunk);

 private:
  bool next_files(Chunk& chunk);
  bool next_lines(Chunk& chunk);
  bool next_spread_out(Chunk& chunk);
  bool looks_spread_out();
  bool fill(std::size_t& end);
  bool more();
  bool end_of_stream(Chunk& chunk);

  const std::vector<BatchInput>& inputs_;
  const BatchPorts& ports_;
  std::size_t input_ = 0;
  ByteSource* source_ = nullptr;
  std::string carry_;  ///< bytes read that no chunk has taken yet
  std::size_t line_ = 1;
  bool at_end_ = false;
  bool fresh_ = true;  ///< nothing but surveys spread over lines was taken from this stream yet
};

}  // namespace overjoist
