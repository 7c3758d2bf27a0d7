# SPDX-License-Identifier: MIT
"""The batch under bad surveys, many jobs, signals, full devices and small limits. Usage: batch.py TOOL REPO_ROOT [--no-memory-cap]
The memory cap is for release builds: sanitizers reserve address space of their own."""
import json
import os
import pathlib
import random
import re
import resource
import shutil
import signal
import subprocess
import sys
import tempfile
import time

tool, root = sys.argv[1], pathlib.Path(sys.argv[2])
cap = "--no-memory-cap" not in sys.argv
faults, count = [], 0


def check(name, holds, detail=""):
    global count
    count += 1
    if not holds:
        faults.append(f"{name}: {detail}"[:600])


def run(args, stdin=None, **more):
    return subprocess.run([tool, "batch"] + args, stdin=stdin if stdin is None or not isinstance(stdin, bytes) else None,
                          input=stdin if isinstance(stdin, bytes) else None, capture_output=True, timeout=300, **more)


def generate(n, *words):
    return subprocess.run([sys.executable, str(root / "tests/bench/generate.py"), str(n), *words], capture_output=True, check=True).stdout


def whole_records(data):
    """Every line is a whole JSON record, and the last one is ended."""
    return not data or (data.endswith(b"\n") and all(json.loads(line) for line in data.splitlines()))


folder = pathlib.Path(tempfile.mkdtemp())
os.chmod(folder, 0o755)
mixed = generate(1500, "7", "--bad-percent", "8")
lines = mixed.splitlines(keepends=True)
file = folder / "mixed.jsonl"
file.write_bytes(mixed)

# Same bytes for any number of jobs, any chunking, any run; one record out for each record in, in order.
one = run(["--jobs", "1", "-"], mixed)
check("mixed: exit 1 for refused ones among good ones", one.returncode == 1, one.stderr)
records = [json.loads(line) for line in one.stdout.splitlines()]
check("mixed: one record for each record", len(records) == len(lines), f"{len(records)} of {len(lines)}")
good_ids = [json.loads(l)["id"] for l, r in zip(lines, records) if r["status"] == "done"]
check("mixed: input order", good_ids == [r["id"] for r in records if r["status"] == "done"])
rejected = [r for r in records if r["status"] == "rejected"]
check("mixed: refused ones carry diagnostics, and an id or a line", len(rejected) > 50 and all(r["diagnostics"] and (r["id"] or r["line"]) for r in rejected))
check("mixed: a refused line is named", all(r["line"] == i + 1 for i, r in enumerate(records) if r["status"] == "rejected" and not r["id"]))
for jobs in ("2", "7"):
    check(f"mixed: same bytes under {jobs} jobs", run(["--jobs", jobs, "-"], mixed).stdout == one.stdout)
slow = subprocess.Popen([tool, "batch", "--jobs", "2", "-"], stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.PIPE)
rng = random.Random(3)


def feed():
    at = 0
    while at < 200000:
        step = rng.randint(1, 9000)
        slow.stdin.write(mixed[at:at + step])
        slow.stdin.flush()
        at += step
    slow.stdin.write(mixed[at:])
    slow.stdin.close()


import threading
feeder = threading.Thread(target=feed)
feeder.start()
trickled = slow.stdout.read()
feeder.join()
slow.wait()
check("mixed: same bytes however the input trickles in", trickled == one.stdout)
for fmt in (["--format", "csv"], ["--format", "csv", "--rows", "section"], ["--rank", "ua-lost"]):
    check(f"same bytes under 1 and 3 jobs: {fmt}", run(["--jobs", "1", *fmt, "-"], mixed).stdout == run(["--jobs", "3", *fmt, "-"], mixed).stdout)
ok = run(["--rejects-ok", "-"], mixed)
check("--rejects-ok: exit 0", ok.returncode == 0 and ok.stdout == one.stdout)
none = run(["-"], b"{}\n[]\n")
check("none usable: exit 3, and still a record each", none.returncode == 3 and len(none.stdout.splitlines()) == 2, none.stderr)

# Files and folders: sorted, recursive, and the same records as the lines.
deep = folder / "in" / "b"
deep.mkdir(parents=True)
for i, line in enumerate(lines[:120]):
    (deep / f"{i:04d}.json").write_bytes(line)
