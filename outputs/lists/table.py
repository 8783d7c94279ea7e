"""A list on its way to paper or to a spreadsheet: a header and rows of words."""

from dataclasses import dataclass, replace


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """A list with one row a thing; every row has as many cells as the header.

    ``name`` is the file's, ``title`` stands over it in print. ``right`` names the columns, from 0,
    that hold figures and are set to the right. ``notes`` are sentences that belong under it.
    ``spare`` names the columns that only the CSV file has: print has no room for them.
    """

    name: str
    title: str
    header: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    right: frozenset[int] = frozenset()
    notes: tuple[str, ...] = ()
    spare: frozenset[int] = frozenset()

    def printed(self) -> "Table":
        """Return it without its spare columns."""
        kept = [i for i in range(len(self.header)) if i not in self.spare]
        return replace(
            self,
            header=tuple(self.header[i] for i in kept),
            rows=tuple(tuple(row[i] for i in kept) for row in self.rows),
            right=frozenset(place for place, i in enumerate(kept) if i in self.right),
            spare=frozenset(),
        )
