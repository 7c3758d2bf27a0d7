// SPDX-License-Identifier: MIT
#include <algorithm>

#include "read/json/reader.hpp"

// Faults as the reader notes them: each at the place of the value, object or key at hand.
namespace overjoist::io {

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

void Reader::fault(Fault fault) {
  const std::size_t offset = closing_ ? kNowhere : token_start(text_, from_);
  note({pointer_of(closing_ ? depth_ - 1 : depth_), offset, std::move(fault)});
}

void Reader::fault_of(std::string_view key, Fault fault) {
  fault_at(pointer_of(depth_ - 1) + '/' + pointer_step(key), std::move(fault));
}

void Reader::fault_at(std::string pointer, Fault fault) {
  if (go_on()) note({std::move(pointer), kNowhere, std::move(fault)});
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
  if (more) result.push_back(diagnostic_of("", make_fault<FaultCode::more_faults>()));
  return result;
}

}  // namespace overjoist::io
