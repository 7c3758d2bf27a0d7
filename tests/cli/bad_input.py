# SPDX-License-Identifier: MIT
"""Bad files and bad values, each with the right exit code, place and hint, nothing half-written, and no crash.
Usage: bad_input.py TOOL REPO_ROOT"""
import json
import os
import pathlib
import resource
import shutil
import signal
import stat
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
bad("a key of another kind", survey(kind="knee-wall"), "/sections/0/readings", "readings is for a floor only")
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
bad("two surveys in one file", survey() + survey(), "follows the end of the survey", ".jsonl")
bad("half a character", survey(name="X").replace(b'"X"', b'"\\ud800"'), "/sections/0/name", "half of a character")
bad("span with a dash", survey(readings=["4-6"]), "/sections/0/readings/0", '"4 to 6"')
bad("FLUSH", survey(readings=["FLUSH"]), "/sections/0/readings/0", '"flush"')
bad("a half in one sign", survey(readings=["4\u00bd"]), "/sections/0/readings/0", "fractions as 1/2")
bad("films and ceiling of nothing", survey(films={"inside_r": 0, "attic_r": 0}, ceiling=0, readings=[0]), "/sections/0/films", ":")

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

    # What is there and is no plain file is written to; a link stays and its target is replaced; the mode is kept.
    count += 1
    text = run(["assess", str(good)]).stdout
    pipe = here / "pipe"
    os.mkfifo(pipe)
    reader = subprocess.Popen(["cat", str(pipe)], stdout=subprocess.PIPE)
    expect("output is a pipe", run(["assess", str(good), "--output", str(pipe)]), 0)
    if not stat.S_ISFIFO(pipe.lstat().st_mode):
        faults.append("output is a pipe: a file has taken its place")
        reader.kill()
    elif reader.communicate(timeout=20)[0] != text:
        faults.append("output is a pipe: its reader did not get the text")
    (here / "sub").mkdir()
    target, link, far = here / "sub" / "target.txt", here / "link.txt", here / "sub" / "far.txt"
    target.write_text("old")
    target.chmod(0o640)
    link.symlink_to("sub/target.txt")
    expect("output is a link", run(["assess", str(good), "--output", str(link)]), 0)
    if not link.is_symlink() or target.read_bytes() != text or stat.S_IMODE(target.stat().st_mode) != 0o640:
        faults.append("output is a link: it should stay, its target should be replaced and keep its mode")
    link.unlink()
    link.symlink_to(far)
    expect("output is a link to what is not there yet", run(["quick", "--area", "900", "--depth", "4", "--output", str(here / "q.txt"), "--save", str(link)]), 0)
    if not link.is_symlink() or b"overjoist-survey" not in far.read_bytes():
        faults.append("--save to a link: its target should be made")
    circle = here / "circle"
    circle.symlink_to(circle)
    expect("output is a link to itself", run(["assess", str(good), "--output", str(circle)]), 4, "could not be written")
    private = here / "private.txt"
    private.write_text("old")
    private.chmod(0o600)
    if os.geteuid() == 0:
        os.chown(private, 65534, 65534)
    before = private.stat()
    expect("output has a mode of its own", run(["assess", str(good), "--output", str(private)]), 0)
    after = private.stat()
    if private.read_bytes() != text or (after.st_mode, after.st_uid, after.st_gid) != (before.st_mode, before.st_uid, before.st_gid):
        faults.append("output has a mode of its own: mode or owner was not kept")
    # A full device by way of a link, as a user who could not replace it if the program tried.
    ours = here / "ours"
    ours.mkdir()
    os.chmod(ours, 0o777)
    (ours / "full").symlink_to("/dev/full")
    full = subprocess.run(drop + [str(program), "assess", str(good), "--output", str(ours / "full")], capture_output=True)
    expect("output is a full device", full, 4, "could not be written", "No space left")
    readonly = ours / "readonly.txt"
    readonly.write_text("old")
    readonly.chmod(0o444)
    kept = subprocess.run(drop + [str(program), "assess", str(good), "--output", str(readonly)], capture_output=True)
    expect("output may not be written to", kept, 4, "could not be written", "Permission denied")
    if readonly.read_text() != "old" or [p for p in ours.iterdir() if "part" in p.name]:
        faults.append("output may not be written to: it was replaced, or a part was left behind")

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
