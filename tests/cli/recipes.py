# SPDX-License-Identifier: MIT
"""Runs the recipes of the batch page, as they stand there, and holds their results against the records themselves.
Usage: recipes.py TOOL REPO_ROOT

A recipe is a ```sh block under a line `<!-- recipe: NAME -->`. It is run in a folder that has surveys/ (a file each),
surveys.jsonl (the same, one a line) and hosts.txt. Every recipe has a check here, and every check a recipe."""
import collections
import csv
import io
import json
import os
import pathlib
import re
import shutil
import subprocess
import sys
import tempfile

tool, root = pathlib.Path(sys.argv[1]).resolve(), pathlib.Path(sys.argv[2])
page = (root / "src/cli/man/batch.md").read_text()
recipes = dict(re.findall(r"<!-- recipe: ([\w-]+) -->\n```sh\n(.*?)```", page, flags=re.S))
faults = [f"{t} is not installed (Debian package {t})" for t in ("jq", "parallel", "awk") if not shutil.which(t)]
if faults:
    sys.exit("\n".join(faults))

folder = pathlib.Path(tempfile.mkdtemp())
(folder / "bin").mkdir()
(folder / "bin/overjoist").symlink_to(tool)
environment = {**os.environ, "PATH": f"{folder}/bin:{os.environ['PATH']}", "HOME": str(folder), "SHELL": "/bin/sh", "LC_ALL": "C.UTF-8"}


def shell(command, **more):
    return subprocess.run(["bash", "-c", command], cwd=folder, env=environment, capture_output=True, timeout=300, **more)


def result(name):
    return (folder / name).read_bytes()


def objects(data):
    return [json.loads(line) for line in data.splitlines()]


def rows(data):
    return list(csv.DictReader(io.StringIO(data.decode(), newline="")))


def codes(record, *levels):
    return [c["code"] for c in record.get("cautions", []) if c["level"] in levels]


# The surveys: refused ones too, and more than a piece of 1 MB, so that the stream is cut.
made = subprocess.run([sys.executable, str(root / "tests/bench/generate.py"), "1300", "11", "--bad-percent", "6"], capture_output=True, check=True).stdout
lines = made.splitlines(keepends=True)
records = objects(shell("overjoist batch --jobs 1 -", input=made).stdout)
named = [(line, record) for line, record in zip(lines, records) if record["id"]]
(folder / "surveys").mkdir()
for number, line in enumerate(lines[:240]):
    (folder / f"surveys/{number:04d}.json").write_bytes(line)
(folder / "surveys.jsonl").write_bytes(b"".join(line for line, _ in named))
(folder / "hosts.txt").write_text("2/:\n")
one_run = shell("overjoist batch --rejects-ok --jobs 1 - < surveys.jsonl").stdout
one_csv = shell("overjoist batch --rejects-ok --jobs 1 --format csv - < surveys.jsonl").stdout
of_folder = objects(shell("overjoist batch surveys/").stdout)
done = [r for r in of_folder if r["status"] == "done"]
refused = [r for r in of_folder if r["status"] == "rejected"]


def total(values):
    return sum(v for v in values if v is not None)


def rank(out):
    ranked, totals = objects(result("ranked.jsonl")), json.loads(result("portfolio.json"))
    lost = [r["ua_lost_btu_per_h_f"] for r in ranked if r["status"] == "done"]
    return (lost == sorted(lost, reverse=True) and len(ranked) == len(of_folder) and totals["read"] == len(of_folder) and totals["done"] == len(done)
            and totals["rejected"] == len(refused) and totals["bags_high"] == total(r["totals"]["high"]["bags"] for r in done))


def low_r(out):
    want = [r for r in done if r["attic"]["existing"]["effective_r"] < 20]
    return 0 < len(want) < len(done) and objects(out) == want


def stops(out):
    want = [{"id": r["id"], "stops": codes(r, "stop")} for r in of_folder if codes(r, "stop")]
    return len(want) > 5 and objects(out) == want


def ready(out):
    want = [r["id"] for r in done if not codes(r, "stop", "fix-first")]
    return len(want) > 0 and out.decode().split() == want


def why_refused(out):
    want = [{"id": r["id"], "file": r["file"], "faults": [d["pointer"] + ": " + d["message"] for d in r["diagnostics"]]} for r in refused]
    return len(want) > 3 and objects(out) == want


