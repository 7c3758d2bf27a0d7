# SPDX-License-Identifier: MIT
"""No run takes a file that it reads, that it writes besides, or that someone else wrote. Usage: files.py TOOL REPO_ROOT
Invariant: what was there before is there after, byte for byte, wherever a run is refused; a result is whole or not there."""
import json
import os
import pathlib
import resource
import shlex
import shutil
import signal
import subprocess
import sys
import tempfile

tool, root = str(pathlib.Path(sys.argv[1]).resolve()), pathlib.Path(sys.argv[2]).resolve()
faults, count = [], 0
here = pathlib.Path(tempfile.mkdtemp()).resolve()
QUICK = ["quick", "--area", "900", "--depth", "4,5,6"]


def check(name, holds, detail=""):
    global count
    count += 1
    if not holds:
        faults.append(f"{name}: {detail}"[:700])


def run(*args, cwd=here, **more):
    if "stdin" not in more and "input" not in more:
        more["stdin"] = subprocess.DEVNULL
    more.setdefault("stdout", subprocess.PIPE)
    return subprocess.run([tool, *map(str, args)], stderr=subprocess.PIPE, cwd=cwd, timeout=120, **more)


def survey(identity, **more):
    base = json.loads((root / "examples/flush-batts.json").read_text())
    return json.dumps({**base, "id": identity, **more}).encode()


def fresh():
    """An empty ground with a survey, a record, a material table and a rebate rule."""
    for path in here.iterdir():
        shutil.rmtree(path) if path.is_dir() and not path.is_symlink() else path.unlink()
    (here / "d.json").write_bytes(survey("d"))
    for name in ("survey", "record"):
        shutil.copy(root / f"examples/inspect/pass/{name}.json", here / f"{name}.json")
    (here / "m.json").write_text('{"table": "materials", "rows": [{"id": "moor-wool", "name": "moor wool (invented)", "form": "loose", '
                                 '"r_per_inch_low": 3.0, "r_per_inch": 3.2, "r_per_inch_high": 3.4}]}')
    (here / "r.json").write_text("{}")


def state():
    return {str(p.relative_to(here)): os.readlink(p) if p.is_symlink() else p.read_bytes() for p in sorted(here.rglob("*")) if p.is_symlink() or p.is_file()}


def documented_name(called, key, line, ending):
    """Source: the words of src/cli/man/batch.md on the names of results."""
    number = 0xCBF29CE484222325
    for byte in key:
        number = (number ^ byte) * 0x100000001B3 % 2**64
    return f"{called}-{'abcdef'[(number >> 44) % 6]}{number % 2**44:011x}{f'-line-{line:06}' if line else ''}.{ending}"


def refused(name, args, *words, **more):
    """Wrong use, said in words; nothing that was there changed, and nothing new."""
    before = state()
    got = run(*args, **more)
    check(f"{name}: exit 2", got.returncode == 2, (args, got.returncode, got.stderr))
    check(f"{name}: in words", got.stderr.startswith(b"overjoist: ") and all(w.encode() in got.stderr for w in words), got.stderr)
    check(f"{name}: all as it was", state() == before, set(state().items()) ^ set(before.items()))


