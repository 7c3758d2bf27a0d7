// SPDX-License-Identifier: MIT
#include "read/json/reader.hpp"

#include <fmt/format.h>
#include <algorithm>
#include <charconv>
#include <cmath>

#include "overjoist/materials.hpp"
#include "words/nearest.hpp"

namespace overjoist::io {
namespace {

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

std::string bounds_in_words(Bounds b, const Unit& unit) {
  const std::string_view blank = unit.name.empty() ? "" : " ";
  return fmt::format(
      fmt::runtime(b.above_low ? "above {:.7g}, up to {:.7g}{}{}" : "{:.7g} to {:.7g}{}{}"),
      unit.from_key(b.low), unit.from_key(b.high), blank, unit.name);
}

std::string did_you_mean(std::string_view given, const std::vector<std::string_view>& names) {
  const std::string_view near = nearest_name(given, names);
  return near.empty() ? std::string() : fmt::format("did you mean \"{}\"?", near);
}

/// Nothing that a survey measures or pays is nearer to 0 than this without being 0, and a quotient
/// by it has no meaning.
double nothing_below(double value) {
  constexpr double kNothing = 1e-9;
  return std::fabs(value) < kNothing ? 0.0 : value;
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
          fmt::format("{} is given twice", key), "keep one of the two"});
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
    fault(fmt::format("{}: null is no value; allowed: {}", field->key, kinds_in_words(*field)),
          "leave the key out if the value is not known");
  return go_on();
}

bool Reader::on_start(Kind kind, std::size_t at) {
  from_ = std::exchange(here_, at);
  if (depth_ - 1 + skipped_ >= kMostDepth) {
    const std::string below = raw_key_.empty() ? "" : '/' + pointer_step(raw_key_);
    note({pointer_of(depth_) + below, token_start(text_, from_),
          fmt::format("nested deeper than {} levels", kMostDepth), "take levels out"});
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
    fault(fmt::format("{}: the list has {} entries; allowed: {} or more", list.key, frame.next,
                      list.least),
          list.required ? "add an entry" : "add an entry, or leave the key out");
  closing_ = false;
  --depth_;
  return go_on();
}

void Reader::on_broken(std::size_t at, bool at_end) {
  const bool ended = depth_ == 1 && skipped_ == 0 && frames_[0].next > 0;
  if (ended && !at_end)
    return note({"", text_.find_first_not_of(" \t\r\n", here_),
                 fmt::format("something follows the end of the {}", root_.key),
                 "take it out; to hand over several, give each a file of its own or a line of its "
                 "own in a .jsonl file"});
  PlacedFault fault = syntax_fault(text_, here_, at, at_end);
  fault.pointer = pointer_of(depth_);
  note(std::move(fault));
}

void Reader::on_overflow() {
  const std::size_t start = token_start(text_, here_);
  note({pointer_of(depth_), start,
        fmt::format("the number {} is too large",
                    shortened(text_.substr(start, token_end(text_, start) - start))),
        "the largest number that can be read is about 1.8e308"});
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
      return note({'/' + pointer_step(key), start, fmt::format("{} is given twice", shortened(key)),
                   "keep one of the two"});
    raw_key_ = key;
    raw_from_ = token_start(text_, here_);
    return;
  }
  std::vector<std::string_view> names;
  std::string known;
  for (const AnyField& f : top().shape->fields) {
    names.push_back(f.key);
    if (f.kinds != 0) known += (known.empty() ? "known keys: " : ", ") + std::string(f.key);
  }
  std::string hint = did_you_mean(key, names);
  if (hint.empty()) hint = known + "; a key of your own starts with x_";
  note({pointer_of(depth_) + '/' + pointer_step(key), start,
        fmt::format("unknown key \"{}\"", shortened(key)), hint});
}

