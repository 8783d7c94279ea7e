"""Two thousand spoilt copies of the examples, some with a spoilt catalogue file beside them.

Whatever stands in a file, the answer is a design or a list of problems: nothing else is raised,
and nobody waits. The files are made from a seed, so that a failure can be made again: every
chunk prints the number of the file that it stumbled over and leaves the file in its folder.
"""

import random
import re
import resource
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path

import pytest
from collarwright.geometry.judge.evaluate import evaluate
from collarwright.geometry.shape.layout import lay_out
from collarwright.outputs.summary import dumps, summary
from collarwright.outputs.text import report
from collarwright.params import catalogue
from collarwright.params.problem import BuildFileError
from collarwright.params.reading import read

ROOT = Path(__file__).resolve().parents[2]
EXAMPLES = [path.read_bytes() for path in sorted((ROOT / "examples").glob("*.toml"))]
DATA = Path(catalogue.__file__).parent / "data"
TABLES = {path.name: path.read_bytes() for path in sorted(DATA.glob("*.csv"))}

FILES, CHUNKS = 2000, 40
THROUGH_THE_COMMAND = 36
SECONDS = 30.0  # a hang, not a speed: a file takes a second on a quiet machine
MEMORY = 2**30

HIDDEN = re.compile(r"[\x00-\x09\x0b-\x1f\x7f-\x9f\u200e\u200f\u2028-\u202e\u2066-\u2069\ufeff]")
"""What a terminal would obey or turn around instead of showing it."""

Mutate = Callable[[random.Random, bytes], bytes]

NUMBER = re.compile(rb"(?<![\w.-])\d+(?:\.\d+)?(?: \d+/\d+)?")
NUMBERS = [
    b"0", b"-1", b"-0", b"1000000000", b"1e9", b"1e308", b"1e999", b"99999999999999999999999",
    b"10000", b"0.0000001", b"1/0", b"1 1/3", b"0x10", b"1_000", b"nan", b"inf", b"1,5", b"",
]  # fmt: skip
LENGTHS = [
    b'"0 mm"', b'"-1 in"', b'"1000000000 mm"', b'"1/1000000 in"', b'"1 mile"', b"true", b"[]",
    b"{}", b'["1 in", "2 in"]', b"{ front = 3 }", b"1979-05-27", b'""', b'"none"', b"-1", b"1e9",
    b'"300 mm"', b'"12 in"', b'"0.01 mm"', b'"1/2 in"', b"10000", b"64", b"[[[[]]]]",
]  # fmt: skip
SIGNS = [
    "\u200f", "\u202e", "\u2066", "\x00", "\x07", "\x1b[31m", "\x7f", "\x85", "\u2028", "\ufeff",
    "🍺", "👩‍🔧", "é", "e\u0301", "\u0663", "½", "″", "“", "”", "<b>", "&lt;", "../../x", "\\", '"',
    "'", "#", "[", "]", "{", "}", "=", ",", ".", "\r", "\n", "\t", '"""', "%s", "{0}", "\ud7ff",
]  # fmt: skip


def _place(rng: random.Random, data: bytes) -> int:
    return rng.randrange(len(data) + 1)


def flip(rng: random.Random, data: bytes) -> bytes:
    """Change one bit."""
    if not data:
        return data
    at = rng.randrange(len(data))
    return data[:at] + bytes([data[at] ^ 1 << rng.randrange(8)]) + data[at + 1 :]


def cut_out(rng: random.Random, data: bytes) -> bytes:
    """Take a few bytes out."""
    at = _place(rng, data)
    return data[:at] + data[at + rng.choice((1, 1, 2, 5, 20, 80)) :]


def cut_short(rng: random.Random, data: bytes) -> bytes:
    """End the file early."""
    return data[: _place(rng, data)]


def double(rng: random.Random, data: bytes) -> bytes:
    """Write a few bytes twice, or many times."""
    at, size = _place(rng, data), rng.choice((1, 3, 10, 100))
    piece = data[at : at + size]
    return data[:at] + piece * rng.choice((2, 2, 3, 500)) + data[at + size :]


def line_gone(rng: random.Random, data: bytes) -> bytes:
    """Take a line out."""
    lines = data.splitlines(keepends=True)
    if lines:
        del lines[rng.randrange(len(lines))]
    return b"".join(lines)