(folder / "in" / "a.jsonl").write_bytes(b"".join(lines[120:200]))
(folder / "in" / "read.me").write_text("not a survey")
tree = run([str(folder / "in")])
names = [json.loads(line) for line in tree.stdout.splitlines()]
check("folder: every survey once", len(names) == 200, len(names))
check("folder: sorted", [pathlib.Path(n["file"]).name for n in names][:81] == ["a.jsonl"] * 80 + ["0000.json"])
check("folder: the records are those of the lines", [{k: v for k, v in n.items() if k not in ("file", "line", "diagnostics")} for n in names[80:]]
      == [{k: v for k, v in r.items() if k not in ("line", "diagnostics")} for r in records[:120]])
gone = json.loads(run([str(folder / "none.json")]).stdout)
check("missing file: a record that says so, without a place", gone["status"] == "rejected" and gone["diagnostics"][0]["line"] is None and gone["diagnostics"][0]["column"] is None, gone)
check("missing stream: a record that says so", json.loads(run([str(folder / "none.jsonl")]).stdout)["status"] == "rejected")

# A folder of results, and the summary.
out = folder / "out"
to = run(["--to", str(out), "--summary", str(folder / "sum.json"), "--jobs", "2", str(file)])
results = sorted(out.iterdir())  # a name ends with the line's number
check("--to: a file for each record, nothing on standard output", len(results) == len(lines) and to.stdout == b"", len(results))
written = [json.loads(p.read_text()) for p in results]
check("--to: the records themselves", [{k: v for k, v in r.items() if k not in ("file", "line", "diagnostics")} for r in written]
      == [{k: v for k, v in r.items() if k not in ("line", "diagnostics")} for r in records])
check("a named stream: the line of each refused survey, of no other", [r.get("line") for r in written]
      == [i if r["status"] == "rejected" else None for i, r in enumerate(written, 1)])
check("standard input: a line only where there is no id", all(("line" in r) == (r["status"] == "rejected" and not r["id"]) for r in records))
summary = json.loads((folder / "sum.json").read_text())
check("summary counts", summary["read"] == len(lines) and summary["done"] + summary["rejected"] == len(lines) and summary["rejected"] == len(rejected), summary)
total = sum(r["attic"]["existing"]["ua_btu_per_h_f"] for r in records if r["status"] == "done")
check("summary: portfolio totals are the sum of the records", abs(summary["ua_existing_btu_per_h_f"] - total) <= 1e-9 * total, summary)
# Independent: the sums by Python, over the records that know both ends.
known = [r["totals"] for r in records if r["status"] == "done"]
bagged = [t for t in known if t["low"]["bags"] is not None and t["high"]["bags"] is not None]
check("summary: bags say over how many records they go", summary["bags_known"] == len(bagged), summary)
check("summary: of no price there is no sum of money", all(m["cost"]["low"] is None or m["cost"]["records"] > 0 for m in summary["money"]), summary)
check("summary: on standard error too", b"read %d, done" % len(lines) in to.stderr)

# Ranking.
by_saving = [json.loads(l) for l in run(["--rank", "saving-per-cost", str(root / "examples")]).stdout.splitlines()]
values = [r["saving_per_cost"] for r in by_saving]
priced = [v for v in values if v is not None]
check("rank: by saving per cost, those without a figure behind", priced and values == sorted(priced, reverse=True) + [None] * (len(values) - len(priced))
      and by_saving[0]["id"] == "quillbrook-012", values)  # hollow slopes over propane heat
ranked = [json.loads(l) for l in run(["--rank", "bags", "-"], mixed).stdout.splitlines()]
bags = [r["bags_high"] for r in ranked if r["status"] == "done"]
check("rank: greatest first, refused ones last, none lost", bags == sorted(bags, reverse=True) and len(ranked) == len(lines) and [r["status"] for r in ranked[len(bags):]] == ["rejected"] * len(rejected))

# Blank lines, empty input, a last line without an end, a line of 1 MB, CRLF and a byte order mark.
blank = run(["-"], b"\n  \r\n" + lines[0] + b"\n")
check("blank lines are passed over and counted", blank.stdout.count(b"\n") == 1 and b"blank lines 3" in blank.stderr, blank.stderr)
check("empty input: nothing out, exit 0", (e := run(["-"], b"")).returncode == 0 and e.stdout == b"")
check("a last line without an end counts", run(["-"], mixed.rstrip(b"\n")).stdout == one.stdout)
long = json.loads(lines[0])
long["notes"] = "x" * 15000
long["x_pad"] = "y" * 1_000_000
check("a line of 1 MB", json.loads(run(["-"], json.dumps(long).encode() + b"\n").stdout)["status"] == "done")
huge = run(["-"], b'{"x_pad":"' + b"y" * (17 << 20) + b'"}\n' + lines[0])
check("a line of 17 MiB is refused by its length, the next one is read", [json.loads(l)["status"] for l in huge.stdout.splitlines()] == ["rejected", "done"] and b"the survey has more than 16 MiB" in huge.stdout, huge.stdout[-300:])
crlf = b"".join(lines[:40]).replace(b"\n", b"\r\n")
check("CRLF", run(["-"], crlf).stdout == run(["-"], b"".join(lines[:40])).stdout)

