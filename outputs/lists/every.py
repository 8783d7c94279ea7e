"""Every list of one collar, in the order of the book; each is a CSV file of its own."""

from collections.abc import Iterator

from .assembly import tables as assembly_lists
from .boards import boards
from .checked import checked
from .collected import Collected
from .foam import foam_lists
from .materials import materials_lists
from .saw import saw
from .table import Table
from .work import work_lists


def every_table(got: Collected) -> dict[str, Table]:
    """Return the lists by name."""
    found = list(_tables(got))
    names = [table.name for table in found]
    assert len(set(names)) == len(names), names
    return {table.name: table for table in found}


def _tables(got: Collected) -> Iterator[Table]:
    yield from checked(got.project, got.evaluation)
    yield from materials_lists(got.shopping)
    yield from boards(got.layout, got.work, got.project.show)
    if got.stock is not None:
        yield from saw(got.stock)
    if got.foam is not None:
        yield from foam_lists(got.foam)
    yield from work_lists(got.work)
    yield from assembly_lists(got.project, got.layout)
