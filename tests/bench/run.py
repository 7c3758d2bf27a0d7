# SPDX-License-Identifier: MIT
"""Measures the batch against its yardsticks and prints Markdown tables; run.sh builds what this needs and calls it.

Every program is run in turn, round after round, so that a busy minute of the machine hits all of them alike; figures
are medians over the rounds, with the least value beside. Before each run it waits, as long as its patience lasts, until
other work leaves the processors alone. Standard output goes to nowhere."""
import argparse
import json
import os
import pathlib
import platform
import random
import re
import shutil
import statistics
import subprocess
import sys
import tempfile
import time
from collections import namedtuple

words = argparse.ArgumentParser()
words.add_argument("build", type=pathlib.Path)
words.add_argument("root", type=pathlib.Path)
words.add_argument("--compiler", default="")
words.add_argument("--flags", default="")
words.add_argument("--small", type=int, default=20_000, help="surveys of the small run")
words.add_argument("--large", type=int, default=200_000, help="surveys of the large run; 0 leaves it out")
words.add_argument("--rounds", type=int, default=5)
words.add_argument("--large-rounds", type=int, default=3)
words.add_argument("--patience", type=float, default=300, help="seconds to wait at most, all in all, for quiet moments")
asked = words.parse_args()

tool, bench = str(asked.build / "overjoist"), asked.build
Run = namedtuple("Run", "wall cpu memory")  # s, s, KiB
bounds = []  # of the list at the end: (words, value by medians, value by least figures, most, unit)


def measure(command, stdin="/dev/null"):
    out = subprocess.run([bench / "measure", stdin, *command], capture_output=True, text=True, check=True).stdout.split()
    if out[0] != "0":
        sys.exit(f"{' '.join(map(str, command))}: exit {out[0]}")
    return Run(float(out[1]), float(out[2]), int(out[3]))


def busy_share():
    """Share of the processors that others use right now; 0 where the system does not tell."""
    def ticks():
        fields = [int(f) for f in open("/proc/stat").readline().split()[1:9]]
        return sum(fields), fields[3] + fields[4]
    if not os.path.exists("/proc/stat"):
        return 0.0
    before = ticks()
    time.sleep(0.3)
    after = ticks()
    return 1 - (after[1] - before[1]) / max(1, after[0] - before[0])


def wait_for_quiet():
    while asked.patience > 0:
        start = time.monotonic()
        if busy_share() < 0.1:
            break
        asked.patience -= time.monotonic() - start


def interleaved(programs, rounds):
    """Runs {name: (command, stdin)} in turn. Returns {name: Run of medians} and {name: Run of least values}."""
    runs = {name: [] for name in programs}
    for _ in range(rounds):
        for name, (command, stdin) in programs.items():
            wait_for_quiet()
            runs[name].append(measure(command, stdin))
    middle = {n: Run(statistics.median(r.wall for r in rs), statistics.median(r.cpu for r in rs), max(r.memory for r in rs)) for n, rs in runs.items()}
    least = {n: Run(min(r.wall for r in rs), min(r.cpu for r in rs), min(r.memory for r in rs)) for n, rs in runs.items()}
    return middle, least


def bound(text, runs, figure, most, unit):
    """Notes a bound; `figure` takes a dictionary of runs, first the medians, then the least values."""
    bounds.append((text, figure(runs[0]), figure(runs[1]), most, unit))


def verdict(by_medians, by_least, most):
    if by_medians <= most:
        return "reached"
    missed = f"missed by {100 * (by_medians / most - 1):.0f} %"
    return missed + (", reached by the least values" if by_least <= most else "")


def table(head, rows):
    print("| " + " | ".join(head) + " |\n|" + "---|" * len(head))
    for row in rows:
        print("| " + " | ".join(row) + " |")
    print()


