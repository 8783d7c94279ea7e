"""From bytes to values and lines: what is put right on the way, and what cannot be."""

import tomllib
from pathlib import Path

import pytest
from collarwright.params.reading.document import MAX_BYTES, Document, open_document
from collarwright.params.reading.lines import places
from collarwright.params.reading.paths import parent, path_text, shown, visible


def opened(folder: Path, text: str | bytes) -> Document:
    path = folder / "x.toml"
    path.write_bytes(text if isinstance(text, bytes) else text.encode())
    return open_document(path)


# --- lines --------------------------------------------------------------------------------

TEXT = b'''\
title = "x"  # 1
show = "in"

[lip]
front = ["37 in",  # 5
  # a note

  "38 in"]
"odd.key" = 3
note = """
[not a table]
front = 3
"""

[board]  # 15
overhang = { front = "1 in", left = "2 in" }
a.b."c d" = 1
[[taps]]
count = 3
[[taps]]  # 20

height = "4 in"
[stock]
[[stock.length]]
length = "6 ft"
[[stock.length]]
length = "8 ft"
[foam.sheet]
length = "8 ft"
[built]  # 30
bore = [{ tap = 1 },
        { tap = 2 }]
'''


@pytest.mark.parametrize(
    ("key", "line"),
    [
        ("title", 1),
        ("lip", 4),
        ("lip.front", 5),
        ("lip.front[1]", 5),
        ("lip.front[2]", 8),
        ('lip."odd.key"', 9),
        ("lip.note", 10),
        ("board", 15),
        ("board.overhang", 16),
        ("board.overhang.left", 16),
        ('board.a.b."c d"', 17),
        ("board.a", 17),
        ("taps", 18),
        ("taps[1]", 18),
        ("taps[1].count", 19),
        ("taps[2]", 20),
        ("taps[2].height", 22),
        ("stock.length[1].length", 25),
        ("stock.length[2]", 26),
        ("stock.length[2].length", 27),
        ("foam.sheet.length", 29),
        ("built.bore[1].tap", 31),
        ("built.bore[2].tap", 32),
    ],
)
def test_each_key_has_its_line(key: str, line: int) -> None:
    assert tomllib.loads(TEXT.decode())
    assert places(TEXT).lines[key] == line


def test_no_line_is_made_up_and_nothing_is_found_twice() -> None:
    found = places(TEXT)
    assert found.twice == []
    assert "taps.count" not in found.lines  # there are two rows
    assert "not a table" not in found.lines
    assert "lip.front[3]" not in found.lines


def test_a_single_row_of_taps_goes_by_both_names() -> None:
    found = places(b"[[taps]]\ncount = 1\n[[hole]]\nside = 'front'\n").lines
    assert (found["taps.count"], found["taps[1].count"]) == (2, 2)
    assert "hole.side" not in found


def test_keys_in_quotes_are_the_keys_that_they_are() -> None:
    found = places(b'\'lip\'."front" = 1\n"\\u0061b" = 2\n"\\U00000063" = 3\n').lines
    assert (found["lip.front"], found["ab"]) == (1, 2)


def test_a_table_of_a_row_stands_in_the_latest_row() -> None:
    found = places(b"[[a]]\n[[a]]\n[a.b]\nc = 1\n[[a.d]]\ne = 2\n").lines
    assert found["a[2].b.c"] == 4
    assert found["a[2].d[1].e"] == 6


def test_dots_and_brackets_without_end_are_no_trouble() -> None:
    places(b"a" + b".a" * 3000 + b" = 1\n[" + b"b." * 3000 + b"c]\nd = 2\n")
    places(b"x = " + b"[" * 100_000)
    places(b"x = 1\n" * 20_000)


def test_paths_are_written_as_a_person_would() -> None:
    assert path_text(("taps", 1, "names", 0)) == "taps[2].names[1]"
    assert path_text(("limits", "lid.skirt")) == 'limits."lid.skirt"'
    assert path_text(("a b",)) == '"a b"'
    up = ["built.bore[2].tap", "built.bore[2]", "built.bore", "built", ""]
    assert [parent(key) for key in up[:-1]] == up[1:]
    assert parent('limits."lid.skirt"') == "limits"
    assert parent('"a b"') == ""


@pytest.mark.parametrize(
    ("value", "text"),
    [
        ("37 in", '"37 in"'),
        ('37 5/8"', '"37 5/8\\""'),
        (True, "true"),
        (4.5, "4.5"),
        ({"a": 1}, "a table"),
        (["37 in", 4], '["37 in", 4]'),
        (("a", ("b",)), '["a", […]]'),
        ("a\x1b[31m\u202eb\n", '"a<U+001B>[31m<U+202E>b<U+000A>"'),
        (float("nan"), "nan"),
    ],
)
def test_values_are_shown_short_and_with_nothing_hidden(value: object, text: str) -> None:
    assert shown(value) == text


