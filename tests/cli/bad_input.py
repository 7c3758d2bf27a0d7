# SPDX-License-Identifier: MIT
"""Bad files and bad values, each with the right exit code, place and hint, nothing half-written, and no crash.
Usage: bad_input.py TOOL REPO_ROOT"""
import json
import os
import pathlib
import resource
import shutil
import signal
import subprocess
import sys
import tempfile

tool, root = sys.argv[1], pathlib.Path(sys.argv[2])
faults, count = [], 0
GOOD = json.loads((root / "examples/flush-batts.json").read_text())


def run(args, stdin=b"", **more):
    return subprocess.run([tool] + args, input=stdin, capture_output=True, timeout=60, **more)


def expect(name, got, code, *words, stdout=b""):
    """Every word must stand in stderr; stdout must be what is given (empty: nothing half-written)."""
    global count
    count += 1
    err = got.stderr.decode("utf-8", "backslashreplace")
    if got.returncode != code:
        faults.append(f"{name}: exit {got.returncode}, want {code}\n  {err[:300]}")
    if stdout is not None and got.stdout != stdout:
        faults.append(f"{name}: unexpected output {got.stdout[:200]!r}")
    for word in words:
        if word not in err:
            faults.append(f"{name}: the message lacks {word!r}\n  {err[:400]}")
    if "nlohmann" in err or "json.exception" in err:
        faults.append(f"{name}: a library's words leak out\n  {err[:300]}")


def survey(**section):
    """A good survey with keys of its one section replaced (None takes one out)."""
    text = json.loads(json.dumps(GOOD))
    for key, value in section.items():
        if value is None:
            text["sections"][0].pop(key, None)
        else:
            text["sections"][0][key] = value
    return json.dumps(text, indent=1).encode()


def bad(name, data, *words):
    expect(name, run(["assess", "-"], data), 3, *words)


if run(["assess", "-"], survey()).returncode != 0:
    faults.append("the good survey itself is refused: every test below would mean nothing")

# Values. The place is the JSON pointer and line:column; the hint says what to do.
bad("negative depth", survey(readings=[4, -4]), "/sections/0/readings/1", "-4", "below 0", "bare spot")
bad("NaN as text", survey(readings=["NaN"]), "/sections/0/readings/0", "NaN")
bad("1e308", survey(area_ft2=1e308), "/sections/0/area_ft2", "1e+308")
bad("1e999", survey().replace(b"880", b"1e999"), "1e999")
bad("empty readings", survey(readings=[]), "/sections/0/readings")
bad("reading above the roof", survey(headroom_in=10, readings=[12]), "/sections/0/readings/0", "12")
bad("area 0", survey(area_ft2=0), "/sections/0/area_ft2", "0")
bad("spacing below joist width", survey(joists={"size": "2x4", "spacing_in": 1}), "/sections/0/joists")
bad("unknown material", survey(layers=[{"material": "celulose-loose"}]), "/sections/0/layers/0/material", "cellulose-loose")
bad("wrong type", survey(area_ft2=True), "/sections/0/area_ft2")
bad("null", survey(area_ft2=[]), "/sections/0/area_ft2")
bad("unknown key", survey(redings=[4]), "/sections/0/redings", "readings")
bad("unknown kind", survey(kind="flta"), "/sections/0/kind", "flat")
bad("kind not computed", survey(kind="knee-wall"), "/sections/0/kind", "not computed yet")
bad("two loose layers without thickness", survey(layers=[{"material": "cellulose-loose"}, {"material": "glass-fiber-loose"}], readings=[4]), "/sections/0/layers")
bad("wrong unit", survey(area_ft2="30 kg"), "/sections/0/area_ft2", "30 kg")
bad("no layers but depth", survey(layers=None, readings=[5]), "layer")

# Several faults come in one go, in order of place.
several = run(["assess", "-"], survey(area_ft2=-1, readings=[-2], kind="flta"))
expect("several faults at once", several, 3, "/sections/0/area_ft2", "/sections/0/readings/0", "/sections/0/kind")

