"""Pages as SVG: true size, texts that are texts, and the same picture as the PDF's."""

import io
import shutil
import subprocess
import unicodedata
import xml.etree.ElementTree as ET
from importlib.resources import as_file, files
from pathlib import Path

import numpy as np
import pytest
from collarwright.outputs.paper.dims import (
    CENTER,
    HEAVY,
    VISIBLE,
    center_cross,
    dimension,
    hatching,
    leader,
    outlined,
)
from collarwright.outputs.paper.marks import (
    Mark,
    Page,
    Pen,
    Ring,
    Window,
    Words,
    line,
    moved,
    rectangle,
)
from collarwright.outputs.paper.pdf import write_pdf
from collarwright.outputs.paper.svg import svg_text, write_svg
from PIL import Image, ImageFont

SVG = "{http://www.w3.org/2000/svg}"
RSVG, POPPLER, CHROMIUM = (shutil.which(n) for n in ("rsvg-convert", "pdftoppm", "chromium"))
needs_rsvg = pytest.mark.skipif(
    RSVG is None, reason="rsvg-convert (Debian: librsvg2-bin) is not installed"
)
needs_poppler = pytest.mark.skipif(
    POPPLER is None, reason="pdftoppm (Debian: poppler-utils) is not installed"
)
needs_chromium = pytest.mark.skipif(CHROMIUM is None, reason="chromium is not installed")

HOSTILE = [
    "<script>alert(1)</script>",
    "]]> & <b>&amp;</b> \"x\" 'y' --> &#x202e;",
    "\x00\x01\x1b[31mred\x7f \ufffe\uffff",
    "\u202e\u2066backward\u2069\u202c",
    "\u200fקפה קר\u200f cold",
    "\ud800 half",
    "e\u0301te\u0301 ½ ″ №",
    "🍺" * 40,
    "two  blanks\tand\na line",
]


def drawing() -> list[Mark]:
    """Return a page's worth of every kind of mark."""
    ring = [(110.0, 20.0), (150.0, 20.0), (150.0, 60.0), (110.0, 60.0)]
    inner = [(120.0, 30.0), (140.0, 30.0), (140.0, 50.0), (120.0, 50.0)]
    return [
        rectangle(20, 20, 80, 40, VISIBLE),
        Ring(60, 40, 20, VISIBLE, 0.8),
        *center_cross((60, 40), 10),
        *dimension((20, 20), (100, 20), "955 mm (37 5/8 in)", at=12, way="level"),
        *dimension((20, 20), (20, 60), "21 in", at=12, way="upright"),
        *dimension((20, 60), (100, 60), "front", at=6),
        *leader((67.07, 47.07), (85, 75), "⌀ 25.4 mm"),
        outlined(ring, HEAVY),
        outlined(inner, HEAVY),
        *hatching([ring, inner]),
        Window(120, 70, 30, 20, (Ring(135, 80, 28, HEAVY), Words(116, 78, 4, "clipped words"))),
        line(20, 90, 90, 90, CENTER),
        Words(150, 100, 5, "to the right", "end", gray=0.4),
        Words(25, 72, 5, "turned", "start", 30),
    ]


PAGE = Page(160.0, 110.0, tuple(drawing()))


def test_the_page_is_of_true_size_and_a_unit_is_a_millimeter() -> None:
    root = ET.fromstring(svg_text(PAGE, "x"))
    assert (root.get("width"), root.get("height")) == ("160mm", "110mm")
    assert root.get("viewBox") == "0 0 160 110"


def test_texts_are_texts_and_stand_where_they_are_put() -> None:
    page = Page(100, 50, (Words(10, 20, 4, "front board", "middle", 90), Words(5, 5, 3, "x")))
    first, second = ET.fromstring(svg_text(page, "x")).iter(f"{SVG}text")
    assert (first.text, first.get("x"), first.get("y")) == ("front board", "10", "30")
    assert first.get("text-anchor") == "middle"
    assert first.get("transform") == "rotate(-90 10 30)"
    assert first.get("font-size") == "4"
    assert (second.text, second.get("x"), second.get("y")) == ("x", "5", "45")


