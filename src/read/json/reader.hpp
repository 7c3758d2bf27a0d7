// SPDX-License-Identifier: MIT
#pragma once
#include <array>
#include <cstdint>
#include <functional>
#include <optional>
#include <set>
#include <span>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "overjoist/diagnostics.hpp"
#include "overjoist/units.hpp"
#include "read/json/text.hpp"
#include "words/quantity.hpp"

/// Reads JSON text straight into structs that are described by tables of fields; no tree is built.
/// Faults are collected, each with the place and words that `Diagnostic` asks for. Knows nothing of
/// surveys. One Reader per text; not shared between threads. The tables of fields are constant.
namespace overjoist::io {

/// Kinds of JSON value, as bits. null is none of them: a key without a value is left out.
enum Kind : unsigned { kNumber = 1, kText = 2, kFlag = 4, kObject = 8, kArray = 16 };

class Reader;
struct Scalar {
  Kind kind = kNumber;
  double number = 0.0;  ///< of a number; of a quantity: in the key's unit; of a word: its index
  bool flag = false;
  std::string* text = nullptr;  ///< may be moved from
};
using Setter = void (*)(Reader&, void* object, Scalar& value);
using Opener = void* (*)(Reader&, void* object);

/// Least and most of a number, in the key's unit.
struct Bounds {
  double low = 0.0, high = 0.0;
  bool above_low = false;  ///< `low` itself is not allowed
};
constexpr Bounds from(double low, double high) { return {low, high, false}; }
constexpr Bounds above(double low, double high) { return {low, high, true}; }

struct Shape;
/// One key of an object, or the element of an array (then `key` is the word for it in messages).
struct Field {
  std::string_view key;
  unsigned kinds = 0;  ///< 0: whatever stands there is passed over
  Setter set = nullptr;
  std::optional<Dimension>
      dimension{};  ///< numbers and texts are quantities, checked against `bounds`
  Bounds bounds{};
  bool whole = false;                         ///< only whole numbers
  std::span<const std::string_view> words{};  ///< texts must be one of these
  std::size_t least = 0, most = 200;          ///< characters of a text, elements of an array
  const Shape* shape = nullptr;               ///< of an object
  Opener open = nullptr;           ///< gives the struct that an object fills; empty: the same one
  const Field* element = nullptr;  ///< of an array
  bool required = false;
  std::string_view hint{};  ///< what to do if it is missing
};

/// Which keys an object had.
class Seen {
 public:
  Seen(const Shape& shape, std::uint64_t bits) : shape_(shape), bits_(bits) {}
  bool has(std::string_view key) const;

 private:
  const Shape& shape_;
  std::uint64_t bits_;
};

/// An object: at most 64 fields.
struct Shape {
  std::span<const Field> fields;
  void (*finish)(Reader&, void* object,
                 const Seen&) = nullptr;  ///< checks of keys against each other
};

/// Runs `make`; what it refuses becomes a value, to be told at its place with all other faults.
std::optional<Error> refusal_of(const std::function<void()>& make);

class Reader {
 public:
  static constexpr std::size_t kMostBytes = 16U << 20U, kMostDepth = 32, kMostFaults = 100;
  using Extras = std::vector<std::pair<std::string, std::string>>;

  /// @param user  what setters need beside the object, see user<T>()
  /// @param extras  takes the x_ keys of the top level and their raw text; null: they are passed
  /// over
  explicit Reader(std::string_view text, void* user = nullptr, Extras* extras = nullptr);

  /// Fills `object`.  @param noun  what the file holds, "survey"
  /// @returns true if the text was read to its end, faults or not
  bool read(const Shape& shape, void* object, std::string_view noun);
  /// All faults in order of place, with lines and columns.
  Diagnostics faults();

  // For setters and checks.
  template <class T>
  T& user() const {
    return *static_cast<T*>(user_);
  }
  /// A fault of the value or object at hand.
  void fault(std::string message, std::string hint = {});
  /// A fault of a key of the object at hand, or at another pointer (after reading).
  void fault_of(std::string_view key, std::string message, std::string hint = {});
  void fault_at(std::string pointer, std::string message, std::string hint = {});
  /// The scalar at hand as it was written, shortened; `raw` without the quotes of a text.
  std::string token() const;
  std::string raw() const;
  /// Value in the key's unit, if it is a quantity of the kind and within bounds; else a fault that
  /// calls it `word`. What is nearer to 0 than 1e-9 is 0.
  std::optional<double> quantity(const Scalar& value, Dimension dimension, Bounds bounds,
                                 std::string_view word);
  /// True if `value` of the key's unit is within bounds; else a fault in `unit`.
  bool within(double value, Bounds bounds, const Unit& unit, bool unit_written,
              std::string_view word);
  /// Index of a word, if it is one of `words`; else a fault that names the nearest.
  std::optional<std::size_t> word(std::string_view text, std::span<const std::string_view> words,
                                  std::string_view key);
  /// Keeps how a quantity was written; `key` is a literal. `quantity` calls it for every quantity
  /// that it takes.
  void note_unit(const Unit* unit, Dimension dimension, Bounds bounds, double value,
                 std::string_view key);
  const UnitsWritten& written() const { return written_; }
  std::size_t fault_count() const { return faults_.size(); }
  /// True if no fault lies at or below `pointer`.
  bool clean(std::string_view pointer) const;

  // Events of the parser; each returns false to stop. `at` is the offset just after the token.
  bool on_key(std::string& key, std::size_t at);
  bool on_scalar(Scalar value, std::size_t at);
  bool on_null(std::size_t at);
  bool on_start(Kind kind, std::size_t at);
  bool on_end(std::size_t at);
  void on_broken(std::size_t at, bool at_end);
  void on_overflow();

