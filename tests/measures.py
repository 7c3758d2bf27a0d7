#!/usr/bin/env python3
# SPDX-License-Identifier: MIT
"""Prints how easy the code is to read, by numbers that can be counted, and each place beyond a bound.
Not a test: run by hand, `tests/measures.py [REPO_ROOT]`. Functions are found by their braces: a body
that begins at the end of a line whose first column is a name, and ends with a brace in that column."""
import pathlib
import re
import statistics
import subprocess
import sys

root = pathlib.Path(sys.argv[1] if len(sys.argv) > 1 else ".").resolve()
listed = subprocess.run(["git", "-C", root, "ls-files", "src", "include", "tests"], capture_output=True, text=True).stdout
files = {pathlib.Path(f): (root / f).read_text().split("\n")[:-1] for f in listed.split()
         if f.endswith((".cpp", ".hpp"))}
product = {f: lines for f, lines in files.items() if f.parts[0] != "tests"}


def functions(lines):
    """Name, first line and count of lines between the braces, of each function of a file."""
    begin = None
    for at, line in enumerate(lines):
        depth = len(line) - len(line.lstrip(" "))
        if begin is None:
            opens = re.match(r"^( *)(?!namespace|class|struct|enum|union|if|for|while|switch|else|do\b|static_assert|return)"
                             r"[\w:<>&*~,\[\] ]*?([\w:~]+|operator.{1,3})\([^;]*\)? ?.*\{$", line)
            continues = re.match(r"^ {4,}[^;]*[)}]( const| noexcept| override)* \{$", line)
            if opens and not line.lstrip().startswith(":") and not re.search(r"= ?\[|= ?\{$|\[[^\]]*\]\(", line):
                begin = (opens[2], at, depth)
            elif continues:
                head = at
                while head > 0 and lines[head].startswith("    "):
                    head -= 1
                name = re.search(r"([\w:~]+)\(", lines[head])
                indent = len(lines[head]) - len(lines[head].lstrip(" "))
                if name and name[1] not in ("if", "for", "while", "switch") and "= [" not in lines[head]:
                    begin = (name[1], at, indent)
        elif line.rstrip(";") == " " * begin[2] + "}":
            yield begin[0], begin[1] + 1, at - begin[1] - 1
            begin = None


def parameters(text):
    """Name and count of parameters of each function that is declared or defined in a text."""
    for found in re.finditer(r"^ {0,2}\w[\w:<>&*~ ]*? ([\w:~]+)\(([^;{}()]*(?:\([^()]*\)[^;{}()]*)*)\)(?: const| noexcept| override)*(?:;| \{)", text, re.M):
        if found[1] in ("if", "for", "while", "switch", "return", "Error", "sizeof"):
            continue
        plain = re.sub(r"<[^<>]*>", "", re.sub(r"<[^<>]*>", "", re.sub(r"\([^()]*\)", "", found[2])))
        yield found[1], plain.count(",") + 1 if plain.strip() else 0


def share(count, of):
    return f"{100 * count / of:.1f} %" if of else "none"


widths = [len(line) for lines in product.values() for line in lines]
print(f"lines of src and include: {len(widths)}; at most 95 columns: {share(sum(w <= 95 for w in widths), len(widths))} (bound 90 %)")
for name, group, bound in (("src and include", product, 100), ("tests", {f: t for f, t in files.items() if f not in product}, 110)):
    wide = [(f, n + 1, len(t)) for f, lines in group.items() for n, t in enumerate(lines) if len(t) > bound]
    print(f"lines above {bound} columns in {name}: {len(wide)} (bound 0)")
    for f, n, w in wide[:10]:
        print(f"    {f}:{n}: {w}")

bodies = [(size, f, name, at) for f, lines in product.items() for name, at, size in functions(lines)]
sizes = sorted(size for size, *_ in bodies)
print(f"functions found: {len(sizes)}; median {statistics.median(sizes):.0f} lines (bound 8), 90 % at most "
      f"{sizes[int(0.9 * len(sizes))]} (bound 20), longest {sizes[-1]} (bound 60)")
for size, f, name, at in sorted(bodies, reverse=True)[:5]:
    print(f"    {f}:{at}: {name}, {size} lines")
many = sorted({(n, str(f), name) for f, lines in product.items() for name, n in parameters("\n".join(lines)) if n > 5}, reverse=True)
print(f"functions with more than 5 parameters: {len(many)} (bound 0)")
for n, f, name in many[:10]:
    print(f"    {f}: {name}, {n}")

long = sorted(((len(lines), str(f)) for f, lines in product.items() if len(lines) > 300), reverse=True)
print(f"files above 300 lines in src and include: {len(long)} (bound 0)")
for n, f in long:
    print(f"    {f}: {n}")

near = 0
for lines in product.values():
    for at, line in enumerate(lines):
        if re.search(r"\.low\b", line) and any(re.search(r"\.high\b", other) for other in lines[max(0, at - 3):at + 4]):
            near += 1
print(f".low with .high within three lines of it: {near} (bound 60)")
