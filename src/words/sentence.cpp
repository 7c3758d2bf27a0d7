// SPDX-License-Identifier: MIT
#include <string>
#include <string_view>
#include <variant>

#include "words/words.hpp"

// Sentences of the tables, filled with the values of what they are said of.
namespace overjoist::io {
namespace {

/// Names of values that were asked for or printed on a label; all others were worked out.
bool is_given(std::string_view name) {
  return name == "target" || name == "planned" || name == "value" || name == "low" ||
         name == "high";
}

}  // namespace

const Value* find_value(const Values& values, std::string_view name) {
  for (const NamedValue& v : values)
    if (v.name == name) return &v.value;
  return nullptr;
}

const std::string* not_cleared_but(const Caution& caution) {
  const Value* value = find_value(caution.values, "but");
  return value != nullptr ? std::get_if<std::string>(value) : nullptr;
}

Caution said_of(const Evaluation& e, std::size_t row) {
  Caution c;
  c.row = row;
  c.quiet = e.hands_off;
  return c;
}

void render(std::string& out, std::string_view text, const Values& values, Units units) {
  for (;;) {
    const std::size_t open = text.find('{');
    const std::size_t close = open == std::string_view::npos ? open : text.find('}', open);
    if (close == std::string_view::npos) break;
    out += text.substr(0, open);
    const std::string_view name = text.substr(open + 1, close - open - 1);
    const Value* value = find_value(values, name);
    if (value != nullptr)
      append_value(out, *value, units, name == "limit" ? Toward::down : Toward::up, is_given(name));
    else
      out += "(not known)";
    text.remove_prefix(close + 1);
    if (out.ends_with("in.") && text.starts_with('.'))
      text.remove_prefix(1);  // "6 in." ends a sentence by itself
  }
  out += text;
}

}  // namespace overjoist::io
