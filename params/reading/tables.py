"""Values of a build file -> its tables as types, with all that is wrong with them.

Each table is validated by itself, so a fault in one does not hide those in the others. A
faulty key is left out and the rest of its table is used, so that what depends on the rest
can be looked at in the same round.
"""

from typing import TYPE_CHECKING, TypeVar, cast

from pydantic import ValidationError

from ..project import SIDES, Table, Top
from ..units import WORDS
from .keys import REASONS, TABLES, find, under
from .notes import Notes
from .paths import ROWS, Path, path_text, plain, shown

if TYPE_CHECKING:
    from pydantic_core import ErrorDetails

Raw = dict[str, object]
T = TypeVar("T", bound=Table)

DEEPEST = 12
"""Lists and tables in one another; a build file needs four."""

MOST_ROWS = {"taps": 60, "pour": 60, "hole": 40, "keep_out": 40, "vessel": 40}
"""Tables of one name; every part is compared with every other, many times over, and no cabinet
has as many."""

MOST = 60
"""Faults of one table that are told one by one; with more, the table is something else."""


def frozen(value: object, depth: int = 0) -> object:
    """Return a value with tuples for lists; what is nested too deep becomes an empty table."""
    if depth > DEEPEST:
        return {}
    if isinstance(value, dict):
        some = cast("dict[str, object]", value)
        return {key: frozen(each, depth + 1) for key, each in some.items()}
    if isinstance(value, list):
        return tuple(frozen(each, depth + 1) for each in cast("list[object]", value))
    return value


def tables(data: Raw, notes: Notes) -> dict[str, object]:
    """Validate everything but ``[limits]``.

    Args:
        data: the file's values, lists as tuples.
        notes: takes the problems and the keys that were left out.

    Returns:
        ``title``, ``show`` and each table by its name: a type of ``project``, or a tuple of them
        for what comes in rows. A table that cannot be used is not there.
    """
    found: dict[str, object] = {}
    top = {key: value for key, value in data.items() if key not in {*TABLES, "limits"}}
    first = validated(Top, top, (), notes)
    if first is not None:
        found |= {"title": first.title, "show": first.show}
    for name, model in TABLES.items():
        if name not in data:
            continue
        value = data[name]
        if name in ROWS:
            found[name] = _rows(name, model, value, notes)
        elif isinstance(value, dict):
            table = validated(model, cast("Raw", value), (name,), notes)
            if table is not None:
                found[name] = table
        else:
            many = _is_rows(value)
            read = f"[[{name}]]" if many else shown(value)
            notes.add(name, read, f"the table [{name}]{', once' if many else ''}", f"[{name}]")
            notes.drop(name)
    return found


def _is_rows(value: object) -> bool:
    if not isinstance(value, tuple) or not value:
        return False
    return all(isinstance(each, dict) for each in cast("tuple[object, ...]", value))


def _rows(name: str, model: type[Table], value: object, notes: Notes) -> tuple[Table, ...]:
    """Validate what comes in rows; if one row cannot be used, none is."""
    if isinstance(value, dict) and name != "taps":
        notes.add(name, f"[{name}]", f"[[{name}]] in double brackets", f"[[{name}]]")
    rows: object = (cast("Raw", value),) if isinstance(value, dict) else value
    if not _is_rows(rows):
        wanted = "the table [taps]" if name == "taps" else f"the table [[{name}]]"
        notes.add(name, shown(rows), wanted, wanted.removeprefix("the table "))
        notes.drop(name)
        return ()
    raws = cast("tuple[Raw, ...]", rows)
    most = MOST_ROWS[name]
    if len(raws) > most:
        wanted = f"at most {most}: every part is compared with every other"
        notes.add(name, f"{len(raws)} tables [[{name}]]", wanted)
        notes.drop(name)
        return ()
    found: list[Table | None] = []
    for index, row in enumerate(raws):
        one = isinstance(value, dict) or (name == "taps" and len(raws) == 1)
        found.append(validated(model, row, (name,) if one else (name, index), notes))
    whole = [table for table in found if table is not None]
    if len(whole) < len(found):
        notes.drop(name)
        return ()
    return tuple(whole)


def validated(model: type[T], raw: Raw, base: Path, notes: Notes) -> T | None:
    """Validate one table without its faulty keys; None where it cannot be used at all."""
    try:
        return model.model_validate(raw)
    except ValidationError as error:
        faulty = _note_all(error, raw, base, notes)
    left = {key: value for key, value in raw.items() if key not in faulty}
    try:
        return model.model_validate(left)
    except ValidationError:
        notes.drop(path_text(base))
        return None


def _note_all(error: ValidationError, raw: Raw, base: Path, notes: Notes) -> set[str]:
    """Note every error of one table, and return the keys of the table that are faulty."""
    faulty: set[str] = set()
    said: set[tuple[str, str]] = set()
    told = 0
    before = Notes(dropped=set(notes.dropped))
    errors = error.errors(include_url=False, include_input=False)
    # Unknown keys first: where one is close to a key that is missing, that is not said again.
    for each in sorted(errors, key=lambda each: each["type"] != "extra_forbidden"):
        loc = each["loc"]
        if each["type"] == "missing":
            lacking = path_text((*base, *loc))
            if lacking in notes.dropped or before.doubtful(lacking):
                continue
        faulty.add(str(loc[0]))
        notes.drop(path_text((*base, loc[0])))
        if told == MOST:
            continue
        if each["type"] == "extra_forbidden":
            told += 1
            _unknown((*base, *loc), _at(raw, loc)[1], notes)
            continue
        if each["type"] == "too_short" and _at(raw, loc)[1]:
            continue  # counts only the values that were right; the others are told by themselves
        key, read, wanted, example = _said(each, raw, base)
        if (key, wanted) not in said:  # one value for all four sides fails four times
            said.add((key, wanted))
            told += 1
            notes.add(key, read, wanted, example)
    if told == MOST:
        table = _table_text(plain(path_text(base)))
        notes.add(path_text(base), f"{len(errors)} faults", f"{table} with the keys that it has")
    return faulty