const AnyField* Reader::next_value() {
  Frame& frame = top();
  if (frame.shape || ++frame.next <= frame.most) return frame.field;
  if (frame.next == frame.most + 1)
    fault(fmt::format("more than {} entries", frame.most),
          "split the survey, or leave entries out");
  return nullptr;
}

void Reader::refuse(const AnyField& field, std::string_view given) {
  fault(fmt::format("{}: {} is not allowed here; allowed: {}", field.key, given,
                    kinds_in_words(field)),
        "change the value, or leave the key out if it is not required");
}

bool Reader::fits(const AnyField& field, Scalar& value) {
  if (field.dimension) {
    const auto v = quantity(value, *field.dimension, field.bounds, field.key);
    if (!v) return false;
    const double told =
        value.kind == kNumber ? value.number : *v;  // 1e-320 is taken as 0, but is no whole number
    value.number = *v;
    if (!field.whole || told == std::floor(told)) return true;
    fault(fmt::format("{} {} is not a whole number", field.key, raw()), "leave the decimals out");
    return false;
  }
  if (value.kind != kText) return true;
  if (field.words.empty()) return fits_text(field, *value.text);
  const auto index = word(*value.text, field.words, field.key);
  value.number = static_cast<double>(index.value_or(0));
  return index.has_value();
}

bool Reader::fits_text(const AnyField& field, const std::string& text) {
  if (text.size() >= field.least && text.size() <= field.most) return true;
  const std::size_t n = characters(text);
  if (n >= field.least && n <= field.most) return true;
  fault(fmt::format("{}: the text has {} characters; allowed: {} to {}", field.key, n, field.least,
                    field.most),
        n > field.most ? "shorten it" : "write a word or two");
  return false;
}

std::optional<double> Reader::quantity(const Scalar& value, Dimension dimension, Bounds bounds,
                                       std::string_view what) {
  if (value.kind == kNumber) {
    if (!within(value.number, bounds, units_of(dimension).front(), false, what)) return {};
    note_unit(nullptr, dimension, bounds, value.number, what);
    return nothing_below(value.number);
  }
  QuantityText read = read_quantity(*value.text, dimension);
  if (!read.ok) {
    fault(fmt::format("{}: {}", what, read.fault), std::move(read.hint));
    return {};
  }
  if (!within(read.value, bounds, *read.unit, read.unit_written, what)) return {};
  note_unit(read.unit_written ? read.unit : nullptr, dimension, bounds, read.value, what);
  return nothing_below(read.value);
}

void Reader::note_unit(const Unit* unit, Dimension dimension, Bounds bounds, double value,
                       std::string_view key) {
  constexpr std::string_view kMetricInitials =
      "mck";  // mm, cm, m, m2, m2 K/W, m K/W, kg, kg/m2, kg/m3
  constexpr double kInsulation =
      200.0;  // what an R of insulation may be; boards and films are allowed less
  if (unit && dimension != Dimension::percent) {
    ++(kMetricInitials.find(unit->name.front()) == std::string_view::npos ? written_.us
                                                                          : written_.metric);
  } else if (!unit && dimension == Dimension::resistance) {
    const bool surface = bounds.high < kInsulation;
    auto& least = surface ? written_.bare_surface_r : written_.bare_r;
    if (!(value > 0) || (least && *least <= value)) return;
    least = value;
    (surface ? written_.bare_surface_key : written_.bare_r_key) = key;
  } else if (!unit && dimension == Dimension::length && key == "depth") {
    written_.bare_depth = std::max(value, written_.bare_depth.value_or(0.0));
  }
}

