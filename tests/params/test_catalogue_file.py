"""A catalogue file that somebody laid beside the build file: what it may say, and what not."""

from pathlib import Path

import pytest
from collarwright.params.catalogue import Figure, Row, load
from collarwright.params.problem import BuildFileError, Problem
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st


def beside(folder: Path, name: str, text: str | bytes) -> dict[str, Row]:
    raw = text if isinstance(text, bytes) else text.encode()
    (folder / f"{name}.csv").write_bytes(raw)
    return load(name, folder)


def refused(folder: Path, name: str, text: str | bytes) -> tuple[Problem, ...]:
    with pytest.raises(BuildFileError) as caught:
        beside(folder, name, text)
    problems = caught.value.problems
    assert all(problem.file == str(folder / f"{name}.csv") for problem in problems)
    assert all(problem.read and problem.wanted for problem in problems)
    return problems


def test_without_a_file_beside_it_the_builtin_rows_stand(tmp_path: Path) -> None:
    assert load("handles", tmp_path) == load("handles")


def test_a_new_row_may_leave_out_what_a_person_does_not_know(tmp_path: Path) -> None:
    rows = beside(
        tmp_path, "seals", "id,width_mm,free_height_mm,working_compression_pct\nfoam-cord,8,8,30\n"
    )
    row = rows["foam-cord"]
    assert row.figures["width"] == Figure(8.0, 8.0, 8.0, "mm", "measured", "seals.csv, line 2")
    assert (row.name, row.origin) == ("foam-cord", "seals.csv, line 2")
    assert list(rows)[: len(load("seals"))] == list(load("seals"))
    assert "foam-cord" not in load("seals")


def test_each_row_of_a_persons_file_is_a_source_of_its_own(tmp_path: Path) -> None:
    rows = beside(tmp_path, "seals", "id,width_mm\nfelt,8\nepdm-bulb,8\n")
    sources = [rows[row_id].figures["width"].source for row_id in ("felt", "epdm-bulb")]
    assert sources == ["seals.csv, line 2", "seals.csv, line 3"]


def test_a_replaced_row_keeps_what_the_file_does_not_name(tmp_path: Path) -> None:
    text = "id,name,thread_length_mm,nut_thickness_mm,note\nshank-4-1-8-in,my shank,97.5,,\n"
    row = beside(tmp_path, "shanks", text)["shank-4-1-8-in"]
    old = load("shanks")["shank-4-1-8-in"]
    assert row.name == "my shank"
    expected = Figure(97.5, 97.5, 97.5, "mm", "measured", "shanks.csv, line 2")
    assert row.figures["thread_length"] == expected
    assert {k: v for k, v in row.figures.items() if k != "thread_length"} == {
        k: v for k, v in old.figures.items() if k != "thread_length"
    }
    assert row.text("note") == old.text("note")
    assert load("shanks")["shank-4-1-8-in"].value("thread_length") == old.value("thread_length")


def test_range_basis_and_source_are_kept_where_they_are_given(tmp_path: Path) -> None:
    head = "id,length_mm,length_low,length_high,length_basis,length_source\n"
    text = head + 'handle-short-knob,80,78,81,published,"a drawing, sheet 2"\n'
    row = beside(tmp_path, "handles", text)["handle-short-knob"]
    expected = Figure(80.0, 78.0, 81.0, "mm", "published", "a drawing, sheet 2")
    assert row.figures["length"] == expected


def test_marks_and_line_ends_of_other_programs_are_fine(tmp_path: Path) -> None:
    text = (
        b"\xef\xbb\xbfid,length_mm,note,,\r\n"
        b'handle-short-knob, 80 ,"two\r\nlines",,\r\n\r\n,,,,\r\n'
    )
    row = beside(tmp_path, "handles", text)["handle-short-knob"]
    assert row.value("length") == 80.0
    assert row.text("note") == "two lines"


NEW_SEAL = "id,width_mm,free_height_mm,working_compression_pct"


