#!/bin/sh
# SPDX-License-Identifier: MIT
# Opens the pages that the program writes in a real browser and checks them. Usage: run.sh TOOL REPO_ROOT WORK_FOLDER
# The npm packages go into the work folder, as the lock file names them; nothing is written into the source tree.
set -eu
tool=$1 root=$2 work=$3
mkdir -p "$work"
for file in package.json package-lock.json .npmrc; do
  cmp -s "$root/tests/pages/$file" "$work/$file" || rm -f "$work/installed"
  cp "$root/tests/pages/$file" "$work/$file"
done
if [ ! -f "$work/installed" ]; then
  (cd "$work" && npm ci --no-audit --no-fund --ignore-scripts --loglevel=error)
  : >"$work/installed"
fi
NODE_PATH= exec node "$root/tests/pages/pages.mjs" "$tool" "$root" "$work"