def programs_for(file):
    found = {
        "(a) reading the bytes": [bench / "read_bytes"],
        "(b) DOM parse of each line (nlohmann_json), nothing else": [bench / "dom_parse"],
        "(c) `jq -c '.sections\\|length'`": ["jq", "-c", ".sections|length"],
        "(d) DOM parse by simdjson, nothing else": [bench / "simdjson_parse"],
        "(e) `overjoist batch --jobs 1`": [tool, "batch", "--jobs", "1", "-"],
        "(f) `overjoist batch --jobs 2`": [tool, "batch", "--jobs", "2", "-"],
        "(g) `overjoist batch --jobs 1 --format csv`": [tool, "batch", "--jobs", "1", "--format", "csv", "-"],
    }
    return {name: (command, str(file)) for name, command in found.items() if shutil.which(command[0])}


def throughput(folder, count, rounds):
    """The main table for one number of surveys. Returns the file of surveys."""
    file = folder / f"{count}.jsonl"
    with open(file, "wb") as out:
        subprocess.run([sys.executable, asked.root / "tests/bench/generate.py", str(count)], stdout=out, check=True)
    middle, least = interleaved(programs_for(file), rounds)
    b = next(run for name, run in middle.items() if name[1] == "b")
    print(f"**{count:,} surveys**, {file.stat().st_size / 1e6:.1f} MB; medians of {rounds} rounds, least values beside\n")
    table(["", "CPU s", "least", "x (b)", "wall s", "least", "x (b)", "cores", "surveys/s", "peak MiB"],
          [[name, f"{r.cpu:.3f}", f"{least[name].cpu:.3f}", f"{r.cpu / b.cpu:.2f}", f"{r.wall:.3f}", f"{least[name].wall:.3f}", f"{r.wall / b.wall:.2f}",
            f"{r.cpu / r.wall:.1f}", f"{count / r.wall:,.0f}", f"{r.memory / 1024:.1f}"] for name, r in middle.items()])
    runs = [{name[1]: run for name, run in each.items()} for each in (middle, least)]
    at = f"{count:,}: "
    bound(at + "CPU of (e) against (b)", runs, lambda r: r["e"].cpu / r["b"].cpu, 2.0, "x")
    bound(at + "CPU of (g) against (b)", runs, lambda r: r["g"].cpu / r["b"].cpu, 1.5, "x")
    if "c" in runs[0]:
        bound(at + "wall of (f) against (c)", runs, lambda r: r["f"].wall / r["c"].wall, 1.0, "x")
    bound(at + "wall of (f) against (b)", runs, lambda r: r["f"].wall / r["b"].wall, 1.2, "x")
    bound(at + "peak memory, greatest of (e), (f), (g)", runs, lambda r: max(r[n].memory for n in "efg") / 1024, 48, "MiB")
    bound(at + "goal beyond: CPU of (e) against (b)", runs, lambda r: r["e"].cpu / r["b"].cpu, 1.25, "x")
    return file


def files_one_by_one(folder, file, rounds):
    many = folder / "surveys"
    many.mkdir()
    count = 0
    with open(file, "rb") as lines:
        for count, line in enumerate(lines, 1):
            (many / f"{count:07d}.json").write_bytes(line)
    middle, least = interleaved({"JSON Lines": ([tool, "batch", "--jobs", "1", "-"], str(file)), "a file each, in a folder": ([tool, "batch", "--jobs", "1", str(many)], "/dev/null")}, rounds)
    lines = middle["JSON Lines"]
    print(f"**{count:,} surveys as files**, `batch --jobs 1`; medians of {rounds} rounds, least CPU beside\n")
    table(["", "CPU s", "least", "wall s", "x lines (wall)", "peak MiB"],
          [[name, f"{r.cpu:.3f}", f"{least[name].cpu:.3f}", f"{r.wall:.3f}", f"{r.wall / lines.wall:.2f}", f"{r.memory / 1024:.1f}"] for name, r in middle.items()])
    runs = [list(each.values()) for each in (middle, least)]
    bound("files one by one against JSON Lines, wall", runs, lambda r: r[1].wall / r[0].wall, 1.6, "x")
    bound("files one by one, peak memory", runs, lambda r: r[1].memory / 1024, 48, "MiB")
    shutil.rmtree(many)


