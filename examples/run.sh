#!/bin/sh
# SPDX-License-Identifier: MIT
# Installs what is missing, builds, and assesses the demo survey. Works from any current directory, any number of times.
set -eu
root=$(CDPATH= cd -- "$(dirname -- "$0")/.." && pwd)
build=$root/.build
. "$root/src/cmake/deps.sh"
target=overjoist_tool
build_product -DOVERJOIST_BUILD_TESTS=OFF
exec "$build/overjoist" assess "$root/examples/demo.json"
