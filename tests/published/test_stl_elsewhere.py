"""Triangles as another program judges them: admesh, volumes worked out by hand."""

import re
import shutil
import struct
import subprocess
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest

pytestmark = [
    pytest.mark.kernel,
    pytest.mark.skipif(shutil.which("admesh") is None, reason="admesh is not installed"),
]

FACET = 0.2**2 / 6
"""What a polygon that turns by 0.2 rad a side lacks of its circle's area, as a share of it:
1 - sin(0.2)/0.2."""

FLOAT = 1e-5
"""Share of a volume that 32-bit coordinates and admesh's own 32-bit sum may cost."""

MM = 1e-3
SIDES = ("front", "right", "back", "left")
NAMES = [f"{kind}-{side}" for kind in ("board", "foam") for side in SIDES]
NONE = ("Total disconnected facets", "Degenerate facets", "Edges fixed", "Facets removed",
        "Facets added", "Facets reversed", "Backwards edges", "Normals fixed")  # fmt: skip


@dataclass(frozen=True)
class Judged:
    """What admesh says of a file: lowest and highest corner, counts before any repair."""

    low: tuple[float, ...]
    high: tuple[float, ...]
    counts: dict[str, int]
    volume: float


def judged(file: Path) -> Judged:
    """Let admesh check a file exactly: corners meet only where their coordinates are the same."""
    command = ["admesh", "--exact", "--normal-directions", "--normal-values", str(file)]
    text = subprocess.run(command, capture_output=True, text=True, check=True, timeout=60).stdout
    ends = {
        (which, axis): float(value)
        for which, axis, value in re.findall(r"(Min|Max) ([XYZ]) *= *([-\d.]+)", text)
    }
    counts = {name.strip(): int(n) for name, n in re.findall(r"([A-Z][a-z ]+?) +: +(\d+)", text)}
    (volume,) = re.findall(r"Volume +: +(-?[\d.]+)", text)
    low, high = (tuple(ends[which, axis] for axis in "XYZ") for which in ("Min", "Max"))
    return Judged(low, high, counts, float(volume))


def faults(file: Path, part: Any) -> list[str]:
    """Say how a mesh differs from a part worked out by hand."""
    found = judged(file)
    said = [f"{name}: {found.counts[name]}" for name in NONE if found.counts[name]]
    if found.counts["Number of parts"] != 1:
        said.append(f"{found.counts['Number of parts']} parts")
    size = (part.length, part.width, part.thickness)
    if (*found.low, *found.high) != pytest.approx((0, 0, 0, *size), abs=MM):
        said.append(f"box: {found.low} to {found.high}")
    loose = FACET * part.gone * part.thickness + FLOAT * part.volume
    if abs(found.volume - part.volume) > loose:
        said.append(f"volume: {found.volume:.0f}, not {part.volume:.0f} +- {loose:.0f} mm3")
    return said


@pytest.mark.published("admesh; plane geometry by hand")
@pytest.mark.parametrize("name", NAMES)
def test_admesh_finds_one_closed_body_of_the_right_size(
    skewed: Any, built: Callable[..., Path], name: str
) -> None:
    part = next(each for each in skewed.flats() if each.name == name)
    assert faults(built(skewed.text, "--only", "model") / f"model/{name}.stl", part) == []


# --- the judge can say no -------------------------------------------------------------------------

HEAD, TRIANGLE = 84, 50


def without_one(data: bytes) -> bytes:
    count = struct.unpack_from("<I", data, 80)[0]
    return data[:80] + struct.pack("<I", count - 1) + data[HEAD : len(data) - TRIANGLE]


def one_turned_over(data: bytes) -> bytes:
    a, b = HEAD + 12, HEAD + 24
    return data[:a] + data[b : b + 12] + data[a : a + 12] + data[b + 12 :]


def one_corner_off(data: bytes) -> bytes:
    (x,) = struct.unpack_from("<f", data, HEAD + 12)
    return data[: HEAD + 12] + struct.pack("<f", x + 0.5) + data[HEAD + 16 :]


def stretched(data: bytes, axes: tuple[float, float, float]) -> bytes:
    made = bytearray(data)
    for at in range(HEAD, len(made), TRIANGLE):
        for k in range(3):
            place = at + 12 + 12 * k
            corner = struct.unpack_from("<3f", made, place)
            scaled = (c * s for c, s in zip(corner, axes, strict=True))
            struct.pack_into("<3f", made, place, *scaled)
    return bytes(made)


def inside_out(data: bytes) -> bytes:
    made = bytearray(data)
    for at in range(HEAD, len(made), TRIANGLE):
        a, b = bytes(made[at + 12 : at + 24]), bytes(made[at + 24 : at + 36])
        made[at + 12 : at + 36] = b + a
    return bytes(made)


def a_normal_turned(data: bytes) -> bytes:
    at = HEAD + TRIANGLE  # not the first: that one tells which side is out
    normal = struct.unpack_from("<3f", data, at)
    return data[:at] + struct.pack("<3f", *(-n for n in normal)) + data[at + 12 :]


def twice(data: bytes) -> bytes:
    count = struct.unpack_from("<I", data, 80)[0]
    return data[:80] + struct.pack("<I", 2 * count) + 2 * data[HEAD:]


@pytest.mark.parametrize(
    ("spoil", "said"),
    [
        (without_one, "Total disconnected facets: 3"),
        (one_turned_over, "Facets reversed: 1"),
        (one_corner_off, "Total disconnected facets"),
        (inside_out, "Facets reversed: "),
        (a_normal_turned, "Normals fixed: 1"),
        (twice, "2 parts"),
        (lambda data: stretched(data, (1.0, 1.0, 1.001)), "box: "),
        (lambda data: stretched(data, (25.4, 25.4, 25.4)), "volume: "),
    ],
)
def test_the_judge_sees_a_spoilt_file(
    skewed: Any,
    built: Callable[..., Path],
    tmp_path: Path,
    spoil: Callable[[bytes], bytes],
    said: str,
) -> None:
    good = (built(skewed.text, "--only", "model") / "model/board-front.stl").read_bytes()
    file = tmp_path / "spoilt.stl"
    file.write_bytes(spoil(good))
    assert said in "\n".join(faults(file, skewed.board("front")))


def test_the_judge_sees_a_bore_that_was_left_out(skewed: Any, built: Callable[..., Path]) -> None:
    model = built(skewed.text, "--only", "model") / "model"
    front = skewed.board("front")
    full = type(front)(**{**vars(front), "volume": front.volume + front.gone * front.thickness / 3})
    (said,) = faults(model / "board-front.stl", full)
    assert said.startswith("volume: ")