@pytest.mark.parametrize("text", ["front board 37 5/8 in", "⌀ 25.4 mm", "AVATAR To", "קפה קר"])
def test_a_text_is_as_wide_as_in_the_pdf_whatever_font_there_is(text: str) -> None:
    (found,) = ET.fromstring(svg_text(Page(99, 9, (Words(1, 1, 7, text),)), "")).iter(f"{SVG}text")
    with as_file(files("collarwright.outputs.paper") / "fonts" / "DejaVuSans.ttf") as path:
        font = ImageFont.truetype(str(path), 2048)
    width = sum(font.getlength(letter) for letter in text) / 2048 * 7
    assert float(found.get("textLength", 0)) == pytest.approx(width, abs=0.01)


def test_the_same_page_gives_the_same_bytes(tmp_path: Path) -> None:
    for name in ("a.svg", "b.svg"):
        write_svg(Page(160.0, 110.0, tuple(drawing())), tmp_path / name, "same")
    assert (tmp_path / "a.svg").read_bytes() == (tmp_path / "b.svg").read_bytes()


@pytest.mark.parametrize("text", HOSTILE)
def test_hostile_text_stays_text(tmp_path: Path, text: str) -> None:
    path = tmp_path / "x.svg"
    write_svg(Page(99, 99, (Words(5, 5, 3, text),)), path, text)
    root = ET.fromstring(path.read_bytes())
    assert {each.tag.removeprefix(SVG) for each in root.iter()} == {"svg", "title", "g", "text"}
    said = [each.text or "" for each in root.iter() if each.tag in (f"{SVG}text", f"{SVG}title")]
    assert all(unicodedata.category(c) not in ("Cc", "Cf", "Cs") for one in said for c in one)
    letters = [c for c in unicodedata.normalize("NFC", text) if c.isascii() and c.isalpha()]
    assert all([c for c in one if c.isascii() and c.isalpha()] == letters for one in said)


def test_blanks_are_kept() -> None:
    text = svg_text(Page(9, 9, (Words(1, 1, 1, "  (37 in)"),)), "")
    (found,) = ET.fromstring(text).iter(f"{SVG}text")
    assert found.text == "  (37 in)"
    assert found.get("{http://www.w3.org/XML/1998/namespace}space") == "preserve"


def test_pages_can_stand_in_one_document() -> None:
    assert " id=" not in svg_text(PAGE, "x")


@pytest.mark.parametrize("value", [-0.00001, 0.0, 0.1 + 0.2, 1e-9, 1234.5])
def test_numbers_are_plain(value: float) -> None:
    (found,) = ET.fromstring(svg_text(Page(9, 9, (Ring(value, 0, 1),)), "")).iter(f"{SVG}circle")
    assert found.get("cx") == {-0.00001: "0", 0.0: "0", 1e-9: "0", 1234.5: "1234.5"}.get(
        value, "0.3"
    )


# --- the same picture as the PDF's ----------------------------------------------------------------


def printed(page: Page, folder: Path, dpi: int) -> np.ndarray:
    """Return the PDF's page as poppler prints it, 0 black to 1 white."""
    assert POPPLER is not None
    file = folder / "page.pdf"
    write_pdf([page], file, "x")
    done = subprocess.run(
        [POPPLER, "-r", str(dpi), "-gray", str(file)], capture_output=True, check=True, timeout=60
    )
    return np.asarray(Image.open(io.BytesIO(done.stdout)).convert("L")) / 255.0


def by_rsvg(page: Page, folder: Path, dpi: int) -> np.ndarray:
    """Return the SVG's page as librsvg draws it."""
    assert RSVG is not None
    file = folder / "page.svg"
    write_svg(page, file, "x")
    command = [RSVG, "-d", str(dpi), "-p", str(dpi), "-b", "white", str(file)]
    done = subprocess.run(command, capture_output=True, check=True, timeout=60)
    return np.asarray(Image.open(io.BytesIO(done.stdout)).convert("L")) / 255.0


def by_chromium(page: Page, folder: Path) -> np.ndarray:
    """Return the SVG's page as a browser draws it, at 96 dpi."""
    assert CHROMIUM is not None
    file, shot = folder / "page.svg", folder / "shot.png"
    write_svg(page, file, "x")
    wide, high = (round(each / 25.4 * 96) for each in (page.width, page.height))
    command = [
        CHROMIUM, "--headless", "--no-sandbox", "--disable-gpu", "--no-first-run",
        "--disable-background-networking", "--disable-component-update", "--disable-sync",
        "--hide-scrollbars", f"--user-data-dir={folder / 'profile'}",
        f"--window-size={wide},{high}", f"--screenshot={shot}", file.as_uri(),
    ]  # fmt: skip
    subprocess.run(command, capture_output=True, check=True, timeout=60)
    return np.asarray(Image.open(shot).convert("L")) / 255.0


