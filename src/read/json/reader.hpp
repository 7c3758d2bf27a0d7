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
#include "words/faults.hpp"
#include "words/quantity.hpp"

/// Reads JSON text straight into structs that are described by tables of fields; no tree is built.
/// Faults are collected, each with its place and its values; their words come last. Knows nothing
/// of surveys. One Reader per text; not shared between threads. The tables of fields are constant.
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
/// Least and most of a number, in the key's unit.
struct Bounds {
  double low = 0.0, high = 0.0;
  constexpr bool holds(double value) const { return value >= low && value <= high; }
};
constexpr Bounds from(double low, double high) { return {low, high}; }

/// One key of an object, or the element of an array (then `key` is the word for it in messages),
/// and what its value may be.
struct Key {
  std::string_view key;
  unsigned kinds = 0;  ///< 0: whatever stands there is passed over
  std::optional<Dimension>
      dimension{};  ///< numbers and texts are quantities, checked against `bounds`
  Bounds bounds{};
  bool whole = false;                         ///< only whole numbers
  std::span<const std::string_view> words{};  ///< texts must be one of these
  std::size_t least = 0, most = 200;          ///< characters of a text, elements of an array
  bool required = false;
  KeyFault missing = key_fault<FaultCode::missing_key>;
};

class Seen;
struct AnyShape;
using AnySetter = void (*)(Reader&, void* object, Scalar& value);
using AnyOpener = void* (*)(void* object);
using AnyFinish = void (*)(Reader&, void* object, const Seen&);

/// A key and where its value goes, as the reader walks over it: made by the typed Field<T>, see
/// json/fields.hpp.
struct AnyField : Key {
  AnySetter set = nullptr;
  const AnyShape* shape = nullptr;    ///< of an object
  AnyOpener open = nullptr;           ///< gives the struct that an object fills; null: the same one
  const AnyField* element = nullptr;  ///< of an array
};

/// An object: at most 64 fields.
struct AnyShape {
  std::span<const AnyField> fields;
  AnyFinish finish = nullptr;  ///< checks of keys against each other
};

template <class T>
class Shape;

/// Which keys an object had.
class Seen {
 public:
  Seen(const AnyShape& shape, std::uint64_t bits) : shape_(shape), bits_(bits) {}
  bool has(std::string_view key) const;

 private:
  const AnyShape& shape_;
  std::uint64_t bits_;
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
  template <class T>
  bool read(const Shape<T>& shape, T& object, std::string_view noun) {
    return read_any(shape.any(), &object, noun);
  }
  /// All faults in order of place, with lines and columns.
  Diagnostics faults();

  // For setters and checks.
  template <class T>
  T& user() const {
    return *static_cast<T*>(user_);
  }
  /// A fault of the value or object at hand.
  void fault(Fault fault);
  /// A fault of a key of the object at hand, or at another pointer (after reading).
  void fault_of(std::string_view key, Fault fault);
  void fault_at(std::string pointer, Fault fault);
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
  bool read_any(const AnyShape& shape, void* object, std::string_view noun);
  struct Frame {
    const AnyShape* shape;  ///< null in an array
    const AnyField*
        field;  ///< field of the value at hand, null: passed over; in an array the element
    void* object;
    std::uint64_t seen;
    std::size_t next;  ///< in an object the field to try first; in an array the elements so far
    std::size_t most;
  };
  Frame& top() { return frames_[depth_ - 1]; }
  const AnyField* next_value();
  const AnyField* find_field(Frame& frame, std::string_view key) const;
  void unknown_key(const std::string& key);
  void refuse(const AnyField& field, std::string_view given);
  bool fits(const AnyField& field, Scalar& value);
  bool fits_text(const AnyField& field, const std::string& text);
  void open(const AnyField& field, Kind kind);
  void finish_object(const Frame& frame);
  void keep_raw(std::size_t end);
  void note(PlacedFault fault);
  bool go_on() const { return faults_.size() <= kMostFaults; }
  std::string pointer_of(std::size_t depth) const;

  std::string_view text_;
  void* user_;
  Extras* extras_;
  AnyField root_;
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

}  // namespace overjoist::io
