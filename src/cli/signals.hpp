// SPDX-License-Identifier: MIT
#pragma once
#include <atomic>
#include <csignal>

/// How the batch ends on a signal: on whole records, and soon.
namespace overjoist::cli {

/// The signal that came, 0 before.
extern std::atomic<int> caught_signal;

/// While this lives, SIGINT and SIGTERM set `caught_signal`. What has not come to its end a second
/// later is ended in the middle of an evaluation, with exit code 128 + signal, but never while
/// something is being written. One at a time.
class SignalGuard {
 public:
  SignalGuard();
  ~SignalGuard();
  SignalGuard(const SignalGuard&) = delete;
  SignalGuard& operator=(const SignalGuard&) = delete;

 private:
  struct sigaction old_int_ {
  }, old_term_{}, old_hup_{}, old_alarm_{};
};

/// Something is being written while this lives: a record, a file, a page.
class WritingGuard {
 public:
  WritingGuard();
  ~WritingGuard();
  WritingGuard(const WritingGuard&) = delete;
  WritingGuard& operator=(const WritingGuard&) = delete;
};

}  // namespace overjoist::cli
