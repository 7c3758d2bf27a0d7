// SPDX-License-Identifier: MIT
#include "batch/input.hpp"

#include <algorithm>

namespace overjoist {
namespace {

constexpr std::size_t kBlock =
    std::size_t{64} * 1024;  // bytes of a read, and about the size of a chunk
constexpr std::size_t kFilesOfChunk = 32;
constexpr std::size_t kMostLine =
    std::size_t{16} * 1024 * 1024;  // the reader refuses a longer one; the rest is not kept

constexpr std::string_view kBlank = " \t\r";

/// Follows the brackets of a JSON text through the pieces it comes in.
class Brackets {
 public:
  /// @returns bytes of `piece` up to the bracket that closes the outermost one, or all of it
  std::size_t take(std::string_view piece) {
    for (std::size_t i = 0; i < piece.size(); ++i) {
      step(piece[i]);
      if (depth_ == 0 && (piece[i] == '}' || piece[i] == ']')) return i + 1;
    }
    return piece.size();
  }
  bool open() const { return depth_ > 0; }

 private:
  void step(char c) {
    if (c == '\n') in_text_ = escaped_ = false;  // no text goes on beyond a line
    if (in_text_) {
      if (c == '"' && !escaped_) in_text_ = false;
      escaped_ = c == '\\' && !escaped_;
    } else if (c == '"') {
      in_text_ = true;
    } else if (c == '{' || c == '[') {
      ++depth_;
    } else if ((c == '}' || c == ']') && depth_ > 0) {
      --depth_;
    }
  }
  std::size_t depth_ = 0;
  bool in_text_ = false, escaped_ = false;
};

/// True for a line that is a survey of its own, as far as its brackets tell.
bool is_whole_survey(std::string_view line) {
  while (!line.empty() && kBlank.find(line.back()) != std::string_view::npos) line.remove_suffix(1);
  Brackets brackets;
  return !line.empty() && line[0] == '{' && brackets.take(line) == line.size() && !brackets.open();
}

/// True if the second line goes on with what the first one left open, and is no refused line of its
/// own: it is indented, or begins as the inside of an object does, or both are the brackets of a
/// list.
bool goes_on(std::string_view first, std::string_view second, bool indented) {
  const auto is = [](std::string_view line, char c) {
    return line[0] == c && line.find_first_not_of(kBlank, 1) == std::string_view::npos;
  };
  return indented || std::string_view("\"}],").find(second[0]) != std::string_view::npos ||
         (is(first, '[') && is(second, '{'));
}

std::size_t line_breaks(std::string_view text) {
  return static_cast<std::size_t>(std::count(text.begin(), text.end(), '\n'));
}

}  // namespace

bool ChunkReader::next(Chunk& chunk) {
  while (input_ < inputs_.size()) {
    chunk.text.clear();
    chunk.files.clear();
    chunk.fault.clear();
    chunk.hint.clear();
    chunk.spread_out = false;
    chunk.blank_lines = 0;
    if (inputs_[input_].lines ? next_lines(chunk) : next_files(chunk)) return true;
    ++input_;
  }
  return false;
}

bool ChunkReader::next_files(Chunk& chunk) {
  chunk.path.clear();
  while (input_ < inputs_.size() && !inputs_[input_].lines && chunk.files.size() < kFilesOfChunk)
    chunk.files.push_back(inputs_[input_++].path);
  return true;
}

bool ChunkReader::next_lines(Chunk& chunk) {
  chunk.path = inputs_[input_].path;
  if (!source_) {
    source_ = ports_.open_lines(inputs_[input_], chunk.fault);
    carry_.clear();
    line_ = 1;
    at_end_ = false;
    fresh_ = true;
    if (!source_) {
      chunk.first_line = 0;
      ++input_;
      return true;
    }
  }
  if (fresh_ && looks_spread_out()) return next_spread_out(chunk);
  fresh_ = false;
  std::size_t end = 0;
  if (!fill(end)) return end_of_stream(chunk);
  chunk.first_line = line_;
  chunk.text.assign(carry_, 0, end);
  carry_.erase(0, end);
  line_ += line_breaks(chunk.text) + (chunk.text.back() == '\n' ? 0 : 1);
  return true;
}

/// A stream that broke off says so in a record of its own.
bool ChunkReader::end_of_stream(Chunk& chunk) {
  chunk.fault = source_->fault();
  chunk.first_line = 0;
  source_ = nullptr;
  if (chunk.fault.empty()) return false;
  ++input_;
  return true;
}

/// True if what comes next is a survey over several lines, as editors and pretty printers leave it,
/// and not one a line: the first line leaves a bracket open, and the next one goes on with it.
/// Reads as far as it must to tell.
bool ChunkReader::looks_spread_out() {
  constexpr std::string_view kByteOrderMark = "\xEF\xBB\xBF";
  for (;; more()) {
    std::size_t start = carry_.find_first_not_of(" \t\r\n");
    if (start != std::string::npos &&
        carry_.compare(start, kByteOrderMark.size(), kByteOrderMark) == 0)
      start += kByteOrderMark.size();
    const std::size_t end = start == std::string::npos ? start : carry_.find('\n', start);
    if (end != std::string::npos) {
      Brackets brackets;
      brackets.take(std::string_view(carry_).substr(start, end - start));
      if (!brackets.open() || (carry_[start] != '{' && carry_[start] != '[')) return false;
      const std::size_t next = carry_.find_first_not_of(" \t\r\n", end);
      const std::size_t stop = carry_.find('\n', next);
      if (next != std::string::npos && (stop != std::string::npos || at_end_))
        return goes_on(std::string_view(carry_).substr(start, end - start),
                       std::string_view(carry_).substr(next, stop - next),
                       carry_[next - 1] != '\n');
    }
    if (at_end_ || carry_.size() > kMostLine) return false;
  }
}

/// Takes one survey over several lines, without keeping it: it is refused, and all of it makes one
/// record.
bool ChunkReader::next_spread_out(Chunk& chunk) {
  for (std::size_t end = carry_.find('\n'); carry_.find_first_not_of(kBlank) == end;
       end = carry_.find('\n')) {
    carry_.erase(0, end + 1);
    ++line_;
    ++chunk.blank_lines;
  }
  chunk.first_line = line_;
  chunk.spread_out = true;
  chunk.fault = "one survey stands on several lines here, where each line is a survey of its own";
  chunk.hint =
      "put it on one line (jq -c . does), or give it as a file that ends in .json, or to overjoist "
      "assess";
  Brackets brackets;
  std::size_t at = 0;  // in carry_, of the line at hand
  for (bool first = true; first || brackets.open(); first = false) {
    std::size_t end = carry_.find('\n', at);
    while (end == std::string::npos && carry_.size() - at <= kMostLine) {
      carry_.erase(0, at);
      at = 0;
      if (!more()) break;
      end = carry_.find('\n');
    }
    const std::string_view line =
        std::string_view(carry_).substr(at, end == std::string::npos ? end : end - at);
    if (end == std::string::npos && line.empty()) break;
    if (!first && is_whole_survey(line)) break;  // what began before it never ended
    brackets.take(line);
    brackets.take("\n");
    at += line.size() + (end == std::string::npos ? 0 : 1);
    ++line_;
  }
  carry_.erase(0, at);
  return true;
}

/// Reads a further block.  @returns false at the end
bool ChunkReader::more() {
  if (at_end_) return false;
  const std::size_t old = carry_.size();
  carry_.resize(old + kBlock);
  const std::size_t n = source_->read(carry_.data() + old, kBlock);
  carry_.resize(old + n);
  at_end_ = n == 0;
  return !at_end_;
}

/// Reads until `carry_` holds a whole line or the stream ends. `end` becomes the length of its
/// whole lines, at the end of all. A line beyond the limit keeps its first bytes, so that the
/// reader refuses it by its length.
/// @returns false if nothing is left
bool ChunkReader::fill(std::size_t& end) {
  for (std::size_t seen = 0;;) {
    const std::size_t newline = std::string_view(carry_).substr(seen).rfind('\n');
    if (newline != std::string_view::npos) {
      end = seen + newline + 1;
      return true;
    }
    if (carry_.size() > kMostLine + 2 * kBlock) carry_.resize(kMostLine + kBlock);
    seen = carry_.size();
    if (!more()) break;
  }
  end = carry_.size();
  return end > 0;
}

}  // namespace overjoist
