"""``prices.csv`` beside a build file: what a person pays for the things to buy.

A row is a thing's id, a price, and what one gets for it::

    id,price,per,note
    wood-screw-no-8-5-8-in,4.20,50,a box
    pva-waterproof,9.50,473 mL,
    vinyl-3-16-in,0.80,1 ft,

A price has a decimal point: a decimal comma parts it into two cells, 39 for 90 pieces. Currencies
are not told and not converted: all prices, those of ``[[stock.length]]`` too, are in one of the
builder's own.
"""

import csv
import io
import math
import re
from collections.abc import Mapping
from dataclasses import dataclass
from itertools import pairwise
from pathlib import Path
from typing import Literal

from .catalogue import read_text
from .problem import BuildFileError, Problem, visible
from .units import UnitError, parse

NAME = "prices.csv"

COLUMNS = ("id", "price", "per", "note")

MOST = 1000
"""Rows; a list of what to buy has about a tenth of that."""

DECIMAL_COMMA = "was a decimal comma meant? Prices have a decimal point"
"""What is said where a comma may have parted one price into two cells."""

COMMAS = (
    "columns split by commas, and prices with a decimal point: have the spreadsheet save it as CSV"
    " with commas, or replace the signs in a text editor"
)
"""What is wanted where columns are split by semicolons, as some spreadsheets do by themselves."""

DEAREST = 1e6
"""The highest price that is no slip."""

_NUMBER = re.compile(r"\d{1,9}(?:\.\d{0,6})?|\.\d{1,6}", re.ASCII)
_WHOLE, _BEHIND = re.compile(r"\d{1,9}", re.ASCII), re.compile(r"\d{1,3}", re.ASCII)
_ID = re.compile(r"[a-z0-9]+(?:-[a-z0-9]+)*", re.ASCII)

Kind = Literal["", "count", "length", "volume", "area"]


@dataclass(frozen=True, slots=True)
class Price:
    """What ``per`` of a thing costs; ``price`` is None where its cell is blank.

    ``per`` is a count, mm, mL or m2 as ``kind`` says; with a blank cell it is one piece, and
    ``kind`` is blank too. ``written`` is the cell; ``file`` and ``line`` say where it stands.
    ``parted``: price and the cell behind it may be one price with a comma, 39,90, and what that
    would be; empty where they cannot.
    """

    price: float | None
    per: float
    kind: Kind
    written: str
    file: str
    line: int
    parted: str = ""

    @property
    def doubt(self) -> str:
        """How a price was read that a comma may have parted, and what settles it; empty for others.

        No number tells a pack from cents: 6,18 may be 6 for a bag of 18. A point in the price does.
        """
        if self.price is None or not self.parted:
            return ""
        amount = f" for {self.written}" if self.written else ", and a number stands behind it"
        return (
            f"is read as {self.price:g}{amount}: {DECIMAL_COMMA}: {self.parted}. If it is not"
            f" so, write {self.price:.2f}."
        )


def read_prices(folder: Path) -> dict[str, Price]:
    """Return the prices by id, in the order of the file; none without one, or from a blank one.

    Raises:
        BuildFileError: the file cannot be used; with every problem in it.
    """
    path = folder / NAME
    text = read_text(path)
    if text is None:
        return {}
    if isinstance(text, Problem):
        raise BuildFileError([text])
    if not text.strip():  # a shell empties the file before --prices can fill it
        return {}
    reader = _Reader(str(path))
    found = reader.rows(text)
    if reader.problems:
        raise BuildFileError(reader.problems)
    return found


