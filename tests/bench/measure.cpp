// SPDX-License-Identifier: MIT
// Runs a command with standard input from a file and standard output to nowhere, and prints what it
// took: measure INPUT COMMAND [WORD...]  ->  exit code, wall seconds, CPU seconds (user + system),
// peak memory in KiB. A small program of its own, since the peak memory of a child includes what
// its parent held when it started it.
#include <fcntl.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <chrono>
#include <cstdio>

namespace {

[[noreturn]] void become(const char* input, char** command) {
  const int in = ::open(input, O_RDONLY), nowhere = ::open("/dev/null", O_WRONLY);
  if (in < 0 || ::dup2(in, STDIN_FILENO) < 0 || ::dup2(nowhere, STDOUT_FILENO) < 0 ||
      ::dup2(nowhere, STDERR_FILENO) < 0)
    ::_exit(126);
  ::execvp(command[0], command);
  ::_exit(127);
}

double seconds(const timeval& t) {
  return static_cast<double>(t.tv_sec) + 1e-6 * static_cast<double>(t.tv_usec);
}

}  // namespace

int main(int count, char** words) {
  if (count < 3) return 2;
  const auto start = std::chrono::steady_clock::now();
  const pid_t child = ::fork();
  if (child < 0) return 1;
  if (child == 0) become(words[1], words + 2);
  int status = 0;
  rusage used{};
  if (::wait4(child, &status, 0, &used) != child) return 1;
  const std::chrono::duration<double> wall = std::chrono::steady_clock::now() - start;
  const int code = WIFEXITED(status) ? WEXITSTATUS(status) : 128 + WTERMSIG(status);
  std::printf("%d %.6f %.6f %ld\n", code, wall.count(),
              seconds(used.ru_utime) + seconds(used.ru_stime), used.ru_maxrss);
  return 0;
}
