#!/bin/sh
# SPDX-License-Identifier: MIT
# The demo under valgrind's memcheck, from the g++ build of the tests: sh tests/valgrind.sh
# Fails on any error or any block lost.
set -eu
root=$(CDPATH= cd -- "$(dirname -- "$0")/.." && pwd)
build=$root/.build
. "$root/src/cmake/deps.sh"
command -v valgrind >/dev/null 2>&1 || install_packages valgrind
install_packages $(unit_test_packages)
CXX=g++ build_product
demo=$root/examples/demo.json
check() {
  valgrind --quiet --error-exitcode=99 --leak-check=full --errors-for-leak-kinds=definite,indirect,possible "$build/overjoist" "$@" >/dev/null ||
    { echo "valgrind: overjoist $*" >&2; exit 1; }
}
check assess "$demo"
check assess --format json "$demo"
check assess --format csv "$demo"
check order "$demo"
check goods "$demo"
check batch --jobs 2 "$demo"
echo "valgrind: clean"
