// SPDX-License-Identifier: MIT
#include "read/json/reader.hpp"

#include <algorithm>

#include "words/nearest.hpp"

namespace overjoist::io {
namespace {

using F = FaultCode;

std::string kinds_in_words(const AnyField& field) {
  std::string words;
  const auto add = [&](Kind kind, const std::string& word) {
    if (field.kinds & kind) words += (words.empty() ? "" : " or ") + word;
  };
  std::string units;
  for (const Unit& u : units_of(field.dimension.value_or(Dimension::number)))
    units += (units.empty() ? "" : ", ") + std::string(u.name);
  add(kNumber, "a number");
  add(kText, units.empty() ? "a text" : "a text with a number and a unit (" + units + ")");
  add(kFlag, "true or false");
  add(kObject, "an object {...}");
  add(kArray, "a list [...]");
  return words;
}

}  // namespace

bool Seen::has(std::string_view key) const {
  for (std::size_t i = 0; i < shape_.fields.size(); ++i)
    if (shape_.fields[i].key == key) return (bits_ >> i & 1U) != 0;
  return false;
}

std::optional<Error> refusal_of(const std::function<void()>& make) {
  try {
    make();
  } catch (const Error& e) {
    return e;
  }
  return std::nullopt;
}

Reader::Reader(std::string_view text, void* user, Extras* extras)
    : text_(text), user_(user), extras_(extras) {}

// Events

bool Reader::on_key(std::string& key, std::size_t at) {
  from_ = std::exchange(here_, at);
  if (skipped_ > 0) return true;
  Frame& frame = top();
  const AnyField* const field = find_field(frame, key);
  frame.field = nullptr;
  if (!field) {
    unknown_key(key);
    return go_on();
  }
  const auto index = static_cast<std::size_t>(field - frame.shape->fields.data());
  const std::uint64_t bit = std::uint64_t{1} << index;
  frame.next = index + 1;
  if (frame.seen & bit)
    note({pointer_of(depth_) + '/' + pointer_step(key), token_start(text_, from_),
          make_fault<F::key_twice>(key)});
  else if (field->kinds != 0)
    frame.field = field;
  frame.seen |= bit;
  return go_on();
}

bool Reader::on_scalar(Scalar value, std::size_t at) {
  from_ = std::exchange(here_, at);
  if (skipped_ > 0) return true;
  const AnyField* const field = next_value();
  if (!field)
    keep_raw(kNowhere);
  else if (!(field->kinds & value.kind))
    refuse(*field, token());
  else if (fits(*field, value))
    field->set(*this, top().object, value);
  return go_on();
}

bool Reader::on_null(std::size_t at) {
  from_ = std::exchange(here_, at);
  if (skipped_ > 0) return true;
  const AnyField* const field = next_value();
  if (!field)
    keep_raw(kNowhere);
  else
    fault(make_fault<F::null_value>(field->key, kinds_in_words(*field)));
  return go_on();
}

bool Reader::on_start(Kind kind, std::size_t at) {
  from_ = std::exchange(here_, at);
  if (depth_ - 1 + skipped_ >= kMostDepth) {
    const std::string below = raw_key_.empty() ? "" : '/' + pointer_step(raw_key_);
    note({pointer_of(depth_) + below, token_start(text_, from_),
          make_fault<F::too_deep>(kMostDepth)});
    return false;
  }
  if (skipped_ > 0) {
    ++skipped_;
    return true;
  }
  const AnyField* const field = next_value();
  if (field && (field->kinds & kind)) {
    open(*field, kind);
  } else {
    if (field) refuse(*field, kind == kObject ? "an object" : "a list");
    skipped_ = 1;
  }
  return go_on();
}

bool Reader::on_end(std::size_t at) {
  from_ = std::exchange(here_, at);
  if (skipped_ > 0) {
    if (--skipped_ == 0) keep_raw(at);
    return true;
  }
  const Frame frame = top();
  closing_ = true;
  if (frame.shape)
    finish_object(frame);
  else if (const AnyField& list = *frames_[depth_ - 2].field; frame.next < list.least)
    fault(list.required ? make_fault<F::too_few_entries>(list.key, frame.next, list.least)
                        : make_fault<F::empty_list>(list.key, frame.next, list.least));
  closing_ = false;
  --depth_;
  return go_on();
}

void Reader::on_broken(std::size_t at, bool at_end) {
  const bool ended = depth_ == 1 && skipped_ == 0 && frames_[0].next > 0;
  if (ended && !at_end)
    return note(
        {"", text_.find_first_not_of(" \t\r\n", here_), make_fault<F::text_after_end>(root_.key)});
  PlacedFault fault = syntax_fault(text_, here_, at, at_end);
  fault.pointer = pointer_of(depth_);
  note(std::move(fault));
}

void Reader::on_overflow() {
  const std::size_t start = token_start(text_, here_);
  note({pointer_of(depth_), start,
        make_fault<F::huge_number>(
            shortened(text_.substr(start, token_end(text_, start) - start)))});
}

// Keys and values

const AnyField* Reader::find_field(Frame& frame, std::string_view key) const {
  const auto fields = frame.shape->fields;
  // Keys mostly come in the order of the table.
  for (std::size_t i = frame.next; i < fields.size(); ++i)
    if (fields[i].key == key) return &fields[i];
  for (std::size_t i = 0; i < frame.next; ++i)
    if (fields[i].key == key) return &fields[i];
  return nullptr;
}

void Reader::unknown_key(const std::string& key) {
  const std::size_t start = token_start(text_, from_);
  if (key.starts_with("x_")) {
    if (!extras_ || depth_ != 2) return;
    if (!extra_keys_.insert(key).second)
      return note({'/' + pointer_step(key), start, make_fault<F::key_twice>(shortened(key))});
    raw_key_ = key;
    raw_from_ = token_start(text_, here_);
    return;
  }
  std::vector<std::string_view> names;
  std::string known;
  for (const AnyField& f : top().shape->fields) {
    names.push_back(f.key);
    if (f.kinds != 0) known += (known.empty() ? "" : ", ") + std::string(f.key);
  }
  const std::string_view near = nearest_name(key, names);
  note({pointer_of(depth_) + '/' + pointer_step(key), start,
        near.empty() ? make_fault<F::unknown_key>(shortened(key), known)
                     : make_fault<F::misspelt_key>(shortened(key), near)});
}

const AnyField* Reader::next_value() {
  Frame& frame = top();
  if (frame.shape || ++frame.next <= frame.most) return frame.field;
  if (frame.next == frame.most + 1) fault(make_fault<F::too_many_entries>(frame.most));
  return nullptr;
}

void Reader::refuse(const AnyField& field, std::string_view given) {
  fault(make_fault<F::wrong_kind>(field.key, given, kinds_in_words(field)));
}

void Reader::open(const AnyField& field, Kind kind) {
  void* const object = top().object;
  if (kind == kArray)
    frames_[depth_] = {nullptr, field.element, object, 0, 0, field.most};
  else
    frames_[depth_] = {field.shape, nullptr, field.open ? field.open(object) : object, 0, 0, 0};
  ++depth_;
}

void Reader::finish_object(const Frame& frame) {
  top().field = nullptr;
  for (std::size_t i = 0; i < frame.shape->fields.size(); ++i) {
    const AnyField& f = frame.shape->fields[i];
    if (f.required && !(frame.seen >> i & 1U)) fault(f.missing(f.key));
  }
  if (frame.shape->finish) frame.shape->finish(*this, frame.object, Seen(*frame.shape, frame.seen));
}

void Reader::keep_raw(std::size_t end) {
  if (raw_key_.empty()) return;
  if (end == kNowhere) end = token_end(text_, raw_from_);
  extras_->emplace_back(std::move(raw_key_), text_.substr(raw_from_, end - raw_from_));
  raw_key_.clear();
}

}  // namespace overjoist::io