def one_survey(rounds):
    demo = str(asked.root / "examples/demo.json")
    middle, least = interleaved({"`overjoist assess examples/demo.json`": ([tool, "assess", demo], "/dev/null"), "parse the same file and exit (nlohmann_json)": ([bench / "parse_and_exit", demo], "/dev/null")}, rounds)
    parse = list(middle.values())[1]
    print(f"**One survey, start to end**; medians of {rounds} rounds, least values beside\n")
    table(["", "CPU ms", "least", "wall ms", "least", "x parse (wall)"],
          [[name, f"{1e3 * r.cpu:.2f}", f"{1e3 * least[name].cpu:.2f}", f"{1e3 * r.wall:.2f}", f"{1e3 * least[name].wall:.2f}", f"{r.wall / parse.wall:.2f}"] for name, r in middle.items()])
    runs = [list(each.values()) for each in (middle, least)]
    bound("assess of one survey against parse and exit, wall", runs, lambda r: r[0].wall / r[1].wall, 3, "x")
    bound("assess of one survey, CPU", runs, lambda r: 1e3 * r[0].cpu, 5, "ms")


EAVE = {"heel_in": 6, "pitch_in_12": 5, "length_ft": 60}
CHART = {"name": "invented", "chart": [{"r": r, "settled_thickness_in": round(r / 3.5, 2), "initial_thickness_in": round(r / 3.5 / 0.85, 2),
                                        "weight_psf": round(r * 0.035, 3)} for r in (11, 13, 19, 22, 26, 30, 38, 44, 49, 60)]}
Kind = namedtuple("Kind", "name count step eave chart own", defaults=(False, False, False))  # own: keys x_..., not readings


def kind_file(folder, kind):
    """One section with `count` readings in multiples of `step` inches, or a survey with as many keys of its own."""
    rng = random.Random(kind.count)
    readings = [round(round(rng.uniform(1, 7 if kind.eave else 12) / kind.step) * kind.step, 6) for _ in range(1 if kind.own else kind.count)]
    section = {"name": "floor", "kind": "flat", "area_ft2": 1000, "layers": [{"material": "cellulose-loose"}], "readings": readings}
    survey = {"format": "overjoist-survey", "version": 1, "sections": [section]}
    if kind.eave:
        section["eave"] = EAVE
    if kind.chart:
        survey["proposal"] = {"product": CHART, "bag_net_lb": 25}
    survey |= {f"x_{i}": i for i in range(kind.count if kind.own else 0)}
    file = folder / f"{re.sub('[^a-z0-9]+', '-', kind.name)}.json"
    file.write_text(json.dumps(survey, separators=(",", ":")) + "\n")
    return str(file)


def many_readings(folder, rounds):
    kinds = [Kind("1k", 1_000, 0.25), Kind("10k", 10_000, 0.25), Kind("100k", 100_000, 0.25), Kind("100k, all depths different", 100_000, 1e-5),
             Kind("1k different, with an eave", 1_000, 1e-5, eave=True), Kind("10k different, with an eave", 10_000, 1e-5, eave=True),
             Kind("1k different, with a chart", 1_000, 1e-5, chart=True), Kind("10k different, with a chart", 10_000, 1e-5, chart=True),
             Kind("1k different, with both", 1_000, 1e-5, True, True), Kind("10k different, with both", 10_000, 1e-5, True, True),
             Kind("10k keys x_...", 10_000, 0.25, own=True), Kind("100k keys x_...", 100_000, 0.25, own=True)]
    files = {kind.name: kind_file(folder, kind) for kind in kinds}
    plan = {}
    for name, file in files.items():
        plan["assess", name] = ([tool, "assess", "--format", "json", file], "/dev/null")
        plan["parse", name] = ([bench / "parse_and_exit", file], "/dev/null")
    plan["start"] = ([tool, "assess", "--format", "json", str(asked.root / "examples/demo.json")], "/dev/null")
    middle, least = interleaved(plan, rounds)
    start = middle["start"].cpu
    rows = []
    for kind in kinds:
        name, count = kind.name, kind.count
        a, p = middle["assess", name], middle["parse", name]
        rows.append([name, f"{1e3 * a.cpu:.2f}", f"{1e3 * p.cpu:.2f}", f"{a.cpu / p.cpu:.2f}", f"{1e9 * max(0.0, a.cpu - start) / count:.0f}", f"{a.memory / 1024:.1f}"])
        if count == 100_000 and not kind.own:
            bound(f"readings {name}: CPU of assess against the parse of its own file", [middle, least], lambda r, n=name: r["assess", n].cpu / r["parse", n].cpu, 5, "x")
        if count == 1_000 and kind.step < 0.01:
            bound(f"readings {name}: CPU of assess", [middle, least], lambda r, n=name: 1e3 * r["assess", n].cpu, 50, "ms")
    print(f"**Surveys with many readings** (in quarter inches, unless said) or keys of their own; medians of {rounds} rounds. Cost is linear where the last figure but one stays the same\n")
    table(["readings or keys", "assess, CPU ms", "parse and exit, CPU ms", "x parse", "ns each, without the start", "peak MiB"], rows)