# ---- An output that is an input, under its own name, another spelling, a link or a second name
# Symptom: `assess --output d.json d.json` and `batch --summary` lost the survey. Cause: names were never compared.
INPUTS = {  # arguments before the output, and the file they read
    "assess": (["assess", "d.json", "--output"], "d.json"), "assess csv": (["assess", "--format", "csv", "d.json", "--output"], "d.json"),
    "assess materials": (["assess", "--materials", "m.json", "d.json", "--output"], "m.json"),
    "assess rebate": (["assess", "--rebate", "r.json", "d.json", "--output"], "r.json"),
    "order": (["order", "d.json", "--output"], "d.json"), "order materials": (["order", "--materials", "m.json", "d.json", "--output"], "m.json"),
    "goods": (["goods", "d.json", "--output"], "d.json"), "goods materials": (["goods", "--materials", "m.json", "d.json", "--output"], "m.json"),
    "inspect survey": (["inspect", "survey.json", "record.json", "--output"], "survey.json"),
    "inspect record": (["inspect", "survey.json", "record.json", "--output"], "record.json"),
    "inspect folder": (["inspect", ".", "--output"], "record.json"),
    "inspect materials": (["inspect", "--materials", "m.json", "survey.json", "record.json", "--output"], "m.json"),
    "inspect rebate": (["inspect", "--rebate", "r.json", "survey.json", "record.json", "--output"], "r.json"),
    "quick materials": ([*QUICK, "--materials", "m.json", "--output"], "m.json"),
    "quick materials saved": ([*QUICK, "--force", "--materials", "m.json", "--save"], "m.json"),
    "materials": (["materials", "--materials", "m.json", "--output"], "m.json"),
    "batch": (["batch", "d.json", "--summary"], "d.json"), "batch folder": (["batch", ".", "--summary"], "d.json"),
    "batch materials": (["batch", "d.json", "--materials", "m.json", "--summary"], "m.json"),
}
for name, (args, target) in INPUTS.items():
    fresh()
    refused(name, [*args, target], target)
    refused(f"{name}, by another spelling", [*args, f"./../{here.name}/{target}"])
    (here / "soft").symlink_to(target)
    refused(f"{name}, by a link", [*args, "soft"])
    os.link(here / target, here / "hard")
    refused(f"{name}, by a second name", [*args, "hard"])
fresh()
(here / "soft.json").symlink_to("d.json")
refused("the input is the link", ["assess", "soft.json", "--output", "d.json"])
(here / "later").symlink_to("not-there.json")
refused("neither is there yet", ["assess", "not-there.json", "--output", "later"])
with open(here / "d.json", "rb") as source:
    refused("standard input is that file", ["assess", "-", "--output", "d.json"], "standard input", stdin=source)
with open(here / "d.json", "ab") as end:
    refused("standard output is that file", ["assess", "d.json"], "standard output", stdout=end)
    refused("standard output is a file of the folder", ["batch", "."], "standard output", stdout=end)
    refused("standard output is the table", ["check", "survey.json", "--materials", "d.json"], stdout=end)

# ---- Two outputs that are one, there already or not
fresh()
refused("--save and --output, new", [*QUICK, "--save", "x", "--output", "x"], "--save", "--output")
refused("--save and --output, by another spelling", [*QUICK, "--save", "./x", "--output", here / "x"])
(here / "x").symlink_to("y")
refused("--save and --output, by a link that leads nowhere yet", [*QUICK, "--save", "x", "--output", "y"])
(here / "y").write_text("old")
refused("--save and --output, there", [*QUICK, "--force", "--save", "x", "--output", "y"])
refused("--save and --output both standard output", [*QUICK, "--save", "-"], "standard output")
refused("records and summary both standard output", ["batch", "d.json", "--summary", "-"], "standard output")
with open(here / "all.txt", "wb") as all_of_it:
    refused("--output is where standard output goes", ["batch", "d.json", "--summary", "all.txt"], stdout=all_of_it)
check("devices are nobody's file", run(*QUICK, "--save", "/dev/null", "--output", "/dev/null").returncode == 0)

# ---- An existing file is not written over by what makes new ones
# Symptom: `form --output survey.json` replaced a filled-in survey.
for name, args in {"form": ["form", "--output"], "form page": ["form", "--format", "html", "--output"], "quick": [*QUICK, "--save"]}.items():
    fresh()
    (here / "soft").symlink_to("d.json")
    refused(f"{name} over a file", [*args, "d.json"], "--force")
    refused(f"{name} over what a link leads to", [*args, "soft"], "--force")
    got = run(*args, "d.json", "--force")
    check(f"{name} --force", got.returncode == 0 and b"d.json" in got.stderr and (here / "d.json").read_bytes() != survey("d"), got.stderr)
    got = run(*args, "/dev/null")
    check(f"{name} to a device", got.returncode == 0, got.stderr)
    for target in ("new.json", "with blanks.json", "quote's.json", "-dash.json"):
        got = run(*args[:-1], f"{args[-1]}={target}")
        said = got.stderr.decode()
        check(f"{name} says what it wrote, and what to run next", got.returncode == 0 and f"wrote {target}; " in said and "run: overjoist " in said, said)
        command = shlex.split(said.split("run: ")[1].strip())
        if name == "form page":
            (here / "survey.json").unlink(missing_ok=True)
        after = run(*command[1:])
        if name == "form":  # an empty form is refused by its empty places, and by no other fault
            check(f"{name}: the next command reads the file", after.returncode == 3 and b"is empty" not in after.stderr and b"cannot be opened" not in after.stderr and b"/site" in after.stderr, after.stderr)
        else:
            check(f"{name}: the next command runs", after.returncode == 0, (command, after.stderr))
