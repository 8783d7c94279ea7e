"""``buy``: the list as text, data and CSV, with prices from beside the build file."""

import csv
import io
import json
from pathlib import Path

import pytest
from collarwright.geometry.shape.layout import lay_out
from collarwright.outputs.buy import shopping
from collarwright.outputs.cli import app
from collarwright.outputs.lists.materials import HEADER, materials_lists
from collarwright.params.reading import read
from typer.testing import CliRunner, Result

COFFEE = Path(__file__).parents[2] / "examples" / "cold-coffee.toml"


def run(*words: str | Path) -> Result:
    return CliRunner().invoke(app, ["buy", *(str(word) for word in words)])


def coffee(folder: Path, prices: str | None = None) -> Path:
    path = folder / "coffee.toml"
    path.write_text(COFFEE.read_text())
    if prices is not None:
        (folder / "prices.csv").write_text(prices)
    return path


def data(*words: str | Path) -> dict:
    done = run(*words, "--json")
    assert done.exit_code == 0, done.stderr
    return json.loads(done.stdout)


# What the cold coffee's list comes to, by hand. Two sticks of 6 ft at 11.50 are in the build file.
PRICES = """id,price,per,note
tailpiece,4.50,,each
wood-screw-no-8-5-8-in,6,100,a box for 18
pva-waterproof,8,4 fl oz,4 fl oz is more than enough
vinyl-3-16-in,0.90,1 ft,17.7 ft are 18
adhesive-foam-safe,5.25,,two cartridges
sandpaper-220,7.10,2,three sheets are two packs
foil-tape,,10 ft,nobody knows yet
"""
BY_HAND = {
    "board-1x6-72-in": 2 * 11.50,
    "tailpiece": 3 * 4.50,
    "wood-screw-no-8-5-8-in": 6,
    "pva-waterproof": 8,
    "vinyl-3-16-in": 18 * 0.90,
    "adhesive-foam-safe": 2 * 5.25,
    "sandpaper-220": 2 * 7.10,
}


def test_a_total_by_hand_and_what_it_leaves_out(tmp_path: Path) -> None:
    found = data(coffee(tmp_path, PRICES))
    totals = {each["id"]: each["total"] for each in found["items"] if each["total"] is not None}
    assert totals == pytest.approx(BY_HAND)
    # 23 + 13.50 + 6 + 8 + 16.20 + 10.50 + 14.20
    assert found["total"] == pytest.approx(91.40)
    without = {each["id"] for each in found["items"]} - set(BY_HAND)
    assert set(found["left_out"]) == without
    assert "foil-tape" in without
    text = run(tmp_path / "coffee.toml").stdout
    assert "Total of what has a price: 91.40, in the currency of your prices." in text
    kit = {each["id"] for each in found["items"] if each["group"] in ("tools", "protection")}
    said = f"no price: {len(without - kit)} things to buy and {len(kit)} tools and things that"
    assert said in text.replace("\n  ", " ")


def test_the_text_fits_80_columns_and_has_each_thing_once() -> None:
    found, text = data(COFFEE), run(COFFEE).stdout
    assert all(len(line) <= 80 for line in text.splitlines())
    for each in found["items"]:
        assert text.count(f"[{each['id']}]") == 1


def test_few_things_without_a_price_are_named(tmp_path: Path) -> None:
    ids = [each["id"] for each in data(coffee(tmp_path))["items"]]
    cheap = [each for each in ids if each not in ("tailpiece", "board-1x6-72-in", "goggles")]
    template = run(tmp_path / "coffee.toml", "--prices").stdout
    rows = list(csv.reader(io.StringIO(template)))
    filled = [[row[0], "1" if row[0] in cheap else "", *row[2:]] for row in rows[1:]]
    out = io.StringIO()
    csv.writer(out).writerows([rows[0], *filled])
    text = run(coffee(tmp_path, out.getvalue())).stdout.replace("\n  ", " ")
    assert "no price: 1 things to buy" not in text
    assert "no price: 1 thing to buy and 1 tool or thing that protects." in text
    assert "Without a price: tailpiece, goggles." in text


def test_a_template_of_prices_is_read_and_changes_nothing(tmp_path: Path) -> None:
    before = run(coffee(tmp_path)).stdout
    (tmp_path / "prices.csv").write_text(run(tmp_path / "coffee.toml", "--prices").stdout)
    assert run(tmp_path / "coffee.toml").stdout == before


