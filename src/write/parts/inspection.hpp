// SPDX-License-Identifier: MIT
#pragma once
#include <string>
#include <string_view>
#include <vector>

#include "overjoist/inspect.hpp"
#include "words/words.hpp"

/// Words of an inspection that its writers share.
namespace overjoist::io {

/// What the verdict of a job means, a sentence or two: "depth is met, weight is not: ...".
/// @param stays_off  a stop is open: nothing is asked for
std::string_view verdict_words(BuiltVerdict v, bool stays_off);
/// The same of one section, by what it is that cannot be judged.
std::string_view section_words(const SectionInspection& s, bool stays_off);
/// "FLUFFED, short by 5 bags".
std::string verdict_line(const Inspection& in);
/// "short by 1 bag".
std::string short_words(double bags);

/// One item of the receipt: what the rule asks, and what fills it; "" is a blank with its reason.
struct ReceiptLine {
  std::string_view label, section;  ///< section of the rule or code that asks for it
  std::string value;
  std::string_view blank;  ///< words for why nothing stands there
};
/// The lines of the whole job, then of each part, in the order in which they are printed.
std::vector<ReceiptLine> receipt_head(const Inspection& in, Units units);
std::vector<ReceiptLine> receipt_lines(const ReceiptPart& part, Units units);
/// Sentences that stand below all parts.
std::vector<std::string> receipt_terms(const Inspection& in);

inline constexpr std::string_view kReceiptRule = "16 CFR 460.17",
                                  kCertificateCode = "IECC R303.1.1";

}  // namespace overjoist::io
