// SPDX-License-Identifier: MIT
#include "write/document/html.hpp"

#include "overjoist/report.hpp"
#include "words/utf8.hpp"
#include "write/document/page.hpp"

namespace overjoist::io {
namespace {

// Blocks whose letters run from right to left: Hebrew to Arabic Extended, their presentation forms,
// and those beyond.
bool right_to_left(char32_t c) {
  return (c >= 0x590 && c <= 0x8FF) || (c >= 0xFB1D && c <= 0xFDFF) ||
         (c >= 0xFE70 && c <= 0xFEFE) || (c >= 0x10800 && c <= 0x10FFF) ||
         (c >= 0x1E800 && c <= 0x1EFFF);
}

/// @param quotes  escaped too: inside an attribute
void append_escaped(std::string& out, std::string_view piece, bool quotes = false) {
  for (const char c : piece) {
    if (c == '&')
      out += "&amp;";
    else if (c == '<')
      out += "&lt;";
    else if (c == '>')
      out += "&gt;";
    else if (c == '"' && quotes)
      out += "&quot;";
    else if (c == '\'' && quotes)
      out += "&#39;";
    else
      out += c;
  }
}

bool is_digit(char c) { return c >= '0' && c <= '9'; }

/// "R-49" stays on one line: a browser would break it behind the hyphen.
void append_words(std::string& out, std::string_view piece) {
  for (std::size_t at = piece.find("R-"); at != std::string_view::npos; at = piece.find("R-", at)) {
    std::size_t end = at + 2;
    while (end < piece.size() &&
           (is_digit(piece[end]) ||
            (piece[end] == '.' && end + 1 < piece.size() && is_digit(piece[end + 1]))))
      ++end;
    if (end == at + 2) {
      at = end;
      continue;
    }
    append_escaped(out, piece.substr(0, at));
    out += "<span class=\"n\">";
    append_escaped(out, piece.substr(at, end - at));
    out += "</span>";
    piece.remove_prefix(end);
    at = 0;
  }
  append_escaped(out, piece);
}

/// Bytes of the run at the start of `text` that goes in one direction. Blanks and digits between
/// letters from right to left belong to them.
std::size_t run_length(std::string_view text, bool& turned) {
  turned = right_to_left(decode(text).value);
  std::size_t end = 0, sure = 0;
  while (end < text.size()) {
    const CodePoint c = decode(text.substr(end));
    const bool letter = right_to_left(c.value);
    if (!turned && letter) break;
    if (turned && !letter && c.value != ' ' && c.value != '-') break;
    end += c.length;
    if (!turned || letter) sure = end;
  }
  return sure;
}

}  // namespace

std::string html_text(std::string_view text) {
  const std::string safe = printable(text);
  std::string out;
  out.reserve(safe.size() + 16);
  for (std::string_view rest = safe; !rest.empty();) {
    bool turned = false;
    const std::size_t run = run_length(rest, turned);
    if (turned) out += "<bdi>";
    append_words(out, rest.substr(0, run));
    if (turned) out += "</bdi>";
    rest.remove_prefix(run);
  }
  return out;
}

std::string html_attribute(std::string_view text) {
  std::string out;
  append_escaped(out, printable(text), true);
  return out;
}

std::string_view callout_word(Callout kind) {
  static constexpr std::string_view kWords[] = {"STOP", "Fix first", "Take care", "Good to know"};
  return kWords[static_cast<std::size_t>(kind)];
}

// ---- Elements

void Html::tag(std::string_view name, Attributes attributes, std::string_view end) {
  out_ += '<';
  out_ += name;
  for (const Attribute& a : attributes) {
    if (a.value.empty()) continue;  // a class that is not given
    out_ += ' ';
    out_ += a.name;
    out_ += "=\"";
    out_ += html_attribute(a.value);
    out_ += '"';
  }
  out_ += end;
}

void Html::open(std::string_view name, Attributes attributes) {
  tag(name, attributes, ">");
  open_.emplace_back(name);
}

void Html::close() {
  out_ += "</";
  out_ += open_.back();
  out_ += ">\n";
  open_.pop_back();
}

void Html::text(std::string_view words) { out_ += html_text(words); }

void Html::element(std::string_view name, std::string_view words, Attributes attributes) {
  open(name, attributes);
  text(words);
  close();
}

void Html::element_plain(std::string_view name, std::string_view words, Attributes attributes) {
  open(name, attributes);
  append_escaped(out_, printable(words));
  close();
}

void Html::empty(std::string_view name, Attributes attributes) { tag(name, attributes, ">\n"); }
void Html::leaf(std::string_view name, Attributes attributes) { tag(name, attributes, "/>\n"); }

// ---- The page

Html::Html(std::string& out, const PageHead& head) : out_(out) {
  constexpr std::size_t kTitle =
      56;  // columns that a window's title bar or a list of results shows
  out_ += "<!DOCTYPE html>\n";
  open("html", {{"lang", "en"}});
  open("head");
  empty("meta", {{"charset", "utf-8"}});
  empty("meta", {{"http-equiv", "Content-Security-Policy"},
                 {"content", "default-src 'none'; style-src 'unsafe-inline'"}});
  empty("meta", {{"name", "viewport"}, {"content", "width=device-width, initial-scale=1"}});
  empty("meta", {{"name", "color-scheme"}, {"content", "light dark"}});
  element_plain("title", cut_to(printable(head.title), kTitle));
  out_ += "<style>\n";
  out_ += html_style();
  out_ += "</style>\n";
  close();
  open("body");
  open("main");
  if (!head.kind.empty()) element("p", head.kind, {{"class", "kind"}});
}

void Html::finish() {
  while (!open_.empty()) close();
}

void Html::section_begin(std::string_view words) {
  const std::string id = "s" + std::to_string(next_id());
  open("section", {{"aria-labelledby", id}});
  element("h2", words, {{"id", id}});
}

void Html::heading(int level, std::string_view words) {
  const std::string name = "h" + std::to_string(level);
  element(name, words);
}

void Html::paragraph(std::string_view words, std::string_view css_class) {
  element("p", words, {{"class", css_class}});
}

void Html::list(std::span<const std::string> items, bool numbered) {
  if (items.empty()) return;
  open(numbered ? "ol" : "ul");
  for (const std::string& item : items) element("li", item);
  close();
}

void Html::facts(std::span<const Fact> list) {
  open("dl");
  for (const Fact& fact : list) {
    open("div");
    element("dt", fact.term);
    element("dd", fact.text);
    close();
  }
  close();
}

// ---- Tables

void Html::table_begin(std::string_view caption, std::span<const std::string> heads,
                       std::string_view css_class) {
  open("table", {{"class", css_class}});
  element("caption", caption);
  open("thead");
  open("tr");
  for (const std::string& head : heads) {
    if (head.empty())
      element("td", "");  // no head: nothing to read out
    else
      element("th", head, {{"scope", "col"}});
  }
  close();
  close();
  open("tbody");
}

void Html::row(std::span<const std::string> cells) {
  open("tr");
  bool first = true;
  for (const std::string& cell : cells) {
    if (first)
      element("th", cell, {{"scope", "row"}});
    else
      element("td", cell);
    first = false;
  }
  close();
}

void Html::table_end() {
  close();
  close();
}

// ---- Boxes and forms

void Html::callout_begin(Callout kind, std::string_view words) {
  static constexpr std::string_view kClasses[] = {"callout stop", "callout fix", "callout care",
                                                  "callout note"};
  open("div", {{"class", kClasses[static_cast<std::size_t>(kind)]}});
  open("p", {{"class", "callout-head"}});
  element("strong", callout_word(kind), {{"class", "badge"}});
  if (!words.empty()) {
    out_ += ' ';
    element("span", words);
  }
  close();
}

void Html::tick(std::string_view words) {
  open("li");
  element("span", "", {{"class", "box"}});
  text(words);
  close();
}

void Html::form_line(std::string_view label) {
  open("p", {{"class", "line"}});
  element("span", label);
  element("span", "", {{"class", "rule"}});
  close();
}

void Html::form_boxes(std::string_view label, int count) {
  open("div", {{"class", "boxes"}});
  element("p", label);
  open("p", {{"class", "cells"}});
  for (int i = 0; i < count; ++i) element("span", "", {{"class", "cell"}});
  close();
  close();
}

}  // namespace overjoist::io
