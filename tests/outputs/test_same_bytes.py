"""The same build file gives the same bytes, whatever the machine's clock, zone, tongue and seed."""

import hashlib
import os
import re
import subprocess
import sys
import time
import zlib
from collections.abc import Iterator
from pathlib import Path

import pytest

pytestmark = pytest.mark.kernel

EXAMPLE = Path(__file__).resolve().parents[2] / "examples" / "cold-coffee.toml"
SHIFTED = """
import datetime, os, sys, time
if (days := int(sys.argv.pop(1))):
    shift, real = days * 86400, time.time
    local, utc, text = time.localtime, time.gmtime, time.strftime
    time.time = lambda: real() + shift
    time.localtime = lambda at=None: local(time.time() if at is None else at)
    time.gmtime = lambda at=None: utc(time.time() if at is None else at)
    time.strftime = lambda how, at=None: text(how, time.localtime() if at is None else at)
    class Later(datetime.datetime):
        @classmethod
        def now(cls, tz=None):
            return cls.fromtimestamp(time.time(), tz)
        utcnow = now
    datetime.datetime = Later
from collarwright.outputs.cli import main
sys.argv[0] = "collarwright"
main()
"""
KINDS = {".csv", ".dxf", ".glb", ".json", ".pdf", ".step", ".stl", ".svg"}


def build(folder: Path, days: int, **environment: str) -> Path:
    """Build the example in a process of its own, in a folder of its own."""
    folder.mkdir()
    done = subprocess.run(
        [sys.executable, "-c", SHIFTED, str(days), "build", str(EXAMPLE), "--out", "out"],
        cwd=folder,
        env={**os.environ, **environment},
        capture_output=True,
        text=True,
        timeout=120,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    return folder / "out"


@pytest.fixture(scope="module")
def two(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Path, float]:
    """Two builds, the second 400 days later by its clock; and when the first began."""
    root, start = tmp_path_factory.mktemp("same"), time.time()
    one = build(
        root / "one", 0, PYTHONHASHSEED="1", TZ="UTC", LANG="C", LC_ALL="C", MALLOC_PERTURB_="1"
    )
    other = build(
        root / "a longer name", 400, PYTHONHASHSEED="77", TZ="Pacific/Chatham",
        LANG="de_DE.UTF-8", LC_ALL="C.UTF-8", MALLOC_PERTURB_="170", COLUMNS="300",
        HOME=str(root), USER="qzxv-user", SOURCE_DATE_EPOCH="1234567890",
    )  # fmt: skip
    return one, other, start


def hashes(folder: Path) -> dict[str, str]:
    return {
        path.relative_to(folder).as_posix(): hashlib.sha256(path.read_bytes()).hexdigest()
        for path in folder.rglob("*")
        if path.is_file()
    }


def test_two_processes_write_the_same_bytes(two: tuple[Path, Path, float]) -> None:
    one, other, _ = two
    found = hashes(one)
    assert {Path(name).suffix for name in found} == KINDS
    assert found == hashes(other)


def dates(start: float) -> Iterator[re.Pattern[bytes]]:
    """Yield how the days of the two builds, and the seconds of now, are written."""
    for shift in (0, 400):
        for day in (-1, 0, 1):
            at = time.gmtime(start + 86400 * (shift + day))
            for how in ("%Y-%m-%d", "%Y%m%d", "%d.%m.%Y", "%d/%m/%Y", "%m/%d/%Y", "%y%m%d",
                        "%d %b %Y", "%b %d, %Y", "%d %B %Y", "%B %d, %Y", "%a %b %d"):  # fmt: skip
                yield re.compile(re.escape(time.strftime(how, at)).encode(), re.IGNORECASE)
        # Seconds since 1970 (also in ms and us), and a Julian day as DXF has it.
        seconds = int(start + 86400 * shift)
        yield re.compile(rb"(?<!\d)%s\d{2}(?!\d{3}\.)" % str(seconds)[:-2].encode())
        julian = int(2440587.5 + seconds / 86400)
        yield re.compile(rb"(?<![\d.])(%d|%d)\.\d" % (julian, julian + 1))


def spread(data: bytes) -> bytes:
    """Return a file's bytes with what is packed in a PDF unpacked behind them."""
    found = [data]
    for stream in re.finditer(rb"stream\r?\n(.*?)endstream", data, re.DOTALL):
        packed = zlib.decompressobj()
        try:
            found.append(packed.decompress(stream[1]))
        except zlib.error:
            continue
    return b"\n".join(found)


def told_times(folder: Path, start: float) -> list[str]:
    return [
        f"{path.name}: {pattern.pattern!r}"
        for path in folder.rglob("*")
        if path.is_file()
        for content in [spread(path.read_bytes())]
        for pattern in dates(start)
        if pattern.search(content)
    ]


def test_no_file_tells_a_time_or_where_it_was_made(two: tuple[Path, Path, float]) -> None:
    one, other, start = two
    host = os.uname().nodename.encode()
    assert told_times(one, start) == []
    for folder in (one, other):
        for path in folder.rglob("*"):
            if path.is_file():
                content = spread(path.read_bytes())
                assert str(folder.parent).encode() not in content
                # A short name of a machine may stand in any bytes by chance.
                assert len(host) < 5 or host not in content
                assert b"qzxv-user" not in content


@pytest.mark.parametrize("how", ["%Y-%m-%dT%H:%M", "D:%Y%m%d%H%M%S", "%d %b %Y", "epoch", "julian"])
def test_the_search_finds_a_time(tmp_path: Path, how: str) -> None:
    now = time.time()
    text = time.strftime(how, time.gmtime(now))
    if how == "epoch":
        text = f'"t": {int(now)}'
    if how == "julian":
        text = f"$TDCREATE\n 40\n{2440587.5 + now / 86400:.6f}\n"
    (tmp_path / "x.dxf").write_text(text)
    (tmp_path / "y.pdf").write_bytes(b"stream\n" + zlib.compress(text.encode()) + b"endstream")
    assert {each[:5] for each in told_times(tmp_path, now)} == {"x.dxf", "y.pdf"}