fresh()
own = [*QUICK, "--material", "moor-wool", "--materials", "m.json", "--units", "si", "--framing-method", "planes"]
said = run(*own, "--save", "s.json").stderr.decode()
again = run(*shlex.split(said.split("run: ")[1])[1:])
check("the next command knows the table, the units and the method", again.returncode == 0 and b"moor wool" in again.stdout and b"RSI" in again.stdout, (said, again.stderr))

# ---- `-` is standard output, an empty name is wrong use
# Symptom: `--output -` made a file of that name; `--to ''` went on as if it were not there.
fresh()
job = ["survey.json", "record.json"]
for args in (["assess", "d.json"], ["order", "d.json"], ["goods", "d.json"], ["inspect", *job], ["materials"], ["form"], QUICK):
    check(f"{args[0]} --output -", run(*args, "--output", "-").stdout == run(*args).stdout != b"" and not (here / "-").exists())
got = run(*QUICK, "--save", "-", "--output", "text")
check("quick --save -", json.loads(got.stdout)["format"] == "overjoist-survey" and (here / "text").read_bytes() == run(*QUICK).stdout, got.stderr)
got = run("batch", "d.json", "--to", "out", "--summary", "-")
check("batch --summary -", json.loads(got.stdout)["done"] == 1 and not (here / "-").exists(), got.stderr)
for args in (["assess", "d.json"], ["order", "d.json"], ["goods", "d.json"], ["inspect", *job], ["materials"], ["form"], QUICK):
    for empty in (["--output", ""], ["--output="]):
        got = run(*args, *empty)
        check(f"{args[0]} {empty}: wrong use", got.returncode == 2 and got.stdout == b"" and b"--output" in got.stderr, (got.returncode, got.stderr))
for args in ([*QUICK, "--save"], ["batch", "d.json", "--to"], ["batch", "d.json", "--html-folder"], ["batch", "d.json", "--summary"],
             ["batch", "-", "--name"], ["assess", "d.json", "--materials"], ["check", "d.json", "--materials"], ["assess", "d.json", "--rebate"]):
    got = run(*args, "")
    check(f"{args} '': wrong use", got.returncode == 2 and got.stdout == b"" and args[-1].encode() in got.stderr, (got.returncode, got.stderr))
for option in ("--to", "--html-folder"):
    refused(f"batch {option} -", ["batch", "d.json", option, "-"], "folder")

