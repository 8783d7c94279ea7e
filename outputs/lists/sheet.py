"""A list as a CSV file for a spreadsheet: RFC 4180 but for its line ends, which are one character.

A cell that a spreadsheet would take for a formula gets an apostrophe in front: whoever gave a tap
its name must not be able to run something on the machine of whoever opens the list.
"""

import csv
import io
import re
from unicodedata import normalize

from ...params.problem import visible
from .table import Table

FORMULA = ("=", "+", "-", "@", "\t", "\r", "\n")
"""What a formula begins with in one program or another (OWASP, CSV Injection, from memory); some
take the wide signs of East Asian type for the same."""

FIGURE = re.compile(r"[-+]?\d+( \d+/\d+|/\d+|\.\d+)?( (in|mm|deg))?")
"""A figure, with its unit or without: nothing in it can be run."""


def csv_text(table: Table) -> str:
    """Return a list as CSV, header first."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    for row in (table.header, *table.rows):
        writer.writerow([harmless(cell) for cell in row])
    return out.getvalue()


def harmless(cell: str) -> str:
    """Return a cell that no spreadsheet runs, with nothing in it that hides."""
    shown = visible(cell)
    if normalize("NFKC", cell).lstrip(" ").startswith(FORMULA) and not FIGURE.fullmatch(cell):
        return f"'{shown}"
    return shown
