// SPDX-License-Identifier: MIT
#pragma once
#include <cstddef>
#include <cstring>
#include <optional>
#include <string>
#include <string_view>
#include <type_traits>

#include "overjoist/units.hpp"

/// The one way in which JSON is written: append only, no tree. What stands between two brackets is
/// written by a function given to `object` or `list`, so that no bracket stays open; the caller
/// gives a key before each value of an object. Nothing is allocated but the output itself, which is
/// complete whenever no bracket is open.
namespace overjoist::io {

class JsonWriter {
 public:
  /// @param pretty  one value per line, two blanks a level; otherwise all on one line
  JsonWriter(std::string& out, bool pretty) : out_(out), pretty_(pretty) {}
  JsonWriter(const JsonWriter&) = delete;
  JsonWriter& operator=(const JsonWriter&) = delete;
  ~JsonWriter() { release(); }

  bool pretty() const { return pretty_; }

  /// @param write  writes the keys and values of the object
  template <class Write>
  void object(Write write) {
    begin('{');
    write();
    end('}');
  }
  template <class Write>
  void object(std::string_view literal, Write write) {
    key(literal);
    object(write);
  }
  /// Null without a value; else `write(*value)` writes what the object holds.
  template <class T, class Write>
  void object_or_null(std::string_view literal, const std::optional<T>& value, Write write) {
    if (!value) return field_null(literal);
    object(literal, [&] { write(*value); });
  }
  /// @param write  writes the values of the list
  template <class Write>
  void list(Write write) {
    begin('[');
    write();
    end(']');
  }
  template <class Write>
  void list(std::string_view literal, Write write) {
    key(literal);
    list(write);
  }
  /// @param write  writes one value, of the row that it is given
  template <class Rows, class Write>
  void list(std::string_view literal, const Rows& rows, Write write) {
    list(literal, [&] {
      for (const auto& row : rows) write(row);
    });
  }
  /// An object for each row, whose keys and values `write(row)` writes.
  template <class Rows, class Write>
  void objects(std::string_view literal, const Rows& rows, Write write) {
    list(literal, rows, [&](const auto& row) { object([&] { write(row); }); });
  }
  template <class Rows>
  void texts(std::string_view literal, const Rows& rows) {
    list(literal, rows, [&](std::string_view text) { string(text); });
  }

  /// @param literal  a key of ours that needs no escapes
  void key(std::string_view literal) {
    if (pretty_) return pretty_key(literal);
    room(literal.size() + 4);
    if (comma_) *at_++ = ',';
    *at_++ = '"';
    std::memcpy(at_, literal.data(), literal.size());
    at_ += literal.size();
    *at_++ = '"';
    *at_++ = ':';
    after_key_ = true;
  }
  /// A key from a survey, with escapes.
  void text_key(std::string_view text);

  /// What may not be seen or would steer a terminal (`is_hidden`) is written as \uNNNN; bad UTF-8
  /// as U+FFFD.
  void string(std::string_view text);
  /// Shortest form that reads back the same.  @throws std::logic_error if `value` is not finite (a
  /// bug)
  void number(double value);
  void flag(bool value);
  void null();
  /// JSON text as it stands, but for what `string` escapes. On one line, line breaks and tabs
  /// between its parts become blanks: a record stays one line.
  void raw(std::string_view json);
  /// Compact JSON prepared by an earlier writer: values or, within an object, key and value pairs,
  /// without brackets of their own around them and without a comma at either end. Not for pretty
  /// output.
  void prepared(std::string_view compact) {
    if (!after_key_ && comma_) put(',');
    put(compact);
    after_key_ = false;
    comma_ = true;
  }

  // A key and its value.
  void field(std::string_view literal, std::string_view text) {
    key(literal);
    string(text);
  }
  void field(std::string_view literal, double value) {
    key(literal);
    number(value);
  }
  /// A flag and nothing that merely converts to one, as a pointer does.
  template <class Flag>
  requires std::is_same_v<Flag, bool>
  void field(std::string_view literal, Flag value) {
    key(literal);
    flag(value);
  }
  void field_null(std::string_view literal) {
    key(literal);
    null();
  }
  /// The text, or null if it is empty.
  void field_or_null(std::string_view literal, std::string_view text);
  /// The US value, under a key that names the unit.
  template <class Tag>
  void field(std::string_view literal, Quantity<Tag> value) {
    field(literal, value.us());
  }
  template <class T>
  void field(std::string_view literal, const std::optional<T>& value) {
    if (value)
      field(literal, *value);
    else
      field_null(literal);
  }

 private:
  void begin(char bracket);
  void end(char bracket);
  void before_value();
  void after_value();
  void new_line();
  void pretty_key(std::string_view literal);
  void quoted(std::string_view text);
  std::size_t escaped(std::string_view text);

  // The output's end is held as a pointer while a bracket is open: cheaper than many small appends.
  void room(std::size_t bytes) {
    if (static_cast<std::size_t>(end_ - at_) < bytes) grow(bytes);
  }
  void put(char c) {
    room(1);
    *at_++ = c;
  }
  void put(std::string_view text) {
    room(text.size());
    std::memcpy(at_, text.data(), text.size());
    at_ += text.size();
  }
  void grow(std::size_t bytes);
  void release();

  std::string& out_;
  char* at_ = nullptr;
  char* end_ = nullptr;
  bool pretty_;
  bool comma_ = false;  ///< something stands before at this level
  bool after_key_ = false;
  std::size_t depth_ = 0;
};

}  // namespace overjoist::io