def sums(out):
    got = json.loads(out)
    ends = {end: total(r["totals"][end]["bags"] for r in done) for end in ("low", "high")}
    area = sum(r["attic"]["area_ft2"] for r in done)
    return got["surveys"] == len(done) and abs(got["area_ft2"] - area) <= 1e-9 * area and got["bags_low"] == ends["low"] and got["bags_high"] == ends["high"]


def tally(out):
    want = collections.Counter(code for r in done for code in codes(r, "stop"))
    return len(want) > 1 and {code: int(count) for count, code in (line.split() for line in out.decode().splitlines())} == want


def as_csv(out):
    surveys, sections = rows(result("portfolio.csv")), rows(result("sections.csv"))
    columns = [re.sub(r"\s+", " ", c).split(", ") for c in re.findall(r"`((?:status|section), [^`]*)`", page)]
    whole = columns[0]
    by_section = whole[:4] + columns[1] + whole[whole.index("stop_cautions"):]
    return (list(surveys[0]) == whole and list(sections[0]) == by_section and [r["status"] for r in surveys] == [r["status"] for r in of_folder]
            and [float(r["effective_r"]) for r in surveys if r["status"] == "done"] == [r["attic"]["existing"]["effective_r"] for r in done]
            and len(sections) == sum(len(r.get("sections", [0])) for r in of_folder))


def own_columns(out):
    want = [[r["id"], r["attic"]["area_ft2"], r["attic"]["existing"]["effective_r"], r["totals"]["high"]["bags"]] for r in done]
    got = list(csv.reader(io.StringIO(result("mine.csv").decode())))
    return [[row[0]] + [float(c) if c else None for c in row[1:]] for row in got] == want


def worst(out):
    want = sorted(((r["attic"]["existing"]["effective_r"], r["id"]) for r in done), key=lambda pair: pair[0])[:10]
    return [line.split()[0] for line in out.decode().splitlines()] == [name for _, name in want]


def one_version(out):
    return len(out.splitlines()) == 1 and int(out.split()[0]) == sum(r["status"] == "done" for r in objects(one_run))


def same_as_one_run(out):
    same = result("results.jsonl") == one_run
    (folder / "results.jsonl").write_bytes(b"")  # nothing left over for the next recipe
    return same


# In the order in which they run: `one-version` looks at results of a run of its own.
CHECKS = {"rank": rank, "low-r": low_r, "stops": stops, "ready": ready, "refused": why_refused, "sums": sums, "tally": tally, "csv": as_csv, "own-columns": own_columns, "worst": worst,
          "one-version": one_version, "parallel": same_as_one_run, "parallel-csv": lambda out: result("portfolio.csv") == one_csv,
          "hosts": same_as_one_run}
EXITS = {"rank": 1, "csv": 1}  # no pipe hides the exit code for refused surveys
faults += [f"no check for the recipe {name}" for name in recipes if name not in CHECKS]
faults += [f"the page has no recipe {name}" for name in CHECKS if name not in recipes]
(folder / "results.jsonl").write_bytes(one_run)
for name in (n for n in CHECKS if n in recipes):
    got = shell(recipes[name])
    if got.returncode != EXITS.get(name, 0) or not CHECKS[name](got.stdout):
        faults.append(f"recipe {name}: exit {got.returncode}\n{recipes[name]}{got.stdout[:300]!r}\n{got.stderr[-300:]!r}")

# What the page says of cutting: ids make all bytes equal, whatever the piece; without one only the line differs.
for size in ("30k", "333k"):
    cut = shell(recipes["parallel"].replace("1M", size))
    if cut.returncode != 0 or not same_as_one_run(b""):
        faults.append(f"pieces of {size}: other bytes than in one run")
(folder / "surveys.jsonl").write_bytes(made)
shell(recipes["parallel"].replace("1M", "30k"))
cut = objects(result("results.jsonl"))
nameless = [i for i, r in enumerate(records) if not r["id"]]
without_line = [{k: v for k, v in r.items() if k != "line"} for r in cut] == [{k: v for k, v in r.items() if k != "line"} for r in records]
if not (nameless and without_line and all("line" in cut[i] for i in nameless) and any(cut[i]["line"] != records[i]["line"] for i in nameless)):
    faults.append("surveys without ids: something other than the line depends on the cutting")
engines = re.findall(r"overjoist batch (.*)", page[page.index("## As a line filter"):])
faults += [f"without --rejects-ok: {words}" for words in engines if not words.startswith("--rejects-ok") and "--jobs 2" not in words]

shutil.rmtree(folder)
print("\n".join(faults) if faults else f"{len(CHECKS)} recipes of the batch page give what they say")
sys.exit(1 if faults else 0)
