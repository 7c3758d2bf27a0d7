#!/bin/sh
# SPDX-License-Identifier: MIT
# Installs what is missing, builds, and runs the whole test suite. Works from any current directory, any number of times.
set -eu
root=$(CDPATH= cd -- "$(dirname -- "$0")/.." && pwd)
build=$root/.build
. "$root/src/cmake/deps.sh"
test_packages() {
  [ -x /usr/bin/python3 ] || echo python3
  /usr/bin/python3 -c 'import jsonschema' 2>/dev/null || echo python3-jsonschema
  command -v jq >/dev/null 2>&1 || echo jq
  parallel --version 2>/dev/null | grep -q "^GNU" || echo parallel
  [ -f /usr/share/i18n/locales/de_DE ] || echo locales
  command -v npm >/dev/null 2>&1 || echo nodejs npm
  command -v chromium >/dev/null 2>&1 || echo chromium
  command -v pdftotext >/dev/null 2>&1 || echo poppler-utils
  command -v setpriv >/dev/null 2>&1 || echo util-linux
}
install_packages $(test_packages) $(unit_test_packages)
target=
build_product -DOVERJOIST_BUILD_TESTS=ON ${OVERJOIST_CMAKE_ARGS:-}
exec ctest --test-dir "$build" --output-on-failure -j "$(nproc 2>/dev/null || echo 2)"
