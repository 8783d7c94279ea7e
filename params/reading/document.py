"""A file -> the values in it and their lines, or whatever keeps it from being a build file."""

import hashlib
import re
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path as File
from types import MappingProxyType

from ..problem import Problem
from .lines import Places, Twice, places
from .mending import Slip, short, slip
from .paths import ROWS, path_text, plain

EXAMPLE = "# an example, not your reading: change it"
"""Stands behind a value that nobody measured, in a file that ``new`` wrote."""

MAX_BYTES = 1 << 18
"""256 KiB; a build file that says everything is about 10 KiB, and 1 MiB of nothing but keys given
twice takes longer to sort out than anybody waits."""

MAX_LINE = 8_000
"""Characters of one line; the parser needs the square of a key's length."""

MAX_SLIPS = 200
"""Slips that are put right in one file, each with another round of parsing."""

MAX_PARSED = 4_000_000
"""Characters parsed in all those rounds together, so that a large file takes no minutes."""


@dataclass(frozen=True, slots=True)
class Document:
    """What was read from a file.

    ``values`` is None where the text could not be made sense of. ``slips`` maps lines to
    what was put right there, ``doubtful`` names keys whose values are not to be relied on,
    ``examples`` counts the values that are marked as examples.
    """

    file: str
    sha256: str = ""
    values: Mapping[str, object] | None = None
    lines: Mapping[str, int] = field(default_factory=lambda: MappingProxyType({}))
    problems: tuple[Problem, ...] = ()
    slips: Mapping[int, Slip] = field(default_factory=lambda: MappingProxyType({}))
    doubtful: frozenset[str] = frozenset()
    examples: int = 0


def open_document(path: File) -> Document:
    """Read a file; never raises for anything that can be wrong with it."""
    file = str(path)
    try:
        if path.is_dir():
            return _refused(file, "a folder", "a build file")
        if path.exists() and not path.is_file():
            return _refused(file, "something that is not a file", "a build file")
        with path.open("rb") as stream:
            raw = stream.read(MAX_BYTES + 1)
    except FileNotFoundError:
        said = "there is no such file"
        return _refused(file, f"nothing: {said}", "a build file", said)
    except (OSError, ValueError) as error:
        why = getattr(error, "strerror", None) or str(error)
        return _refused(file, f"nothing ({why})", "a file that can be read")
    return document_of(raw, file)


def document_of(raw: bytes, file: str) -> Document:
    """Read what stands in a file, or would; ``file`` is how messages call it."""
    if len(raw) > MAX_BYTES:
        wanted = "at most 256 KiB: a build file is a page or two of text, this is something else"
        return _refused(file, "more than 256 KiB", wanted)
    sha256 = hashlib.sha256(raw).hexdigest()
    text = _text(raw)
    if isinstance(text, Problem):
        return Document(file, sha256, problems=(text.at(file, text.line),))
    return _parsed(file, sha256, text)


def _refused(file: str, read: str, wanted: str, plain: str = "") -> Document:
    problem = Problem(key="", read=read, wanted=wanted, file=file, plain=plain)
    return Document(file, problems=(problem,))


def _text(raw: bytes) -> str | Problem:
    """Return the text of a file, or what keeps it from being one."""
    if raw.startswith((b"\xff\xfe", b"\xfe\xff")):
        return Problem(key="", read="text saved as UTF-16", wanted="text saved as UTF-8")
    if b"\0" in raw:
        place = raw.index(b"\0")
        line = raw.count(b"\n", 0, place) + 1
        read = f"a zero byte (byte {place + 1} of the file)"
        return Problem(key="", read=read, wanted="plain text, not a binary file", line=line)
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        start = error.start + len(raw) - len(error.object)  # a BOM is taken off before
        read = f"byte 0x{raw[start]:02x} (byte {start + 1} of the file)"
        line = raw.count(b"\n", 0, start) + 1
        return Problem(key="", read=read, wanted="text saved as UTF-8", line=line)
    if "\r" in text.replace("\r\n", ""):
        text = text.replace("\r\n", "\n").replace("\r", "\n")  # very old editors
    lines = text.split("\n")
    if not any(line.strip() and not line.lstrip().startswith("#") for line in lines):
        said = "an empty file" if not text.strip() else "a file of comments alone"
        return Problem(key="", read=said, wanted="at least [lip], [board] and [taps]")
    for number, line in enumerate(lines, 1):
        if len(line) > MAX_LINE:
            wanted = f"at most {MAX_LINE} characters in a line: longer ones take too long to read"
            return Problem(key="", read=f"{len(line)} characters", wanted=wanted, line=number)
    return text


