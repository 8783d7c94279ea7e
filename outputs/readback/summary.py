"""Reads ``summary.json`` back: is it JSON, does it fit the schema, does it list what is there."""

import hashlib
import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

LONGEST = 160
"""Letters of a fault that are told; one about an object would quote all of it."""


class SummaryError(ValueError):
    """The file is not JSON as RFC 8259 has it."""


def read(path: Path) -> Any:
    """Read the file; numbers that JSON does not know (NaN) and keys given twice are refused.

    Raises:
        SummaryError: it is not JSON.
    """

    def no_number(word: str) -> Any:
        raise SummaryError(f"{path.name} has {word} for a number")

    def once(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
        found = dict(pairs)
        if len(found) != len(pairs):
            names = [name for name, _ in pairs]
            twice = next(name for name in names if names.count(name) > 1)
            raise SummaryError(f"{path.name} has the key {twice} twice in one object")
        return found

    try:
        return json.loads(
            path.read_bytes().decode("utf-8"), parse_constant=no_number, object_pairs_hook=once
        )
    except SummaryError:
        raise
    except (ValueError, RecursionError) as error:
        raise SummaryError(f"{path.name} is not JSON: {error}") from error


def misfits(data: Any, schema: dict[str, Any]) -> Iterator[str]:
    """Say where data does not fit a JSON Schema of draft 2020-12."""
    from jsonschema import Draft202012Validator

    for error in sorted(Draft202012Validator(schema).iter_errors(data), key=lambda e: e.json_path):
        said = error.message
        if len(said) > LONGEST:
            said = f"{said[: LONGEST // 2]} … {said[-LONGEST // 2 :]}"
        yield f"does not fit the schema at {error.json_path}: {said}"


def unlike(found: Any, wanted: Any, at: str = "$") -> Iterator[str]:
    """Say where two pieces of JSON data differ, deepest place first told."""
    if isinstance(found, dict) and isinstance(wanted, dict):
        for key in sorted(found.keys() | wanted.keys()):
            if key not in found or key not in wanted:
                yield f"{at}.{key} is {'not there' if key in wanted else 'not expected'}"
            else:
                yield from unlike(found[key], wanted[key], f"{at}.{key}")
    elif isinstance(found, list) and isinstance(wanted, list):
        if len(found) != len(wanted):
            yield f"{at} has {len(found)} entries, not {len(wanted)}"
        for i, (one, other) in enumerate(zip(found, wanted, strict=False)):
            yield from unlike(one, other, f"{at}[{i}]")
    elif type(found) is not type(wanted) or found != wanted:
        yield f"{at} is {found!r}, not {wanted!r}"


def listing(root: Path, summary: Path, data: Any) -> Iterator[str]:
    """Hold the list of files against what is in the folder: names, lengths, and hashes."""
    listed = {str(entry["path"]): entry for entry in data["files"]}
    if len(listed) != len(data["files"]):
        yield "lists a file twice"
    there = {
        path.relative_to(root).as_posix(): path
        for path in root.rglob("*")
        if path != summary and not path.is_dir()
    }
    yield from (f"lists {name}, which is not there" for name in sorted(listed.keys() - there))
    yield from (f"does not list {name}" for name in sorted(there.keys() - listed.keys()))
    for name in sorted(listed.keys() & there.keys()):
        content, entry = there[name].read_bytes(), listed[name]
        if entry["bytes"] != len(content):
            yield f"says that {name} has {entry['bytes']} bytes; it has {len(content)}"
        elif entry["sha256"] != hashlib.sha256(content).hexdigest():
            yield f"has another sha256 for {name} than the file's own"