bool Reader::within(double value, Bounds b, const Unit& unit, bool unit_written,
                    std::string_view what) {
  const bool above_low = b.above_low ? value > b.low : value >= b.low;
  if (above_low && value <= b.high) return true;
  const bool show_unit = !unit_written && !unit.name.empty();
  constexpr double kMm = 3048;  // 120 in.: more is no length of an attic in mm either
  fault(fmt::format("{} {}{}{} is {} {:.7g}; allowed: {}", what, raw(), show_unit ? " " : "",
                    show_unit ? unit.name : "",
                    above_low     ? "above"
                    : b.above_low ? "not above"
                                  : "below",
                    unit.from_key(above_low ? b.high : b.low), bounds_in_words(b, unit)),
        value < 0 && b.low == 0 && what == "depth" ? std::string("write 0 for a bare spot")
        : above_low && show_unit && unit.name == "in." && value < kMm
            ? fmt::format("if it is in mm, write \"{0} mm\", in cm \"{0} cm\"", raw())
            : std::string("check the number and its unit"));
  return false;
}

std::optional<std::size_t> Reader::word(std::string_view text,
                                        std::span<const std::string_view> words,
                                        std::string_view key) {
  const auto found = std::find(words.begin(), words.end(), text);
  if (found != words.end()) return static_cast<std::size_t>(found - words.begin());
  fault(fmt::format("{} \"{}\" is not known; allowed: {}", key, shortened(text),
                    fmt::join(words, ", ")),
        did_you_mean(text, {words.begin(), words.end()}));
  return {};
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
    if (f.required && !(frame.seen >> i & 1U))
      fault(fmt::format("{} is missing", f.key),
            f.hint.empty() ? fmt::format("add \"{}\"", f.key) : std::string(f.hint));
  }
  if (frame.shape->finish) frame.shape->finish(*this, frame.object, Seen(*frame.shape, frame.seen));
}

void Reader::keep_raw(std::size_t end) {
  if (raw_key_.empty()) return;
  if (end == kNowhere) end = token_end(text_, raw_from_);
  extras_->emplace_back(std::move(raw_key_), text_.substr(raw_from_, end - raw_from_));
  raw_key_.clear();
}

// Faults

std::string Reader::token() const {
  const std::size_t start = token_start(text_, from_);
  return shortened(text_.substr(start, token_end(text_, start) - start));
}

std::string Reader::raw() const {
  std::string token = this->token();
  if (token.size() >= 2 && token.front() == '"')
    token = token.substr(1, token.back() == '"' ? token.size() - 2 : token.size() - 1);
  return token;
}

void Reader::note(PlacedFault fault) { faults_.push_back(std::move(fault)); }

void Reader::fault(std::string message, std::string hint) {
  const std::size_t offset = closing_ ? kNowhere : token_start(text_, from_);
  faults_.push_back(
      {pointer_of(closing_ ? depth_ - 1 : depth_), offset, std::move(message), std::move(hint)});
}

void Reader::fault_of(std::string_view key, std::string message, std::string hint) {
  fault_at(pointer_of(depth_ - 1) + '/' + pointer_step(key), std::move(message), std::move(hint));
}

void Reader::fault_at(std::string pointer, std::string message, std::string hint) {
  if (go_on())
    faults_.push_back({std::move(pointer), kNowhere, std::move(message), std::move(hint)});
}

bool Reader::clean(std::string_view pointer) const {
  return std::none_of(faults_.begin(), faults_.end(), [&](const PlacedFault& f) {
    return f.pointer.starts_with(pointer) &&
           (f.pointer.size() == pointer.size() || f.pointer[pointer.size()] == '/');
  });
}

std::string Reader::pointer_of(std::size_t depth) const {
  std::string pointer;
  for (std::size_t i = 1; i < depth; ++i) {
    const Frame& frame = frames_[i];
    if (!frame.shape && frame.next > 0)
      pointer += '/' + std::to_string(frame.next - 1);
    else if (frame.shape && frame.field)
      pointer += '/' + pointer_step(frame.field->key);
  }
  return pointer;
}

Diagnostics Reader::faults() {
  const bool more = !go_on();
  if (more) faults_.resize(kMostFaults);
  Diagnostics result = placed(text_, std::move(faults_));
  if (more) result.push_back({"", 0, 0, "and more faults", "put these right and check again"});
  return result;
}

}  // namespace overjoist::io
