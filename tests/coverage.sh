#!/bin/sh
# SPDX-License-Identifier: MIT
# Line and branch coverage of src but for the commands by the test suite: sh tests/coverage.sh
# Fails below 95 % of the lines or 85 % of the branches; branches that only an exception takes, and unreachable ones, are left out.
set -eu
root=$(CDPATH= cd -- "$(dirname -- "$0")/.." && pwd)
build=$root/.build-coverage
. "$root/src/cmake/deps.sh"
coverage_packages() {
  command -v gcovr >/dev/null 2>&1 || echo gcovr
  [ -x /usr/bin/python3 ] || echo python3
  /usr/bin/python3 -c 'import jsonschema' 2>/dev/null || echo python3-jsonschema
}
install_packages $(product_packages) $(unit_test_packages) $(coverage_packages)
CXX=g++ cmake -S "$root" -B "$build" -DCMAKE_BUILD_TYPE=None -DCMAKE_CXX_FLAGS="-O0 --coverage -fprofile-abs-path -fprofile-update=atomic" \
  -DOVERJOIST_BUILD_EXAMPLES=OFF >/dev/null
cmake --build "$build" -j"$(nproc 2>/dev/null || echo 2)" --target unit_tests overjoist_tool fault_shim >/dev/null
find "$build" -name '*.gcda' -delete
ctest --test-dir "$build" -R '^(unit|cli_cases|cli_faces|cli_bad_input|cli_batch|faults|readme)$' --output-on-failure -j"$(nproc 2>/dev/null || echo 2)" >"$build/tests.log" || { tail -40 "$build/tests.log" >&2; exit 1; }
cd "$root"
gcovr --root "$root" --object-directory "$build" --filter 'src/(words|tables|sums|evaluate|inspect|read|write|batch)/' --exclude-throw-branches --exclude-unreachable-branches \
  --print-summary --txt "$build/coverage.txt" --fail-under-line 95 --fail-under-branch 85 "$build"