def test_a_list_of_prices_is_begun_as_the_book_says_it(tmp_path: Path) -> None:
    """The shell empties prices.csv before the command runs, and a wrong one is not read."""
    path = coffee(tmp_path)
    wanted = run(path, "--prices").stdout
    for there in ("", " \n\n", "not a list\n"):
        (tmp_path / "prices.csv").write_text(there)
        assert run(path, "--prices").stdout == wanted
    (tmp_path / "prices.csv").write_text("")
    assert data(path)["total"] == 23  # the boards' prices are in the build file


def test_a_price_of_no_thing_is_told_with_what_was_meant(tmp_path: Path) -> None:
    path = coffee(tmp_path, "id,price\ntail-piece,4\nunicorn,1\nboard-1x6-72-in,1\n")
    found = data(path)
    assert found["prices_not_used"] == ["tail-piece", "unicorn"]
    assert found["prices_of_the_build_file"] == ["board-1x6-72-in"]
    assert found["total"] == 23
    text = run(path).stdout.replace("\n  ", " ")
    assert "tail-piece is not on this list, so its price is not used; did you mean tailp" in text
    assert "unicorn is not on this list, so its price is not used.\n" in text.partition("Wood\n")[0]
    assert "board-1x6-72-in has a price in the build file already, which counts." in text


@pytest.mark.parametrize(
    ("prices", "said"),
    [
        ("id,price\ntailpiece,$3\n", 'prices.csv:2: price: read "$3"'),
        ("id,price,per\ntailpiece,3,10 ft\n", "tailpiece: per: read"),
        ("id,price\nvinyl-3-16-in,3\n", "a length with its unit"),
        ("id,price,per\nvinyl-3-16-in,3,10\n", "a length with its unit"),
        ("id,price,per\nspar-varnish,3,1 ft\n", "an amount with its unit"),
        ("id,price,per\nspar-varnish,24,90\n", "Prices have a decimal point: 24.90; an amount"),
    ],
)  # fmt: skip
def test_prices_that_cannot_be_used_end_with_2(tmp_path: Path, prices: str, said: str) -> None:
    done = run(coffee(tmp_path, prices))
    assert done.exit_code == 2
    assert done.stdout == ""
    assert said in done.stderr.replace("\n    ", " ")
    assert "\x1b" not in done.stderr


def test_a_build_is_refused_for_its_prices_too(tmp_path: Path) -> None:
    path = tmp_path / "small.toml"
    path.write_text(
        '[lip]\nfront = "940 mm"\nright = "530 mm"\nback = "940 mm"\nleft = "530 mm"\n'
        '[board]\nthickness = "20 mm"\nwidth = "140 mm"\n[taps]\ncount = 1\nbore = "25 mm"\n'
    )
    (tmp_path / "prices.csv").write_text("id,price\ntailpiece,$3\n")
    words = ["build", str(path), "--only", "lists", "--out", str(tmp_path / "out")]
    done = CliRunner().invoke(app, words)
    assert done.exit_code == 2
    assert 'prices.csv:2: price: read "$3"' in done.stderr.replace("\n    ", " ")
    assert not (tmp_path / "out").exists()


def test_a_decimal_comma_is_doubted(tmp_path: Path) -> None:
    """39,90 for one of three handles is read as 39 for 90. 6,18 may be a bag of just the 18 screws
    or 18 of 6.18 each: who knows writes 6.00."""
    path = coffee(
        tmp_path, "id,price,per\nhandle-short-knob,39,90\nwood-screw-no-8-5-8-in,6,18\n"
        "tailpiece,4,10\nfaucet-stout-nitrogen,45.00,50\n",
    )  # fmt: skip
    text = " ".join(run(path).stdout.split())
    assert "handle-short-knob is read as 39 for 90: was a decimal comma meant?" in text
    assert "decimal point: 39.90. If it is not so, write 39.00." in text
    assert "wood-screw-no-8-5-8-in is read as 6 for 18: was a decimal comma" in text
    assert text.count("decimal comma") == 3  # three tailpieces, and ten for 4
    assert "(39.00 for 90) [handle-short-knob]" in text
    project, source = read(path)
    bought = materials_lists(shopping(project, source, lay_out(project)))[0]
    rows = {row[-1]: row for row in bought.rows}
    assert rows["handle-short-knob"][0].endswith(" (39.00 for 90)")
    assert rows["handle-short-knob"][bought.header.index("Comes to")] == "39.00"
    per = {each["id"]: each["per"] for each in data(path)["items"]}
    assert (per["handle-short-knob"], per["tailpiece"], per["foil-tape"]) == ("90", "10", None)