def apart(one: np.ndarray, other: np.ndarray, dpi: int) -> float:
    """Return the largest difference of two pictures' mean gray over 2 x 2 mm, 0 to 1."""
    cell = round(2 / 25.4 * dpi)
    high = min(one.shape[0], other.shape[0]) // cell * cell
    wide = min(one.shape[1], other.shape[1]) // cell * cell
    assert abs(one.shape[0] - other.shape[0]) <= 2
    assert abs(one.shape[1] - other.shape[1]) <= 2

    def means(picture: np.ndarray) -> np.ndarray:
        cut = picture[:high, :wide].reshape(high // cell, cell, wide // cell, cell)
        return cut.mean(axis=(1, 3))

    return float(np.abs(means(one) - means(other)).max())


ALIKE, ROUGHLY = 0.06, 0.16
"""Renderers smooth lines and letters in their own ways: so far may means over 2 x 2 mm be
apart, at 300 dpi and at a screen's 96 (measured: 0.04 and 0.10)."""


@needs_poppler
@needs_rsvg
def test_a_second_renderer_draws_the_same_picture(tmp_path: Path) -> None:
    assert apart(printed(PAGE, tmp_path, 300), by_rsvg(PAGE, tmp_path, 300), 300) < ALIKE


@needs_poppler
@needs_chromium
def test_a_browser_draws_the_same_picture(tmp_path: Path) -> None:
    assert apart(printed(PAGE, tmp_path, 96), by_chromium(PAGE, tmp_path), 96) < ROUGHLY


MOVED = [
    i
    for i, mark in enumerate(PAGE.marks)
    if isinstance(mark, Words | Window | Ring) or (i % 3 == 0 and i < 28)
]
"""Every text, circle and window, and one other mark of three; hatching lies too close to see."""


@needs_poppler
@needs_rsvg
@pytest.mark.parametrize("index", MOVED)
def test_the_comparison_sees_any_mark_that_was_moved(tmp_path: Path, index: int) -> None:
    mark = PAGE.marks[index]
    marks = (*PAGE.marks[:index], moved(mark, 1.7, 1.3), *PAGE.marks[index + 1 :])
    other = by_rsvg(Page(PAGE.width, PAGE.height, marks), tmp_path, 300)
    assert apart(printed(PAGE, tmp_path, 300), other, 300) > ALIKE


@pytest.mark.parametrize("dpi", [300, 600])
@pytest.mark.parametrize(
    "draw",
    [pytest.param("by_rsvg", marks=needs_rsvg), pytest.param("printed", marks=needs_poppler)],
)
def test_distances_are_true_to_a_pixel(tmp_path: Path, dpi: int, draw: str) -> None:
    """Lines 100 mm and 4 in apart both ways, and a bore's left and right edge."""
    pen = Pen(0.3)
    marks = (
        line(20, 5, 20, 30, pen), line(120, 5, 120, 30, pen), line(20, 40, 20, 55, pen),
        line(20 + 101.6, 40, 20 + 101.6, 55, pen), line(130, 20, 150, 20, pen),
        line(130, 120, 150, 120, pen), Ring(70, 90, 25.4, pen),
    )  # fmt: skip
    picture = {"by_rsvg": by_rsvg, "printed": printed}[draw]
    dark = picture(Page(160.0, 130.0, marks), tmp_path, dpi) < 0.5
    mm = dpi / 25.4

    def middles(cut: np.ndarray) -> list[float]:
        ends = np.flatnonzero(np.diff(np.concatenate([[0], cut.astype(int), [0]])))
        return [(a + b) / 2 / mm for a, b in zip(ends[::2], ends[1::2], strict=True)]

    def row(y: float) -> np.ndarray:
        return dark[round((130 - y) * mm)]

    pixel = 1 / mm
    assert np.diff(middles(row(15))) == pytest.approx([100.0], abs=pixel)
    assert np.diff(middles(row(47))) == pytest.approx([101.6], abs=pixel)
    assert np.diff(middles(row(90))) == pytest.approx([25.4], abs=pixel)
    assert np.diff(middles(dark[:, round(140 * mm)])) == pytest.approx([100.0], abs=pixel)
    assert middles(row(15))[0] == pytest.approx(20.0, abs=pixel)