def _parsed(file: str, sha256: str, text: str) -> Document:
    """Parse a text, putting slips right as far as that is possible."""
    work = _Work(text)
    values = work.values()
    found = places(work.text.encode())
    return Document(
        file=file,
        sha256=sha256,
        values=values,
        lines=found.lines,
        problems=tuple(
            each.at(file, each.line) for each in (*work.problems, *work.slip_problems(found))
        ),
        slips=work.slips,
        doubtful=frozenset(work.doubtful),
        examples=sum(
            line.rstrip().endswith(EXAMPLE) and not line.startswith("#")
            for line in text.split("\n")
        ),
    )


@dataclass(slots=True)
class _Work:
    """A text on its way to values: what was put right in it and what is wrong with it."""

    text: str
    slips: dict[int, Slip] = field(default_factory=dict[int, Slip])
    problems: list[Problem] = field(default_factory=list[Problem])
    doubtful: set[str] = field(default_factory=set[str])

    def values(self) -> dict[str, object] | None:
        """Parse, put right what stopped the parser, and parse again until nothing does."""
        for _ in range(min(MAX_SLIPS, MAX_PARSED // len(self.text) + 1)):
            try:
                return tomllib.loads(self.text)
            except tomllib.TOMLDecodeError as error:
                before = self.text
                self.mend(str(error))
                if self.text == before:
                    return None
            except (ValueError, RecursionError):
                self.problems.append(_too_much(self.text))
                return None
        return None

    def mend(self, message: str) -> None:
        """Put right what stopped the parser, or note it and leave the text as it is."""
        lines = self.text.split("\n")
        at = re.search(r"at line (\d+)", message)
        last = max(number for number, line in enumerate(lines, 1) if line.strip())
        number = min(int(at[1]), last) if at else last
        if re.search("twice|overwrite|[Dd]uplicate|mutate|redefine", message):
            if not self.without_second(places(self.text.encode())):
                wanted = "each key and each table once"
                self.problems.append(
                    Problem(
                        key="", read=short(lines[number - 1].strip()), wanted=wanted, line=number
                    )
                )
            return
        if "initial character for a key" in message or "Unclosed inline" in message:
            if self.join(lines, number):
                return
        elif "Unclosed" in message:
            number = self.close(lines, number)
            if not number:
                return
        self.note(number, slip(lines[number - 1], message), lines)

    def note(self, number: int, found: Slip, lines: list[str]) -> None:
        """Keep a slip and put its line right; two slips in one line become one."""
        old = self.slips.get(number)
        if old is not None:
            wanted = old.wanted if found.wanted in old.wanted else f"{old.wanted}; {found.wanted}"
            found = replace(found, read=old.read, wanted=wanted)
        self.slips[number] = found
        if found.mended is not None:
            lines[number - 1] = found.mended
            self.text = "\n".join(lines)

    def join(self, lines: list[str], number: int) -> bool:
        """Put an inline table that runs over several lines on one line; False if it does not."""
        start = number
        while start > 1 and "{" not in lines[start - 1]:
            start -= 1
        if "{" not in lines[start - 1]:
            return False
        for end in range(start + 1, min(start + 13, len(lines) + 1)):
            if "}" in lines[end - 1]:
                parts = [line.partition("#")[0].strip() for line in lines[start - 1 : end]]
                joined = re.sub(r",\s*}", " }", " ".join(parts))
                wanted = "{ … } on one line, without a comma before the }"
                lines[start - 1 : end] = [joined] + [""] * (end - start)
                self.note(start, Slip(short(parts[0]), wanted, short(joined), joined), lines)
                return True
            if _TABLE.match(lines[end - 1]):
                return False
        return False

    def close(self, lines: list[str], number: int) -> int:
        """Return the line to look at for a list that does not close; 0 if it was closed."""
        start = number
        while start > 1 and not re.search(r"=\s*\[", lines[start - 1]):
            start -= 1
        if start == number or not _STATEMENT.match(lines[number - 1]):
            return number
        end = number - 1
        while not lines[end - 1].strip():
            end -= 1
        mended = f"{lines[end - 1].partition('#')[0].rstrip()} ]"
        read = lines[start - 1].strip()
        found = Slip(short(read), "a closing bracket ]", "")
        self.note(start, found, lines)
        lines[end - 1] = mended
        self.text = "\n".join(lines)
        return 0

    def without_second(self, found: Places) -> bool:
        """Blank whatever is given a second time; False where nothing of that sort was found."""
        raw = bytearray(self.text.encode())
        end, count = -1, 0
        for each in sorted(found.twice, key=lambda each: each.start):
            if each.start < end:
                continue  # inside a table that has gone already
            end = each.end
            count += 1
            if count <= MAX_SLIPS:
                self.problems.append(_twice(each))
            self.doubtful.add(path_text(each.path))
            start = max(0, each.start - 80)
            comma = re.search(rb",\s*$", raw[start : each.start])  # inside { … }
            start = start + comma.start() if comma else each.start
            raw[start:end] = re.sub(rb"[^\n]", b" ", raw[start:end])
        self.text = raw.decode()
        return end >= 0

    def slip_problems(self, found: Places) -> list[Problem]:
        """Return the slips as problems, each with the key of its line."""
        keys = {line: key for key, line in reversed(found.lines.items())}
        lines = self.text.split("\n")
        return [
            Problem(
                key=(keys.get(line) if each.mended else "") or _key_at(lines, line),
                read=each.read,
                wanted=each.wanted,
                example=each.example,
                line=line,
            )
            for line, each in self.slips.items()
        ]


_STATEMENT = re.compile(r"\s*(\[+\s*[A-Za-z]|[A-Za-z_][\w.-]*\s*=)")
_TABLE = re.compile(r"\s*\[+\s*([\w.-]+)")
_KEY = re.compile(r"\s*([A-Za-z_][\w.-]*)\s*[=:]")


def _key_at(lines: list[str], number: int) -> str:
    """Return the key of a line that no parser understands, as far as it can be seen."""
    above = (_TABLE.match(line) for line in reversed(lines[:number]))
    table = next((match[1] for match in above if match), "")
    key = _KEY.match(lines[number - 1])
    return ".".join(part for part in (table, key[1] if key else "") if part)


def _twice(each: Twice) -> Problem:
    key = path_text(each.path)
    before = f"line {each.before} has it already"
    if plain(key) in ROWS and each.sort in {"table", "row"}:
        wanted = f"[[{plain(key)}]] in double brackets, each time: line {each.before} has the first"
        return Problem(key=key, read="a second table", wanted=wanted, line=each.line)
    if each.sort in {"table", "row"}:
        wanted = f"each table once: {before}; write its keys there"
        return Problem(key=key, read="given twice", wanted=wanted, line=each.line)
    return Problem(key=key, read="given twice", wanted=f"each key once: {before}", line=each.line)


def _too_much(text: str) -> Problem:
    """Say what no build file has so much of that the parser gives up."""
    digits = re.search(r"[\d_]{4000}", text)
    if digits:
        line = text.count("\n", 0, digits.start()) + 1
        read = "a number of thousands of digits"
        return Problem(key="", read=read, wanted="a length with its unit, in quotes", line=line)
    deep = re.search(r"(?:[\[{]\s*){40}|(?:[\w]\s*\.\s*){40}", text)
    line = text.count("\n", 0, deep.start()) + 1 if deep else None
    return Problem(
        key="", read="brackets in brackets, hundreds deep", wanted="a plain list", line=line
    )
