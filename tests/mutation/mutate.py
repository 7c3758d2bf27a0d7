# SPDX-License-Identifier: MIT
"""Mutation check of the rooms that compute: changes one operator, number or condition at a time in a copy of the tree and sees whether the
tests notice. Usage: mutate.py ROOT [--count N] [--seed S] [--only FILE] [--work DIR] [--again LOG]

Noticed: the unit tests fail, crash or pass their time limit; where they do not, the heat path oracle (for files on the heat path)
and the command-line cases are asked too. A change that does not compile is not counted, another place is taken. The list of
survivors is held against survivors.md, which says of each why no test can notice it. Exit 1 below 90 % of those
that are not listed there, 2 where the unchanged
copy does not pass its own tests."""
import argparse
import concurrent.futures
import json
import os
import pathlib
import queue
import random
import re
import resource
import shlex
import shutil
import signal
import subprocess
import sys
import time

sys.path.insert(0, str(pathlib.Path(__file__).parent))
import places as pl

ROOMS = ("words", "tables", "sums", "evaluate", "inspect")
HEAT_PATH = {"sums/assembly.cpp", "sums/framing.cpp", "sums/topup.cpp", "sums/eaves.cpp", "sums/wedge.cpp"}
LEAST_SCORE = 0.90
WORKERS = 2
MEMORY = 3 << 30

parser = argparse.ArgumentParser()
parser.add_argument("root", type=pathlib.Path)
parser.add_argument("--count", type=int, default=200)
parser.add_argument("--seed", type=int, default=20)
parser.add_argument("--only", default="")
parser.add_argument("--work", type=pathlib.Path)
parser.add_argument("--again", type=pathlib.Path, help="output of an earlier run with the same seed: only what survived there is judged anew")
options = parser.parse_args()
root = options.root.resolve()
work = (options.work or root / ".build/mutation").resolve()
tree, build = work / "tree", work / "build"


def limited():
    resource.setrlimit(resource.RLIMIT_AS, (MEMORY, MEMORY))
    resource.setrlimit(resource.RLIMIT_CORE, (0, 0))
    os.nice(10)


def run(command, seconds, cwd=None):
    """Exit code, or None where the time limit was passed; the whole group of processes that was started here is ended then."""
    process = subprocess.Popen(command, cwd=cwd, stdin=subprocess.DEVNULL, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL,
                               start_new_session=True, preexec_fn=limited)
    try:
        return process.wait(timeout=seconds)
    except subprocess.TimeoutExpired:
        os.killpg(process.pid, signal.SIGKILL)
        process.wait()
        return None


def copy_tree():
    """The tree as it lies; a file that did not change is left alone, so that a second run builds little."""
    listed = subprocess.run(["git", "-C", str(root), "ls-files", "-co", "--exclude-standard"], capture_output=True, text=True, check=True)
    names = {name for name in listed.stdout.splitlines() if (root / name).is_file()}
    for old in [p for p in tree.rglob("*") if p.is_file() and p.relative_to(tree).as_posix() not in names]:
        old.unlink()
    for name in names:
        to = tree / name
        if not to.exists() or to.read_bytes() != (root / name).read_bytes():
            to.parent.mkdir(parents=True, exist_ok=True)
            shutil.copyfile(root / name, to)


def prepare():
    """Builds the unchanged copy: the changed file alone is compiled later, and linked before the library, whose own is not drawn then.
    The standard library checks its indexes, so that one beyond the end is noticed."""
    copy_tree()
    subprocess.run(["cmake", "-S", tree, "-B", build, "-DCMAKE_BUILD_TYPE=None", "-DCMAKE_CXX_FLAGS=-O1 -g0 -w -D_GLIBCXX_ASSERTIONS",
                    "-DCMAKE_EXPORT_COMPILE_COMMANDS=ON", "-DOVERJOIST_BUILD_EXAMPLES=OFF"], check=True, stdout=subprocess.DEVNULL)
    subprocess.run(["nice", "-n", "10", "cmake", "--build", build, f"-j{WORKERS}", "--target", "unit_tests", "oracle_tests", "overjoist_tool"],
                   check=True, stdout=subprocess.DEVNULL)
    return {pathlib.Path(c["file"]).relative_to(tree / "src").as_posix(): c for c in json.loads((build / "compile_commands.json").read_text())
            if pathlib.Path(c["file"]).is_relative_to(tree / "src")}


def compile_mutant(command, source, place):
    words = shlex.split(command["command"])
    words[words.index("-o") + 1] = str(place / "changed.o")
    words[words.index("-c") + 1] = str(source)
    return run(words, 180, command["directory"]) == 0


def link(target, folder, place):
    words = shlex.split((build / folder / f"CMakeFiles/{target}.dir/link.txt").read_text())
    at = next(i for i, w in enumerate(words) if w.endswith("liboverjoist.a"))
    if target == "overjoist_tool":  # the library of commands draws from the core, so the changed file comes before both
        at = next(i for i, w in enumerate(words) if w.endswith(".a"))
    words[words.index("-o") + 1] = str(place / target)
    words[at:at] = [str(place / "changed.o"), "-fuse-ld=gold"]
    return run(words, 180, build / folder) == 0


