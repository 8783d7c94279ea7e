"""What a shell offers behind a command: files, choices, catalogues, tables and keys.

Names that only a heavy module knows stand here a second time (a test compares), so that the
shell does not wait for them.
"""

import os
import re
from collections.abc import Iterable
from pathlib import Path

KINDS = ("model", "cut", "templates", "drawings", "lists")
DXF_UNITS = ("mm", "in")
DXF_VERSIONS = ("R2000", "R12")
SHOWS = ("in", "mm")
SHEET_PAPERS = ("letter", "a4")

_DEEPEST = 20


def _of(names: Iterable[str], incomplete: str) -> list[str]:
    return [name for name in names if name.startswith(incomplete)]


def kinds(incomplete: str) -> list[str]:
    """Complete ``--only``."""
    return _of(KINDS, incomplete)


def dxf_units(incomplete: str) -> list[str]:
    """Complete ``--dxf-units``."""
    return _of(DXF_UNITS, incomplete)


def dxf_versions(incomplete: str) -> list[str]:
    """Complete ``--dxf-version``."""
    return _of(DXF_VERSIONS, incomplete)


def shows(incomplete: str) -> list[str]:
    """Complete ``--show``."""
    return _of(SHOWS, incomplete)


def papers(incomplete: str) -> list[str]:
    """Complete ``--paper``."""
    from .paper.sizes import PAPER_NAMES

    return _of(PAPER_NAMES, incomplete)


def sheet_papers(incomplete: str) -> list[str]:
    """Complete ``--paper`` of the measuring sheet."""
    return _of(SHEET_PAPERS, incomplete)


def catalogues(incomplete: str) -> list[str]:
    """Complete the name of a catalogue."""
    from ..params.catalogue import NAMES

    return _of(NAMES, incomplete)


def tables(incomplete: str) -> list[str]:
    """Complete a table of the build file; behind its name and a point its keys."""
    from ..params.reading.keys import every

    keys = every().values()
    if "." in incomplete:
        return _of((key.path for key in keys), incomplete)
    return _of(("top", *(key.path for key in keys if key.table)), incomplete)


def build_files(incomplete: str) -> list[str]:
    """Complete a build file: what ends in .toml, and folders on the way to one.

    Where one folder alone fits, what is in it is offered at once. Nothing is offered where
    nothing fits: then the shell completes as it does for any program.
    """
    found = _listed(incomplete)
    for _ in range(_DEEPEST):
        if len(found) != 1 or not found[0].endswith("/"):
            break
        found = _listed(found[0])
    return [_quoted(each) for each in found]


def _listed(incomplete: str) -> list[str]:
    above, start = os.path.split(incomplete)
    prefix = incomplete[: len(incomplete) - len(start)]
    found: list[str] = []
    try:
        entries = sorted(Path(above).expanduser().iterdir())
    except (OSError, RuntimeError, ValueError):
        return []
    for entry in entries:
        if not entry.name.startswith(start) or (entry.name.startswith(".") and not start):
            continue
        if entry.is_dir():
            found.append(f"{prefix}{entry.name}/")
        elif entry.suffix == ".toml":
            found.append(f"{prefix}{entry.name}")
    return found


def _quoted(path: str) -> str:
    """Write a path as bash has to find it in the line; other shells quote by themselves."""
    if os.environ.get("_COLLARWRIGHT_COMPLETE") != "complete_bash":
        return path
    return re.sub(r"([^\w@%+=:,./~-])", r"\\\1", path)