def line_twice(rng: random.Random, data: bytes) -> bytes:
    """Write a line again, anywhere."""
    lines = data.splitlines(keepends=True)
    if lines:
        lines.insert(rng.randrange(len(lines)), rng.choice(lines))
    return b"".join(lines)


def line_moved(rng: random.Random, data: bytes) -> bytes:
    """Exchange two lines."""
    lines = data.splitlines(keepends=True)
    if lines:
        a, b = rng.randrange(len(lines)), rng.randrange(len(lines))
        lines[a], lines[b] = lines[b], lines[a]
    return b"".join(lines)


def splice(rng: random.Random, data: bytes) -> bytes:
    """Put lines of another example in."""
    lines = data.splitlines(keepends=True)
    other = rng.choice([*EXAMPLES, *TABLES.values()]).splitlines(keepends=True)
    start, at = rng.randrange(len(other)), rng.randrange(len(lines) + 1)
    lines[at:at] = other[start : start + rng.choice((1, 2, 6, 30))]
    return b"".join(lines)


def sign(rng: random.Random, data: bytes) -> bytes:
    """Put a sign in that hurts somewhere."""
    at = _place(rng, data)
    return data[:at] + rng.choice(SIGNS).encode() + data[at:]


def sign_in_text(rng: random.Random, data: bytes) -> bytes:
    """Put any sign of Unicode between quotes."""
    quotes = [found.end() for found in re.finditer(rb'= "', data)]
    at = rng.choice(quotes) if quotes else 0
    code = rng.choice((rng.randrange(0x20), rng.randrange(0x80, 0x3000), rng.randrange(0x10FFFF)))
    return data[:at] + chr(code).encode("utf-8", "surrogatepass") + data[at:]


def number(rng: random.Random, data: bytes) -> bytes:
    """Write another number in place of one."""
    found = list(NUMBER.finditer(data))
    if not found:
        return data
    where = rng.choice(found)
    return data[: where.start()] + rng.choice(NUMBERS) + data[where.end() :]


def value(rng: random.Random, data: bytes) -> bytes:
    """Write another value after a key."""
    found = list(re.finditer(rb"(?m)= (.+)$", data))
    if not found:
        return data
    where = rng.choice(found)
    return data[: where.start(1)] + rng.choice(LENGTHS) + data[where.end(1) :]


def scaled(rng: random.Random, data: bytes) -> bytes:
    """Multiply one number: a file that is read, of a freezer that nobody has."""
    found = [each for each in NUMBER.finditer(data) if each[0].isdigit()]
    if not found:
        return data
    where = rng.choice(found)
    new = int(int(where[0]) * rng.choice((0.1, 0.5, 0.9, 1.1, 2, 3, 10, 100)))
    return data[: where.start()] + str(new).encode() + data[where.end() :]


def quotes_gone(rng: random.Random, data: bytes) -> bytes:
    """Lose one quotation mark, or all."""
    at = [index for index, byte in enumerate(data) if byte == ord('"')]
    if not at or rng.random() < 0.1:
        return data.replace(b'"', b"")
    gone = rng.choice(at)
    return data[:gone] + data[gone + 1 :]


TRICKS: tuple[Mutate, ...] = (
    flip, cut_out, cut_short, double, line_gone, line_twice, line_moved, splice, sign,
    sign_in_text, number, number, value, value, value, scaled, scaled, scaled, quotes_gone,
)  # fmt: skip

GENTLE: tuple[Mutate, ...] = (scaled, scaled, scaled, line_gone)
"""After these a file is often still read, and the layout and the checks get what is odd."""


def spoilt(seed: int, folder: Path) -> Path:
    """Write the build file of a number, and in every second case a catalogue file beside it."""
    rng = random.Random(seed)
    folder.mkdir()
    data = rng.choice(EXAMPLES)
    tricks = GENTLE if seed % 4 == 0 else TRICKS
    for _ in range(rng.choice((0, 1, 1, 2, 3, 6) if seed % 2 else (1, 1, 1, 2, 4))):
        data = rng.choice(tricks)(rng, data)
    if seed % 2:
        name = rng.choice(list(TABLES))
        head, *rows = TABLES[name].splitlines(keepends=True)
        table = head + b"".join(rng.sample(rows, min(len(rows), rng.choice((1, 3, 100)))))
        for _ in range(rng.choice((1, 1, 2, 5))):
            table = rng.choice(TRICKS)(rng, table)
        (folder / name).write_bytes(table)
    file = folder / "x.toml"
    file.write_bytes(data)
    return file