# CSV: RFC 4180, guarded.
import csv
import io
rows = list(csv.reader(io.StringIO(run(["--format", "csv", "-"], mixed).stdout.decode(), newline="")))
check("CSV: a row for each survey under one header, all of one width", len(rows) == len(lines) + 1 and len({len(r) for r in rows}) == 1, {len(r) for r in rows})
column = rows[0].index("effective_r")
check("CSV and JSON agree", [float(r[column]) for r in rows[1:] if r[0] == "done"] == [r["attic"]["existing"]["effective_r"] for r in records if r["status"] == "done"])
sections = list(csv.reader(io.StringIO(run(["--format", "csv", "--rows", "section", "-"], mixed).stdout.decode(), newline="")))
check("CSV: a row for each section", len(sections) == 1 + sum(len(r["sections"]) if r["status"] == "done" else 1 for r in records))
for start in "=+-@\t\r":
    evil = json.loads(lines[0])
    evil["label"] = start + 'cmd,"x"'
    text = json.dumps(evil).encode()
    cell = list(csv.reader(io.StringIO(run(["--format", "csv", "-"], text).stdout.decode(), newline="")))[1][4]
    raw = list(csv.reader(io.StringIO(run(["--format", "csv", "--raw-text", "-"], text).stdout.decode(), newline="")))[1][4]
    shown = start if start > " " else f"\\x{ord(start):02X}"
    check(f"CSV guard on {start!r}", cell == "'" + shown + 'cmd,"x"' and raw == start + 'cmd,"x"', (cell, raw))

# Killed at random moments: whole records only, a prefix of the full output.
big = folder / "big.jsonl"
big.write_bytes(mixed * 4)
full = run(["--jobs", "2", str(big)]).stdout
for k in range(12):
    number = (signal.SIGINT, signal.SIGTERM)[k % 2]
    with open(folder / "part.jsonl", "wb") as part:
        process = subprocess.Popen([tool, "batch", "--jobs", str(1 + k % 3), str(big)], stdout=part, stderr=subprocess.DEVNULL)
        time.sleep(rng.uniform(0.0, 0.25))
        process.send_signal(number)
        code = process.wait(timeout=60)
    data = (folder / "part.jsonl").read_bytes()
    # Before the handler stands, the signal ends the process in the usual way.
    check(f"signal {number.name}", code in (128 + number, -number) or (code == 1 and data == full), code)
    check(f"signal {number.name}: whole records, a prefix", full.startswith(data) and whole_records(data), len(data))
waiting = subprocess.Popen([tool, "batch", "--jobs", "3", "-"], stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.PIPE)
waiting.stdin.write(lines[0])
waiting.stdin.flush()
first = waiting.stdout.readline()
waiting.send_signal(signal.SIGTERM)
check("a batch that waits for input answers each line at once and ends by a signal", json.loads(first)["status"] == "done" and waiting.wait(timeout=20) == 143)
waiting.stdin.close()

# A signal that finds an evaluation at work had to wait for its end, half a minute or for ever. Common practice: 2 s, twice that on a
# machine at work.
rng_long = random.Random(3)
long_work = json.loads(lines[0])
long_work["sections"] = [{"name": "floor", "kind": "flat", "area_ft2": 1000, "layers": [{"material": "cellulose-loose"}],
                          "eave": {"heel_in": 6, "pitch_in_12": 5, "length_ft": 60},
                          "readings": [round(rng_long.uniform(1, 7), 6) for _ in range(1_000_000)]}]
long_work["compare"] = [{"material": "glass-fiber-loose", "name": f"again {i}"} for i in range(12)]
(folder / "long.jsonl").write_bytes(json.dumps(long_work, separators=(",", ":")).encode() + b"\n")
for number in (signal.SIGTERM, signal.SIGINT):
    with open(folder / "part.jsonl", "wb") as part:
        process = subprocess.Popen([tool, "batch", "--jobs", "1", str(folder / "long.jsonl")], stdout=part, stderr=subprocess.PIPE)
        time.sleep(2)
        check(f"{number.name}: the long survey is still at work", process.poll() is None)
        sent = time.monotonic()
        process.send_signal(number)
        code = process.wait(timeout=60)
        took = time.monotonic() - sent
    check(f"{number.name} ends a running evaluation", code == 128 + number and took < 4, (code, took))
    check(f"{number.name}: no part of a record is left", (folder / "part.jsonl").read_bytes() == b"")
    check(f"{number.name}: it says so", b"what was written is whole" in process.stderr.read())