# The text itself.
bad("duplicate key", survey().replace(b'"area_ft2": 880', b'"area_ft2": 880, "area_ft2": 881'), "area_ft2", "twice")
bad("trailing comma", b'{"format": "overjoist-survey", "version": 1,}', "1:")
bad("invalid UTF-8", survey().replace(b"attic floor", b"attic \xff floor"), "UTF-8")
bad("empty input", b"", "empty")
bad("not an object", b"[]", "object")
bad("nesting of 10,000", b"[" * 10000, "32")
bad("nesting in a key of one's own", b'{"format": "overjoist-survey", "x_a": ' + b"[" * 10000, "32")
bad("17 MiB", b" " * (17 * 1024 * 1024), "16 MiB")
bad("NUL bytes", b"\0" * 100, "1:1")

# A byte order mark and CRLF are no faults.
for name, data in (("BOM", b"\xef\xbb\xbf" + survey()), ("CRLF", survey().replace(b"\n", b"\r\n"))):
    count += 1
    if run(["assess", "-"], data).stdout != run(["assess", "-"], survey()).stdout:
        faults.append(f"{name}: the result differs")

with tempfile.TemporaryDirectory() as folder:
    os.chmod(folder, 0o755)
    here = pathlib.Path(folder)
    program = here / "overjoist"
    shutil.copy(tool, program)
    good, broken = here / "good.json", here / "broken.json"
    good.write_bytes(survey())
    broken.write_bytes(survey(area_ft2=-1))
    expect("missing file", run(["assess", str(here / "none.json")]), 3, "none.json", "No such file")
    expect("a folder", run(["assess", folder]), 3, "folder")
    both = run(["assess", str(good), str(broken)])
    expect("one of two refused", both, 1, "broken.json", "/sections/0/area_ft2", stdout=None)
    if both.stdout != run(["assess", str(good)]).stdout:
        faults.append("one of two refused: the good one's text differs")
    records = json.loads(run(["assess", "--format", "json", str(good), str(broken)]).stdout)
    if [r["status"] for r in records] != ["done", "rejected"] or records[1]["diagnostics"][0]["pointer"] != "/sections/0/area_ft2":
        faults.append("JSON of two: want one done and one rejected with its pointer")

    # No permission: as an unprivileged user, and the ground is proven first.
    secret = here / "secret.json"
    secret.write_bytes(survey())
    secret.chmod(0o000)
    drop = ["setpriv", "--reuid=65534", "--clear-groups"] if os.geteuid() == 0 else []
    if subprocess.run(drop + ["cat", str(secret)], capture_output=True).returncode == 0:
        faults.append("no permission: cat may read the file, so the test below would mean nothing")
    expect("no permission", subprocess.run(drop + [str(program), "assess", str(secret)], capture_output=True), 3, "Permission denied")
    locked = here / "locked"
    locked.mkdir(mode=0o755)
    if os.geteuid() == 0:
        denied = subprocess.run(drop + [str(program), "assess", str(good), "--output", str(locked / "out.txt")], capture_output=True)
        expect("output folder not writable", denied, 4, "could not be written")

    # Output: a full device, a folder in the way, a file limit.
    with open("/dev/full", "wb") as full:
        got = subprocess.run([tool, "assess", str(good)], stdout=full, stderr=subprocess.PIPE)
        got.stdout = b""
        expect("full device", got, 4, "could not be written")
    expect("output is a folder", run(["assess", str(good), "--output", folder]), 4, "could not be written")
    old = here / "old.txt"
    old.write_text("old")

    def limit():
        signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
        resource.setrlimit(resource.RLIMIT_FSIZE, (100, 100))

    expect("file limit", run(["assess", str(good), "--output", str(old)], preexec_fn=limit), 4, "could not be written")
    if old.read_text() != "old" or [p.name for p in here.iterdir() if "part" in p.name]:
        faults.append("file limit: the old file was touched, or a part was left behind")

# A closed pipe ends quietly by SIGPIPE.
read_end, write_end = os.pipe()
os.close(read_end)
piped = subprocess.run([tool, "materials"], stdout=write_end, stderr=subprocess.PIPE, preexec_fn=lambda: signal.signal(signal.SIGPIPE, signal.SIG_DFL))
os.close(write_end)
count += 1
if piped.returncode != -signal.SIGPIPE or piped.stderr:
    faults.append(f"closed pipe: exit {piped.returncode}, {piped.stderr!r}; want an end by SIGPIPE without a word")

print("\n".join(faults) if faults else f"{count} kinds of bad input are met")
sys.exit(1 if faults else 0)
