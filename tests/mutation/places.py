# SPDX-License-Identifier: MIT
"""Places of a C++ file where one small change makes another program, and an even sample of them.

A place is (offset, old text, new text, what). Only code counts: comments, texts, characters, preprocessor lines,
static_assert, attributes and template brackets are left alone. The sources are laid out by clang-format, which puts blanks
around each binary operator and none around template brackets, so that ` < ` is a comparison and `<T>` is not."""
import re

SWAPS = {"+": "-", "-": "+", "*": "/", "/": "*", "<": "<=", "<=": "<", ">": ">=", ">=": ">", "==": "!=", "!=": "==",
         "&&": "||", "||": "&&", "+=": "-=", "-=": "+=", "*=": "/=", "/=": "*="}
BINARY = re.compile(r"(?<=[\s]) ?(<=|>=|==|!=|&&|\|\||\+=|-=|\*=|/=|[-+*/<>])(?= |$)", re.M)
NUMBER = re.compile(r"(?<![\w.'])(?:\d+\.\d*|\.\d+|\d+)(?:[eE][-+]?\d+)?(?![\w.'])")
UNARY_MINUS = re.compile(r"(?:(?<=[(\[{,])|(?<=[=?:<>+*/] )|(?<=return )|(?<=, ))-(?=[\w(])")


def blank_out(text):
    """The same text with all that is no code turned into blanks: lengths and line breaks stay."""
    def blanks(match):
        return re.sub(r"[^\n]", " ", match.group())
    text = re.sub(r'//[^\n]*|/\*.*?\*/|"(?:\\.|[^"\\\n])*"|\'(?:\\.|[^\'\\\n])+\'', blanks, text, flags=re.S)
    text = re.sub(r"^[ \t]*#(?:[^\n]*\\\n)*[^\n]*", blanks, text, flags=re.M)
    text = re.sub(r"\bstatic_assert\s*\([^;]*;", blanks, text)
    text = re.sub(r"\[\[.*?\]\]", blanks, text)
    return re.sub(r"\b(?:std::array|static_cast|std::optional|std::span|std::vector|std::numeric_limits)<[^<>()]*(?:<[^<>()]*>)?[^<>()]*>", blanks, text)


def stepped(number):
    """A clear step away: 0 becomes 1, a whole number goes up by one, a fraction by a quarter, a tiny or huge one a thousandfold."""
    value = float(number)
    if "." in number or "e" in number.lower():
        if value == 0:
            return "1.0"
        if value < 1e-4:
            return repr(value * 1000)
        return repr(value / 1000) if value > 1e4 else repr(value * 1.25)
    return str(int(number) + 1)


def closing(code, start):
    """Offset of the bracket that closes the one at start."""
    depth = 0
    for i in range(start, len(code)):
        depth += (code[i] in "([{") - (code[i] in ")]}")
        if depth == 0:
            return i
    return -1


def places(text):
    code = blank_out(text)
    found = []

    def add(at, old, new, what):
        found.append((at, old, new, what))

    for m in BINARY.finditer(code):
        add(m.start(1), m.group(1), SWAPS[m.group(1)], "operator")
    for m in re.finditer(r"\bstd::(min|max)\(", code):
        add(m.start(1), m.group(1), "max" if m.group(1) == "min" else "min", "min or max")
    for m in NUMBER.finditer(code):
        add(m.start(), m.group(), stepped(m.group()), "number")
    for m in re.finditer(r"\b(true|false)\b", code):
        add(m.start(), m.group(), "false" if m.group() == "true" else "true", "truth")
    for m in re.finditer(r"\+\+|--(?!>)", code):
        add(m.start(), m.group(), "--" if m.group() == "++" else "++", "count")
    for m in UNARY_MINUS.finditer(code):
        add(m.start(), "-", "", "sign")
    for m in re.finditer(r"(?<![\w)\]])!(?=[\w(*])", code):
        add(m.start(), "!", "", "not")
    for m in re.finditer(r"\b(?:if|while) \(", code):
        end = closing(code, m.end() - 1)
        inside = text[m.end():end]
        if end > 0 and ";" not in code[m.end():end] and not re.match(r"\s*(?:const )?[\w:]+[&*]* \w+ = ", inside):
            add(m.end(), inside, f"!({inside})", "condition")
    for m in re.finditer(r"\breturn ([^;{}]*(?:==|!=|<=|>=| < | > |&&|\|\|)[^;{}]*);", code):
        inside = text[m.start(1):m.end(1)]
        add(m.start(1), inside, f"!({inside})", "condition")
    return sorted(set(found))


def code_lines(text):
    return sum(1 for line in blank_out(text).split("\n") if line.strip())


def shares(sizes, total):
    """How many of `total` each file gets: by its size, two at least, remainders to the largest fractions."""
    whole = sum(sizes.values())
    exact = {name: total * size / whole for name, size in sizes.items()}
    quota = {name: max(2, int(x)) for name, x in exact.items()}
    for name in sorted(exact, key=lambda n: (int(exact[n]) - exact[n], n)):
        if sum(quota.values()) >= total:
            break
        quota[name] += 1
    return quota


def strata(found, quota, random):
    """The places in `quota` runs of like length, each in random order: one of each run is taken, the next if it does not compile."""
    quota = min(quota, len(found))
    runs = []
    for k in range(quota):
        run = found[k * len(found) // quota:(k + 1) * len(found) // quota]
        random.shuffle(run)
        runs.append(run)
    return runs