# ---- Folders of results
# Symptom: results of two folders with files of one name met, a link in the folder was written through, old pages passed for new.
for option, ending in (("--to", "json"), ("--html-folder", "html")):
    fresh()
    for place in ("a", "b"):
        (here / place).mkdir()
        (here / place / "house.json").write_bytes(survey("same", label=place))
    out = here / "out"
    run("batch", option, out, "house.json", cwd=here / "a")
    first = {p.name: p.read_bytes() for p in out.iterdir()}
    got = run("batch", option, out, "house.json", cwd=here / "b")
    check(f"{option}: files of one name do not meet", len(list(out.iterdir())) == 2 and all((out / n).read_bytes() == b for n, b in first.items()), list(out.iterdir()))
    left = next(iter(first))
    called = "house" if option == "--to" else "same"
    check(f"{option}: the name is the documented one", left == documented_name(called, str(here / "a/house.json").encode(), 0, ending), left)
    check(f"{option}: what an earlier run left is named", got.returncode == 0 and f"  {left}\n".encode() in got.stderr and b"1 file of earlier runs" in got.stderr, got.stderr)
    (here / "a/house.json").write_bytes(survey("same", label="changed"))
    for spelling in ("a/house.json", here / "a/house.json", here / "b/../a/house.json"):
        run("batch", option, out, spelling)
        check(f"{option}: a rerun replaces its own, by any spelling", len(list(out.iterdir())) == 2 and b"changed" in (out / left).read_bytes(), list(out.iterdir()))
    both = run("batch", option, out, "a", "b")
    check(f"{option}: nothing is left when all are written", b"earlier" not in both.stderr and len(list(out.iterdir())) == 2, both.stderr)
    # One path twice at once: one result, whole.
    twice = run("batch", "--jobs", "4", option, out, *["a/house.json"] * 40)
    check(f"{option}: one survey forty times", twice.returncode == 0 and len(list(out.iterdir())) == 2 and b"read 40, done 40" in twice.stderr, twice.stderr)
    # Links in the folder.
    secret = here / "secret"
    secret.write_text("not yours")
    for target in (secret, here / "nowhere"):
        (out / left).unlink()
        (out / left).symlink_to(target)
        got = run("batch", option, out, "a/house.json")
        check(f"{option}: a link is replaced, never followed", got.returncode == 0 and not (out / left).is_symlink() and b"changed" in (out / left).read_bytes()
              and secret.read_text() == "not yours" and not (here / "nowhere").exists(), got.stderr)
    # What is read is not what is written.
    (here / "input.json").symlink_to(out / left)
    refused(f"{option}: the input is a link into the folder", ["batch", option, "out", "input.json"], "input.json")
    refused(f"{option}: the input is a result", ["batch", option, "out", out / left])
    os.link(out / left, here / "second.json")
    refused(f"{option}: the input is a second name of a result", ["batch", option, "out", "second.json"])
    refused(f"{option}: the summary is a result", ["batch", option, "out", "a/house.json", "--summary", out / left])
    unborn = left.replace("house", "new").replace("same", "new")
    refused(f"{option}: the summary may become a result", ["batch", option, "out", "a/house.json", "--summary", f"out/{unborn}"])
    refused(f"{option}: so in a folder still to be made", ["batch", option, "none", "a/house.json", "--summary", f"none/{unborn}"])
    # Symptom: `batch --html-folder H d.json > H/RESULT.html` ended 0, its records in a file without a name. Cause: standard output was
    # held against what the run reads alone, not against the folder that it renames into.
    for name in (left, unborn):
        with open(out / name, "ab") as end:
            shown = ["--summary", "-"] if option == "--to" else []
            refused(f"{option}: standard output is {name}", ["batch", option, "out", "a/house.json", *shown], "standard output", stdout=end)
            os.link(out / name, here / "elsewhere")
            with open(here / "elsewhere", "ab") as second:
                refused(f"{option}: standard output is a second name of {name}",
                        ["batch", option, "out", "a/house.json", *shown], "standard output", stdout=second)
            (here / "elsewhere").unlink()
        with open(out / name, "rb") as source:
            refused(f"{option}: standard input is {name}", ["batch", option, "out", "--name", "n", "-"], "standard input", stdin=source)
    (out / unborn).unlink()
    with open(out / "log", "ab") as end:
        got = run("batch", option, "out", "a/house.json", stdout=end)
    check(f"{option}: standard output is a file of the folder that no result can replace", got.returncode == 0, got.stderr)
    if option == "--to":
        shutil.rmtree(out)
        run("batch", option, "a", "a")
        refused("--to: the folder of the surveys holds results now", ["batch", option, "a", "a"])
    # Standard input.
    shutil.rmtree(out, ignore_errors=True)
    lines = survey("same") + b"\n\n" + survey("same") + b"\n"
    got = run("batch", option, out, "-", input=lines)
    check(f"{option}: standard input into a new folder", got.returncode == 0 and len(list(out.iterdir())) == 2, got.stderr)
    before = state()
    got = run("batch", option, out, "-", input=lines)
    check(f"{option}: standard input without a name, into results", got.returncode == 2 and b"--name" in got.stderr and state() == before, got.stderr)
    # Symptom: a folder that held records took pages of standard input without a name, and the reverse. Cause: only results of the run's
    # own ending were looked for.
    other = "--html-folder" if option == "--to" else "--to"
    got = run("batch", other, out, "-", input=lines)
    check(f"{other}: standard input without a name, into results of {option}",
          got.returncode == 2 and b"--name" in got.stderr and state() == before, got.stderr)
    for name in ("monday", "tuesday", "monday"):
        got = run("batch", option, out, "--name", name, "-", input=lines)
        check(f"{option}: standard input called {name}", got.returncode == 0, got.stderr)
    check(f"{option}: a line's name is the documented one", (out / documented_name("monday" if option == "--to" else "same", b"-monday", 3, ending)).exists(), list(out.iterdir()))
    check(f"{option}: each name has its own", len(list(out.iterdir())) == 6, list(out.iterdir()))
    check(f"{option}: the last rerun names the others", got.stderr.count(b"\n  ") == 4 and b"4 files of earlier runs" in got.stderr, got.stderr)
    check(f"{option}: no part is left", not list(out.glob("*.part")))
