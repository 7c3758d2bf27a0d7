#!/usr/bin/env python3
# SPDX-License-Identifier: MIT
"""The same bytes under a locale with a decimal comma. Usage: comma.py TOOL COMMA_TOOL REPO_ROOT
Invariant: what the program reads and writes does not depend on the locale of its user or of the program around it."""
import os
import pathlib
import subprocess
import sys
import tempfile

tool, comma_tool, root = sys.argv[1], sys.argv[2], pathlib.Path(sys.argv[3])
faults, checks = [], 0
surveys = sorted((root / "examples").glob("*.json"))
COMMANDS = [["assess"], ["assess", "--units", "si"], ["assess", "--format", "json"], ["assess", "--format", "csv"], ["order"], ["goods"], ["batch"]]

with tempfile.TemporaryDirectory() as folder:
    subprocess.run(["localedef", "-i", "de_DE", "-f", "UTF-8", f"{folder}/de_DE.UTF-8"], check=True, capture_output=True)
    # Under the address sanitizer: the C library itself never frees the words of LOCPATH.
    comma = dict(os.environ, LOCPATH=folder, LC_ALL="de_DE.UTF-8", LANG="de_DE.UTF-8", ASAN_OPTIONS="detect_leaks=0")
    plain = dict(os.environ, LC_ALL="C")

    def run(program, env, *args):
        got = subprocess.run([program, *args], env=env, capture_output=True, timeout=120)
        err = [line for line in got.stderr.splitlines() if b" done " not in line]  # the batch tells its seconds there
        return got.returncode, got.stdout, err

    for args in [[*command, str(survey)] for command in COMMANDS for survey in surveys] + [["materials"], ["quick", "--area", "900.5", "--depth", "4.5,5 1/2,6"]]:
        want = run(tool, plain, *args)
        for program in (tool, comma_tool):
            checks += 1
            got = run(program, comma, *args)
            if got != want or not got[1]:
                faults.append(f"{pathlib.Path(program).name} {args}: exit {got[0]}, bytes differ")

print(f"{checks} checks, {len(faults)} faults")
print("\n".join(faults[:20]))
sys.exit(1 if faults else 0)