class _Reader:
    """Reads one file and notes all that is wrong with it."""

    def __init__(self, file: str) -> None:
        self.file, self.line = file, 0
        self.problems: list[Problem] = []

    def refuse(self, key: str, read: str, wanted: str, example: str = "") -> None:
        shown = visible(read if len(read) <= 60 else read[:57] + "...")
        self.problems.append(
            Problem(
                key=key, read=shown, wanted=wanted, example=example,
                file=self.file, line=self.line or None,
            )
        )  # fmt: skip

    def rows(self, text: str) -> dict[str, Price]:
        found: dict[str, Price] = {}
        lines: dict[str, int] = {}
        at: dict[str, int] | None = None
        reader = csv.reader(io.StringIO(text, newline=""), strict=True)
        try:
            for cells in reader:
                self.line = reader.line_num
                cells = [cell.strip() for cell in cells]
                if not any(cells):
                    continue
                named = cells if at is None else cells[at["id"] : at["id"] + 1]
                if any(";" in cell for cell in named):  # it is the same in every line
                    self.refuse("", "columns split by semicolons", COMMAS, ",".join(COLUMNS))
                    return found
                if at is None:
                    at = self.heading(cells)
                    if at is None:
                        return found
                    continue
                if len(lines) >= MOST:
                    self.refuse("", f"more than {MOST} rows", f"at most {MOST} prices")
                    return found
                self.row(at, cells, found, lines)
        except csv.Error as error:
            self.line += 1
            self.refuse("", str(error), "quotes in pairs and values separated by commas")
        if at is None and not self.problems:
            self.line = 0
            self.refuse("", "an empty file", "a line of column names", ",".join(COLUMNS))
        return found

    def heading(self, cells: list[str]) -> dict[str, int] | None:
        while cells and not cells[-1]:
            cells.pop()
        cells = [cell.casefold() for cell in cells]
        at = {cell: index for index, cell in enumerate(cells)}
        wrong = [cell for cell in cells if cell not in COLUMNS]
        if wrong or len(at) < len(cells) or not {"id", "price"} <= set(at):
            wanted = "the columns id and price, per and note if wanted, each once"
            self.refuse("", ",".join(cells), wanted, ",".join(COLUMNS))
            return None
        return at

    def row(
        self,
        at: Mapping[str, int],
        cells: list[str],
        found: dict[str, Price],
        lines: dict[str, int],
    ) -> None:
        while len(cells) > len(at) and not cells[-1]:
            cells.pop()  # spreadsheets fill lines up with commas
        if len(cells) > len(at):
            wanted = f"{len(at)} cells, as many as there are columns"
            if any(_parted(*pair) for pair in pairwise(cells)):
                wanted += f"; {DECIMAL_COMMA}"
            self.refuse("", f"{len(cells)} cells", wanted, "quotes round a text that has a comma")
            return

        def cell(name: str) -> str:
            index = at.get(name, len(cells))
            return cells[index] if index < len(cells) else ""

        behind = cells[at["price"] + 1 : at["price"] + 2]
        parted = _parted(cell("price"), *behind) if behind else ""
        part_id = cell("id")
        if not _ID.fullmatch(part_id) or len(part_id) > 100:
            read = f'"{part_id}"' if part_id else "nothing"
            self.refuse("id", read, "an id from the list of what to buy", "pva-waterproof")
            return
        if part_id in lines:
            self.refuse("id", f'"{part_id}"', f"each id once; line {lines[part_id]} has it already")
            return
        lines[part_id] = self.line
        price = self.price(cell("price"))
        per = self.per(cell("per"), parted if _neighbors(at) else "", free=price == 0)
        if per is not None:
            found[part_id] = Price(price, *per, cell("per"), self.file, self.line, parted)

    def price(self, written: str) -> float | None:
        """Return a price; None where the cell is blank, or wrong and noted."""
        if not written:
            return None
        if _NUMBER.fullmatch(written) and float(written) <= DEAREST:
            return float(written)
        wanted = f"a number from 0 to {DEAREST:g} with a decimal point, without a currency"
        self.refuse("price", f'"{written}"', wanted, "12.50")
        return None

    def per(self, written: str, parted: str, *, free: bool) -> tuple[float, Kind] | None:
        """Return amount and kind of what one price buys; None where it is wrong, and noted.

        Nobody counts 05 pieces, as 12,05 has them, nor what costs nothing, as 0,12 does.
        """
        if not written:
            return 1.0, ""
        amount, kind = _amount(written)
        nobodys = parted and (free or written.startswith("0"))
        if 0 < amount < math.inf and not nobodys:
            return amount, kind
        wanted = (
            "how much the price buys: nothing for one, a number of pieces, or an amount above 0"
        )
        if parted:
            wanted += f"; {DECIMAL_COMMA}: {parted}"
            wanted += ", or 0.00 for what costs nothing" if free else ""
        self.refuse("per", f'"{written}"', wanted, '"100", "473 mL" or "10 ft"')
        return None


def _neighbors(at: Mapping[str, int]) -> bool:
    """Whether a comma in a price would push its end into the amount's column."""
    return at.get("per") == at["price"] + 1


def _parted(price: str, behind: str) -> str:
    """Return the price that a comma may have parted into two cells; empty for none."""
    if not _WHOLE.fullmatch(price) or not _BEHIND.fullmatch(behind):
        return ""
    thousands = f", or {price}{behind} without a comma" if len(behind) == 3 else ""
    return f"{price}.{behind}{thousands}"


def _amount(written: str) -> tuple[float, Kind]:
    """Return a number of pieces, mL, mm or m2 with its kind; 0 for what is none of them."""
    if _NUMBER.fullmatch(written):
        return float(written), "count"
    for kind in ("length", "volume", "area"):
        try:
            return parse(written, kind), kind
        except UnitError:
            continue
    return 0.0, ""
