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
import hashlib
import json
import os
import re
import shutil
import stat
import tempfile
import time
from collections.abc import Generator, Sequence
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import Any

from ..params.problem import visible
from .stops import stop_if_asked, undisturbed
from .unfit import PlaceError, refuse_mounts, refuse_unfit

MANIFEST = "summary.json"
NEW, OLD = "-collarwright-new", "-collarwright-old"
"""Endings of the trees beside DIR: one being written, and one being put away."""

TURN = 0.02
"""Seconds between two looks whether it is our turn."""

LONGEST = 200
"""Bytes of DIR's name that the trees beside it repeat; file systems allow 255 with the ending."""


@contextmanager
def fresh_tree(out: Path) -> Generator[Path]:
    """Give a new folder beside DIR; when the block ends well it takes DIR's place.

    Raises:
        PlaceError: DIR is not fit, a foreign file stands where one of ours must go, or the
            folder cannot be written; DIR is then as it was.
    """
    said = visible(str(out))
    missing: list[Path] = []
    new: Path | None = None
    held = -1
    done = False
    try:
        try:
            refuse_unfit(out)
            missing = [each for each in (out.parent, *out.parent.parents) if not each.exists()]
            out.parent.mkdir(parents=True, exist_ok=True)
            with _locked(out.parent):
                _clear_leftovers(out)
                with undisturbed():
                    new = Path(tempfile.mkdtemp(prefix=_prefix(out), suffix=NEW, dir=out.parent))
                    held = _hold(new)
            new.chmod(out.stat().st_mode & 0o777 if out.exists() else 0o777 & ~_umask())
            yield new
            stop_if_asked()
            with _locked(out.parent):
                _carry_over(out, new)
                with undisturbed():
                    _exchange(new, out)
                    done = True
            stop_if_asked()
        finally:
            with undisturbed():
                if new is not None:
                    _remove(new)  # after the exchange this is the old tree
                if held >= 0:
                    os.close(held)
                for folder in () if done else missing:
                    with suppress(OSError):
                        folder.rmdir()
    except OSError as error:
        raise PlaceError(f"{said} cannot be written: {_why(error, out)}") from None
    except KeyboardInterrupt as stop:
        stop.add_note(f"{said} is written" if done else f"nothing was changed in {said}")
        raise


def _why(error: OSError, out: Path) -> str:
    """Say what the system said, and of which file of DIR, where it is one of DIR's."""
    said = error.strerror or str(error)
    named = error.filename
    if isinstance(named, str) and Path(named) != out and Path(named).is_relative_to(out):
        said = f"{said} ({named})"
    return visible(said)


def _umask() -> int:
    mask = os.umask(0)
    os.umask(mask)
    return mask


@contextmanager
def _locked(folder: Path) -> Generator[None]:
    """Hold a folder against other runs for the length of the block; waits for its turn."""
    held = os.open(folder, os.O_RDONLY)
    try:
        while True:  # a wait of the system's own would not hear of a stop that is put off
            try:
                fcntl.flock(held, fcntl.LOCK_EX | fcntl.LOCK_NB)
                break
            except BlockingIOError:
                stop_if_asked()
                time.sleep(TURN)
        yield
    finally:
        os.close(held)


def _hold(folder: Path) -> int:
    """Lock a tree of our own until the descriptor is closed or the process ends."""
    held = os.open(folder, os.O_RDONLY)
    fcntl.flock(held, fcntl.LOCK_EX | fcntl.LOCK_NB)
    return held


def _prefix(out: Path) -> str:
    """Return how the names of the trees beside DIR begin; no other DIR has the same."""
    name = os.fsencode(out.name)
    return f".{out.name}-" if len(name) <= LONGEST else f".{hashlib.sha256(name).hexdigest()}-"


def _leftovers(out: Path) -> Sequence[Path]:
    """Return the trees beside DIR that runs into DIR made, and no others.

    ``tempfile`` puts eight signs between beginning and ending. Anything looser would also take
    those of a folder called DIR-2.
    """
    ours = re.compile(f"{re.escape(_prefix(out))}[a-z0-9_]{{8}}({NEW}|{OLD})")
    return sorted(path for path in out.parent.iterdir() if ours.fullmatch(path.name))


def _clear_leftovers(out: Path) -> None:
    """Remove what killed runs left beside DIR; put DIR back if one died while moving it."""
    for path in _leftovers(out):
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
        else:
            _remove(path)


def _remove(tree: Path) -> None:
    """Remove a tree of folders as far as the system lets us, also those that are read-only."""
    shutil.rmtree(tree, ignore_errors=True)
    if not tree.exists():
        return
    for folder, _, _ in os.walk(tree):
        with suppress(OSError):
            Path(folder).chmod(0o700)
    shutil.rmtree(tree, ignore_errors=True)


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
    refuse_mounts(out)
    ours = _ours(out)
    kept: list[Path] = []
    for folder, names, files in os.walk(out, onerror=_raise):
        links = [name for name in names if (Path(folder) / name).is_symlink()]
        foreign = [
            old
            for old in (Path(folder) / name for name in (*files, *links))
            if old.relative_to(out).as_posix() not in ours
        ]
        for old in foreign:
            _carry(old, new / old.relative_to(out), new)
        if foreign or not (names or files):
            path = Path(folder).relative_to(out)
            (new / path).mkdir(parents=True, exist_ok=True)
            kept += [each for each in (path, *path.parents) if each.name and each not in kept]
    for path in sorted(kept, reverse=True):  # inner ones first: a copied mode may shut a folder
        shutil.copystat(out / path, new / path)


def _carry(old: Path, target: Path, new: Path) -> None:
    """Copy one foreign file or link into the new tree."""
    said = visible(str(old))
    if not stat.S_ISREG(old.lstat().st_mode) and not old.is_symlink():
        raise PlaceError(f"{said} is neither a file nor a folder: move it away")
    above = target.relative_to(new).parents
    in_the_way = any((new / part).exists() and not (new / part).is_dir() for part in above)
    if target.exists() or in_the_way:
        raise PlaceError(
            f"{said} is not a file of this program and stands where one must go:"
            " move it away, or name another folder"
        )
    target.parent.mkdir(parents=True, exist_ok=True)
    shutil.copy2(old, target, follow_symlinks=False)


def _raise(error: OSError) -> None:
    raise error


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
