// SPDX-License-Identifier: MIT
#pragma once
#include <initializer_list>
#include <span>
#include <string>
#include <string_view>
#include <vector>

/// Pages that people read: one self-contained HTML file each, without script, picture file or
/// network.
///
///     std::string out;
///     Html page(out, {"Receipt: 12 Fellside Row", "Receipt"});  // title, and word above heading
///     page.heading(1, "12 Fellside Row");
///     page.facts({{"done on", "2026-05-02"}, {"by", name}});
///     page.table_begin("What was read", {"marker", "depth"});
///     page.row({"1", "14 in."});
///     page.table_end();
///     page.form_line("signed");
///     page.finish();
///
/// Every text and attribute value is escaped here and nowhere else; callers pass plain text.
/// Control characters are shown as by `printable`, and letters that run from right to left stand in
/// a <bdi> of their own, so that they cannot turn round what stands beside them. Colours, sizes and
/// print rules are in html_style.cpp; a page names classes only.
namespace overjoist::io {

/// `text` for the content of an element.
std::string html_text(std::string_view text);
/// `text` for an attribute value in double quotes.
std::string html_attribute(std::string_view text);
/// The one style sheet of all pages.
std::string_view html_style();

struct Attribute {
  std::string_view name;
  std::string_view value;
};
using Attributes = std::initializer_list<Attribute>;

struct PageHead {
  std::string_view title;  ///< of the window; cut to what a window shows
  std::string_view kind;   ///< what the page is, in a word or two: stands above the first heading
};

/// A term and what is said of it.
struct Fact {
  std::string term, text;
};

/// How urgent a boxed text is. The words say it, the colour only repeats it.
enum class Callout { stop, fix_first, care, note };
std::string_view callout_word(Callout kind);  ///< "STOP", "Fix first", "Take care", "Good to know"

class Html {
 public:
  /// Writes the head of the page and opens its body.
  Html(std::string& out, const PageHead& head);
  Html(const Html&) = delete;
  Html& operator=(const Html&) = delete;
  /// Closes all that is open and ends the page.
  void finish();

  // ---- Elements of any name; what is opened is closed in turn
  void open(std::string_view tag, Attributes attributes = {});
  void close();
  void text(std::string_view text);  ///< escaped
  void element(std::string_view tag, std::string_view text,
               Attributes attributes = {});  ///< with a text in it
  void element_plain(std::string_view tag, std::string_view text,
                     Attributes attributes = {});  ///< without markup: titles, drawings
  void empty(std::string_view tag, Attributes attributes = {});  ///< void element: br, hr
  void leaf(std::string_view tag,
            Attributes attributes = {});  ///< of SVG, self-closed: <path .../>

  // ---- Parts of a page
  void section_begin(std::string_view heading);  ///< a <section> named by its <h2>
  void section_end() { close(); }
  void heading(int level, std::string_view text);
  void paragraph(std::string_view text, std::string_view css_class = {});
  void list(std::span<const std::string> items, bool numbered = false);
  void facts(std::span<const Fact> facts);
  void facts(std::initializer_list<Fact> list) {
    facts(std::span<const Fact>(list.begin(), list.size()));
  }

  /// A table with a caption, heads of columns, and rows whose first cell is their head. Numbers
  /// stand at the right.
  void table_begin(std::string_view caption, std::span<const std::string> heads,
                   std::string_view css_class = {});
  void table_begin(std::string_view caption, std::initializer_list<std::string> heads,
                   std::string_view css_class = {}) {
    table_begin(caption, std::span<const std::string>(heads.begin(), heads.size()), css_class);
  }
  void row(std::span<const std::string> cells);
  void row(std::initializer_list<std::string> cells) {
    row(std::span<const std::string>(cells.begin(), cells.size()));
  }
  void table_end();

  /// A box with the word of its urgency; close it with `callout_end`.
  void callout_begin(Callout kind, std::string_view words);
  void callout_end() { close(); }
  void tick(std::string_view text);  ///< an empty box to tick, then the text; a list item
  void ticks_begin() { open("ul", {{"class", "ticks"}}); }
  void ticks_end() { close(); }
  void form_line(std::string_view label);              ///< a label and a line to write on
  void form_boxes(std::string_view label, int count);  ///< a label and boxes for short numbers

  /// A number for the ids of an element and what names it: unique within the page.
  int next_id() { return ++ids_; }

 private:
  void tag(std::string_view name, Attributes attributes, std::string_view end);
  std::string& out_;
  std::vector<std::string> open_;
  int ids_ = 0;
};

}  // namespace overjoist::io
