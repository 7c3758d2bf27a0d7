#!/usr/bin/env python3
# SPDX-License-Identifier: MIT
"""Every write, sync, close and rename of every output path fails once and is killed once; every 1/200 of the allocations of
`assess` fails once. Usage: faults.py TOOL SHIM REPO_ROOT
Invariant: a clean error with the right exit code or the right output; a file is the old one whole or the new one whole."""
import os
import pathlib
import shutil
import signal
import subprocess
import sys
import tempfile

tool, shim, root = sys.argv[1], sys.argv[2], pathlib.Path(sys.argv[3])
demo = str(root / "examples/demo.json")
job = [str(root / f"examples/inspect/pass/{name}.json") for name in ("survey", "record")]
folder = pathlib.Path(tempfile.mkdtemp())
faults, survived = [], 0


def run(args, fault=None, count=None):
    env = dict(os.environ, LD_PRELOAD=shim)
    if fault:
        env["OVERJOIST_FAULT"] = fault
    if count:
        env["OVERJOIST_COUNT"] = str(count)
    return subprocess.run([tool] + args, env=env, capture_output=True, timeout=60)


def calls(args, call):
    place = folder / "count"
    place.unlink(missing_ok=True)
    run(args, f"{call}:999999999:fail", place)
    return int(place.read_text())


def check(what, holds, detail=""):
    global survived
    survived += 1
    if not holds:
        faults.append(f"{what}: {detail}")


# Files: old whole or new whole, never between; no part is left by a failure (a kill may leave one beside it).
OLD = b"the old file\n"
PATHS = {
    "assess text": ["assess", demo, "--output"], "assess JSON": ["assess", demo, "--format", "json", "--output"],
    "order": ["order", demo, "--output"], "goods": ["goods", demo, "--output"], "quick": ["quick", "--area", "900", "--depth", "4,5,6", "--output"],
    "quick --save": ["quick", "--area", "900", "--depth", "4,5,6", "--force", "--save"], "batch --summary": ["batch", demo, "--summary"],
    "assess page": ["assess", demo, "--format", "html", "--output"], "form": ["form", "--force", "--output"], "form page": ["form", "--force", "--format", "html", "--output"],
    "inspect": ["inspect", *job, "--output"], "inspect JSON": ["inspect", *job, "--format", "json", "--output"],
    "receipt": ["inspect", *job, "--receipt", "--output"], "receipt page": ["inspect", *job, "--receipt", "--format", "html", "--output"],
}
for name, args in PATHS.items():
    out = folder / "out"
    out.write_bytes(OLD)
    good = run(args + [str(out)])
    new = out.read_bytes()
    check(f"{name} without a fault", good.returncode == 0 and new != OLD, good.stderr)
    for call in ("write", "fsync", "close", "rename"):
        for number in range(1, calls(args + [str(out)], call) + 1):
            for how in ("fail", "kill"):
                for rest in folder.glob("out*"):
                    rest.unlink()
                out.write_bytes(OLD)
                got = run(args + [str(out)], f"{call}:{number}:{how}")
                what = f"{name}, {call} {number}: {how}"
                there = out.read_bytes()
                check(what, there in (OLD, new), f"{len(there)} bytes that are neither the old file nor the new one")
                if how == "kill":
                    check(what, got.returncode == -signal.SIGKILL, got.returncode)
                else:
                    # A fault after the file stands whole, or of a file that was only read, may still end well.
                    check(what, got.returncode == 4 and got.stderr or got.returncode == 0 and there == new, (got.returncode, got.stderr))
                    check(what + ", nothing left", [p.name for p in folder.glob("out*")] == ["out"], list(folder.glob("out*")))

# A folder of results, a folder of pages: each file is whole.
for option, kind in (("--to", "*.json"), ("--html-folder", "*.html")):
    whole = folder / f"whole{option}"
    run(["batch", demo, option, str(whole)])
    record = next(whole.iterdir()).read_bytes()
    for call in ("write", "fsync", "rename"):
        for number in range(1, calls(["batch", demo, option, str(folder / "few")], call) + 1):
            for how in ("fail", "kill"):
                shutil.rmtree(folder / "few", ignore_errors=True)
                got = run(["batch", demo, option, str(folder / "few")], f"{call}:{number}:{how}")
                files = [p for p in (folder / "few").glob(kind)]
                what = f"batch {option}, {call} {number}: {how}"
                check(what, all(p.read_bytes() == record for p in files), "a file is not whole")
                check(what, got.returncode in (0, 4, -signal.SIGKILL), got.returncode)

