#!/bin/sh
# SPDX-License-Identifier: MIT
# The benchmark of the batch: builds the product and the yardstick programs with the same compiler and flags, measures,
# and prints the tables as Markdown. Takes some minutes and about 3 GB of temporary space. Not a test: nothing here can
# fail for being slow. Usage: run.sh [--small N] [--large N] [--rounds N] [--large-rounds N]
set -eu
root=$(CDPATH= cd -- "$(dirname -- "$0")/../.." && pwd)
build=$root/.build/bench
. "$root/src/cmake/deps.sh"
mkdir -p "$build"
build_product -DCMAKE_BUILD_TYPE=Release -DOVERJOIST_BUILD_TESTS=OFF -DOVERJOIST_BUILD_EXAMPLES=OFF

# The product's own compiler and Release flags: its CMakeLists.txt takes -O2 in place of -O3.
cached() { sed -n "s/^$1:[A-Z]*=//p" "$build/CMakeCache.txt"; }
compiler=$(cached CMAKE_CXX_COMPILER)
flags="-std=c++20 $(cached CMAKE_CXX_FLAGS) $(cached CMAKE_CXX_FLAGS_RELEASE | sed s/-O3/-O2/) -ffp-contract=off"
yardstick() {
  program=$build/$1
  if [ ! -x "$program" ] || [ -n "$(find "$root/tests/bench" "$build/CMakeCache.txt" -newer "$program" -type f)" ]; then
    # Word splitting is meant: flags are words.
    "$compiler" $flags -o "$program" "$root/tests/bench/$1.cpp" $2
  fi
}
yardstick measure ""
yardstick read_bytes ""
yardstick dom_parse ""
yardstick parse_and_exit ""
if [ -f /usr/include/simdjson.h ]; then yardstick simdjson_parse -lsimdjson; fi
exec /usr/bin/python3 "$root/tests/bench/run.py" "$build" "$root" --compiler "$("$compiler" --version | head -n 1)" --flags "$flags" "$@"
