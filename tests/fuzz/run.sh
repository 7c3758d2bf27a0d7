#!/bin/sh
# SPDX-License-Identifier: MIT
# Builds the fuzz targets and runs each for the seconds given (20 unless said): sh tests/fuzz/run.sh 600
# Seeds: the examples, the surveys and records of tests, and what earlier runs found in .build-fuzz/corpus.
set -eu
root=$(CDPATH= cd -- "$(dirname -- "$0")/../.." && pwd)
seconds=${1:-20}
build=$root/.build-fuzz
. "$root/src/cmake/deps.sh"
fuzz_packages() {
  command -v clang++ >/dev/null 2>&1 || echo clang
  [ -f /usr/lib/llvm-14/lib/clang/14.0.6/lib/linux/libclang_rt.fuzzer-x86_64.a ] || echo libclang-rt-14-dev
  [ -x /usr/bin/python3 ] || echo python3
}
install_packages $(product_packages) $(fuzz_packages)
CXX=clang++ cmake -S "$root" -B "$build" -DCMAKE_BUILD_TYPE=None -DOVERJOIST_BUILD_FUZZ=ON -DOVERJOIST_BUILD_TESTS=OFF \
  -DOVERJOIST_BUILD_CLI=OFF -DOVERJOIST_BUILD_EXAMPLES=OFF >/dev/null
cmake --build "$build" -j2 >/dev/null
/usr/bin/python3 "$root/tests/fuzz/seeds.py" "$root" "$build/seeds"
status=0
for target in survey materials chart assess record rebate; do
  mkdir -p "$build/corpus/$target" "$build/found"
  log=$build/$target.log
  "$build/tests/fuzz/fuzz_$target" -max_total_time="$seconds" -max_len=20000 -timeout=10 -rss_limit_mb=2048 -print_final_stats=1 \
    -dict="$build/seeds/words.dict" -artifact_prefix="$build/found/$target-" "$build/corpus/$target" "$build/seeds/$target" >"$log" 2>&1 || status=1
  grep -q "stat::number_of_executed_units" "$log" || { tail -40 "$log" >&2; status=1; }
  printf '%-10s %s executions in %s s\n' "$target" "$(sed -n 's/^stat::number_of_executed_units: *//p' "$log")" "$seconds"
done
[ "$status" -eq 0 ] && echo "no findings" || { echo "findings: see $build/found and $build/*.log" >&2; grep -h "ERROR\|SUMMARY" "$build"/*.log >&2; }
exit "$status"
