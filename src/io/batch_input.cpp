// SPDX-License-Identifier: MIT
#include "io/batch_input.hpp"

#include <algorithm>

namespace overjoist {
namespace {

constexpr std::size_t kBlock = std::size_t{64} * 1024;  // bytes of a read, and about the size of a chunk
constexpr std::size_t kFilesOfChunk = 32;
constexpr std::size_t kMostLine = std::size_t{16} * 1024 * 1024;  // the reader refuses a longer one; the rest is not kept

}  // namespace

bool ChunkReader::next(Chunk& chunk) {
  chunk.text.clear();
  chunk.files.clear();
  chunk.fault.clear();
  while (input_ < inputs_.size()) {
    if (inputs_[input_].lines ? next_lines(chunk) : next_files(chunk)) return true;
    ++input_;
  }
  return false;
}

bool ChunkReader::next_files(Chunk& chunk) {
  chunk.path.clear();
  chunk.first_record = record_;
  while (input_ < inputs_.size() && !inputs_[input_].lines && chunk.files.size() < kFilesOfChunk)
    chunk.files.push_back(inputs_[input_++].path);
  record_ += chunk.files.size();
  return true;
}

bool ChunkReader::next_lines(Chunk& chunk) {
  if (!source_) {
    source_ = ports_.open_lines(inputs_[input_], chunk.fault);
    carry_.clear();
    line_ = 1;
    at_end_ = false;
    chunk.path = inputs_[input_].path;
    if (!source_) {
      chunk.first_record = record_++;
      chunk.first_line = 0;
      ++input_;
      return true;
    }
  }
  std::size_t end = 0;
  if (!fill(end)) {
    source_ = nullptr;
    return false;
  }
  chunk.path = inputs_[input_].path;
  chunk.first_line = line_;
  chunk.first_record = record_;
  chunk.text.assign(carry_, 0, end);
  carry_.erase(0, end);
  const auto lines = static_cast<std::size_t>(std::count(chunk.text.begin(), chunk.text.end(), '\n')) + (chunk.text.back() == '\n' ? 0 : 1);
  line_ += lines;
  record_ += lines;
  return true;
}

/// Reads until `carry_` holds a whole line or the stream ends; it holds no line break before. `end` becomes the length
/// of its whole lines. A line beyond the limit keeps its first bytes, so that the reader refuses it by its length.
/// @returns false if nothing is left
bool ChunkReader::fill(std::size_t& end) {
  while (!at_end_) {
    const std::size_t old = carry_.size();
    carry_.resize(old + kBlock);
    const std::size_t n = source_->read(carry_.data() + old, kBlock);
    carry_.resize(old + n);
    at_end_ = n == 0;
    const std::size_t newline = std::string_view(carry_).substr(old).rfind('\n');
    if (newline != std::string_view::npos) {
      end = old + newline + 1;
      return true;
    }
    if (carry_.size() > kMostLine + 2 * kBlock) carry_.resize(kMostLine + kBlock);
  }
  end = carry_.size();
  return end > 0;
}

}  // namespace overjoist