process = subprocess.Popen([tool, "assess", str(folder / "long.jsonl")], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
time.sleep(1)
sent = time.monotonic()
process.send_signal(signal.SIGTERM)
check("assess: a signal ends it at once", process.wait(timeout=60) == -signal.SIGTERM and time.monotonic() - sent < 4)

# Output that cannot be written.
with open("/dev/full", "wb") as device:
    got = subprocess.run([tool, "batch", str(file)], stdout=device, stderr=subprocess.PIPE)
check("full device: exit 4 and a message", got.returncode == 4 and b"could not be written" in got.stderr, got.stderr)
check("full device: no counts as of a batch that went well", b"read 0" not in got.stderr and b"records" not in got.stderr, got.stderr)


def small_file():
    signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
    resource.setrlimit(resource.RLIMIT_FSIZE, (300_000, 300_000))


with open(folder / "limited.jsonl", "wb") as part:
    got = subprocess.run([tool, "batch", str(file)], stdout=part, stderr=subprocess.PIPE, preexec_fn=small_file)
data = (folder / "limited.jsonl").read_bytes()
cut = data[: data.rfind(b"\n") + 1]
said = re.search(rb"; at least (\d+) records were written", got.stderr)
check("file limit: no counts as of a batch that went well; the records said to be written are there",
      b"read 0" not in got.stderr and (not said or int(said[1]) <= cut.count(b"\n")), got.stderr)
check("file limit: exit 4; what claims to be whole (ends with a line break) is whole", got.returncode == 4 and whole_records(cut) and one.stdout.replace(b"", b"") is not None, got.returncode)
got = subprocess.run([tool, "batch", "--to", str(folder / "few"), str(file)], stdout=subprocess.PIPE, stderr=subprocess.PIPE,
                     preexec_fn=lambda: (signal.signal(signal.SIGXFSZ, signal.SIG_IGN), resource.setrlimit(resource.RLIMIT_FSIZE, (100, 100))))
check("--to under a file limit: exit 4, no part left", got.returncode == 4 and not list((folder / "few").iterdir()), got.stderr)
check("--to under a file limit: no counts as of a batch that went well", b"read 0" not in got.stderr, got.stderr)
read_end, write_end = os.pipe()
os.close(read_end)
got = subprocess.run([tool, "batch", str(file)], stdout=write_end, stderr=subprocess.PIPE, preexec_fn=lambda: signal.signal(signal.SIGPIPE, signal.SIG_DFL))
os.close(write_end)
check("closed pipe: ends by SIGPIPE without a word", got.returncode == -signal.SIGPIPE and got.stderr == b"", (got.returncode, got.stderr))

# A thread that cannot be started means fewer workers and the same bytes.
shutil.copy(tool, folder / "overjoist")
drop = ["setpriv", "--reuid=65533", "--clear-groups"] if os.geteuid() == 0 else []
few = subprocess.run(drop + ["sh", "-c", f"ulimit -u 1 2>/dev/null; exec {folder}/overjoist batch --jobs 4 {file}"], capture_output=True)
plain = subprocess.run(drop + [str(folder / "overjoist"), "batch", "--jobs", "1", str(file)], capture_output=True)
check("no threads to be had: the same bytes", few.stdout == plain.stdout and few.returncode == 1, few.stderr)

if cap:
    many = folder / "many.jsonl"
    many.write_bytes(mixed * 67)  # 100,500 lines
    for jobs in ("1", "2"):
        with open(many, "rb") as source:
            limited = subprocess.Popen([tool, "batch", "--rejects-ok", "--format", "csv", "--jobs", jobs, "-"], stdin=source, stdout=subprocess.PIPE, stderr=subprocess.PIPE,
                                       preexec_fn=lambda: resource.setrlimit(resource.RLIMIT_AS, (64 << 20, 64 << 20)))
            got_lines = sum(chunk.count(b"\n") for chunk in iter(lambda: limited.stdout.read(1 << 20), b""))
            code = limited.wait()
        check(f"100,500 lines under 64 MiB of address space, {jobs} jobs", code == 0 and got_lines == 100_501, (code, got_lines, limited.stderr.read()))

shutil.rmtree(folder)
print("\n".join(faults) if faults else f"{count} batch checks hold")
sys.exit(1 if faults else 0)
