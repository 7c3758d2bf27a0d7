// SPDX-License-Identifier: MIT

#include <iterator>
#include <nlohmann/json.hpp>

#include "read/json/reader.hpp"

// The only file that includes the JSON parser: it hands the parser's events on with their places.
namespace overjoist::io {
namespace {

/// The place up to which the parser has read, shared with the handler of its events.
struct Cursor {
  const char* at;
  bool at_end = false;  ///< another byte was wanted and there was none
};

/// An input iterator that moves a shared cursor, so that every event knows its place.
class CursorIterator {
 public:
  using iterator_category = std::input_iterator_tag;
  using value_type = char;
  using difference_type = std::ptrdiff_t;
  using pointer = const char*;
  using reference = const char&;
  explicit CursorIterator(Cursor& cursor) : at_(cursor.at), cursor_(&cursor) {}
  reference operator*() const { return *at_; }
  CursorIterator& operator++() {
    cursor_->at = ++at_;
    return *this;
  }
  /// The parser compares before it takes a byte: equal means that it wanted one and there was none.
  friend bool operator==(const CursorIterator& a, const CursorIterator& b) {
    if (a.at_ != b.at_) return false;
    a.cursor_->at_end = true;
    return true;
  }

 private:
  const char* at_;
  Cursor* cursor_;
};

/// Hands the parser's events on with their places. Names and types are the parser's.
class Events {
 public:
  using Json = nlohmann::json;
  Events(Reader& reader, const Cursor& cursor)
      : reader_(reader), cursor_(cursor), begin_(cursor.at) {}
  bool null() { return reader_.on_null(at()); }
  bool boolean(bool v) { return reader_.on_scalar({.kind = kFlag, .flag = v}, at()); }
  bool number_integer(Json::number_integer_t v) {
    return reader_.on_scalar({.number = static_cast<double>(v)}, at());
  }
  bool number_unsigned(Json::number_unsigned_t v) {
    return reader_.on_scalar({.number = static_cast<double>(v)}, at());
  }
  bool number_float(Json::number_float_t v, const std::string&) {
    return reader_.on_scalar({.number = v}, at());
  }
  bool string(std::string& v) { return reader_.on_scalar({.kind = kText, .text = &v}, at()); }
  bool binary(Json::binary_t&) { return false; }
  bool start_object(std::size_t) { return reader_.on_start(kObject, at()); }
  bool start_array(std::size_t) { return reader_.on_start(kArray, at()); }
  bool end_object() { return reader_.on_end(at()); }
  bool end_array() { return reader_.on_end(at()); }
  bool key(std::string& v) { return reader_.on_key(v, at()); }
  bool parse_error(std::size_t, const std::string&, const nlohmann::detail::exception& e) {
    constexpr int kNumberOverflow = 406;
    if (e.id == kNumberOverflow)
      reader_.on_overflow();
    else
      reader_.on_broken(at(), cursor_.at_end);
    return false;
  }

 private:
  std::size_t at() const { return static_cast<std::size_t>(cursor_.at - begin_); }
  Reader& reader_;
  const Cursor& cursor_;
  const char* begin_;
};

}  // namespace

bool Reader::read_any(const AnyShape& shape, void* object, std::string_view noun) {
  constexpr std::string_view kByteOrderMark = "\xEF\xBB\xBF";
  if (text_.size() > kMostBytes) {
    note({"", 0, make_fault<FaultCode::huge_file>(noun, kMostBytes >> 20U)});
    return false;
  }
  if (text_.substr(0, kByteOrderMark.size()) == kByteOrderMark)
    text_.remove_prefix(kByteOrderMark.size());
  root_ = {{.key = noun, .kinds = kObject}, nullptr, &shape};
  frames_[0] = {nullptr, &root_, object, 0, 0, 1};
  depth_ = 1;
  Cursor cursor{text_.data()}, end{text_.data() + text_.size()};
  Events events(*this, cursor);
  const bool done = nlohmann::json::sax_parse(CursorIterator(cursor), CursorIterator(end), &events);
  const auto stop = static_cast<std::size_t>(cursor.at - text_.data());
  // The parser takes a zero byte for the end of the text.
  if (done && !cursor.at_end) on_broken(stop, false);
  return done && cursor.at_end && go_on();
}

}  // namespace overjoist::io