def _at(raw: object, loc: Path) -> tuple[Path, object]:
    """Return the value at a place, and the place cut where the file has no more of it.

    One text for all four sides fails on each side: its place is the key, not the side.
    """
    value = raw
    for index, part in enumerate(loc):
        if not isinstance(value, dict | tuple):
            return loc[:index], value
        whole = cast("dict[str | int, object]", value)
        try:
            value = whole[part]
        except (LookupError, TypeError):
            return loc[:index], whole
    return loc, value


def _said(each: "ErrorDetails", raw: Raw, base: Path) -> tuple[str, str, str, str]:
    """Put one of pydantic's errors into our words: key, what was read, wanted, example line."""
    kind, ctx = each["type"], each.get("ctx") or {}
    if kind == "missing":
        path = (*base, *each["loc"])
        key = find(path_text(path))
        wanted = (
            f"{key.wanted}: {_table_text(plain(path_text(path[:-1])))} needs it"
            if key
            else "a value"
        )
        return path_text(path), "nothing", wanted, key.line if key else ""
    loc, value = _at(raw, each["loc"])
    path = (*base, *loc)
    text = path_text(path)
    key = find(text)
    read, wanted, example = shown(value), key.wanted if key else "a value", ""
    reason = REASONS.get(plain(text)) or REASONS.get(plain(text).partition(".")[0])
    if kind == "wanted":
        wanted, example = str(ctx["wanted"]), str(ctx["example"])
        if key and example == key.usual and key.example[0] != "{":
            example = key.example  # of this key, not of its type
        plainly = WORDS[key.kind] if key and key.kind else ""
        if key and plainly and plainly in key.wanted and wanted.startswith(plainly):
            # an id or a word may do as well: say so
            all_of = key.wanted.removeprefix("a list, each ")
            if wanted in {plainly, f"{plainly}, in quotes"}:
                wanted = wanted.replace(plainly, all_of)
    elif kind == "string_too_long":
        read = f"{len(str(value))} characters"
        wanted = f"at most {ctx['max_length']} characters: it is printed on one line of every sheet"
    elif kind == "too_long":
        read = f"{len(cast('tuple[object, ...]', value))} values"
        wanted = f"at most {ctx['max_length']} values{f': {reason}' if reason else ''}"
    elif kind == "too_short":
        read, wanted = "an empty list", f"at least one value: {wanted}"
    elif isinstance(path[-1], int):
        wanted = wanted.removeprefix("a list, each ")
    elif kind == "less_than_equal" and reason:
        wanted = f"{wanted}: {reason}"
    return text, read, wanted, _line(path, example)


def _line(path: Path, example: str) -> str:
    """Return a line that would be accepted in a place; ``example`` is a value for it."""
    key = find(path_text(path))
    if key is None:
        return ""
    if not example:
        return key.line
    if isinstance(path[-1], int) and isinstance(path[-2], int):
        return key.line
    if isinstance(path[-1], int):
        return f"{key.name} = [{example}]" if example[0] != "[" else f"{key.name} = {example}"
    if key.by_side and path[-1] in SIDES and path[-1] != key.name:
        return f"{key.name} = {{ {path[-1]} = {example} }}"
    return f"{key.name} = {example}"


def _table_text(name: str) -> str:
    """Name a table as its header does: ``[lip]``, ``[[stock.length]]``."""
    if not name:
        return "the top of the file"
    return f"[[{name}]]" if name in ROWS and name != "taps" else f"[{name}]"


def _unknown(path: Path, value: object, notes: Notes) -> None:
    """Say which key was probably meant by one that there is not."""
    from difflib import get_close_matches  # only a mistake pays for it

    table, name = plain(path_text(path[:-1])), str(path[-1])
    key = find(table)
    names = list(SIDES) if key is not None and key.by_side else [each.name for each in under(table)]
    close = get_close_matches(name[:60].lower(), names, n=1, cutoff=0.6)
    homes = [each for each in under_any(name) if each != table]
    is_table = isinstance(value, dict) or _is_rows(value)
    read = "an unknown table" if is_table and not table else "an unknown key"
    example = ""
    if close:
        meant = find(f"{table}.{close[0]}" if table else close[0])
        notes.drop(path_text((*path[:-1], close[0])))
        wanted = f"{_member(table)}; the nearest is {close[0]}"
        example = meant.line if meant and not meant.by_side else ""
    elif homes and not is_table:
        wanted = f"{_member(table)}; {name} is a key of {_table_text(homes[0])}"
    else:
        wanted = f"{_member(table)}: {', '.join(names)}"
    notes.add(path_text(path), read, wanted, example)


def _member(table: str) -> str:
    key = find(table)
    if key is not None and key.by_side:
        return "a side"
    return f"a key of {_table_text(table)}" if table else "a table or key of the build file"


def under_any(name: str) -> list[str]:
    """Return the tables that have a key of this name."""
    return [table for table in TABLES if any(key.name == name for key in under(table))]