def test_all_wrong_prices_are_told_at_once_and_as_data(tmp_path: Path) -> None:
    path = coffee(tmp_path, "id,price,per\ntailpiece,x,0\nspar-varnish,y,\n")
    done = run(path, "--json")
    assert done.exit_code == 2
    assert [each["line"] for each in json.loads(done.stdout)["problems"]] == [2, 2, 3]


@pytest.mark.parametrize("sign", ["=", "\uff1d"])  # the wide one of East Asian type, too
def test_the_csv_has_every_thing_with_its_source_and_no_formula(tmp_path: Path, sign: str) -> None:
    path = coffee(tmp_path)
    kind = 'kind = "xps-type-iv-1-in"'
    path.write_text(path.read_text().replace(kind, f'{kind}\nface = "{sign}cmd|x"'))
    done = run(path, "--csv")
    rows = list(csv.DictReader(io.StringIO(done.stdout)))
    assert [row["id"] for row in rows] == [each["id"] for each in data(path)["items"]]
    assert all(row["source"] and row["why"] for row in rows)
    assert any(f"{sign}cmd|x" in row["name"] for row in rows)
    rows += csv.DictReader(io.StringIO(run(path, "--prices").stdout))
    cells = [cell for row in rows for cell in row.values()]
    assert not [cell for cell in cells if cell.startswith(("=", "+", "-", "@", sign))]
    assert [cell for cell in cells if cell.startswith("'")] == [f"'{sign}cmd|x, over the foam"] * 2


def test_one_kind_of_output_at_a_time() -> None:
    done = run(COFFEE, "--csv", "--prices")
    assert done.exit_code == 2
    assert "one of --json, --csv and --prices" in done.stderr


def test_boards_without_a_plan_are_told_by_running_length(tmp_path: Path) -> None:
    path = coffee(tmp_path)
    path.write_text(path.read_text().replace('length = "6 ft"', 'length = "2 ft"')
                    .replace('length = "8 ft"', 'length = "1 ft"'))  # fmt: skip
    found = data(path)
    assert "boards" in {each["id"] for each in found["items"]}
    assert "a stick of at least" in found["no_cut_plan"]
    assert "for want of a cut plan" in run(path).stdout.replace("\n  ", " ")


def test_a_must_that_fails_is_said_before_anything_is_bought() -> None:
    tight = COFFEE.with_name("kombucha-too-tight.toml")
    text = run(tight).stdout.replace("\n  ", " ")
    assert "a must fails" in text.partition("Wood\n")[0]
    assert data(tight)["must_fails"] is True
    assert data(COFFEE)["must_fails"] is False


def test_the_lists_have_each_thing_once_and_tools_apart() -> None:
    project, source = read(COFFEE)
    found = shopping(project, source, lay_out(project))
    bought, tools = materials_lists(found)
    assert (bought.name, tools.name) == ("materials", "tools")
    assert bought.header == tools.header == HEADER
    assert all(len(row) == len(HEADER) for row in (*bought.rows, *tools.rows))
    ids = [row[-1] for row in (*bought.rows, *tools.rows)]
    assert ids == [each.item.id for each in found.bill.costs]
    assert {"tape-measure", "goggles"} <= {row[-1] for row in tools.rows}
    rows = {row[-1]: row[1:-1] for row in bought.rows}
    assert rows["board-1x6-72-in"] == ("2", "", "2", "23.00", "computed", "2", "piece")
    # 8371.1 mm, and 15 % more
    assert rows["foil-tape"] == ("27.5 ft", "15 %", "31.6 ft", "", "common practice", "31.6", "ft")
    assert rows["adhesive-foam-safe"][2] == "2 cartridges"
    assert any("leaves out" in each for each in bought.notes)


def test_what_can_hurt_is_said_where_it_is_bought(tmp_path: Path) -> None:
    whole = " ".join(run(COFFEE).stdout.split())
    project, source = read(COFFEE)
    notes = " ".join(materials_lists(shopping(project, source, lay_out(project)))[0].notes)
    for said in ("never an adapter", "solvents melt polystyrene", "think of an alarm",
                 "bear the current", "Local codes and licensed trades come first"):  # fmt: skip
        assert said in whole
        assert said in notes
    path = coffee(tmp_path)
    path.write_text(path.read_text().replace('[foam]\nkind = "xps-type-iv-1-in"\n', ""))
    path.write_text(path.read_text() + "".join(
        f'\n[[pour]]\ntap = {tap}\ncarbonation = "{vol} vol"\n' for tap, vol in ((1, 2.6), (2, 3.5))
    ))  # fmt: skip
    text = " ".join(run(path).stdout.split())
    assert "polystyrene" not in text
    assert "drinks of one gas here want several." in text
    assert "drinks of one gas here want several." not in whole
