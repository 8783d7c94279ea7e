"""A build file with some values changed; comments, order and everything else stay as they were."""

import re
from collections.abc import Mapping
from typing import Any, cast

from .values import SIDES

_STEP = re.compile(r"([a-z_]+)(?:\[(\d+)\])?")


def rewritten(text: str, changes: Mapping[str, str | int | bool]) -> str:
    """Return the text of a build file with other values under some keys.

    Args:
        text: TOML that the program has read without a problem.
        changes: values as they are to be written, by key as messages write it:
            ``taps[2].spacing``, ``board.overhang.left``. A key that the file does not have is
            added at the end of its table; one value for all sides becomes a table by side
            where one side changes. Of a list (``hinge.positions[2]``) only that value changes.
    """
    import tomlkit  # only --mend pays for it

    document: Any = tomlkit.parse(text)
    for key, value in changes.items():
        _set(document, key, value)
    return tomlkit.dumps(document)


def _set(document: Any, key: str, value: str | int | bool) -> None:
    import tomlkit

    steps = [(name, int(number) - 1 if number else None) for name, number in _STEP.findall(key)]
    *above, (last, place) = steps
    table: Any = document
    for name, index in above:
        by_side = table is not document and last in SIDES
        if name not in table:
            table[name] = tomlkit.inline_table() if by_side else tomlkit.table()
        found: Any = table[name]
        if by_side and not hasattr(found, "items"):
            found = _spread(table, name)
        table = cast("list[Any]", found)[index or 0] if isinstance(found, list) else found
    if place is not None and isinstance(table.get(last), list):
        table[last][place] = value
        return
    table[last] = value


def _spread(table: Any, name: str) -> Any:
    """Write one value for all sides as a table by side, its comment kept."""
    import tomlkit

    old: Any = table[name]
    sides: Any = tomlkit.inline_table()
    for side in SIDES:
        sides[side] = str(old)
    table[name] = sides
    return table[name]
