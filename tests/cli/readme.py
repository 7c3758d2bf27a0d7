# SPDX-License-Identifier: MIT
"""Runs every command shown in README.md and compares what it prints. Usage: readme.py TOOL REPO_ROOT

In a ```console block a line `$ overjoist ...` is run in the repository; the lines after it are its output, where a
line `...` stands for any lines, and `# exit N` for an exit code. Blocks without `$ overjoist` are not run."""
import pathlib
import re
import subprocess
import sys

tool, root = sys.argv[1], pathlib.Path(sys.argv[2])
faults, runs = [], 0


def matches(want, got):
    """True if the lines of `got` follow `want`, `...` standing for any number of lines."""
    if not want:
        return not got
    if want[0] == "...":
        return any(matches(want[1:], got[i:]) for i in range(len(got) + 1))
    return bool(got) and got[0] == want[0] and matches(want[1:], got[1:])


for name in ("README.md", "data/README.md", "include/overjoist/README.md"):
    for block in re.findall(r"```console\n(.*?)```", (root / name).read_text(), flags=re.S):
        for part in re.split(r"^\$ ", block, flags=re.M)[1:]:
            command, _, shown = part.partition("\n")
            if "overjoist" not in command:
                continue
            runs += 1
            code = int(m.group(1)) if (m := re.search(r"^# exit (\d+)$", shown, flags=re.M)) else 0
            want = [line for line in shown.rstrip("\n").split("\n") if not line.startswith("# exit")]
            shell = re.sub(r"(^|[|] ?|; )overjoist ", rf"\1'{tool}' ", command)
            got = subprocess.run(["bash", "-c", shell], cwd=root, capture_output=True, text=True)
            lines = (got.stdout + got.stderr).rstrip("\n").split("\n")
            if got.returncode != code or not matches(want, lines):
                faults.append(f"{name}: $ {command}\nexit {got.returncode}, want {code}; printed:\n" + "\n".join(lines[:40]))

print("\n".join(faults) if faults else f"{runs} shown commands print what is shown")
sys.exit(1 if faults or not runs else 0)
