"""Putting a finished tree in the place of DIR: replaced whole, or left as it was.

The new tree is written beside DIR, files that are not ours are carried over, then the two are
exchanged by renaming. What an earlier run wrote is known from its ``summary.json``; whatever
that does not list is a foreign file and stays.
"""

import json
import os
import shutil
import tempfile
from collections.abc import Generator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

MANIFEST = "summary.json"


class PlaceError(Exception):
    """DIR cannot take the files; the message is a sentence for a person."""


def refuse_unfit(out: Path) -> None:
    """Raise ``PlaceError`` where DIR is not a folder of its own that can be replaced."""
    if out.is_symlink():
        raise PlaceError(f"{out} is a symbolic link: name the folder itself")
    if out.exists() and not out.is_dir():
        raise PlaceError(f"{out} is a file: name a folder, or a new one")
    if out.is_mount():
        raise PlaceError(f"{out} is a mount point and cannot be replaced: name a folder in it")
    if out.resolve() == Path.cwd().resolve() or out.resolve() in Path.cwd().resolve().parents:
        raise PlaceError(f"{out} holds the folder you stand in: name a new one inside it")


@contextmanager
def fresh_tree(out: Path) -> Generator[Path]:
    """Give a new folder beside DIR; when the block ends well it takes DIR's place.

    Raises:
        PlaceError: DIR is not fit, a foreign file stands where one of ours must go, or the
            folder cannot be written; DIR is then as it was.
    """
    refuse_unfit(out)
    missing = [each for each in (out.parent, *out.parent.parents) if not each.exists()]
    try:
        out.parent.mkdir(parents=True, exist_ok=True)
        new = Path(tempfile.mkdtemp(prefix=f".{out.name}-", suffix="-new", dir=out.parent))
    except OSError as error:
        raise PlaceError(f"{out} cannot be written: {error.strerror}") from None
    done = False
    try:
        new.chmod(out.stat().st_mode & 0o777 if out.exists() else 0o777 & ~_umask())
        yield new
        _carry_over(out, new)
        _exchange(out, new)
        done = True
    except OSError as error:
        raise PlaceError(f"{out} cannot be written: {error.strerror or error}") from None
    finally:
        shutil.rmtree(new, ignore_errors=True)
        if not done:
            for folder in missing:
                _remove_if_empty(folder)


def _umask() -> int:
    mask = os.umask(0)
    os.umask(mask)
    return mask


def _remove_if_empty(folder: Path) -> None:
    if folder.is_dir() and not any(folder.iterdir()):
        folder.rmdir()


def _ours(out: Path) -> set[str]:
    """Return the paths that an earlier run wrote to DIR, by its summary."""
    try:
        data: Any = json.loads((out / MANIFEST).read_text("utf-8"))
        if data["format"] != 1 or "build_file" not in data:
            return set()
        return {MANIFEST, *(str(entry["path"]) for entry in data["files"])}
    except (OSError, ValueError, KeyError, TypeError):
        return set()


def _carry_over(out: Path, new: Path) -> None:
    """Copy every file of DIR that is not ours into the new tree."""
    if not out.is_dir():
        return
    ours = _ours(out)
    for folder, names, files in os.walk(out):
        links = [name for name in names if (Path(folder) / name).is_symlink()]
        for name in (*files, *links):
            old = Path(folder) / name
            path = old.relative_to(out)
            if path.as_posix() in ours:
                continue
            target = new / path
            blocked = target.exists() or any(
                (new / part).exists() and not (new / part).is_dir() for part in path.parents
            )
            if blocked:
                raise PlaceError(
                    f"{old} is not a file of this program and stands where one must go:"
                    " move it away, or name another folder"
                )
            target.parent.mkdir(parents=True, exist_ok=True)
            shutil.copy2(old, target, follow_symlinks=False)


def _exchange(out: Path, new: Path) -> None:
    """Put the new tree in DIR's place; the old one goes last."""
    if not out.exists():
        new.rename(out)
        return
    old = Path(tempfile.mkdtemp(prefix=f".{out.name}-", suffix="-old", dir=out.parent))
    out.rename(old / "tree")
    try:
        new.rename(out)
    except OSError:
        (old / "tree").rename(out)
        raise
    finally:
        shutil.rmtree(old, ignore_errors=True)
