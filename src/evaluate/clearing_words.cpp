// SPDX-License-Identifier: MIT
#include "evaluate/clearing_words.hpp"

#include <algorithm>
#include <charconv>
#include <cstddef>
#include <cstdint>
#include <iterator>
#include <string>
#include <vector>

#include "overjoist/clearing.hpp"

namespace overjoist {
namespace {

/// First and last of a run of code points.
struct Run {
  std::uint32_t first, last;
};
/// Blanks, and what has no shape: controls, fillers, joiners, marks of direction, variation
/// selectors and tags.
constexpr Run kShapeless[] = {
    {0x00, 0x20},      {0x7F, 0xA0},     {0xAD, 0xAD},     {0x34F, 0x34F},   {0x61C, 0x61C},
    {0x115F, 0x1160},  {0x1680, 0x1680}, {0x17B4, 0x17B5}, {0x180B, 0x180F}, {0x2000, 0x200F},
    {0x2028, 0x202F},  {0x205F, 0x206F}, {0x2800, 0x2800}, {0x3000, 0x3000}, {0x3164, 0x3164},
    {0xFE00, 0xFE0F},  {0xFEFF, 0xFEFF}, {0xFFA0, 0xFFA0}, {0xFFF0, 0xFFFD}, {0x1D173, 0x1D17A},
    {0xE0000, 0xE0FFF}};
/// Signs that name nobody and no paper: punctuation, symbols, and marks that stand on a letter and
/// are none.
constexpr Run kPunctuation[] = {
    {'!', '/'},       {':', '@'},       {'[', '`'},       {'{', '~'},       {0xA1, 0xA9},
    {0xAB, 0xB4},     {0xB6, 0xB9},     {0xBB, 0xBF},     {0xD7, 0xD7},     {0xF7, 0xF7},
    {0x2B9, 0x36F},   {0x375, 0x375},   {0x37E, 0x37E},   {0x384, 0x385},   {0x387, 0x387},
    {0x482, 0x489},   {0x55A, 0x55F},   {0x589, 0x58A},   {0x591, 0x5C7},   {0x5F3, 0x5F4},
    {0x600, 0x61F},   {0x64B, 0x65F},   {0x66A, 0x66D},   {0x670, 0x670},   {0x6D4, 0x6D4},
    {0x6D6, 0x6ED},   {0x900, 0x903},   {0x93A, 0x94F},   {0x951, 0x957},   {0x964, 0x965},
    {0x981, 0x983},   {0x9BC, 0x9CD},   {0xE31, 0xE31},   {0xE34, 0xE3F},   {0xE47, 0xE4F},
    {0x1AB0, 0x1AFF}, {0x1DC0, 0x1DFF}, {0x1FBD, 0x1FBD}, {0x2010, 0x2027}, {0x2030, 0x205E},
    {0x207A, 0x207E}, {0x208A, 0x208E}, {0x20A0, 0x20FF}, {0x2190, 0x245F}, {0x2500, 0x27FF},
    {0x2801, 0x2BFF}, {0x2E00, 0x2E7F}, {0x3001, 0x3004}, {0x3008, 0x3020}, {0x302A, 0x3030},
    {0x303D, 0x303F}, {0x3099, 0x30A0}, {0x30FB, 0x30FC}, {0xFE10, 0xFE6F}, {0xFF01, 0xFF0F},
    {0xFF1A, 0xFF20}, {0xFF3B, 0xFF40}, {0xFF5B, 0xFF65}, {0xFFE0, 0xFFEF}, {0x1F000, 0x1FBEF}};

/// What people write where there is no name and no paper (words of usage, no published source):
/// alone, or with the words below only.
constexpr std::string_view kPlaceholders[] = {"na",          "nil",
                                              "no",          "nobody",
                                              "none",        "noone",
                                              "nope",        "not",
                                              "nothing",     "null",
                                              "pending",     "tba",
                                              "tbc",         "tbd",
                                              "todo",        "unknown",
                                              "unclear",     "unnamed",
                                              "unspecified", "unavailable",
                                              "missing",     "lost",
                                              "later",       "nowhere",
                                              "never",       "waiting",
                                              "awaiting",    "awaited",
                                              "without",     "undefined",
                                              "dunno",       "xx",
                                              "xxx",         "xxxx",
                                              "nan",         "false",
                                              "requested",   "tobedetermined",
                                              "follows",     "follow",
                                              "outstanding"};
/// Words that name nothing beside one of those.
constexpr std::string_view kFillers[] = {
    "a",         "an",       "and",        "any",       "applicable", "as",          "at",
    "available", "be",       "been",       "body",      "by",         "certificate", "cleared",
    "confirmed", "date",     "determined", "announced", "document",   "documents",   "done",
    "due",       "for",      "found",      "from",      "given",      "had",         "has",
    "have",      "i",        "in",         "is",        "it",         "known",       "letter",
    "moment",    "n",        "name",       "named",     "note",       "now",         "of",
    "on",        "one",      "or",         "our",       "paper",      "papers",      "paperwork",
    "present",   "provided", "received",   "record",    "release",    "report",      "seen",
    "sent",      "signed",   "so",         "far",       "soon",       "stated",      "still",
    "that",      "the",      "there",      "this",      "time",       "to",          "us",
    "was",       "we",       "will",       "written",   "yet",        "person",      "someone",
    "somebody",  "who",      "whom",       "say",       "said",       "specified",   "issued",
    "supplied",  "made",     "required",   "needed",    "decided",    "proof",       "evidence",
    "clearance", "permit"};

/// Words of a paper that says the opposite, or of one that is still to come (words of usage, no
/// published source): "failed test sheet", "lab: positive", "estimate for repair", "verbal".
constexpr std::string_view kAgainst[] = {
    "failed",    "fail",    "fails",    "positive", "untested",    "unsafe",    "verbal",
    "verbally",  "oral",    "estimate", "quote",    "quotation",   "offer",     "booked",
    "scheduled", "planned", "expected", "ordered",  "appointment", "chrysotile"};
/// What "not" takes back; "not detected" and "not found" are what a good laboratory sheet says.
constexpr std::string_view kTakenBack[] = {
    "tested",  "passed",   "cleared",   "done",   "safe",      "repaired", "fixed", "removed",
    "checked", "complete", "completed", "sealed", "inspected", "ok",       "yet",   "working"};
constexpr std::string_view kDenials[] = {"no", "not", "none", "never", "nothing", "without", "0"};
/// People of the house: what stops the work is cleared by who is trained or licensed for it.
constexpr std::string_view kHousehold[] = {
    "owner",  "owners", "homeowner", "homeowners", "me",       "myself",   "self",    "occupant",
    "tenant", "seller", "landlord",  "landlady",   "resident", "neighbor", "husband", "wife"};

template <std::size_t N>
bool lies_in(std::uint32_t point, const Run (&runs)[N]) {
  return std::any_of(std::begin(runs), std::end(runs),
                     [&](const Run& r) { return point >= r.first && point <= r.last; });
}

/// Takes the first code point off the text; what is no UTF-8 counts as a sign without a shape.
std::uint32_t take_point(std::string_view& text) {
  const auto byte = [&](std::size_t i) {
    return static_cast<std::uint32_t>(static_cast<unsigned char>(text[i]));
  };
  const std::uint32_t lead = byte(0);
  const std::size_t size = lead < 0x80   ? 1
                           : lead < 0xC0 ? 0
                           : lead < 0xE0 ? 2
                           : lead < 0xF0 ? 3
                                         : 4;
  if (size == 0 || size > text.size()) {
    text.remove_prefix(1);
    return 0;
  }
  std::uint32_t point = size == 1 ? lead : lead & (0x7FU >> size);
  for (std::size_t i = 1; i < size; ++i) point = point << 6U | (byte(i) & 0x3FU);
  text.remove_prefix(size);
  return point;
}

/// True for what is a letter or a digit of any script, as far as the lists above tell.
bool is_spoken(std::uint32_t point) {
  return !lies_in(point, kShapeless) && !lies_in(point, kPunctuation);
}

constexpr char lower(char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; }

/// The words of a text: letters and digits, Latin ones in lower case, full-width ones as plain
/// ones. What is not seen parts no word, nor does a mark on a letter.
std::vector<std::string> words_of(std::string_view text) {
  std::vector<std::string> words(1);
  while (!text.empty()) {
    const std::string_view before = text;
    std::uint32_t point = take_point(text);
    if (point >= 0xFF10 && point <= 0xFF5A && is_spoken(point)) point -= 0xFEE0;
    if (point < 0x80 && is_spoken(point))
      words.back() += lower(static_cast<char>(point));
    else if (is_spoken(point))
      words.back() += before.substr(0, before.size() - text.size());
    else if ((point <= 0x20 || point == 0xA0 || point == 0x3000 || lies_in(point, kPunctuation)) &&
             !(point >= 0x300 && point <= 0x36F) && !words.back().empty())
      words.emplace_back();
  }
  if (words.back().empty()) words.pop_back();
  return words;
}

template <std::size_t N>
bool stands_in(std::string_view word, const std::string_view (&list)[N]) {
  return std::find(std::begin(list), std::end(list), word) != std::end(list);
}

}  // namespace

std::string plain(std::string_view text) {
  while (!text.empty() && text.front() == ' ') text.remove_prefix(1);
  while (!text.empty() && text.back() == ' ') text.remove_suffix(1);
  std::string out(text);
  std::transform(out.begin(), out.end(), out.begin(), lower);
  return out;
}

Day day_of(std::string_view text) {
  if (text.size() != 10 || text[4] != '-' || text[7] != '-') return {};
  const auto part = [&](std::size_t at, std::size_t size) {
    int n = 0;
    const char* const end = text.data() + at + size;
    return std::from_chars(text.data() + at, end, n).ptr == end ? n : -1;
  };
  const Day d{part(0, 4), part(5, 2), part(8, 2)};
  if (d.year < 0 || d.month < 1 || d.month > 12 || d.day < 1) return {};
  constexpr std::array<int, 12> kDays = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
  const bool leap = (d.year % 4 == 0 && d.year % 100 != 0) || d.year % 400 == 0;
  const int last = kDays.at(static_cast<std::size_t>(d.month - 1)) + (d.month == 2 && leap ? 1 : 0);
  return d.day <= last ? d : Day{};
}

bool is_after(const Day& a, const Day& b) {
  return a.year != b.year     ? a.year > b.year
         : a.month != b.month ? a.month > b.month
                              : a.day > b.day;
}

bool speaks_against(std::string_view paper) {
  const std::vector<std::string> words = words_of(paper);
  for (std::size_t i = 0; i < words.size(); ++i) {
    const bool denied = i > 0 && stands_in(words[i - 1], kDenials);
    if (denied && stands_in(words[i], kTakenBack)) return true;
    if (!denied && stands_in(words[i], kAgainst)) return true;
  }
  return false;
}

bool is_household(std::string_view name) {
  const std::vector<std::string> words = words_of(name);
  const auto counts = [](const std::string& word) {
    return stands_in(word, kHousehold) || stands_in(word, kFillers) || word == "house" ||
           word == "home";
  };
  const auto person = [](const std::string& word) { return stands_in(word, kHousehold); };
  return std::any_of(words.begin(), words.end(), person) &&
         std::all_of(words.begin(), words.end(), counts);
}

bool is_day(std::string_view text) { return day_of(text).year >= 0; }

bool says_something(std::string_view text) {
  const std::vector<std::string> words = words_of(text);
  if (words.empty()) return false;
  std::string joined;
  bool placeholder = false, fillers = true;
  for (const std::string& word : words) {
    joined += word;
    const bool one = stands_in(word, kPlaceholders);
    placeholder = placeholder || one;
    fillers = fillers && (one || stands_in(word, kFillers));
  }
  return !stands_in(joined, kPlaceholders) && !(placeholder && fillers);
}

}  // namespace overjoist