def test_long_values_are_cut() -> None:
    assert shown(10**5000) == "a number of thousands of digits"
    for value in ("x" * 5000, ["x" * 40] * 500, "\x00" * 500, list(range(10**5)), 10**200):
        assert len(shown(value)) == 60
    assert visible("déjà vu ½ ″") == "déjà vu ½ ″"


# --- slips --------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "values", "problems"),
    [
        ("a = 37 in", {"a": "37 in"}, [(1, "a", "37 in", 'a = "37 in"')]),
        ("a = 37in  # wide", {"a": "37in"}, [(1, "a", "37in", 'a = "37in"')]),
        ('[t]\na = 37 5/8"', {"t": {"a": '37 5/8"'}}, [(2, "t.a", '37 5/8"', "a = '37 5/8\"'")]),
        ("a = 3' 1\"", {"a": "3' 1\""}, [(1, "a", "3' 1\"", 'a = "3\' 1\\""')]),
        ("a = [3 in, 4 in]", {"a": ["3 in", "4 in"]}, [(1, "a", "[3 in", 'a = ["3 in", "4 in"]')]),
        (
            "a = { b = 3 in }",
            {"a": {"b": "3 in"}},
            [(1, "a", "{ b = 3 in }", 'a = { b = "3 in" }')],
        ),
        ('a = [\n "1 in",\n 2 in,\n]', {"a": ["1 in", "2 in"]}, [(3, "a[2]", "2 in", '"2 in"')]),
        ("a = True", {"a": True}, [(1, "a", "True", "a = true")]),
        ("a = No # x", {"a": False}, [(1, "a", "No", "a = false")]),
        ("a =\nb = 1", {"a": "", "b": 1}, [(1, "a", "nothing", "a = ")]),
        ('a = "37 in\nb = 1', {"a": "37 in", "b": 1}, [(1, "a", '"37 in', 'a = "37 in"')]),
        ('a = "3\' 1""', {"a": "3' 1\""}, [(1, "a", '"3\' 1""', 'a = "3\' 1\\""')]),
        ("a = 'it's'", {"a": "it's"}, [(1, "a", "'it's'", 'a = "it\'s"')]),
        ("a = “37 in”", {"a": "37 in"}, [(1, "a", "“37 in”", 'a = "37 in"')]),
        ('a = "C:\\x"', {"a": "C:\\x"}, [(1, "a", '"C:\\x"', "a = 'C:\\x'")]),
        ('a: "x"', {"a": "x"}, [(1, "a", 'a: "x"', 'a = "x"')]),
        ("a: 3 in", {"a": "3 in"}, [(1, "a", "a: 3 in", 'a = "3 in"')]),
        ("[lip\na = 1", {"lip": {"a": 1}}, [(1, "lip", "[lip", "[lip]")]),
        ("[[lip]\na = 1", {"lip": {"a": 1}}, [(1, "lip", "[[lip]", "[lip]")]),
        ("[[taps]\na = 1", {"taps": [{"a": 1}]}, [(1, "taps", "[[taps]", "[[taps]]")]),
        ("a = [1, 2", {"a": [1, 2]}, [(1, "a", "[1, 2", "a = [1, 2]")]),
        ("a = [1,\n 2\n\n[t]\n", {"a": [1, 2], "t": {}}, [(1, "a", "a = [1,", "")]),
        ('a = ["1" "2"]', {"a": ["1", "2"]}, [(1, "a", '["1" "2"]', 'a = ["1", "2"]')]),
        ("a = { b = 1, }", {"a": {"b": 1}}, [(1, "a", "{ b = 1, }", "a = { b = 1 }")]),
        (
            "a = {\n b = 1, # one\n c = 2,\n}\nd = 3",
            {"a": {"b": 1, "c": 2}, "d": 3},
            [(1, "a", "a = {", "a = { b = 1, c = 2 }")],
        ),
        ("a = 1\na = 2", {"a": 1}, [(2, "a", "given twice", "")]),
        ("a = { b = 1, b = 2 }", {"a": {"b": 1}}, [(1, "a.b", "given twice", "")]),
        ("[a]\nb = 1\n[c]\n[a]\nd = 1", {"a": {"b": 1}, "c": {}}, [(4, "a", "given twice", "")]),
        ("a.b = 1\n[a]\nc = 1", {"a": {"b": 1}}, [(2, "a", "given twice", "")]),
        ("a = 1\na.b = 2", {"a": 1}, [(2, "a", "given twice", "")]),
        ("[taps]\n[[taps]]", {"taps": {}}, [(2, "taps", "a second table", "")]),
        ("[hole]\n[hole]", {"hole": {}}, [(2, "hole", "a second table", "")]),
        ('a = "x\x07y"', {"a": "xy"}, [(1, "a", '"a = \\"x<U+0007>y\\""', "")]),
        (
            "a = 1 in\nb = 2 in\n[t\nc = 3 in",
            {"a": "1 in", "b": "2 in", "t": {"c": "3 in"}},
            [
                (1, "a", "1 in", 'a = "1 in"'),
                (2, "b", "2 in", 'b = "2 in"'),
                (3, "t", "[t", "[t]"),
                (4, "t.c", "3 in", 'c = "3 in"'),
            ],
        ),
    ],
)
def test_a_slip_is_told_and_what_was_meant_is_read(
    tmp_path: Path,
    text: str,
    values: dict[str, object],
    problems: list[tuple[int, str, str, str]],
) -> None:
    found = opened(tmp_path, text)
    assert found.values == values
    said = [(each.line, each.key) for each in found.problems]
    assert said == [(line, key) for line, key, _, _ in problems]
    for problem, (_, _, read, example) in zip(found.problems, problems, strict=True):
        assert problem.read.startswith(read)
        assert problem.example.startswith(example)
        assert problem.wanted
        assert problem.file == str(tmp_path / "x.toml")
        if example.startswith(("a =", "b =", "c =", "[")) and "…" not in problem.example:
            tomllib.loads(problem.example)


