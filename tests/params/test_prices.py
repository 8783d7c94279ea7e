"""``prices.csv``: what is read of it, and what is refused with its line."""

import os
from pathlib import Path

import pytest
from collarwright.params.prices import MOST, Price, read_prices
from collarwright.params.problem import BuildFileError


def prices(folder: Path, text: str) -> dict[str, Price]:
    (folder / "prices.csv").write_text(text)
    return read_prices(folder)


def test_without_a_file_there_are_no_prices(tmp_path: Path) -> None:
    assert read_prices(tmp_path) == {}


@pytest.mark.published("NIST SP 811 (2008), appendix B.8: US pint and gallon, foot, square foot")
@pytest.mark.parametrize(
    ("per", "kind", "amount"),
    [
        ("", "", 1),
        ("100", "count", 100),
        ("473 mL", "volume", 473),
        ("1.5 L", "volume", 1500),
        ("1 pt", "volume", 473.1765),
        ("1 gal", "volume", 3785.412),
        ("8 fl oz", "volume", 236.588),
        ("10 ft", "length", 3048),
        ("2 m", "length", 2000),
        ("10 yd", "length", 9144),
        ("1 ft2", "area", 0.09290304),
    ],
)
def test_what_a_price_buys(tmp_path: Path, per: str, kind: str, amount: float) -> None:
    found = prices(tmp_path, f"id,price,per\nany-thing,2.50,{per}\n")["any-thing"]
    assert (found.price, found.kind) == (2.5, kind)
    assert found.per == pytest.approx(amount, rel=1e-5)


def test_a_blank_file_is_none_and_a_heading_may_have_capitals(tmp_path: Path) -> None:
    assert prices(tmp_path, "") == prices(tmp_path, " \r\n\n") == {}
    assert prices(tmp_path, "ID,Price\nnut,3\n")["nut"].price == 3


def test_blank_prices_commas_of_spreadsheets_and_other_orders(tmp_path: Path) -> None:
    found = prices(tmp_path, "\ufeffnote,price,id,,\r\n,,washer,,\r\n,,,,\r\nx, 3 ,nut\r\n")
    assert {name: each.price for name, each in found.items()} == {"washer": None, "nut": 3}
    assert found["nut"].line == 4


@pytest.mark.parametrize(
    ("wrong", "said"),
    [
        ("\n,,\n", "an empty file"),
        ("id;price\ntailpiece;3\n", "prices.csv:1: read columns split by semicolons"),
        ("id,price,price\n", "the columns id and price"),
        ("id,cost\n", "the columns id and price"),
        ("id,price\ntailpiece,$3\n", 'prices.csv:2: price: read "$3"'),
        ("id,price\ntailpiece,-3\n", "without a currency"),
        ("id,price\ntailpiece,nan\n", "without a currency"),
        ("id,price\ntailpiece,1e5\n", "without a currency"),
        ('id,price\ntailpiece,"3,50"\n', "with a decimal point"),
        ("id,price\ntailpiece,2000000\n", "from 0 to 1e+06"),
        ("id,price\ntailpiece,3\ntailpiece,4\n", "line 2 has it already"),
        ("id,price\n=cmd(),3\n", 'id: read "=cmd()"'),
        ("id,price\n,3\n", "id: read nothing"),
        ("id,price\ntailpiece,3,4,5\n", "4 cells"),
        ("id,price,per\ntailpiece,3,0\n", 'per: read "0"'),
        ("id,price,per\ntailpiece,3,many\n", 'per: read "many"'),
        ("id,price,per\ntailpiece,3,-5 ft\n", 'per: read "-5 ft"'),
        ('id,price\n"tailpiece,3\n', "quotes in pairs"),
        ("id,price\ntail\x1bpiece,3\n", "control character"),
        ("id,price\nhandle,39,90\n", "as many as there are columns; was a decimal"),
        ("id,price,per,note\nhandle,39,90,,short\n", "a decimal comma meant? Prices have a"),
        ("id,price,per\nhandle,39,00\n", "decimal point: 39.00"),
        ("id,price,per\nhandle,12,05\n", "decimal point: 12.05"),
        ("id,price\n" + "".join(f"a{n},1\n" for n in range(MOST + 1)), "at most 1000"),
    ],
)  # fmt: skip
def test_a_file_that_cannot_be_used(tmp_path: Path, wrong: str, said: str) -> None:
    with pytest.raises(BuildFileError) as refused:
        prices(tmp_path, wrong)
    assert said in str(refused.value)
    assert "\x1b" not in str(refused.value)


@pytest.mark.parametrize(
    "text",
    [
        "id;price;per;note\nnut;3,50;;\nbolt;2,10;1 ft;\n",  # a whole file, decimal commas
        "id,price,per,note\n\nnut;3;1 ft\nbolt;2;\n",  # its heading was kept
        "note,price,id\na box; of ten,4,washer\na,3;nut;x,nut;3\n",
    ],
)
def test_semicolons_are_told_once_in_one_sentence(tmp_path: Path, text: str) -> None:
    with pytest.raises(BuildFileError) as refused:
        prices(tmp_path, text)
    (problem,) = refused.value.problems
    assert problem.read == "columns split by semicolons"
    assert "decimal point" in problem.wanted and "CSV with commas" in problem.wanted


def test_what_a_decimal_comma_may_have_parted(tmp_path: Path) -> None:
    """39,90 is 39 for 90 pieces to a list with commas. Spreadsheets drop the 0 of 12,50, and
    1,234 is what many write for 1234. 39.00, 3900 and columns apart are no such."""
    rows = {
        "39,90": "39.90", "12,5": "12.5", "1,234": "1.234, or 1234 without a comma",
        "39.00,90": "", "39,9000": "", "39,90 ft": "", "39,": "", ",90": "",
    }  # fmt: skip
    for row, meant in rows.items():
        for columns in ("price,per", "price,note", "price,note,per"):
            found = prices(tmp_path, f"id,{columns}\nhandle,{row}\n")["handle"]
            assert found.parted == meant, (row, columns)
            assert bool(found.doubt) == bool(meant), (row, columns)
    assert not prices(tmp_path, "id,per,price\nhandle,90,39\n")["handle"].parted


def test_a_doubted_price_says_how_it_was_read_and_what_settles_it(tmp_path: Path) -> None:
    per, note = (
        prices(tmp_path, f"id,price,{column}\nhandle,39,90\n")["handle"].doubt
        for column in ("per", "note")
    )
    assert per.startswith("is read as 39 for 90: was a decimal comma meant?")
    assert note.startswith("is read as 39, and a number stands behind it: was a decimal comma")
    assert per.endswith(": 39.90. If it is not so, write 39.00.")
    assert not prices(tmp_path, "id,price,per\nhandle,39.00,90\n")["handle"].doubt


def test_nothing_costs_0_for_twelve(tmp_path: Path) -> None:
    """0,12 would leave screws out of the total, 18 of them at 12 cents."""
    for cells in ("0,12", "0,5", "00,99"):
        with pytest.raises(BuildFileError, match=r"per: read .*, or 0\.00 for what costs nothing"):
            prices(tmp_path, f"id,price,per\nscrew,{cells}\n")
    free = prices(tmp_path, "id,price,per,note\nscrew,0.00,12,\nnut,0,,\nbolt,0,1 ft,given\n")
    assert [each.price for each in free.values()] == [0, 0, 0]


def test_a_pipe_named_prices_is_refused(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "prices.csv")
    with pytest.raises(BuildFileError, match="a CSV file"):
        read_prices(tmp_path)
