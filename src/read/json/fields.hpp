// SPDX-License-Identifier: MIT
#pragma once
#include <array>
#include <cstddef>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <type_traits>
#include <utility>
#include <vector>

#include "read/json/reader.hpp"

/// Tables of fields, each of one struct: a field of a section among those of a site, or an object
/// whose keys are those of another struct than its member, does not compile.
namespace overjoist::io {

/// A key of an object that fills a T; made by the functions below.
template <class T>
class Field {
 public:
  constexpr explicit Field(const AnyField& row) : row_(row) {}
  constexpr const AnyField& row() const { return row_; }

 private:
  AnyField row_;
};

/// The keys of an object that fills a T.
template <class T, std::size_t N>
class Fields {
  static_assert(N <= 64, "the reader keeps one bit for each key of an object");

 public:
  constexpr explicit Fields(const std::array<AnyField, N>& rows) : rows_(rows) {}
  constexpr const std::array<AnyField, N>& rows() const { return rows_; }
  /// These keys and then those of `more`.
  template <std::size_t M>
  constexpr Fields<T, N + M> then(const Fields<T, M>& more) const {
    std::array<AnyField, N + M> rows{};
    for (std::size_t i = 0; i < N; ++i) rows[i] = rows_[i];
    for (std::size_t i = 0; i < M; ++i) rows[N + i] = more.rows()[i];
    return Fields<T, N + M>(rows);
  }

 private:
  std::array<AnyField, N> rows_;
};
template <class T, std::size_t N>
constexpr Fields<T, N> fields_of(const Field<T> (&list)[N]) {
  std::array<AnyField, N> rows{};
  for (std::size_t i = 0; i < N; ++i) rows[i] = list[i].row();
  return Fields<T, N>(rows);
}

// Setters and checks are written for their struct; the reader calls them through these.

template <class F>
struct Taken;
template <class T, class Third>
struct Taken<void (*)(Reader&, T&, Third&)> {
  using Struct = std::remove_const_t<T>;
};
/// The struct that a setter or a check is for.
template <auto F>
using StructOf = typename Taken<decltype(F)>::Struct;

template <auto F>
void call_setter(Reader& reader, void* object, Scalar& value) {
  F(reader, *static_cast<StructOf<F>*>(object), value);
}
template <auto F>
void call_finish(Reader& reader, void* object, const Seen& seen) {
  F(reader, *static_cast<StructOf<F>*>(object), seen);
}

/// A check of the keys of a T against each other; made by `finish_by`.
template <class T>
struct Finish {
  AnyFinish call = nullptr;
};
template <auto F>
constexpr Finish<StructOf<F>> finish_by() {
  return {call_finish<F>};
}

/// An object that fills a T.
template <class T>
class Shape {
 public:
  template <std::size_t N>
  constexpr explicit Shape(const Fields<T, N>& fields, Finish<T> finish = {})
      : any_{fields.rows(), finish.call} {}
  constexpr const AnyShape& any() const { return any_; }

 private:
  AnyShape any_;
};

// How a value gets into a member of a struct. `M` is a pointer to a member that may be plain,
// optional or a list.

template <auto M>
struct Member;
template <class O, class T, T O::*M>
struct Member<M> {
  using Owner = O;
  using Type = T;
};
template <auto M>
using OwnerOf = typename Member<M>::Owner;

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
/// The struct that an object fills whose member is `M`.
template <auto M>
using OpenedBy =
    std::remove_reference_t<decltype(open_member(std::declval<typename Member<M>::Type&>()))>;

template <auto M>
void set_number(Reader&, OwnerOf<M>& object, Scalar& v) {
  assign_number(object.*M, v.number);
}
template <auto M>
void set_text(Reader&, OwnerOf<M>& object, Scalar& v) {
  assign_text(object.*M, std::move(*v.text));
}
template <auto M>
void set_flag(Reader&, OwnerOf<M>& object, Scalar& v) {
  object.*M = v.flag;
}
template <auto M>
void* open_at(void* object) {
  return &open_member(static_cast<OwnerOf<M>*>(object)->*M);
}

// Fields of the common sorts.

/// A key whose value a setter takes, `void set(Reader&, T&, Scalar&)`.
template <auto F>
constexpr Field<StructOf<F>> set_by(const Key& key) {
  return Field<StructOf<F>>({key, call_setter<F>});
}
template <auto M>
constexpr Field<OwnerOf<M>> quantity_field(std::string_view key, Dimension dimension, Bounds bounds,
                                           bool required = false) {
  return set_by<set_number<M>>({.key = key,
                                .kinds = kNumber | kText,
                                .dimension = dimension,
                                .bounds = bounds,
                                .required = required});
}
template <auto M>
constexpr Field<OwnerOf<M>> number_field(std::string_view key, Bounds bounds,
                                         bool required = false) {
  return set_by<set_number<M>>({.key = key,
                                .kinds = kNumber,
                                .dimension = Dimension::number,
                                .bounds = bounds,
                                .required = required});
}
template <auto M>
constexpr Field<OwnerOf<M>> whole_field(std::string_view key, Bounds bounds,
                                        bool required = false) {
  AnyField row = number_field<M>(key, bounds, required).row();
  row.whole = true;
  return Field<OwnerOf<M>>(row);
}
template <auto M>
constexpr Field<OwnerOf<M>> text_field(std::string_view key, std::size_t most,
                                       bool required = false) {
  return set_by<set_text<M>>({.key = key,
                              .kinds = kText,
                              .least = required ? 1U : 0U,
                              .most = most,
                              .required = required});
}
template <auto M>
constexpr Field<OwnerOf<M>> word_field(std::string_view key,
                                       std::span<const std::string_view> words,
                                       bool required = false,
                                       KeyFault missing = key_fault<FaultCode::missing_key>) {
  return set_by<set_number<M>>(
      {.key = key, .kinds = kText, .words = words, .required = required, .missing = missing});
}
template <auto M>
constexpr Field<OwnerOf<M>> flag_field(std::string_view key) {
  return set_by<set_flag<M>>({.key = key, .kinds = kFlag});
}
/// The same key may also hold an object, which fills the struct of a member.
template <auto M>
constexpr Field<OwnerOf<M>> or_object(const Field<OwnerOf<M>>& field,
                                      const Shape<OpenedBy<M>>& shape) {
  AnyField row = field.row();
  row.kinds |= kObject;
  row.shape = &shape.any();
  row.open = open_at<M>;
  return Field<OwnerOf<M>>(row);
}
/// An object with a struct of its own.
template <auto M>
constexpr Field<OwnerOf<M>> object_field(std::string_view key, const Shape<OpenedBy<M>>& shape) {
  return or_object<M>(Field<OwnerOf<M>>({{.key = key}}), shape);
}
/// An object whose keys fill the struct around it.
template <class T>
constexpr Field<T> part_field(std::string_view key, const Shape<T>& shape, bool required = false) {
  return Field<T>({{.key = key, .kinds = kObject, .required = required}, nullptr, &shape.any()});
}
template <class T>
constexpr Field<T> array_field(std::string_view key, const Field<T>& element, std::size_t least,
                               std::size_t most, bool required = false) {
  return Field<T>(
      {{.key = key, .kinds = kArray, .least = least, .most = most, .required = required},
       nullptr,
       nullptr,
       nullptr,
       &element.row()});
}
/// A key whose value is passed over.
template <class T>
constexpr Field<T> passed_field(std::string_view key) {
  return Field<T>({{.key = key}});
}

}  // namespace overjoist::io
