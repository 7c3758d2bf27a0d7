# SPDX-License-Identifier: MIT
"""Runs every tests/cli/*.case against the command. Usage: run_cases.py TOOL REPO_ROOT

A case file holds blocks, each opened by a line `--- NAME`:
  command          one command line of words after `overjoist` (shell quoting; {root} is the repository)
  file NAME        a file to be made beside the run
  stdin            what comes in
  exit             the exit code
  stdout, stderr   the exact text, or `empty` after the name
  stdout has, stderr has     every line must stand somewhere in the text, in this order
  stdout lacks     no line may stand in the text
Several runs in one file are parted by `=== TITLE`. Options shown by --help that no case uses are faults."""
import pathlib
import re
import shlex
import subprocess
import sys
import tempfile

tool, root = sys.argv[1], pathlib.Path(sys.argv[2]).resolve()
faults, runs, used_options = [], 0, set()


def blocks(text):
    found = []
    for part in re.split(r"^--- ", text, flags=re.M)[1:]:
        head, _, body = part.partition("\n")
        found.append((head.strip(), body))
    return found


def in_order(lines, text):
    at = 0
    for line in lines:
        hit = text.find(line, at)
        if hit < 0:
            return line
        at = hit + len(line)
    return None


def compare(where, kind, body, text):
    stream, _, mode = kind.partition(" ")
    if mode == "has":
        missing = in_order([l for l in body.split("\n") if l], text)
        if missing is not None:
            faults.append(f"{where}: {stream} lacks (in this order): {missing!r}\n--- got\n{text}")
    elif mode == "lacks":
        for line in (l for l in body.split("\n") if l):
            if line in text:
                faults.append(f"{where}: {stream} holds {line!r}")
    elif mode == "empty":
        if text:
            faults.append(f"{where}: {stream} should be empty\n--- got\n{text}")
    elif text != body:
        faults.append(f"{where}: {stream} differs\n--- want\n{body}--- got\n{text}")


def run(where, text):
    global runs
    runs += 1
    parts = blocks(text)
    command, stdin, code = None, "", 0
    with tempfile.TemporaryDirectory() as folder:
        for kind, body in parts:
            if kind == "command":
                command = shlex.split(body.strip().replace("{root}", str(root)))
            elif kind.startswith("file "):
                (pathlib.Path(folder) / kind[5:]).write_text(body)
            elif kind == "stdin":
                stdin = body
            elif kind == "exit":
                code = int(body)
        used_options.update((command[0] if command else "", w.split("=")[0]) for w in command if w.startswith("--"))
        got = subprocess.run([tool] + command, input=stdin, capture_output=True, text=True, cwd=folder, timeout=60)
        if got.returncode != code:
            faults.append(f"{where}: exit {got.returncode}, want {code}\n{got.stderr}")
        for kind, body in parts:
            stream = kind.split(" ")[0]
            if stream in ("stdout", "stderr"):
                compare(where, kind, body, getattr(got, stream))
            elif stream == "result":  # `result NAME has`: a file that the run should have written
                name, _, mode = kind[7:].partition(" ")
                path = next(pathlib.Path(folder).glob(name), pathlib.Path(folder) / name)  # a name may hold *
                compare(where, "file " + mode, body, path.read_text() if path.exists() else "(no such file)")


for path in sorted((root / "tests/cli").glob("*.case")):
    for part in re.split(r"^=== ", path.read_text(), flags=re.M)[1:]:
        title, _, text = part.partition("\n")
        run(f"{path.name}: {title}", text)

commands = re.findall(r"^  (\w+) +\S", subprocess.run([tool, "--help"], capture_output=True, text=True).stdout.split("Subcommands:")[1], flags=re.M)
for command in commands:
    shown = subprocess.run([tool, command, "--help"], capture_output=True, text=True).stdout
    for option in sorted(set(re.findall(r"^  (?:-\w,)?(--[\w-]+)", shown, flags=re.M))):
        if option != "--help" and (command, option) not in used_options:
            faults.append(f"no case uses {command} {option}")

print("\n".join(faults) if faults else f"{runs} command-line cases pass")
sys.exit(1 if faults or not runs else 0)
