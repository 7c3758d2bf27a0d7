// SPDX-License-Identifier: MIT
#pragma once
#include <charconv>
#include <cmath>
#include <cstddef>
#include <optional>
#include <string_view>

/// Numbers as people write them, from the front of a text: what reads a quantity and what says why
/// it is none share it.
namespace overjoist::io {

constexpr char lower(char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; }
constexpr bool is_digit(char c) { return c >= '0' && c <= '9'; }

/// Reads from the front of a text.
class Front {
 public:
  explicit Front(std::string_view text) : rest_(text) { skip_blanks(); }
  std::string_view rest() const { return rest_; }
  bool take(char c) {
    if (rest_.empty() || lower(rest_.front()) != c) return false;
    rest_.remove_prefix(1);
    return true;
  }
  void skip_blanks() {
    while (!rest_.empty() && rest_.front() == ' ') rest_.remove_prefix(1);
  }
  /// Digits only.
  std::optional<double> whole() {
    std::size_t n = 0;
    while (n < rest_.size() && is_digit(rest_[n])) ++n;
    return n == 0 ? std::nullopt : number_of(n);
  }
  /// Digits with at most one point.
  std::optional<double> decimal() {
    std::size_t n = 0, digits = 0, points = 0;
    for (; n < rest_.size() && (is_digit(rest_[n]) || (rest_[n] == '.' && points == 0)); ++n)
      (rest_[n] == '.' ? points : digits) += 1;
    return digits == 0 ? std::nullopt : number_of(n);
  }
  /// `3/4`, wholly or not at all.
  std::optional<double> fraction() {
    const Front before = *this;
    const auto top = whole();
    const auto bottom = top && take('/') ? whole() : std::nullopt;
    if (bottom && *bottom > 0) return *top / *bottom;
    *this = before;
    return {};
  }
  /// A decimal, a fraction or a mixed number.
  std::optional<double> number() {
    if (const auto f = fraction()) return f;
    const bool can_be_mixed = !rest_.empty() && is_digit(rest_.front());
    const std::string_view start = rest_;
    const auto n = decimal();
    const bool whole_number =
        n && can_be_mixed &&
        start.substr(0, start.size() - rest_.size()).find('.') == std::string_view::npos;
    if (!whole_number) return n;
    const Front before = *this;
    if (!take('-')) skip_blanks();
    if (const auto f = fraction()) return *n + *f;
    *this = before;
    return n;
  }

 private:
  std::optional<double> number_of(std::size_t n) {
    double value = 0.0;
    const auto end =
        std::from_chars(rest_.data(), rest_.data() + n, value, std::chars_format::fixed);
    if (end.ec != std::errc() || !std::isfinite(value)) return {};
    rest_.remove_prefix(n);
    return value;
  }
  std::string_view rest_;
};

}  // namespace overjoist::io