def outcome(file: Path) -> str:
    """Read and judge a file as ``check`` does; return the verdict, or "refused"."""
    try:
        project, source = read(file, lay_out)
        done = evaluate(project)
    except BuildFileError as error:
        if not error.problems or HIDDEN.search(str(error)):
            raise
        return "refused"
    dumps(summary(project, done, source.file, source.sha256))
    report(project, done, source.file, True, source.examples)
    return done.verdict


@pytest.mark.parametrize("chunk", range(CHUNKS))
def test_a_spoilt_file_is_judged_or_refused(chunk: int, tmp_path: Path) -> None:
    for seed in range(chunk, FILES, CHUNKS):
        file = spoilt(seed, tmp_path / str(seed))
        start = time.perf_counter()
        try:
            outcome(file)
        except Exception as error:  # noqa: BLE001 - whatever it is, the file has to be named
            pytest.fail(f"file {seed}, {file}: {type(error).__name__}: {error}")
        assert time.perf_counter() - start < SECONDS, f"file {seed}, {file}"


def test_the_files_are_the_same_every_time_and_spoilt_in_every_way(tmp_path: Path) -> None:
    seen = [spoilt(seed, tmp_path / str(seed)) for seed in range(60)]
    again = [spoilt(seed, tmp_path / f"again-{seed}") for seed in range(60)]
    assert [path.read_bytes() for path in seen] == [path.read_bytes() for path in again]
    assert len({path.read_bytes() for path in seen[::2]}) > 25
    # some are refused and some are read: a mutator whose files all go one way looks at little
    ends = [outcome(path) for path in seen]
    assert 10 < ends.count("refused") < 55


def _limited() -> None:
    resource.setrlimit(resource.RLIMIT_AS, (MEMORY, MEMORY))


@pytest.mark.parametrize("part", range(6))
def test_the_command_answers_a_spoilt_file_with_a_sentence(part: int, tmp_path: Path) -> None:
    for seed in range(FILES + part, FILES + THROUGH_THE_COMMAND, 6):
        file = spoilt(seed, tmp_path / str(seed))
        before = {path: path.read_bytes() for path in tmp_path.rglob("*") if path.is_file()}
        done = subprocess.run(
            [sys.executable, "-m", "collarwright.outputs", "check", str(file)],
            capture_output=True,
            timeout=SECONDS,
            check=False,
            preexec_fn=_limited,
        )
        said = (done.stdout + done.stderr).decode()
        assert done.returncode in (0, 1, 2), f"file {seed}: {said}"
        assert "Traceback" not in said
        assert "fault of the program itself" not in said
        assert bool(done.stderr) == (done.returncode == 2), f"file {seed}: {said}"
        assert {p: p.read_bytes() for p in tmp_path.rglob("*") if p.is_file()} == before


@pytest.mark.parametrize(
    "line",
    [
        "[t{0}]\n",
        "k{0} = 1\nk{0} = 2\n",
        "k{0} = 37 in\n",
        "[[hole]]\nname = '{0}'\n",
        "k{0} = [[\n",
    ],
    ids=["tables", "twice", "no quotes", "rows", "brackets"],
)
def test_the_largest_file_of_slips_is_answered_in_time(line: str, tmp_path: Path) -> None:
    text = "".join(line.format(number) for number in range(60_000))
    file = tmp_path / "x.toml"
    file.write_bytes(EXAMPLES[0] + text.encode()[: 2**18 - len(EXAMPLES[0])])
    assert file.stat().st_size == 2**18
    done = subprocess.run(
        [sys.executable, "-m", "collarwright.outputs", "check", str(file)],
        capture_output=True,
        text=True,
        timeout=SECONDS,
        check=False,
        preexec_fn=_limited,
    )
    assert done.returncode == 2
    assert "Traceback" not in done.stderr
    assert "fault of the program itself" not in done.stderr
    assert "256 KiB" not in done.stderr
