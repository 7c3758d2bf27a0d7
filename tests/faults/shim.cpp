// SPDX-License-Identifier: MIT
// Loaded before the program (LD_PRELOAD): lets one chosen call fail, or kills the process at it.
// OVERJOIST_FAULT = call:number:how, call = new | write | fsync | rename | open | close, how = fail
// | kill; OVERJOIST_COUNT = a file that gets the number of calls seen of that kind. Counts only
// what happens after the program has started.
#include <dlfcn.h>
#include <fcntl.h>
#include <signal.h>
#include <sys/uio.h>
#include <unistd.h>

#include <atomic>
#include <cerrno>
#include <cstdarg>
#include <cstdio>
#include <cstdlib>
#include <cstring>
#include <new>
#include <string_view>

namespace {

struct Plan {
  std::string_view call;
  long number = -1;
  bool kill = false;
};

Plan plan() {
  static const Plan kPlan = [] {
    Plan p;
    const char* text = std::getenv("OVERJOIST_FAULT");
    if (!text) return p;
    const char* colon = std::strchr(text, ':');
    p.call = {text, static_cast<std::size_t>(colon - text)};
    p.number = std::atol(colon + 1);
    p.kill = std::strstr(text, ":kill") != nullptr;
    return p;
  }();
  return kPlan;
}

std::atomic<long> seen{0};

/// True where this call is the one; the process ends here if it is to be killed.
bool chosen(std::string_view call) {
  if (plan().call != call) return false;
  if (++seen != plan().number) return false;
  if (plan().kill) ::kill(::getpid(), SIGKILL);
  return true;
}

template <class F>
F real(const char* name) {
  return reinterpret_cast<F>(::dlsym(RTLD_NEXT, name));
}

struct CountAtEnd {
  ~CountAtEnd() {
    const char* path = std::getenv("OVERJOIST_COUNT");
    if (!path) return;
    std::FILE* file = std::fopen(path, "w");
    std::fprintf(file, "%ld", seen.load());
    std::fclose(file);
  }
} count_at_end;

}  // namespace

void* operator new(std::size_t size) {
  if (chosen("new")) throw std::bad_alloc();
  if (void* p = std::malloc(size == 0 ? 1 : size)) return p;
  throw std::bad_alloc();
}
void* operator new[](std::size_t size) { return operator new(size); }
void operator delete(void* p) noexcept { std::free(p); }
void operator delete[](void* p) noexcept { std::free(p); }
void operator delete(void* p, std::size_t) noexcept { std::free(p); }
void operator delete[](void* p, std::size_t) noexcept { std::free(p); }

extern "C" {
ssize_t write(int fd, const void* data, size_t size) {
  static const auto kReal = real<ssize_t (*)(int, const void*, size_t)>("write");
  if (chosen("write")) {
    errno = ENOSPC;
    return -1;
  }
  return kReal(fd, data, size);
}
ssize_t writev(int fd, const struct iovec* parts, int count) {
  static const auto kReal = real<ssize_t (*)(int, const struct iovec*, int)>("writev");
  if (chosen("write")) {
    errno = ENOSPC;
    return -1;
  }
  return kReal(fd, parts, count);
}
int fsync(int fd) {
  static const auto kReal = real<int (*)(int)>("fsync");
  if (chosen("fsync")) {
    errno = EIO;
    return -1;
  }
  return kReal(fd);
}
int close(int fd) {
  static const auto kReal = real<int (*)(int)>("close");
  if (chosen("close")) {
    kReal(fd);
    errno = EIO;
    return -1;
  }
  return kReal(fd);
}
int rename(const char* from, const char* to) {
  static const auto kReal = real<int (*)(const char*, const char*)>("rename");
  if (chosen("rename")) {
    errno = EIO;
    return -1;
  }
  return kReal(from, to);
}
}
