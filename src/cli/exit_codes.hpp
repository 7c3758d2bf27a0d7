// SPDX-License-Identifier: MIT
#pragma once

/// Exit codes of the command; the table in README.md and `--help` says the same.
namespace overjoist::cli {

enum ExitCode : int {
  kDone = 0,
  kSomeRejected = 1,  ///< several surveys and at least one refused, or a caution or verdict of the
                      ///< level named by --fail-on
  kUsage = 2,
  kNoneUsable = 3,  ///< input unreadable or invalid, and none usable
  kOutputFailed = 4,
  kSignal = 128,  ///< plus the signal's number: 130 interrupted, 143 terminated; whole records only
  kBug = 70,      ///< a bug, or out of memory
};

}  // namespace overjoist::cli
