"""The records of a STEP file as nested values, by ISO 10303-21; no CAD library is loaded."""

import math
import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

Triple = tuple[float, float, float]

RECORD = re.compile(r"#(\d+)\s*=\s*((?:[^;']+|'(?:[^']|'')*')*);")
TOKEN = re.compile(
    r"\s+|(?P<string>'(?:[^']|'')*')|\#(?P<reference>\d+)"
    r"|(?P<number>[-+]?\d+(?:\.\d*)?(?:E[-+]?\d+)?)|\.(?P<choice>[A-Z0-9_]+)\."
    r"|(?P<keyword>[A-Z][A-Z0-9_]*)|(?P<mark>[(),*$])"
)
WORD = re.compile(r"^\w*")
THREE = re.compile(r"(CARTESIAN_POINT|DIRECTION)\s*\('[^']*',\s*\(([-+0-9.E,\s]*)\)\)\s*")
ESCAPE = re.compile(r"\\\\|\\X(2|4)\\([0-9A-F]+)\\X0\\")


class StepError(ValueError):
    """The file is not STEP, or not the kind of STEP that this reader knows."""


@dataclass(frozen=True, slots=True)
class Reference:
    """``#17`` in a record."""

    number: int


class Records:
    """The DATA section: records by number and kind, each taken apart when it is asked for."""

    def __init__(self, data: str) -> None:
        """Split the text of a DATA section into its records."""
        self.raw = {int(number): body for number, body in RECORD.findall(data)}
        self.words = {number: WORD.findall(body)[0] for number, body in self.raw.items()}
        self.kinds: dict[str, list[int]] = {}
        for number, word in self.words.items():
            self.kinds.setdefault(word, []).append(number)
        self.known: dict[int, list[Any]] = {}
        self.threes: dict[int, Triple] = {}

    def get(self, reference: Reference) -> list[Any]:
        """Return [keyword, [values]] of a record, or of each part of a complex one in turn."""
        number = reference.number
        if number not in self.known:
            self.known[number] = values_of(self.raw[number])
        return self.known[number]

    def values(self, reference: Reference, kind: str) -> list[Any]:
        """Return the values of a record's part of one kind."""
        record = self.get(reference)
        if isinstance(record[0], list):  # a complex record: (A(...) B(...))
            record = record[0]
        return record[record.index(kind) + 1]

    def kind(self, reference: Reference) -> str:
        """Return a record's keyword, empty for a complex one."""
        return self.words[reference.number]

    def all(self, *kinds: str) -> Iterator[Reference]:
        """Yield every record of some kinds; the kind of complex ones is empty."""
        for kind in kinds:
            yield from (Reference(number) for number in self.kinds.get(kind, ()))

    def under(self, roots: list[Reference]) -> Iterator[Reference]:
        """Yield every record that some records lead to, each once."""
        waiting, seen = list(roots), set(roots)
        while waiting:
            reference = waiting.pop()
            yield reference
            found = {Reference(int(n)) for n in re.findall(r"#(\d+)", self.raw[reference.number])}
            waiting += found - seen
            seen |= found

    def placement(self, reference: Reference) -> tuple[Triple, Triple, Triple]:
        """Return origin, x axis and z axis of a placement."""
        _, origin, z, x = self.values(reference, "AXIS2_PLACEMENT_3D")
        return self.point(origin), self.direction(x), self.direction(z)

    def point(self, reference: Reference) -> Triple:
        """Return a point's coordinates, mm."""
        return self._three(reference, "CARTESIAN_POINT")

    def direction(self, reference: Reference) -> Triple:
        """Return a direction as a unit vector."""
        x, y, z = self._three(reference, "DIRECTION")
        size = math.sqrt(x * x + y * y + z * z)
        return x / size, y / size, z / size

    def _three(self, reference: Reference, kind: str) -> Triple:
        number = reference.number
        if number not in self.threes:
            # Two thirds of a file are these; taking each apart in full is most of the reading.
            plain = THREE.fullmatch(self.raw[number])
            if plain is not None and plain[1] == kind:
                x, y, z = plain[2].split(",")
            else:
                x, y, z = self.values(reference, kind)[1]
            self.threes[number] = float(x), float(y), float(z)
        return self.threes[number]


def values_of(text: str) -> list[Any]:
    """Return a record's text as nested lists of keywords, strings, numbers and references.

    Raises:
        StepError: it is not built as ISO 10303-21 says.
    """
    stack: list[list[Any]] = [[]]
    place = 0
    while place < len(text):
        token = TOKEN.match(text, place)
        if token is None:
            raise StepError(f"cannot read {text[place : place + 40]!r}")
        place = token.end()
        kind, value = token.lastgroup, token[0]
        if kind == "string":
            stack[-1].append(_string(value))
        elif kind == "reference":
            stack[-1].append(Reference(int(token["reference"])))
        elif kind == "number":
            stack[-1].append(float(value))
        elif kind == "choice":
            stack[-1].append(token["choice"])
        elif kind == "keyword":
            stack[-1].append(value)
        elif value == "(":
            stack.append([])
        elif value == ")":
            whole = stack.pop()
            stack[-1].append(whole)
        elif value in ("*", "$"):
            stack[-1].append("")
    if len(stack) != 1:
        raise StepError("brackets do not match")
    return stack[0]


def _string(quoted: str) -> str:
    plain = quoted[1:-1].replace("''", "'").replace("\n", "")
    return ESCAPE.sub(_letters, plain)


def _letters(found: re.Match[str]) -> str:
    if found[2] is None:
        return "\\"
    code = bytes.fromhex(found[2])
    return code.decode("utf-16-be" if found[1] == "2" else "utf-32-be")


def cross(a: Triple, b: Triple) -> Triple:
    """Return the cross product."""
    return a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]