refused("--name without standard input", ["batch", "--to", "new", "--name", "x", "d.json"], "--name")
fresh()
(here / "days").mkdir()
(here / "days/house-202605011230.json").write_bytes(survey("dated"))
got = run("batch", "--to", "days", "days/house-202605011230.json")
check("a date at the end of a name is no hash", got.returncode == 0, got.stderr)

# Symptom: the next run took the results of this one for surveys. Cause: only files were compared, not the folder that is read.
fresh()
(here / "days").mkdir()
(here / "days/house.json").write_bytes(survey("dated"))
for results in ("days", "days/new", "days/../days/new"):
    refused(f"--to {results} in the folder that is read", ["batch", "--to", results, "days"], "this run reads")
check("nothing is made there", not (here / "days/new").exists())
got = run("batch", "--to", "daysresults", "days")
check("a folder beside it is another", got.returncode == 0, got.stderr)

# ---- A limit on the size of files, without anyone having set the signal aside
# Symptom: killed by SIGXFSZ, a record cut, a .part left beside the file.
fresh()
(here / "many.jsonl").write_bytes(b"".join(survey(f"n{i}") + b"\n" for i in range(60)))
whole = {kind: run("batch", "--format", kind, "many.jsonl").stdout for kind in ("json", "csv")}


def limited(size):
    return lambda: (signal.signal(signal.SIGXFSZ, signal.SIG_DFL), resource.setrlimit(resource.RLIMIT_FSIZE, (size, size)))


