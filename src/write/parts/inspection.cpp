// SPDX-License-Identifier: MIT
#include "write/parts/inspection.hpp"

#include <fmt/core.h>
#include <algorithm>

namespace overjoist::io {

std::string_view verdict_words(BuiltVerdict v, bool stays_off) {
  switch (v) {
    case BuiltVerdict::nothing_planned:
      return "the plan puts no fill here.";
    case BuiltVerdict::pass:
      return "weight and depth both meet the plan.";
    case BuiltVerdict::incomplete:
      return "nothing that was recorded falls short, but it does not prove the job: only bags of a "
             "known weight and depths together do, "
             "held "
             "against the bag's label.";
    case BuiltVerdict::not_judged:
      return "nothing was recorded that the plan can be held against: bags of a known weight and "
             "depths of blown fill. What is laid or "
             "sprayed is looked at.";
    case BuiltVerdict::read_again:
      return "bags or depths that cannot be meant. Count and measure again: till then the job is "
             "neither passed nor short.";
    case BuiltVerdict::stop_open:
      return "a stop stands that no paper clears: whatever weight and depth say, the work is "
             "neither accepted nor paid on it.";
    case BuiltVerdict::uneven:
      return stays_off
                 ? "weight and mean depth are met, but some readings lie below the least depth."
                 : "weight and mean depth are met, but some readings lie below the least depth. "
                   "Level it out.";
    case BuiltVerdict::over_dense:
      return "weight is met, depth is not: the fill is packed too tight. It lacks depth, and so R.";
    case BuiltVerdict::fluffed:
      return stays_off ? "depth is met, weight is not: too much air in the fill. It will settle "
                         "below its R."
                       : "depth is met, weight is not: too much air in the fill. It will settle "
                         "below its R. Blow in what is missing.";
    case BuiltVerdict::below_target:
      return "the plan was carried out, but it is only what fits: what was sold is not reached.";
    case BuiltVerdict::short_of:
      break;
  }
  return "there is less than the plan takes.";
}

std::string_view section_words(const SectionInspection& s, bool stays_off) {
  if (stays_off || s.verdict == BuiltVerdict::stop_open) return verdict_words(s.verdict, stays_off);
  struct Words {
    std::string_view code, words;
  };
  constexpr Words kAgain[] = {
      {"many-bags",
       "many times the bags that the plan takes: count again, and see that they are of this part "
       "alone."},
      {"many-inches",
       "a depth many times that of the plan: read again, and see in which unit it was read."},
      {"too-deep",
       "no fill of that weight lies so deep: count the bags and read the depths again."},
      {"below-before",
       "a depth below the least that was found before the job: read that spot again. If it is "
       "bare, "
       "fill it."},
      {"too-thin",
       "no fill of that weight lies so thin: count the bags and read the depths again."}};
  for (const Words& w : kAgain)
    if (w.code == s.read_again) return w.words;
  const bool open = s.verdict == BuiltVerdict::incomplete || s.verdict == BuiltVerdict::not_judged;
  if (open && s.weight.why == "bag-unknown")
    return "bags prove nothing here: the net weight of a bag is not recorded. Only weight and "
           "depth together prove the job.";
  if (open && s.weight.why == "by-tag" && s.depth.why != "by-tag")
    return "the tag's bags and ours differ, and which of them holds only the label's chart can "
           "tell.";
  if (open && s.depth.why == "by-tag")
    return "the tag and our R per inch differ, and which of them holds only the label's chart can "
           "tell.";
  if (open && (s.weight.why == "by-range" || s.depth.why == "by-range"))
    return "how good and how light the fill is, its material leaves open, and the tag does not "
           "tell: only the label's chart can.";
  if (s.verdict == BuiltVerdict::short_of && s.lacks_area)
    return "only part of what was sold is insulated, by the record's own area.";
  if (s.verdict == BuiltVerdict::incomplete)
    return "what was recorded meets the plan, but bags or depths were not recorded. Only both "
           "together prove the job.";
  return verdict_words(s.verdict, false);
}

std::string short_words(double bags) {
  return fmt::format("short by {} {}", number_text(bags, 0, Toward::up),
                     bags == 1.0 ? "bag" : "bags");
}

std::string verdict_line(const Inspection& in) {
  std::string line(word(in.verdict));
  for (char& c : line) {
    if (c == '-' && in.verdict != BuiltVerdict::over_dense) c = ' ';
    if (c >= 'a' && c <= 'z') c = static_cast<char>(c - 'a' + 'A');
  }
  const auto& missing = in.totals.short_bags;
  if (missing && *missing > 0) {
    const std::string words = short_words(*missing);
    line = in.verdict == BuiltVerdict::short_of ? "SHORT" + words.substr(5) : line + ", " + words;
  }
  return line;
}

// ---- Receipt

namespace {

struct Blank {
  std::string_view code, words;
};
constexpr Blank kBlanks[] = {
    {"no-chart",
     "no coverage chart of the product was recorded; R per inch must not stand in for it"},
    {"no-bags", "bags were not recorded"},
    {"no-bag-weight", "the net weight of a bag was not recorded"},
    {"read-again", "the bags or depths that were recorded cannot be meant"},
    {"not-read", "depths were not recorded"},
    {"kind-unknown", "the record does not say if depths were read before or after settling"},
    {"settled-read", "depths were read after settling"},
    {"not-counted", "bags were not recorded"},
    {"counted-together", "bags were counted for several parts together"},
    {"bags-and-depth", "takes the bags of this part and its initial depth"}};

std::string_view blank_words(std::string_view code) {
  for (const Blank& b : kBlanks)
    if (b.code == code) return b.words;
  return code;
}

constexpr std::string_view kNotRecorded = "not recorded";
constexpr std::string_view kBoth = "16 CFR 460.17; IECC R303.1.1";

}  // namespace

std::vector<ReceiptLine> receipt_head(const Inspection& in, Units units) {
  const Receipt& r = in.receipt;
  return {{"job", "", in.label.empty() ? in.id : in.label, kNotRecorded},
          {"installer", kBoth, r.installer.name, kNotRecorded},
          {"its address", "", r.installer.address, kNotRecorded},
          {"license", "", r.installer.license, kNotRecorded},
          {"type", kCertificateCode, r.type, kNotRecorded},
          {"manufacturer", kCertificateCode, r.maker, kNotRecorded},
          {"product", "", r.product, kNotRecorded},
          {"bag, net", "", r.bag_net ? mass_text(*r.bag_net, units, Toward::nearest) : "",
           kNotRecorded},
          {"date", kBoth, r.date, kNotRecorded}};
}

std::vector<ReceiptLine> receipt_lines(const ReceiptPart& p, Units units) {
  return {
      {"coverage area", kBoth, area_text(p.area, units), ""},
      {"initial installed thickness", kBoth,
       p.initial ? level_text(*p.initial, units, Toward::down) : "", blank_words(p.blank_initial)},
      {"minimum settled thickness", kBoth,
       p.settled ? depth_text(*p.settled, units, Toward::up) : "", blank_words(p.blank_settled)},
      {"R-value of the new product", kBoth, p.r ? r_text(*p.r, units) : "", blank_words(p.blank_r)},
      {"number of bags", kBoth, p.bags ? number_text(*p.bags, 2) : "", blank_words(p.blank_bags)},
      {"installed density", kCertificateCode, p.density ? density_text(*p.density, units) : "",
       blank_words(p.blank_density)},
      {"existing R, not in that R", "", r_text(p.existing, units) + " (estimate)", ""}};
}

std::vector<std::string> receipt_terms(const Inspection& in) {
  std::vector<std::string> terms = {
      "Each part of the house stands by itself: neither areas nor R-values are added up, and what "
      "lay there before is not in the R of the "
      "product."};
  const auto rated = [](const ReceiptPart& p) { return p.r.has_value(); };
  if (std::any_of(in.receipt.parts.begin(), in.receipt.parts.end(), rated))
    terms.emplace_back(
        "R is that of the product's coverage chart, settled, for the bags used, or for the "
        "thickness read where that is lower. R per inch "
        "was not multiplied by inches.");
  if (in.receipt.bags_together)
    terms.push_back(fmt::format("{} {} counted for the parts together.",
                                counted(number_text(*in.receipt.bags_together, 2), "bag"),
                                *in.receipt.bags_together == 1 ? "was" : "were"));
  for (const std::string& part : in.receipt.left_out)
    terms.push_back(part +
                    ": what is laid, sprayed or packed into slopes and walls is not on this "
                    "receipt. The rule asks a receipt of it too.");
  terms.push_back("Inspection of the record: " + verdict_line(in) + "; " +
                  std::string(verdict_words(in.verdict, in.stays_off())));
  return terms;
}

}  // namespace overjoist::io
