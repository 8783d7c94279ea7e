"""The files of ``lists/``: each list as CSV, and the workshop book."""

from pathlib import Path

from ..stops import stop_if_asked
from . import book
from .book.blocks import Tables
from .collected import Collected
from .sheet import csv_text

FOLDER = "lists"


def write(
    got: Collected,
    tables: Tables,
    root: Path,
    *,
    paper: str,
    sha256: str,
    warnings: tuple[str, ...],
) -> list[str]:
    """Write lists and book.

    Args:
        got: the collar with its plans.
        tables: its lists by name.
        root: the folder that ``lists/`` goes in.
        paper: ``letter`` or ``a4``; see ``book.book_paper``.
        sha256: the build file's hash.
        warnings: one line for each *must* that fails, printed on every page of the book.

    Returns:
        The files written, relative to ``root``.
    """
    folder = root / FOLDER
    folder.mkdir(parents=True, exist_ok=True)
    written: list[str] = []
    for name, table in tables.items():
        (folder / f"{name}.csv").write_text(csv_text(table), "utf-8", newline="\n")
        written.append(f"{FOLDER}/{name}.csv")
    stop_if_asked()
    file = f"{FOLDER}/{book.NAME}.pdf"
    book.write(got, tables, root / file, paper=paper, sha256=sha256, warnings=warnings)
    return [*written, file]