@pytest.mark.parametrize(
    ("name", "text", "line", "key", "read", "wanted"),
    [
        ("seals", "", None, "", "empty", "column names"),
        ("seals", "\n,,\n", None, "", "empty", "column names"),
        ("seals", "width_mm\n8\n", 1, "id", "no such column", "ids"),
        ("seals", "id;width_mm\nx;8\n", 1, "", "id;width_mm", "separated by commas"),
        ("seals", "id,wdith_mm\nfelt,8\n", 1, "wdith_mm", "unknown column", "nearest is width_mm"),
        ("seals", "id,width\nfelt,8\n", 1, "width", "unknown column", "nearest is width_mm"),
        ("seals", "id,width_in\nfelt,8\n", 1, "width_in", "unknown column", "nearest is width_"),
        ("seals", "id,zzz\nfelt,8\n", 1, "zzz", "unknown column", "free_height_mm"),
        ("seals", "id,width_mm,width_mm\nfelt,8,8\n", 1, "width_mm", "twice", "once"),
        ("seals", "id" + ",a" * 90, 1, "", "91 columns", "at most 18"),
        ("seals", "id,width_mm\nfelt,8,9\n", 2, "", "3 cells", "2 cells"),
        ("seals", "id,width_mm\n\nfelt\n", 3, "", "1 cells", "2 cells"),
        ("seals", 'id,note\nfelt,"open\n\n', 2, "", "unexpected end", "quotes in pairs"),
        ("seals", "id,width_mm\n,8\n", 2, "id", "nothing", "small letters"),
        ("seals", "id,width_mm\nMy_Seal,8\n", 2, "id", '"My_Seal"', "small letters"),
        ("seals", "id,width_mm\nmy_seal,8\n", 2, "id", '"my_seal"', "small letters"),
        ("seals", "id,width_mm\n8mm,8\n", 2, "id", '"8mm"', "a letter first"),
        ("seals", 'id,note,width_mm\nfelt,"a\nb",x\n', 2, "width_mm", '"x"', "a number in mm"),
        ("seals", 'id,note,width_mm\nfelt,"a\nb",8\nfelt,,8\n', 4, "id", '"felt"', "line 2"),
        ("seals", f"{NEW_SEAL[:-1]}\ncord,8,8,30\n", 1, "working_compression_pc", "unkn", "_pct"),
        ("brackets", "id,leg_mm\nnone,30\n", 2, "id", '"none"', "an id"),
        ("seals", "id,width_mm\nfelt,8\nfelt,9\n", 3, "id", '"felt"', "line 2 has it"),
        ("seals", "id,width_mm\nfelt,8 mm\n", 2, "width_mm", '"8 mm"', "without a unit"),
        ("seals", 'id,width_mm\nfelt,"8,5"\n', 2, "width_mm", '"8,5"', "decimal point"),
        ("seals", "id,width_mm\nfelt,nan\n", 2, "width_mm", '"nan"', "a number in mm"),
        ("seals", "id,width_mm\nfelt,inf\n", 2, "width_mm", '"inf"', "a number in mm"),
        ("seals", "id,width_mm\nfelt,1e999\n", 2, "width_mm", "1e999", "a number in mm"),
        ("seals", "id,width_mm\nfelt,1_2\n", 2, "width_mm", '"1_2"', "a number in mm"),
        ("seals", "id,width_mm\nfelt,-8\n", 2, "width_mm", "-8", "of 3 to 100"),
        ("seals", "id,width_mm\nfelt,0\n", 2, "width_mm", "0", "of 3 to 100"),
        ("seals", "id,width_mm\nfelt,190\n", 2, "width_mm", "190", "of 3 to 100"),
        ("seals", "id,width_mm,width_low\nfelt,8,x\n", 2, "width_low", '"x"', "a number in mm"),
        ("seals", "id,width_mm,width_high\nfelt,8,800\n", 2, "width_high", "800", "of 3 to 100"),
        ("seals", "id,width_mm,width_low\nfelt,8,9\n", 2, "width_low", "9", "at most the value, 8"),
        (
            "seals",
            "id,width_mm,width_low,width_high\nfelt,8,9,10\n",
            2,
            "width_low",
            "9",
            "at most the value, 8",
        ),
        (
            "seals",
            "id,width_mm,width_low,width_high\nfelt,8,6,7\n",
            2,
            "width_high",
            "7",
            "at least the value, 8",
        ),
        (
            "seals",
            "id,width_mm,width_high\nfelt,8,7\n",
            2,
            "width_high",
            "7",
            "at least the value, 8",
        ),
        ("seals", "id,width_low\nfelt,8\n", 2, "width_mm", "nothing", "where its low"),
        ("seals", "id,width_mm,width_basis\nfelt,8,guess\n", 2, "width_basis", "guess", "measured"),
        (
            "seals",
            f"{NEW_SEAL}\ncord,8,,30\n",
            2,
            "free_height_mm",
            "nothing",
            "a new row needs it",
        ),
        (
            "manifolds",
            "id,outlets_count\nmanifold-4-outlet,4.5\n",
            2,
            "outlets_count",
            "4.5",
            "whole",
        ),
        ("species", "id,kind\nred-oak,hard\n", 2, "kind", '"hard"', "one of softwood, hardwood"),
    ],
)
def test_one_mistake_is_one_problem_with_its_place(
    tmp_path: Path, name: str, text: str, line: int | None, key: str, read: str, wanted: str
) -> None:
    (problem,) = refused(tmp_path, name, text)
    assert (problem.line, problem.key) == (line, key)
    assert read in problem.read
    assert wanted in problem.wanted


