#!/bin/sh
# SPDX-License-Identifier: MIT
# Builds the fuzz targets and runs each for the seconds given (20 unless said): sh tests/fuzz/run.sh 600
# Seeds: the examples, the surveys and records of tests, and what earlier runs found in .build-fuzz/corpus.
set -eu
root=$(CDPATH= cd -- "$(dirname -- "$0")/../.." && pwd)
seconds=${1:-20}
build=${OVERJOIST_FUZZ_BUILD:-$root/.build-fuzz}  # continuous integration has the targets in its sanitizer build
. "$root/src/cmake/deps.sh"
fuzz_packages() {
  command -v clang++ >/dev/null 2>&1 || echo clang
  [ -f /usr/lib/llvm-14/lib/clang/14.0.6/lib/linux/libclang_rt.fuzzer-x86_64.a ] || echo libclang-rt-14-dev
  [ -x /usr/bin/python3 ] || echo python3
}
install_packages $(product_packages) $(fuzz_packages)
[ -n "${OVERJOIST_FUZZ_BUILD:-}" ] ||
  CXX=clang++ cmake -S "$root" -B "$build" -DCMAKE_BUILD_TYPE=None -DOVERJOIST_BUILD_FUZZ=ON -DOVERJOIST_BUILD_TESTS=OFF \
    -DOVERJOIST_BUILD_CLI=OFF -DOVERJOIST_BUILD_EXAMPLES=OFF >/dev/null
cmake --build "$build" -j2 >/dev/null
/usr/bin/python3 "$root/tests/fuzz/seeds.py" "$root" "$build/seeds"
run_target() {
  mkdir -p "$build/corpus/$1" "$build/found"
  "$build/tests/fuzz/fuzz_$1" -max_total_time="$seconds" -max_len=20000 -timeout=10 -rss_limit_mb=2048 -print_final_stats=1 \
    -dict="$build/seeds/words.dict" -artifact_prefix="$build/found/$1-" "$build/corpus/$1" "$build/seeds/$1" >"$build/$1.log" 2>&1
}
# Two at a time; a target that fails leaves its mark.
targets="survey record rebate materials chart assess"
rm -f "$build"/*.failed
for target in $targets; do
  (run_target "$target" || touch "$build/$target.failed") &
  running=$((${running:-0} + 1))
  if [ "$running" -eq 2 ]; then wait; running=0; fi
done
wait
status=0
for target in $targets; do
  log=$build/$target.log
  [ ! -e "$build/$target.failed" ] || status=1
  grep -q "stat::number_of_executed_units" "$log" || { tail -40 "$log" >&2; status=1; }
  printf '%-10s %s executions in %s s\n' "$target" "$(sed -n 's/^stat::number_of_executed_units: *//p' "$log")" "$seconds"
done
[ "$status" -eq 0 ] && echo "no findings" || { echo "findings: see $build/found and $build/*.log" >&2; grep -h "ERROR\|SUMMARY" "$build"/*.log >&2; }
exit "$status"