# Standard output: what cannot be written ends with 4 and words, a closed pipe by SIGPIPE without a word.
STDOUT = [["assess", demo], ["assess", demo, "--format", "json"], ["assess", demo, "--format", "csv"], ["order", demo], ["goods", demo],
          ["goods", demo, "--format", "json"], ["goods", demo, "--format", "csv"], ["check", demo], ["materials"], ["batch", demo],
          ["batch", "--format", "csv", demo], ["batch", "--rank", "bags", demo], ["quick", "--area", "900", "--depth", "4"],
          ["assess", demo, "--format", "html"], ["order", demo, "--format", "html"], ["goods", demo, "--format", "html"], ["form"], ["form", "--format", "html"],
          ["inspect", *job], ["inspect", *job, "--format", "json"], ["inspect", *job, "--format", "csv"], ["inspect", *job, "--receipt"],
          ["inspect", *job, "--receipt", "--format", "html"]]
for args in STDOUT:
    got = run(args, "write:1:fail")
    check(f"{args} to a full device", got.returncode == 4 and got.stderr, (got.returncode, got.stderr))
    read_end, write_end = os.pipe()
    os.close(read_end)
    got = subprocess.run([tool] + args, stdout=write_end, stderr=subprocess.PIPE, preexec_fn=lambda: signal.signal(signal.SIGPIPE, signal.SIG_DFL))
    os.close(write_end)
    check(f"{args} to a closed pipe", got.returncode == -signal.SIGPIPE and got.stderr == b"", (got.returncode, got.stderr))

# A folder that may not be written to, as a user without privilege: exit 4, words, the old file as it was, nothing beside it.
locked = folder / "locked"
locked.mkdir()
(locked / "out").write_bytes(OLD)
readable = folder / "demo.json"
here = {demo: readable, job[0]: folder / "survey.json", job[1]: folder / "record.json"}
for source, copy in ((tool, folder / "overjoist"), *here.items()):
    shutil.copy(source, copy)
    copy.chmod(0o755)
os.chmod(folder, 0o755)
os.chmod(locked, 0o555)
drop = ["setpriv", "--reuid=65534", "--clear-groups"] if os.geteuid() == 0 else []
proven = subprocess.run(drop + ["sh", "-c", f": > {locked}/touch"], capture_output=True)
check("the folder is locked, or what follows means nothing", proven.returncode != 0)
for name, args in PATHS.items():
    args = [str(here.get(a, a)) for a in args]
    got = subprocess.run(drop + [str(folder / "overjoist")] + args + [str(locked / "out")], capture_output=True)
    check(f"{name} into a locked folder", got.returncode == 4 and got.stderr, (got.returncode, got.stderr))
    check(f"{name} into a locked folder, the old file", [p.name for p in locked.iterdir()] == ["out"] and (locked / "out").read_bytes() == OLD)

# Allocations of assess: 200 places spread over the run.
args = ["assess", demo]
want = run(args).stdout
total = calls(args, "new")
places = sorted({1 + i * (total - 1) // 199 for i in range(200)})
# Before the survey is opened the option parser sets itself up; two of its allocations are made where nothing can be caught (before main,
# and in a function of it that may not throw), so that the system ends the process. Nothing has been read or written then.
setup = calls(["assess", str(folder / "not-there.json")], "new")
clean = right = early = 0
for number in places:
    got = run(args, f"new:{number}:fail")
    if got.returncode == -signal.SIGABRT and number <= setup:
        early += 1
        check(f"allocation {number} fails in the setup", got.stdout == b"", got.stdout[:100])
    elif got.returncode == 0:
        right += 1
        check(f"allocation {number} fails", got.stdout == want, "exit 0, but another output")
    else:
        clean += 1
        check(f"allocation {number} fails", got.returncode == 70 and got.stderr and want.startswith(got.stdout), (got.returncode, got.stderr[:200], len(got.stdout)))
check("200 places", len(places) >= min(200, total), len(places))

shutil.rmtree(folder)
print("\n".join(faults[:40]) if faults else f"{survived} checks under faults hold; {len(places)} of {total} allocations failed: {clean} clean errors, {right} right outputs, {early} ended in the option parser")
sys.exit(1 if faults else 0)
