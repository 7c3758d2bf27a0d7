// SPDX-License-Identifier: MIT
#pragma once
#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include "words/faults.hpp"

/// Places in a JSON text and its syntax faults: what the reader needs once something is
/// wrong. Nothing here runs on a text without faults.
namespace overjoist::io {

inline constexpr std::size_t kNowhere = static_cast<std::size_t>(-1);

/// First byte at or after `at` that is neither blank nor comma nor colon: where the next token
/// starts.
std::size_t token_start(std::string_view text, std::size_t at);
/// First byte after the string, number or word that starts at `at`.
std::size_t token_end(std::string_view text, std::size_t at);

/// A fault whose byte offset may have to be looked up by its pointer.
struct PlacedFault {
  std::string pointer;
  std::size_t offset = kNowhere;
  Fault fault;
};

/// Fills in the offsets that are still `kNowhere` from the pointers, in one pass; a key that is
/// missing gets the place of the nearest value around it. The text may break off or be faulty later
/// on.
void locate(std::string_view text, std::vector<PlacedFault>& faults);

/// How many characters: bytes but for those that follow the first of a character.
std::size_t characters(std::string_view text);

/// Lines of a text, asked for offsets that do not fall.
struct LineColumn {
  std::size_t line, column;
};
class Lines {
 public:
  explicit Lines(std::string_view text) : text_(text) {}
  LineColumn place_of(std::size_t offset);

 private:
  std::string_view text_;
  std::size_t line_ = 1, line_start_ = 0, at_ = 0;
};

/// The faults in order of place, each in words and with its line and column; those without an
/// offset are looked up by their pointers.
Diagnostics placed(std::string_view text, std::vector<PlacedFault> faults);

/// Offset of the first byte that is not part of well-formed UTF-8, or `kNowhere`.
std::size_t first_bad_utf8(std::string_view text);

/// A syntax fault and its place.
/// @param last  offset just after the last token that was in order  @param stop  offset just after
/// the last byte read
/// @param at_end  another byte was wanted and there was none
PlacedFault syntax_fault(std::string_view text, std::size_t last, std::size_t stop, bool at_end);

/// `key` as one step of a JSON Pointer (RFC 6901): `~` and `/` escaped.
std::string pointer_step(std::string_view key);

/// A text from the file cut to a length fit for a message, at the border of a character.
std::string shortened(std::string_view text);

}  // namespace overjoist::io
