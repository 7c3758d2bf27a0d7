#!/usr/bin/env python3
# SPDX-License-Identifier: MIT
"""Says whether a change that should change nothing changes an output.
Usage: freeze.py TOOL REPO_ROOT > FILE

Runs the program over every example and every survey, record and command-line case under tests/,
each face x format x units, and writes one line for each run: a hash of standard output, standard
error, the files it wrote and the exit code, and the command. Keep the file before the first step,
write it again after each: a step is right when `diff` finds no line. The hashes are never kept in
the tree: they say that nothing changed, not that anything is right."""
import concurrent.futures
import hashlib
import os
import pathlib
import re
import shlex
import subprocess
import sys
import tempfile

tool, root = os.path.abspath(sys.argv[1]), pathlib.Path(sys.argv[2]).resolve()

FACES = [
    ["assess"], ["assess", "--format", "json"], ["assess", "--format", "csv"],
    ["assess", "--format", "csv", "--rows", "section"], ["assess", "--format", "html"],
    ["assess", "--framing-method", "planes"], ["assess", "--compare", "rock-wool-loose"],
    ["order"], ["order", "--target", "low"], ["order", "--format", "html"],
    ["goods"], ["goods", "--format", "json"], ["goods", "--format", "csv"],
    ["goods", "--format", "html"],
]
PLAIN = [["check"], ["batch"], ["batch", "--format", "csv"],
         ["batch", "--format", "csv", "--rows", "section"]]
INSPECTED = [[], ["--format", "json"], ["--format", "jsonl"], ["--format", "csv"],
             ["--format", "html"], ["--receipt"], ["--receipt", "--format", "html"]]
ALONE = [["--help"], ["--version"], ["materials"], ["materials", "--format", "json"],
         ["form"], ["form", "--format", "html"], []]


def surveys():
    """Every survey and every text that a reader must refuse, by its path from the root."""
    folders = ("examples", "tests/surveys", "tests/records")
    found = [p for folder in folders for p in (root / folder).rglob("*.json")]
    return sorted(p.relative_to(root).as_posix() for p in found)


def pairs():
    """Survey and record: those of one folder, and each record of tests/records with the survey beside it."""
    beside = [(p.with_name("survey.json"), p) for p in root.rglob("record.json")]
    found = [(survey, record) for survey, record in beside if survey.exists()]
    records = (root / "tests/records").rglob("*.json")
    found += [(root / "tests/records/survey.json", p) for p in records]
    return sorted({tuple(p.relative_to(root).as_posix() for p in pair) for pair in found})


def jobs():
    """(name, words, standard input, files to make first) of every run."""
    for path in surveys():
        faces = FACES[:2] if "/bad/" in path else FACES
        for face in faces:
            for units in ("us", "si"):
                yield face + ["--units", units, path], "", {}
        for face in PLAIN:
            yield face + [path], "", {}
    for survey, record in pairs():
        for face in INSPECTED:
            for units in ("us", "si"):
                yield ["inspect"] + face + ["--units", units, survey, record], "", {}
    for words in ALONE:
        yield words, "", {}
    page = subprocess.run([tool, "--help"], capture_output=True, text=True).stdout
    commands = re.findall(r"^  (\w+) +\S", page, flags=re.M)
    for command in sorted(set(commands)):
        yield [command, "--help"], "", {}
    yield from cases()


def cases():
    for path in sorted((root / "tests/cli").glob("*.case")):
        for part in re.split(r"^=== ", path.read_text(), flags=re.M)[1:]:
            words, stdin, files = [], "", {}
            for block in re.split(r"^--- ", part, flags=re.M)[1:]:
                head, _, body = block.partition("\n")
                head = head.strip()
                if head == "command":
                    words = shlex.split(body.strip())
                elif head.startswith("file "):
                    files[head[5:]] = body
                elif head == "stdin":
                    stdin = body
            yield words, stdin, files


def run(job):
    """In a folder that looks like the root, so that no path of this machine stands in an output."""
    words, stdin, files = job
    with tempfile.TemporaryDirectory() as folder:
        for name in ("examples", "tests", "data"):
            os.symlink(root / name, os.path.join(folder, name))
        for name, body in files.items():
            (pathlib.Path(folder) / name).write_text(body)
        try:
            got = subprocess.run([tool] + [w.replace("{root}", ".") for w in words],
                                 input=stdin.encode(), capture_output=True, cwd=folder, timeout=120)
            parts = [got.stdout, got.stderr, str(got.returncode).encode()]
        except subprocess.TimeoutExpired:
            parts = [b"does not end"]
        for path in sorted(pathlib.Path(folder).rglob("*")):
            if path.is_file() and not path.is_symlink():
                parts += [path.relative_to(folder).as_posix().encode(), path.read_bytes()]
    text = b"\0".join(parts).replace(folder.encode(), b".").replace(str(root).encode(), b".")
    text = re.sub(rb"\d+\.\d s$", b"- s", text, flags=re.M)  # a batch says how long it took
    return hashlib.sha256(text).hexdigest()[:24] + " " + shlex.join(words)


with concurrent.futures.ThreadPoolExecutor(os.cpu_count()) as pool:
    lines = list(pool.map(run, jobs()))
print("\n".join(lines))
print(f"{len(lines)} runs", file=sys.stderr)
