# SPDX-License-Identifier: MIT
# What both README commands share: find the repository, install what is missing, build.
# Sourced by examples/run.sh and tests/run.sh with `root` set to the repository. POSIX sh.

# Debian packages that the product needs, each with a file or command that shows it is there.
product_packages() {
  command -v cmake >/dev/null 2>&1 || echo cmake
  command -v make >/dev/null 2>&1 || echo make
  command -v "${CXX:-c++}" >/dev/null 2>&1 || echo g++
  [ -f /usr/include/CLI/CLI.hpp ] || echo libcli11-dev
  [ -f /usr/include/nlohmann/json.hpp ] || echo nlohmann-json3-dev
  [ -f /usr/include/fmt/format.h ] || echo libfmt-dev
}

# What every build of the tests needs beside those.
unit_test_packages() {
  [ -f /usr/include/doctest/doctest.h ] || echo doctest-dev
}

# Installs the packages named on the command line, as root or by sudo; elsewhere says what to install.
install_packages() {
  [ $# -gt 0 ] || return 0
  if ! command -v apt-get >/dev/null 2>&1; then
    echo "Please install the equivalents of these Debian packages, then run this again: $*" >&2
    return 1
  fi
  if [ "$(id -u)" -eq 0 ]; then as_root=""
  elif command -v sudo >/dev/null 2>&1; then as_root="sudo"
  else
    echo "Please install these packages as root, then run this again: apt-get install $*" >&2
    return 1
  fi
  $as_root apt-get update -qq >&2 && DEBIAN_FRONTEND=noninteractive $as_root apt-get install -y -qq --no-install-recommends "$@" >&2
}

# Installs what is missing and builds $target, or all if it is not set, into $build; the arguments go to cmake.
build_product() {
  # Word splitting is meant: one package a word.
  install_packages $(product_packages) || return 1
  cmake -S "$root" -B "$build" -DCMAKE_UNITY_BUILD=ON "$@" >"$build.log" 2>&1 || { mkdir -p "$build"; cat "$build.log" >&2; return 1; }
  cmake --build "$build" ${target:+--target "$target"} -j "$(nproc 2>/dev/null || echo 2)" >"$build.log" 2>&1 || { cat "$build.log" >&2; return 1; }
  rm -f "$build.log"
}
