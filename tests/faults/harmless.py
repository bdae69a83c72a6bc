"""What the program printed, read by other parsers than its own: harmless.py text|csv|json FILE ...
Says what is wrong with it; silent, and exit status 0, when nothing is."""
import csv
import io
import json
import re
import sys
import unicodedata

NUMBER = re.compile(r"-?\d+(\.\d+)?$")
RUNS = "=+-@\t\r\n\uFF1D\uFF0B\uFF0D\uFF20"  # what a spreadsheet takes for the begin of a formula
STEERS = ("Cc", "Cf", "Zl", "Zp", "Cs", "Cn")  # Unicode's categories: control, format, separators, none at all


def text(words):
    for at, c in enumerate(words):
        if c != "\n" and unicodedata.category(c) in STEERS:
            yield f"U+{ord(c):04X} in {words[max(0, at - 30):at + 30]!r}"


def sheet(words):
    rows = list(csv.reader(io.StringIO(words, newline=""), strict=True))
    for row in rows:
        if len(row) != len(rows[0]):
            yield f"{len(row)} cells below {len(rows[0])}: {row!r}"
        for cell in row:
            if cell and cell[0] in RUNS and not NUMBER.match(cell):
                yield f"a cell that runs: {cell[:80]!r}"


def refuse(word):
    raise ValueError(f"{word} is no number")


def once(pairs):
    if len({name for name, _ in pairs}) != len(pairs):
        raise ValueError("a name twice")
    return dict(pairs)


def objects(words):
    names = None
    for line in words.split("\n")[:-1]:
        try:
            row = json.loads(line, parse_constant=refuse, object_pairs_hook=once)
        except ValueError as wrong:
            yield f"{wrong}: {line[:100]!r}"
            continue
        if names is not None and list(row) != names:
            yield f"other names: {line[:100]!r}"
        names = list(row)


def look(kind, path):
    with open(path, "rb") as file:
        words = file.read().decode("utf-8", "strict")
    if words and not words.endswith("\n"):
        yield "its last line has no end"
    yield from {"text": text, "csv": sheet, "json": objects}[kind](words)


def main():
    csv.field_size_limit(1 << 24)
    rest = iter(sys.argv[1:])
    wrong = [f"{path}: {what}" for kind, path in zip(rest, rest) for what in look(kind, path)]
    for what in wrong[:5]:
        print(what, file=sys.stderr)
    sys.exit(1 if wrong else 0)


main()