class Mutant:
    def __init__(self, file, place):
        self.file, (self.at, self.old, self.new, self.what) = file, place
        self.text = (tree / "src" / file).read_text()
        self.line = self.text.count("\n", 0, self.at) + 1
        start, end = self.text.rfind("\n", 0, self.at) + 1, self.text.find("\n", self.at)
        self.code = self.text[start:end].strip()
        self.column = self.at - start - (len(self.text[start:end]) - len(self.text[start:end].lstrip()))
        self.verdict, self.by = "", ""

    def changed(self):
        return self.text[:self.at] + self.new + self.text[self.at + len(self.old):]

    def change(self):
        """The changed line, a condition by its first line; what survivors.md names it by."""
        one = lambda s: re.sub(r"\s+", " ", s)
        if self.what == "condition":
            return "negated: " + one(self.old)[:80]
        return f"{self.old} -> {self.new or 'nothing'} at {self.column}"

    def key(self):
        return f"{self.file}: `{self.code}` {self.change()}"


def judge(mutant, place, commands, limits):
    source = place / pathlib.Path(mutant.file).name
    source.write_text(mutant.changed())
    if not compile_mutant(commands[mutant.file], source, place) or not link("unit_tests", "tests", place):
        return "refused", "compiler"
    tests = [("unit", [place / "unit_tests", "-aa=1"], limits["unit"])]
    if mutant.file in HEAT_PATH and link("oracle_tests", "tests", place):
        tests.append(("oracle", [place / "oracle_tests", "-aa=1"], limits["oracle"]))
    if link("overjoist_tool", ".", place):
        tests.append(("cli_cases", ["/usr/bin/python3", tree / "tests/cli/run_cases.py", place / "overjoist_tool", tree], limits["cli_cases"]))
    for name, command, seconds in tests:
        code = run(command, seconds, place)
        if code is None:
            return "noticed", f"{name}, time limit"
        if code != 0:
            return "noticed", name
    return "survived", ""


def work_on(runs, folders, commands, limits):
    """One run of neighbouring places: the first that compiles is judged."""
    place = folders.get()
    try:
        for mutant in runs:
            mutant.verdict, mutant.by = judge(mutant, place, commands, limits)
            if mutant.verdict != "refused":
                print(f"{mutant.verdict:9}{mutant.by:12} line {mutant.line} {mutant.key()}", flush=True)
                return mutant
        return None
    finally:
        folders.put(place)


def baseline():
    """Time limits from the unchanged copy: eight times its own and ten seconds on top."""
    limits = {}
    for name, command in (("unit", [build / "tests/unit_tests"]), ("oracle", [build / "tests/oracle_tests"]),
                          ("cli_cases", ["/usr/bin/python3", tree / "tests/cli/run_cases.py", build / "overjoist", tree])):
        begin = time.monotonic()
        if run(command, 600, work) != 0:
            print(f"the unchanged copy fails '{name}'")
            sys.exit(2)
        limits[name] = 8 * (time.monotonic() - begin) + 10
    return limits


def sample():
    random_ = random.Random(options.seed)
    files = sorted(p.relative_to(tree / "src").as_posix() for room in ROOMS for p in (tree / "src" / room).glob("*.cpp"))
    files = [name for name in files if options.only in name]
    texts = {name: (tree / "src" / name).read_text() for name in files}
    quota = pl.shares({name: pl.code_lines(text) for name, text in texts.items()}, options.count)
    runs = [[Mutant(name, p) for p in run_] for name in files for run_ in pl.strata(pl.places(texts[name]), quota[name], random_)]
    random_.shuffle(runs)  # so that a run that is broken off has seen all files alike
    if options.again:
        survived = {line.split(" line ", 1)[1].split(" ", 1)[1] for line in options.again.read_text().splitlines() if line.startswith("survived")}
        runs = [[m] for run_ in runs for m in run_ if m.key() in survived]
    return runs


def report(mutants):
    known = (root / "tests/mutation/survivors.md").read_text() if (root / "tests/mutation/survivors.md").exists() else ""
    print("\nfile                      noticed of")
    for file in sorted({m.file for m in mutants}):
        mine = [m for m in mutants if m.file == file]
        print(f"{file:26}{sum(m.verdict == 'noticed' for m in mine):7}{len(mine):4}")
    noticed = sum(m.verdict == "noticed" for m in mutants)
    by = {}
    for m in mutants:
        if m.verdict == "noticed":
            by[m.by] = by.get(m.by, 0) + 1
    print(f"{'all':26}{noticed:7}{len(mutants):4}   {100.0 * noticed / len(mutants):.1f} %   ({', '.join(f'{k} {v}' for k, v in sorted(by.items()))})")
    for m in sorted((m for m in mutants if m.verdict == "survived"), key=lambda m: (m.file, m.at)):
        print(f"{'survivor, listed' if m.key() in known else 'survivor, NOT in survivors.md'}: line {m.line} {m.key()}")
    listed = sum(m.verdict == "survived" and m.key() in known for m in mutants)
    score = noticed / max(1, len(mutants) - listed)
    print(f"{listed} survivors are listed as not to be noticed; of the rest {100 * score:.1f} % are noticed")
    return score


work.mkdir(parents=True, exist_ok=True)
commands = prepare()
limits = baseline()
print("time limits:", ", ".join(f"{k} {v:.0f} s" for k, v in limits.items()), flush=True)
folders = queue.Queue()
for k in range(WORKERS):
    (work / f"worker{k}").mkdir(exist_ok=True)
    folders.put(work / f"worker{k}")
with concurrent.futures.ThreadPoolExecutor(WORKERS) as pool:
    done = list(pool.map(lambda runs: work_on(runs, folders, commands, limits), sample()))
sys.exit(0 if report([m for m in done if m]) >= LEAST_SCORE else 1)
