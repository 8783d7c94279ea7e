"""Where a value stands in a build file, as a person would say it: ``taps[2].height``."""

import json
import re
from collections.abc import Mapping
from typing import cast

from ..problem import visible

Path = tuple[str | int, ...]
"""Keys and indexes from the top of the file; indexes count from 0, their text from 1."""

ROWS = ("taps", "vessel", "pour", "hole", "keep_out", "stock.length", "stock.owned", "built.bore")
"""What may stand in a build file more than once, each time in double brackets."""

LONGEST = 60
"""Characters of a value that a message shows; more would bury what is wrong with it."""

_BARE = re.compile(r"[A-Za-z0-9_-]{1,60}")


def path_text(path: Path) -> str:
    """Write a path: ``lip.front[2]``, ``limits."lid.gasket_inset"``."""
    text = ""
    for part in path:
        if isinstance(part, int):
            text += f"[{part + 1}]"
        else:
            text += f"{'.' if text else ''}{key_text(part)}"
    return text


def key_text(key: str) -> str:
    """Write one key as TOML wants it: bare where that is possible, else in quotes."""
    return key if _BARE.fullmatch(key) else shown(key)


def row_keys(name: str, count: int) -> list[str]:
    """Return the key of each row: ``vessel[2]``, but ``taps`` for a single row of taps."""
    if name == "taps" and count == 1:
        return [name]
    return [f"{name}[{number}]" for number in range(1, count + 1)]


def plain(key: str) -> str:
    """Return a path's text without its indexes: ``taps[2].height`` is ``taps.height``."""
    return re.sub(r"\[\d+\]", "", key)


def parent(key: str) -> str:
    """Return the text of the path above: of ``lip.front[2]`` it is ``lip.front``."""
    if key.endswith("]"):
        return key[: key.rindex("[")]
    if key.endswith('"'):
        return key[: max(key.find('."'), 0)]
    return key.rpartition(".")[0]


def shown(value: object, longest: int = LONGEST) -> str:
    """Write a value as it stands in TOML, cut to ``longest``, with nothing in it that hides."""
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, str):
        return _cut(json.dumps(visible(value[: 2 * longest]), ensure_ascii=False), longest, '"')
    if isinstance(value, Mapping):
        return "a table"
    if isinstance(value, list | tuple):
        some: list[str] = []
        for each in cast("list[object] | tuple[object, ...]", value):
            some.append("[…]" if isinstance(each, list | tuple) else shown(each, longest))
            if sum(map(len, some)) > longest:
                break
        return _cut(f"[{', '.join(some)}]", longest, "]")
    try:
        return _cut(str(value), longest, "")
    except ValueError:  # Python refuses to write out whole numbers of more than 4300 digits
        return "a number of thousands of digits"


def _cut(text: str, longest: int, end: str) -> str:
    return text if len(text) <= longest else f"{text[: longest - 1 - len(end)]}…{end}"