for kind, text in whole.items():
    for size in (200, len(text) // 3, len(text) // 2 + 1, len(text) - 1):
        for mode in ("wb", "ab"):
            (here / "part").write_bytes(b"")
            with open(here / "part", mode) as part:
                got = run("batch", "--format", kind, "many.jsonl", stdout=part, preexec_fn=limited(size))
            data = (here / "part").read_bytes()
            check(f"{kind} limited to {size}: exit 4", got.returncode == 4 and b"could not be written" in got.stderr, (got.returncode, got.stderr))
            longest = text[:text[:size].rfind(b"\n") + 1]
            check(f"{kind} limited to {size}: all the whole records that fit", data == longest, (len(data), len(longest)))
for args in (["batch", "--to", "out", "many.jsonl"], ["batch", "--html-folder", "out", "many.jsonl"], ["batch", "many.jsonl", "--to", "r", "--summary", "out/s"],
             ["assess", "d.json", "--output", "out/a"], [*QUICK, "--save", "out/s"], ["form", "--output", "out/f"], ["inspect", *job, "--output", "out/i"]):
    shutil.rmtree(here / "out", ignore_errors=True)
    (here / "out").mkdir()
    got = run(*args, preexec_fn=limited(300))
    check(f"{args} limited: exit 4 and no part", got.returncode == 4 and b"could not be written" in got.stderr and not list((here / "out").iterdir()), (got.returncode, got.stderr))
for args in (["assess", "--format", "json", "d.json"], ["assess", "d.json"], ["inspect", "--format", "jsonl", *job], ["order", "--format", "html", "d.json"]):
    with open(here / "part", "wb") as part:
        got = run(*args, stdout=part, preexec_fn=limited(500))
    check(f"{args} limited: exit 4, nothing that is half", got.returncode == 4 and (here / "part").read_bytes() == b"", (got.returncode, got.stderr))

# ---- What lies in folders
# Symptom: a pipe in a folder was waited for without end; x.JSON was not seen; a folder without surveys ended 0.
fresh()
deep = here / "in"
deep.mkdir()
(deep / "x.JSON").write_bytes(survey("large letters"))
(deep / "y.JsonL").write_bytes(survey("line") + b"\n" + survey("line 2") + b"\n")
(deep / "Record.JSON").write_text("{}")
os.mkfifo(deep / "pipe.json")
os.mkfifo(deep / "other.pipe")
(deep / "far").symlink_to(here)
(deep / "far.json").symlink_to(here)
(deep / "to-pipe.json").symlink_to("pipe.json")
(deep / "near.json").symlink_to(here / "d.json")
(deep / "sub.json").mkdir()
got = run("batch", deep, "--summary", "s.json")
ids = [json.loads(line)["id"] for line in got.stdout.splitlines()]
check("folder: each file, in letters of any size, and nothing else", got.returncode == 0 and ids == ["d", "large letters", "line", "line 2"], (ids, got.stderr))
check("folder: a pipe is passed over with a word", got.stderr.count(b"pipe.json: passed over") == 2 and b"other.pipe" not in got.stderr, got.stderr)
sums = json.loads((here / "s.json").read_text())
check("folder: links that were not followed are counted", sums["skipped_links"] == 2 and sums["skipped_not_files"] == 2 and b"2 links to folders, 2 pipes" in got.stderr, (sums, got.stderr))
got = run("batch", deep / "y.JsonL")
check("a file of lines in large letters", len(got.stdout.splitlines()) == 2 and got.returncode == 0, got.stdout)
jobs = here / "jobs"
jobs.mkdir()
for name in ("survey", "record"):
    shutil.copy(here / f"{name}.json", jobs / f"{name.upper()}.JSON")
os.mkfifo(jobs / "pipe.json")
got = run("inspect", "--format", "jsonl", jobs)
check("inspect: large letters, and a pipe passed over", got.returncode == 0 and len(got.stdout.splitlines()) == 1 and b"pipe.json: passed over" in got.stderr, got.stderr)
# Symptom: a pipe called record.json was named as passed over and then waited for; cause: it was put in again for the half that lacks.
for kind in ("pipe", "link to a device"):
    half = here / f"half {kind}"
    half.mkdir()
    shutil.copy(here / "survey.json", half / "survey.json")
    os.mkfifo(half / "record.json") if kind == "pipe" else os.symlink("/dev/zero", half / "record.json")
    got = run("inspect", "--format", "json", half)
    check(f"inspect: a {kind} in the place of a record is said, not opened", got.returncode == 3 and b"not a file" in got.stdout, (got.returncode, got.stderr))
(here / "empty/deeper").mkdir(parents=True)
(here / "empty/readme.txt").write_text("none")
(here / "empty/record.json").write_text("{}")
for more in ([], ["--format", "csv"], ["--rank", "bags"], ["--to", "out"]):
    got = run("batch", "empty", *more)
    check(f"a folder without a survey {more}: exit 3 in words", got.returncode == 3 and b"no survey in this folder" in got.stderr, (got.returncode, got.stderr))
check("a folder without a survey beside one with: exit 1", run("batch", "empty", "in").returncode == 1)
for args in (["batch", "-"], ["batch", "--format", "csv", "-"], ["assess", "-"], ["check", "-"], ["order", "-"], ["goods", "-"], ["inspect", "survey.json", "-"]):
    got = subprocess.run(["sh", "-c", '"$@" <&-', "sh", tool, *args], capture_output=True, cwd=here, timeout=60)
    check(f"{args}: closed standard input ends 3", got.returncode == 3 and b"bug" not in got.stderr, (got.returncode, got.stderr))
got = subprocess.run(["sh", "-c", '"$@" <&-', "sh", tool, "batch", "-"], capture_output=True, cwd=here)
check("closed standard input: said", b"standard input is closed" in got.stdout, got.stdout)
got = subprocess.run(["sh", "-c", '"$@" <.', "sh", tool, "batch", "-"], capture_output=True, cwd=here)
check("standard input that cannot be read ends 3", got.returncode == 3 and b"cannot be read" in got.stdout, (got.returncode, got.stdout))
got = subprocess.run(["sh", "-c", '"$@" <&- >&-', "sh", tool, "batch", "--to", "closed", "d.json"], stderr=subprocess.PIPE, cwd=here)
check("no file takes the place of a closed stream", got.returncode == 0 and all(json.loads(p.read_text()) for p in (here / "closed").iterdir()), got.stderr)
got = subprocess.run(["sh", "-c", '"$@" >&-', "sh", tool, "assess", "d.json"], stderr=subprocess.PIPE, cwd=here)
check("closed standard output ends 4", got.returncode == 4 and b"could not be written" in got.stderr, (got.returncode, got.stderr))

# ---- One survey over several lines where each line is one
# Symptom: forty refused records of one pretty-printed survey.
pretty = json.dumps(json.loads(survey("p")), indent=2).encode() + b"\n"
flat, flush = json.dumps(json.loads(survey("p")), indent=0).encode(), pretty.replace(b"{\n  ", b"{ ", 1)
for name, text, records, broken in (
        ("one", pretty, 1, 1), ("one without indents", flat, 1, 1), ("one that begins on its first line", flush, 1, 1), ("one in CRLF", pretty.replace(b"\n", b"\r\n"), 1, 1),
        ("with a byte order mark", b"\xef\xbb\xbf" + pretty, 1, 1), ("after blank lines", b"\n \n" + pretty, 1, 1), ("two", pretty + pretty, 2, 2),
        ("a list of two", json.dumps([json.loads(survey("p"))] * 2, indent=1).encode(), 1, 1), ("one that breaks off", pretty[:len(pretty) // 2], 1, 1),
        ("one that breaks off, then one a line", pretty[:len(pretty) // 2].rsplit(b"\n", 1)[0] + b"\n" + survey("q") + b"\n", 2, 1),
        ("a list of two without indents", json.dumps([json.loads(survey("p"))] * 2, indent=0).encode(), 1, 1),
        ("one, then one a line", pretty + survey("q") + b"\n", 2, 1), ("a large one", json.dumps({**json.loads(survey("p")), "x_pad": ["y" * 100] * 3000}, indent=1).encode() + b"\n", 1, 1)):
    got = run("batch", "--jobs", "2", "-", input=text)
    out = [json.loads(line) for line in got.stdout.splitlines()]
    check(f"spread over lines, {name}: a record each", len(out) == records and sum("several lines" in str(r.get("diagnostics")) for r in out) == broken, got.stdout)
    check(f"spread over lines, {name}: one sentence", got.stderr.count(b"several lines") == 1 and b"one survey a line" in got.stderr and got.returncode == (3 if records == broken else 1), got.stderr)
for name, text, want in (("a broken first line", survey("a")[:300] + b"\n" + survey("b") + b"\n", ["rejected", "done"]), ("one line without an end", survey("a"), ["done"]),
                         ("brackets without end", b"[" * 10000 + b"\n" + survey("b"), ["rejected", "done"]), ("two broken lines", survey("a")[:300] + b"\nnull\n" + survey("b"), ["rejected", "rejected", "done"]),
                         ("one broken line", survey("a")[:300], ["rejected"]), ("a line that is no survey", b"[]\n" + survey("b"), ["rejected", "done"])):
    got = run("batch", "-", input=text)
    check(f"one a line, {name}", [json.loads(l)["status"] for l in got.stdout.splitlines()] == want and b"several lines" not in got.stderr + got.stdout, got.stdout)

shutil.rmtree(here)
print("\n".join(faults[:40]) if faults else f"{count} checks of files hold")
sys.exit(1 if faults else 0)
