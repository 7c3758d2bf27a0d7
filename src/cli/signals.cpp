// SPDX-License-Identifier: MIT
#include "cli/signals.hpp"

#include <unistd.h>

#include <cerrno>
#include <string_view>

#include "cli/exit_codes.hpp"

namespace overjoist::cli {

std::atomic<int> caught_signal{0};

namespace {

std::atomic<int> writing{0};       // writers at work
std::atomic<bool> ending{false};   // no writer may begin any more
constexpr unsigned kPatience = 1;  // s, the shortest that alarm() knows
static_assert(std::atomic<int>::is_always_lock_free && std::atomic<bool>::is_always_lock_free,
              "a signal handler may only touch lock-free atomics");

extern "C" void catch_signal(int number) {
  caught_signal.store(number);
  ::alarm(kPatience);
}

// Whoever writes is waited for; whoever would begin sees `ending` first.
extern "C" void end_now(int) {
  const int kept = errno;
  ending.store(true);
  if (writing.load() == 0) {
    constexpr std::string_view kSaid =
        "overjoist: ended inside an evaluation; what was written is whole\n";
    [[maybe_unused]] const auto said = ::write(STDERR_FILENO, kSaid.data(), kSaid.size());
    ::_exit(kSignal + caught_signal.load());
  }
  ::alarm(kPatience);
  errno = kept;
}

}  // namespace

SignalGuard::SignalGuard() {
  caught_signal = 0;
  ending = false;
  struct sigaction action {};
  action.sa_handler = end_now;
  ::sigaction(SIGALRM, &action, &old_alarm_);
  action.sa_handler = catch_signal;
  ::sigaction(SIGINT, &action, &old_int_);
  ::sigaction(SIGTERM, &action, &old_term_);
  ::sigaction(SIGHUP, &action, &old_hup_);
}

SignalGuard::~SignalGuard() {
  ::sigaction(SIGINT, &old_int_, nullptr);
  ::sigaction(SIGTERM, &old_term_, nullptr);
  ::sigaction(SIGHUP, &old_hup_, nullptr);
  ::alarm(0);
  ::sigaction(SIGALRM, &old_alarm_, nullptr);
}

WritingGuard::WritingGuard() {
  ++writing;
  if (!ending) return;
  --writing;
  for (;;) ::pause();  // the process ends before anything more is written
}

WritingGuard::~WritingGuard() { --writing; }

}  // namespace overjoist::cli