def callgrind(folder, command, stdin):
    """Instructions of a run, and the file with the counts of its functions."""
    out = folder / "callgrind.out"
    with open(stdin, "rb") as source:
        got = subprocess.run(["valgrind", "--tool=callgrind", f"--callgrind-out-file={out}", *map(str, command)], stdin=source, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE, text=True, check=True)
    return int(re.search(r"Collected : (\d+)", got.stderr).group(1)), out


def shares(out, total):
    """Shares of the main functions, each with all that it calls."""
    shown = subprocess.run(["callgrind_annotate", "--inclusive=yes", "--threshold=100", str(out)], capture_output=True, text=True, check=True).stdout
    found = {}
    for name in ("read_survey", "evaluate", "write_json", "write_csv"):
        counts = [int(c.replace(",", "")) for c in re.findall(rf"^ *([\d,]+) \([ \d.]+%\) +\S*:overjoist::{name}\(", shown, flags=re.M)]
        if counts:
            found[name] = max(counts) / total
    return found


def instructions(folder, file):
    if not shutil.which("valgrind"):
        print("Instruction counts: valgrind is not installed.\n")
        return
    count = min(2_000, asked.small)
    part = folder / "part.jsonl"
    with open(file, "rb") as lines:
        part.write_bytes(b"".join(line for line, _ in zip(lines, range(count))))
    b = None
    rows = []
    for name, (command, _) in programs_for(part).items():
        if name[1] not in "beg":
            continue
        nothing, _ = callgrind(folder, command, "/dev/null")
        total, out = callgrind(folder, command, part)
        b = b or total
        where = "" if name[1] == "b" else ", ".join(f"{n} {100 * s:.0f} %" for n, s in shares(out, total).items())
        rows.append([name, f"{total / 1e6:,.0f}", f"{total / b:.2f}", f"{(total - nothing) / count:,.0f}", where])
    print(f"**Instructions** for {count:,} surveys (valgrind --tool=callgrind), not moved by other work on the machine\n")
    table(["", "millions", "x (b)", "a survey, without the start", "of these"], rows)


def machine():
    model = ""
    if os.path.exists("/proc/cpuinfo"):
        model = (re.search(r"model name\s*: (.*)", open("/proc/cpuinfo").read()) or [None, ""])[1]
    load = os.getloadavg()[0]
    print(f"{os.cpu_count()} cores ({model or platform.machine()}), {platform.system()}, {asked.compiler}, {' '.join(asked.flags.split())}; load average before the start {load:.1f}.\n")


def main():
    machine()
    with tempfile.TemporaryDirectory() as name:
        folder = pathlib.Path(name)
        small = throughput(folder, asked.small, asked.rounds)
        if asked.large:
            throughput(folder, asked.large, asked.large_rounds).unlink()
        files_one_by_one(folder, small, asked.rounds)
        one_survey(41)
        many_readings(folder, 2 * asked.rounds + 1)
        instructions(folder, small)
    print("**Bounds**\n")
    table(["bound", "is (medians)", "is (least)", "at most", ""], [[text, f"{m:.2f} {unit}", f"{l:.2f} {unit}", f"{most:g} {unit}", verdict(m, l, most)] for text, m, l, most, unit in bounds])


main()
