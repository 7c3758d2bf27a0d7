// SPDX-License-Identifier: MIT
#include "words/faults.hpp"

#include <fmt/format.h>
#include <algorithm>
#include <iterator>
#include <stdexcept>
#include <variant>

namespace overjoist::io {
namespace {

/// Fills the placeholders of one text.
class Filling {
 public:
  Filling(const std::vector<FaultValue>& values, Reads reads) : values_(values), reads_(reads) {}

  std::string of(std::string_view words) {
    out_.clear();
    for (std::size_t at = 0; at < words.size(); ++at) {
      const char c = words[at];
      const bool twice = at + 1 < words.size() && words[at + 1] == c;
      if (c == '{' && !twice) {
        const std::size_t end = std::min(words.find('}', at), words.size());
        fill(words.substr(at + 1, end - at - 1));
        at = end;
        continue;
      }
      if ((c == '{' || c == '}') && twice) ++at;
      out_ += c;
    }
    return std::move(out_);
  }

 private:
  void fill(std::string_view placeholder) {
    const std::size_t colon = std::min(placeholder.find(':'), placeholder.size());
    const std::string_view name = placeholder.substr(0, colon);
    const auto value = std::find_if(values_.begin(), values_.end(),
                                    [&](const FaultValue& v) { return v.name == name; });
    if (value != values_.end()) return put(*value, placeholder.substr(colon));
    const bool is_key = std::any_of(std::begin(kFlagsOfKeys), std::end(kFlagsOfKeys),
                                    [&](const FlagOfKey& row) { return row.key == name; });
    if (!is_key) throw std::logic_error("a fault without its value: " + std::string(name));
    put_key(name);
  }
  void put(const FaultValue& value, std::string_view format) {
    if (const auto* key = std::get_if<KeyName>(&value.value)) return put_key(key->key);
    if (const auto* text = std::get_if<std::string>(&value.value)) {
      out_ += *text;
      return;
    }
    const std::string number = fmt::format("{{{}}}", format);
    if (const auto* real = std::get_if<double>(&value.value))
      out_ += fmt::format(fmt::runtime(number), *real);
    else
      out_ += fmt::format(fmt::runtime(number), std::get<std::size_t>(value.value));
  }
  void put_key(std::string_view key) { out_ += reads_ == Reads::flags ? flag_of(key) : key; }

  const std::vector<FaultValue>& values_;
  Reads reads_;
  std::string out_;
};

}  // namespace

const FaultRow* row_called(std::string_view name) {
  const auto row = std::find_if(kFaultRows.begin(), kFaultRows.end(),
                                [&](const FaultRow& r) { return r.name == name; });
  return row == kFaultRows.end() ? nullptr : &*row;
}

std::string_view flag_of(std::string_view key) {
  const auto row = std::find_if(std::begin(kFlagsOfKeys), std::end(kFlagsOfKeys),
                                [&](const FlagOfKey& r) { return r.key == key; });
  return row == std::end(kFlagsOfKeys) ? key : row->flag;
}

FaultText say(const FaultRow& row, const std::vector<FaultValue>& values, Reads reads) {
  const bool own = reads == Reads::flags && !row.flags.words.message.empty();
  const FaultWords& words = own ? row.flags.words : row.survey;
  Filling filling(values, reads);
  return {filling.of(words.message), filling.of(words.hint)};
}

Diagnostic diagnostic_of(std::string pointer, Fault fault) {
  const FaultRow& row = row_of(fault.code);
  FaultText text = say(row, fault.values, Reads::survey);
  return {std::move(pointer),     0, 0, std::move(text.message), std::move(text.hint), row.name,
          std::move(fault.values)};
}

}  // namespace overjoist::io

namespace overjoist {

std::string_view name_of(ErrorCode code) {
  static constexpr std::string_view kNames[] = {"out-of-range", "contradiction", "missing",
                                                "unknown-name", "unreadable",    "not-computed"};
  return kNames[static_cast<std::size_t>(code)];
}

}  // namespace overjoist