 private:
  struct Frame {
    const Shape* shape;  ///< null in an array
    const Field* field;  ///< field of the value at hand, null: passed over; in an array the element
    void* object;
    std::uint64_t seen;
    std::size_t next;  ///< in an object the field to try first; in an array the elements so far
    std::size_t most;
  };
  Frame& top() { return frames_[depth_ - 1]; }
  const Field* next_value();
  const Field* find_field(Frame& frame, std::string_view key) const;
  void unknown_key(const std::string& key);
  void refuse(const Field& field, std::string_view given);
  bool fits(const Field& field, Scalar& value);
  bool fits_text(const Field& field, const std::string& text);
  void open(const Field& field, Kind kind);
  void finish_object(const Frame& frame);
  void keep_raw(std::size_t end);
  void note(PlacedFault fault);
  bool go_on() const { return faults_.size() <= kMostFaults; }
  std::string pointer_of(std::size_t depth) const;

  std::string_view text_;
  void* user_;
  Extras* extras_;
  Field root_;
  std::array<Frame, kMostDepth + 2> frames_{};
  std::size_t depth_ = 0;             ///< frames in use
  std::size_t skipped_ = 0;           ///< open brackets of a value that is passed over
  std::size_t from_ = 0;              ///< offset after the token before the one at hand
  std::size_t here_ = 0;              ///< offset after the token at hand
  std::set<std::string> extra_keys_;  ///< x_ keys of the top level so far
  std::string raw_key_;               ///< x_ key whose text is to be kept, or ""
  std::size_t raw_from_ = kNowhere;
  bool closing_ = false;  ///< an object is being finished: faults are its own
  UnitsWritten written_;
  std::vector<PlacedFault> faults_;
};

// How a value gets into a member of a struct. `M` is a pointer to a member that may be plain,
// optional or a list.

template <auto M>
struct Member;
template <class O, class T, T O::*M>
struct Member<M> {
  using Owner = O;
  static T& of(void* object) { return static_cast<O*>(object)->*M; }
};

template <class T>
void assign_number(T& to, double v) {
  if constexpr (requires { T::from_us(v); })
    to = T::from_us(v);
  else
    to = static_cast<T>(v);
}
template <class T>
void assign_number(std::optional<T>& to, double v) {
  assign_number(to.emplace(), v);
}
template <class T>
void assign_number(std::vector<T>& to, double v) {
  assign_number(to.emplace_back(), v);
}
inline void assign_text(std::string& to, std::string&& text) { to = std::move(text); }
inline void assign_text(std::vector<std::string>& to, std::string&& text) {
  to.push_back(std::move(text));
}
template <class T>
T& open_member(T& to) {
  return to;
}
template <class T>
T& open_member(std::optional<T>& to) {
  return to.emplace();
}
template <class T>
T& open_member(std::vector<T>& to) {
  constexpr std::size_t kUsual =
      sizeof(T) <= 128 ? 24 : 4;  // elements of a usual list: no growth by ones and twos
  if (to.empty()) to.reserve(kUsual);
  return to.emplace_back();
}

template <auto M>
void set_number(Reader&, void* object, Scalar& v) {
  assign_number(Member<M>::of(object), v.number);
}
template <auto M>
void set_text(Reader&, void* object, Scalar& v) {
  assign_text(Member<M>::of(object), std::move(*v.text));
}
template <auto M>
void set_flag(Reader&, void* object, Scalar& v) {
  Member<M>::of(object) = v.flag;
}
template <auto M>
void* open_at(Reader&, void* object) {
  return &open_member(Member<M>::of(object));
}

// Fields of the common sorts.

template <auto M>
constexpr Field quantity_field(std::string_view key, Dimension dimension, Bounds bounds,
                               bool required = false) {
  return {.key = key,
          .kinds = kNumber | kText,
          .set = set_number<M>,
          .dimension = dimension,
          .bounds = bounds,
          .required = required};
}
template <auto M>
constexpr Field number_field(std::string_view key, Bounds bounds, bool required = false) {
  return {.key = key,
          .kinds = kNumber,
          .set = set_number<M>,
          .dimension = Dimension::number,
          .bounds = bounds,
          .required = required};
}
template <auto M>
constexpr Field whole_field(std::string_view key, Bounds bounds, bool required = false) {
  Field field = number_field<M>(key, bounds, required);
  field.whole = true;
  return field;
}
template <auto M>
constexpr Field text_field(std::string_view key, std::size_t most, bool required = false) {
  return {.key = key,
          .kinds = kText,
          .set = set_text<M>,
          .least = required ? 1U : 0U,
          .most = most,
          .required = required};
}
template <auto M>
constexpr Field word_field(std::string_view key, std::span<const std::string_view> words,
                           bool required = false) {
  return {.key = key, .kinds = kText, .set = set_number<M>, .words = words, .required = required};
}
template <auto M>
constexpr Field flag_field(std::string_view key) {
  return {.key = key, .kinds = kFlag, .set = set_flag<M>};
}
/// An object with a struct of its own.
template <auto M>
constexpr Field object_field(std::string_view key, const Shape& shape) {
  return {.key = key, .kinds = kObject, .shape = &shape, .open = open_at<M>};
}
constexpr Field array_field(std::string_view key, const Field& element, std::size_t least,
                            std::size_t most, bool required = false) {
  return {.key = key,
          .kinds = kArray,
          .least = least,
          .most = most,
          .element = &element,
          .required = required};
}

}  // namespace overjoist::io