def test_all_mistakes_of_a_file_come_in_one_go(tmp_path: Path) -> None:
    text = "id,width_mm,colour\nfelt,8 mm,red\nbutyl-tape,900,red\nBAD,8,red\nfelt,9\n"
    found = [(problem.line, problem.key) for problem in refused(tmp_path, "seals", text)]
    assert found == [(1, "colour"), (2, "width_mm"), (3, "width_mm"), (4, "id"), (5, "")]


def test_a_new_row_names_each_figure_and_text_that_it_lacks(tmp_path: Path) -> None:
    problems = refused(tmp_path, "species", "id,density_kg_m3\nlarch,650\n")
    lacking = ["specific_gravity_ratio", "movement_tangential_per_pct", "movement_radial_per_pct"]
    assert [problem.key for problem in problems] == [*lacking, "conductivity_w_mk", "kind"]
    assert problems[-2].example == "0.104 in the column conductivity_w_mk"


@pytest.mark.parametrize(
    ("raw", "line", "read", "wanted"),
    [
        ("id,note\nfelt,caf\xe9\n".encode("latin-1"), 2, "byte 0xe9", "UTF-8"),
        ("id,note\nfelt,8\n".encode("utf-16"), 1, "byte 0xff", "UTF-8"),
        (b"id,note\nfelt,a\x00b\n", 2, "character U+0000", "plain text"),
        (b"id,note\nfelt,\x1b[31mred\n", 2, "character U+001B", "plain text"),
        ("id,note\nfelt,a\u202eb\n".encode(), 2, "character U+202E", "plain text"),
        ("id,note\nfelt,a\u2028b\n".encode(), 2, "character U+2028", "plain text"),
        (b"id,note\n" + b"x" * (1 << 20), None, "more than 1 MiB", "at most 1 MiB"),
        (b"id,note\nfelt," + b"x" * 200_000 + b"\n", 2, "field larger", "commas"),
    ],
)
def test_what_is_no_table_of_text_is_refused(
    tmp_path: Path, raw: bytes, line: int | None, read: str, wanted: str
) -> None:
    (problem,) = refused(tmp_path, "seals", raw)
    assert problem.line == line
    assert read in problem.read
    assert wanted in problem.wanted


def test_a_folder_or_a_dead_link_in_the_files_place_is_refused(tmp_path: Path) -> None:
    (tmp_path / "seals.csv").mkdir()
    (tmp_path / "screws.csv").symlink_to(tmp_path / "nowhere")
    for name in ("seals", "screws"):
        with pytest.raises(BuildFileError, match=f"{name}.csv: read something that is not a file"):
            load(name, tmp_path)


def test_a_sign_that_cannot_be_seen_is_written_out_in_the_message(tmp_path: Path) -> None:
    heading, cell = refused(tmp_path, "seals", "id,wid\u200fth_mm\nfe\ufefflt,8\n")
    assert heading.key == "wid<U+200F>th_mm"
    assert cell.read == '"fe<U+FEFF>lt"'


def test_a_long_cell_is_cut_in_the_message(tmp_path: Path) -> None:
    (problem,) = refused(tmp_path, "seals", f"id,width_mm\nfelt,{'9' * 500}x\n")
    assert len(problem.read) == 60


@settings(
    max_examples=150, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
@given(body=st.text(alphabet='abfelt-,;"\n\r 0159.eE-\x00\u00e9\U0001f600', max_size=80))
def test_no_text_brings_anything_but_rows_or_problems(tmp_path: Path, body: str) -> None:
    rows: dict[str, Row] = {}
    problems: tuple[Problem, ...] = ()
    try:
        rows = beside(tmp_path, "seals", "id,width_mm,width_low,note\n" + body)
    except BuildFileError as error:
        problems = error.problems
    assert bool(problems) != (set(load("seals")) <= set(rows))
