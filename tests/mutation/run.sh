#!/bin/sh
# SPDX-License-Identifier: MIT
# Mutation check of the rooms that compute: sh tests/mutation/run.sh [N] [further options of mutate.py]. Not part of ctest; N is 200 if left out.
set -eu
root=$(cd "$(dirname "$0")/../.." && pwd)
count=${1:-200}
[ $# -gt 0 ] && shift
exec nice -n 10 python3 "$root/tests/mutation/mutate.py" "$root" --count "$count" "$@"
