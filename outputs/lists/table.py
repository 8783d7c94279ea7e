"""A list on its way to paper or to a spreadsheet: a header and rows of words."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """A list with one row a thing; every row has as many cells as the header.

    ``name`` is the file's, ``title`` stands over it in print. ``right`` names the columns, from 0,
    that hold figures and are set to the right. ``notes`` are sentences that belong under it.
    """

    name: str
    title: str
    header: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    right: frozenset[int] = frozenset()
    notes: tuple[str, ...] = ()
