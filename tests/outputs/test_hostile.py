"""Titles and names that would like to be paths, pages, commands or another writing direction.

Nothing that a build file says becomes the name of a file, and every text stands in the cut
files, the templates and the summary as it was written, or without what a sheet cannot show.
"""

import json
import re
import unicodedata
from pathlib import Path

import pytest
from collarwright.outputs.cli import app
from collarwright.outputs.readback import dxf_file, pdf
from typer.testing import CliRunner, Result

FILE = """\
title = {title}
[lip]
front = "37 in"
right = "21 in"
back = "37 in"
left = "21 in"
[board]
stock = "board-1x6"
[taps]
count = 2
spacing = "5 in"
bore = "1 in"
names = [{name}, "water"]
[[hole]]
side = "front"
height = "2 in"
diameter = "1/2 in"
offset = "9 in"
name = {name}
"""

HOSTILE = [
    "../../x",
    "/etc/x",
    "..",
    "a/b/c",
    r"C:\x\..\y",
    "~/x",
    "$HOME `id` $(id) ; rm x | y > z",
    "-rf --out /x",
    "CON.txt",
    "<script>alert(1)</script>",
    "<b>&amp;</b> &#x202e; \"x\" 'y'",
    "%%c %%d ^J \\P \\U+0041 {\\H3x;big}",
    "(x) Tj ET Q endstream endobj ) \\",
    "%s %n {0} {name}",
    "🍺 cider 👩‍🔧",
    "\u200fקפה קר\u200f cold",
    "e\u0301te\u0301 ½ ″ № 冷たい",
    "x" * 200,
    "🍺" * 200,
]
INVISIBLE = re.compile(r"[\x00-\x09\x0b-\x1f\x7f-\x9f\u202a-\u202e\u2066-\u2069]")


def bare(text: str) -> str:
    """Return the letters and digits alone: sheets space out or replace other signs."""
    return "".join(char for char in text if char.isalnum())


def ascii_bare(text: str) -> str:
    """Return the letters and digits that every font has."""
    return "".join(char for char in bare(unicodedata.normalize("NFC", text)) if char.isascii())


def built(folder: Path, text: str, name: str = "design.toml") -> tuple[Path, Result]:
    """Build cut files and templates of a text, in a folder of its own; return DIR."""
    folder.mkdir(parents=True)
    file = folder / name
    file.write_text(text, "utf-8")
    out = folder / "out"
    kinds = ["--only", "cut", "--only", "templates"]
    return out, CliRunner().invoke(app, ["build", str(file), "--out", str(out), *kinds])


def paths(folder: Path) -> set[str]:
    """Return everything there is in a folder."""
    return {path.relative_to(folder).as_posix() for path in folder.rglob("*")}


@pytest.fixture(scope="module")
def harmless(tmp_path_factory: pytest.TempPathFactory) -> set[str]:
    """What a design with plain names writes, from the folder above DIR."""
    folder = tmp_path_factory.mktemp("harmless") / "a" / "b"
    _, done = built(folder, FILE.format(title='"Porch"', name='"cider"'))
    assert done.exit_code == 0, done.output
    return paths(folder)


@pytest.mark.parametrize("text", HOSTILE, ids=range(len(HOSTILE)))
def test_a_text_is_never_a_path_and_stands_as_it_was_written(
    text: str, harmless: set[str], tmp_path: Path
) -> None:
    written = json.dumps(text, ensure_ascii=False)
    out, done = built(tmp_path / "a" / "b", FILE.format(title=written, name=written))
    assert done.exit_code == 0, done.output
    # nothing beside DIR, nothing above it, and in it the same files as ever
    assert paths(tmp_path) == {"a", "a/b", *(f"a/b/{path}" for path in harmless)}
    data = json.loads((out / "summary.json").read_text("utf-8"))
    assert data["title"] == text
    assert text in {hole["name"] for hole in data["boards"][0]["holes"]}
    assert not INVISIBLE.search(done.output)
    drawing = dxf_file.read(out / "cut" / "board-front.dxf")
    notes = " ".join(each.text for each in drawing.texts)
    assert bare(text) in bare(notes)
    assert not INVISIBLE.search(notes)
    assert ("🍺" in text) == ("□" in notes)  # no code of a DXF file reaches that far
    sheet = pdf.read(out / "templates" / "board-front.pdf")
    page = " ".join(each.text for page in sheet.pages for each in page.texts)
    assert not INVISIBLE.search(page)
    # a long one is shortened to the room that there is
    assert ascii_bare(text)[:12] in ascii_bare(page)
    assert sheet.missing_fonts == ()


def test_a_file_name_is_never_a_path_either(harmless: set[str], tmp_path: Path) -> None:
    name = "..\\x <b>🍺 $(id).toml"
    out, done = built(tmp_path / "a", FILE.format(title='"x"', name='"y"'), name)
    assert done.exit_code == 0, done.output
    assert paths(tmp_path / "a") - {name} == harmless - {"design.toml"}
    assert json.loads((out / "summary.json").read_text("utf-8"))["build_file"].endswith(name)


@pytest.mark.parametrize("key", ["title", "name"])
def test_five_thousand_characters_are_refused_with_the_limit(key: str, tmp_path: Path) -> None:
    texts = {"title": '"Porch"', "name": '"cider"', key: f'"{"x" * 5000}"'}
    out, done = built(tmp_path / "a", FILE.format(**texts))
    assert done.exit_code == 2
    assert "200 characters" in done.output
    assert len(done.output) < 1000
    assert not out.exists()
    assert paths(tmp_path) == {"a", "a/design.toml"}
