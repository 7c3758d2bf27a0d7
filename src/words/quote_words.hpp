// SPDX-License-Identifier: MIT
#pragma once
#include <string_view>

/// Words of claims and rebate rules that reader and writers share.
namespace overjoist::io {

/// In the order of ClaimKind and ClaimBasis.
inline constexpr std::string_view kClaimKinds[] = {"existing_r", "final_r",       "added_in",      "initial_in", "settled_in",
                                                   "bags",       "percent_saved", "annual_saving", "price"};
inline constexpr std::string_view kClaimBases[] = {"working", "effective", "label"};

/// Papers that rebates ask for (trade practice; which of them is a matter of each rule).
inline constexpr std::string_view kPapers[] = {"itemized-invoice",       "paid-receipt",     "product-sheet", "coverage-chart",
                                               "insulation-certificate", "signed-statement", "before-r",      "after-r",
                                               "depth-photos",           "bag-photos",       "bag-count",     "depth-readings",
                                               "contractor-license",     "pre-approval",     "inspection",    "proof-of-ownership",
                                               "proof-of-income"};

}  // namespace overjoist::io