@pytest.mark.parametrize(
    ("text", "line", "key"),
    [
        ("hello", 1, ""),
        ("a = 1\n\nb c = 2", 3, ""),
        ("[t]\na = 1 b = 2", 2, "t.a"),
        ('[t]\na = "x" y', 2, "t.a"),
        ('{"a": 1}', 1, ""),
        ('a = """\nx', 2, ""),
        ("= 3", 1, ""),
        ("a = [[1 in], [2 in]]", 1, "a"),
    ],
)
def test_what_nobody_can_guess_is_told_with_its_line(
    tmp_path: Path, text: str, line: int, key: str
) -> None:
    found = opened(tmp_path, text)
    assert found.values is None
    (problem,) = found.problems
    assert (problem.line, problem.key) == (line, key)
    assert problem.read
    assert problem.wanted


def test_a_correct_file_is_left_alone(tmp_path: Path) -> None:
    found = opened(tmp_path, TEXT)
    assert found.values == tomllib.loads(TEXT.decode())
    assert (found.problems, dict(found.slips), found.doubtful) == ((), {}, frozenset())


def test_byte_order_mark_and_line_ends_change_nothing(tmp_path: Path) -> None:
    plain = opened(tmp_path, TEXT)
    for other in (
        b"\xef\xbb\xbf" + TEXT,
        TEXT.replace(b"\n", b"\r\n"),
        b"\xef\xbb\xbf" + TEXT.replace(b"\n", b"\r\n"),
        TEXT.replace(b"\n", b"\r"),
    ):
        found = opened(tmp_path, other)
        assert found.values == plain.values
        assert found.lines == plain.lines
        assert not found.problems


@pytest.mark.parametrize(
    ("raw", "line", "read", "wanted"),
    [
        (b"", None, "an empty file", "[lip], [board] and [taps]"),
        (b"\xef\xbb\xbf \n", None, "an empty file", "[lip], [board] and [taps]"),
        (b"# a\n\n # b", None, "comments alone", "[lip], [board] and [taps]"),
        (b"a = 1\nb = 'x\x00'\n", 2, "a zero byte (byte 13", "not a binary file"),
        (b"a = 1\nb = '\xe9'\n", 2, "byte 0xe9 (byte 12", "UTF-8"),
        (b"\xef\xbb\xbfa = 1\nb = '\xe9'\n", 2, "byte 0xe9 (byte 15", "UTF-8"),
        ("a = 1".encode("utf-16"), None, "UTF-16", "UTF-8"),
        (b"a = 1\n#" + b"x" * 9000, 2, "9001 characters", "at most 8000"),
        (b"a = 1\n" * (MAX_BYTES // 6 + 1), None, "more than 256 KiB", "a page or two of text"),
        (b"a = " + b"[" * 5000, 1, "hundreds deep", "plain list"),
        (b"a = 1\nb = " + b"9" * 5000, 2, "thousands of digits", "in quotes"),
    ],
)
def test_what_is_no_build_file_is_refused(
    tmp_path: Path, raw: bytes, line: int | None, read: str, wanted: str
) -> None:
    found = opened(tmp_path, raw)
    assert found.values is None
    (problem,) = found.problems
    assert problem.line == line
    assert read in problem.read
    assert wanted in problem.wanted
    assert problem.file == str(tmp_path / "x.toml")


def test_missing_files_folders_and_odd_names_are_refused(tmp_path: Path) -> None:
    (tmp_path / "dead.toml").symlink_to(tmp_path / "nowhere")
    cases = {
        tmp_path / "no.toml": "no such file",
        tmp_path / "dead.toml": "no such file",
        tmp_path: "a folder",
        Path("/dev/null"): "not a file",
        tmp_path / ("x" * 5000): "File name too long",
        tmp_path / "a\0b": "null",
    }
    for path, read in cases.items():
        (problem,) = open_document(path).problems
        assert read in problem.read
        if read == "no such file":
            assert str(problem) == f"{path}: there is no such file"
        assert problem.file == str(path)
        assert problem.line is None
