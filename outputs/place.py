"""Putting a finished tree in the place of DIR: replaced whole, or left as it was.

The new tree is written beside DIR, files that are not ours are carried over, then the two are
exchanged in one step of the file system. What an earlier run wrote is known from its
``summary.json``; whatever that does not list is a foreign file and stays.

A run holds a lock on its own new tree as long as it lives. A tree beside DIR that nobody holds
was left by a run that was killed, and the next run clears it. Runs into one folder take turns
for the exchange, so each leaves a whole tree and the last one stays.
"""

import ctypes
import errno
import fcntl
import json
import os
import shutil
import tempfile
from collections.abc import Generator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import Any

MANIFEST = "summary.json"
NEW, OLD = "-collarwright-new", "-collarwright-old"
"""Endings of the trees beside DIR: one being written, and one being put away."""


class PlaceError(Exception):
    """DIR cannot take the files; the message is a sentence for a person."""


def refuse_unfit(out: Path) -> None:
    """Raise ``PlaceError`` where DIR is not a folder of its own that can be replaced."""
    if not out.name or out.name == "..":
        raise PlaceError(f"{out} cannot be replaced: name a new folder")
    if out.is_symlink():
        raise PlaceError(f"{out} is a symbolic link: name the folder itself")
    if out.exists() and not out.is_dir():
        raise PlaceError(f"{out} is a file: name a folder, or a new one")
    if out.is_mount():
        raise PlaceError(f"{out} is a mount point and cannot be replaced: name a folder in it")
    here = Path.cwd().resolve()
    if out.resolve() in (here, *here.parents):
        raise PlaceError(f"{out} holds the folder you stand in: name a new one inside it")


@contextmanager
def fresh_tree(out: Path) -> Generator[Path]:
    """Give a new folder beside DIR; when the block ends well it takes DIR's place.

    Raises:
        PlaceError: DIR is not fit, a foreign file stands where one of ours must go, or the
            folder cannot be written; DIR is then as it was.
    """
    try:
        refuse_unfit(out)
        missing = [each for each in (out.parent, *out.parent.parents) if not each.exists()]
        out.parent.mkdir(parents=True, exist_ok=True)
        with _locked(out.parent):
            _clear_leftovers(out)
            new = Path(tempfile.mkdtemp(prefix=f".{out.name}-", suffix=NEW, dir=out.parent))
            held = _hold(new)
    except OSError as error:
        raise PlaceError(f"{out} cannot be written: {error.strerror or error}") from None
    done = False
    try:
        new.chmod(out.stat().st_mode & 0o777 if out.exists() else 0o777 & ~_umask())
        yield new
        with _locked(out.parent):
            _carry_over(out, new)
            _exchange(new, out)
        done = True
    except OSError as error:
        raise PlaceError(f"{out} cannot be written: {error.strerror or error}") from None
    finally:
        shutil.rmtree(new, ignore_errors=True)  # after the exchange this is the old tree
        os.close(held)
        if not done:
            for folder in missing:
                with suppress(OSError):
                    folder.rmdir()


def _umask() -> int:
    mask = os.umask(0)
    os.umask(mask)
    return mask


@contextmanager
def _locked(folder: Path) -> Generator[None]:
    """Hold a folder against other runs for the length of the block; waits for its turn."""
    held = os.open(folder, os.O_RDONLY)
    try:
        fcntl.flock(held, fcntl.LOCK_EX)
        yield
    finally:
        os.close(held)


def _hold(folder: Path) -> int:
    """Lock a tree of our own until the descriptor is closed or the process ends."""
    held = os.open(folder, os.O_RDONLY)
    fcntl.flock(held, fcntl.LOCK_EX | fcntl.LOCK_NB)
    return held


def _clear_leftovers(out: Path) -> None:
    """Remove what killed runs left beside DIR; put DIR back if one died while moving it."""
    for path in sorted(out.parent.glob(f".{_escaped(out.name)}-*-collarwright-*")):
        if path.is_symlink() or not path.is_dir():
            continue
        held = os.open(path, os.O_RDONLY)
        try:
            fcntl.flock(held, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except OSError:
            continue  # a living run's
        finally:
            os.close(held)
        if path.name.endswith(OLD) and not out.exists():
            path.rename(out)
        elif path.name.endswith((NEW, OLD)):
            shutil.rmtree(path, ignore_errors=True)


def _escaped(name: str) -> str:
    return "".join(f"[{char}]" if char in "*?[" else char for char in name)


def _ours(out: Path) -> set[str]:
    """Return the paths that an earlier run wrote to DIR, by its summary."""
    try:
        data: Any = json.loads((out / MANIFEST).read_text("utf-8"))
        if data["format"] != 1 or "build_file" not in data:
            return set()
        return {MANIFEST, *(str(entry["path"]) for entry in data["files"])}
    except (OSError, ValueError, KeyError, TypeError, RecursionError):
        return set()


def _carry_over(out: Path, new: Path) -> None:
    """Copy every file of DIR that is not ours into the new tree."""
    if not out.is_dir():
        return
    ours = _ours(out)
    for folder, names, files in os.walk(out):
        links = [name for name in names if (Path(folder) / name).is_symlink()]
        mounted = [name for name in names if (Path(folder) / name).is_mount()]
        if mounted:
            raise PlaceError(f"{Path(folder) / mounted[0]} is a mount point inside {out}")
        if not names and not files:
            (new / Path(folder).relative_to(out)).mkdir(parents=True, exist_ok=True)
        for name in (*files, *links):
            old = Path(folder) / name
            path = old.relative_to(out)
            if path.as_posix() in ours:
                continue
            target = new / path
            in_the_way = any(
                (new / part).exists() and not (new / part).is_dir() for part in path.parents
            )
            if target.exists() or in_the_way:
                raise PlaceError(
                    f"{old} is not a file of this program and stands where one must go:"
                    " move it away, or name another folder"
                )
            target.parent.mkdir(parents=True, exist_ok=True)
            shutil.copy2(old, target, follow_symlinks=False)


RENAME_EXCHANGE = 2
"""Flag of Linux's renameat2(2): swap two paths in one step."""
AT_FDCWD = -100
"""Linux's name for "relative to the working folder"."""


def _exchange(new: Path, out: Path) -> None:
    """Put the new tree in DIR's place and the old one in the new one's."""
    if not out.exists():
        new.rename(out)
        return
    try:
        _swap(new, out)
    except OSError as error:
        if error.errno not in (errno.ENOSYS, errno.EINVAL, errno.ENOTSUP):
            raise
        # No exchange on this system: two steps. A run that is killed between them leaves DIR
        # under its old name, and the next run puts it back.
        old = Path(str(new).removesuffix(NEW) + OLD)
        out.rename(old)
        try:
            new.rename(out)
        except OSError:
            old.rename(out)
            raise
        old.rename(new)


def _swap(one: Path, other: Path) -> None:
    """Exchange two paths in one step, or raise ``OSError``."""
    call = getattr(ctypes.CDLL(None, use_errno=True), "renameat2", None)
    if call is None:
        raise OSError(errno.ENOSYS, os.strerror(errno.ENOSYS))
    if call(AT_FDCWD, os.fsencode(one), AT_FDCWD, os.fsencode(other), RENAME_EXCHANGE) != 0:
        code = ctypes.get_errno()
        raise OSError(code, os.strerror(code))
