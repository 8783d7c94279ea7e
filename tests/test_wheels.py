"""The same sources give the same wheel, byte for byte, wherever and whenever it is built."""

import hashlib
import os
import shutil
import subprocess
import sys
import tomllib
import zipfile
from collections.abc import Callable
from importlib.metadata import PackageNotFoundError, version
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
SOURCES = ("geometry", "outputs", "params", "pyproject.toml", "README.md", "LICENSE")
EPOCH = 1_700_000_000
"""A moment, seconds since 1970: what SOURCE_DATE_EPOCH says that it is."""

Build = Callable[..., Path]


@pytest.fixture(scope="module")
def backend(tmp_path_factory: pytest.TempPathFactory) -> dict[str, str]:
    """The environment in which the project's own build backend can be imported."""
    (wanted,) = tomllib.loads((ROOT / "pyproject.toml").read_text())["build-system"]["requires"]
    name, least = wanted.split(">=")
    try:
        if int(version(name).split(".")[0]) >= int(least):
            return {}
    except PackageNotFoundError:
        pass  # from Python 3.12 on a new environment has none
    folder = tmp_path_factory.mktemp("backend")
    command = [sys.executable, "-m", "pip", "install", "-q", "--target", str(folder), wanted]
    done = subprocess.run(command, capture_output=True, text=True, timeout=300, check=False)
    if done.returncode:
        pytest.skip(f"{wanted} is not installed and cannot be fetched: {done.stderr[-300:]}")
    return {"PYTHONPATH": str(folder)}


@pytest.fixture(scope="module")
def sources(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The sources as they are now: somebody may be at work on them while this runs."""
    folder = tmp_path_factory.mktemp("now")
    for name in SOURCES:
        if (ROOT / name).is_dir():
            ignore = shutil.ignore_patterns("__pycache__")
            shutil.copytree(ROOT / name, folder / name, ignore=ignore)
        else:
            shutil.copy(ROOT / name, folder)
    return folder


@pytest.fixture(scope="module")
def build(
    backend: dict[str, str], sources: Path, tmp_path_factory: pytest.TempPathFactory
) -> Build:
    """Build a wheel from a copy of the sources."""

    def made(
        *,
        old: bool = False,
        epoch: int = EPOCH,
        change: Callable[[Path], object] = lambda _: None,
        **env: str,
    ) -> Path:
        top = tmp_path_factory.mktemp("somewhere-else" if old else "here")
        copy = top / "sources"
        copy.mkdir()
        for path in sorted(sources.rglob("*"), reverse=old):
            target = copy / path.relative_to(sources)
            target.parent.mkdir(parents=True, exist_ok=True)
            if path.is_file():
                shutil.copy(path, target)
        change(copy)
        for path in copy.rglob("*"):
            moment = 1_000_000_000 if old else 1_500_000_000
            os.utime(path, (moment, moment))
        around = {**os.environ, **backend, **env, "SOURCE_DATE_EPOCH": str(epoch)}
        command = [sys.executable, "-m", "pip", "wheel", "-q", str(copy), "--no-deps"]
        command += ["--no-build-isolation", "--wheel-dir", str(top / "wheel")]
        done = subprocess.run(
            command, capture_output=True, text=True, env=around, timeout=300, check=False
        )
        assert done.returncode == 0, done.stderr
        (wheel,) = (top / "wheel").iterdir()
        return wheel

    return made


@pytest.fixture(scope="module")
def wheel(build: Build) -> Path:
    """A wheel."""
    return build(PYTHONHASHSEED="1", TZ="UTC")


def digest(wheel: Path) -> str:
    return hashlib.sha256(wheel.read_bytes()).hexdigest()


def differences(one: Path, other: Path) -> list[str]:
    """Say which members of two wheels differ, in content, in what is said of them, or in order."""
    with zipfile.ZipFile(one) as a, zipfile.ZipFile(other) as b:
        first, second = (
            {
                item.filename: (n, item.date_time, item.external_attr, archive.read(item))
                for n, item in enumerate(archive.infolist())
            }
            for archive in (a, b)
        )
    return sorted(name for name in {*first, *second} if first.get(name) != second.get(name))


def test_the_same_sources_give_the_same_wheel(build: Build, wheel: Path) -> None:
    again = build(old=True, PYTHONHASHSEED="2", TZ="Asia/Kathmandu")
    assert differences(wheel, again) == []
    assert digest(wheel) == digest(again)
    assert wheel.name == again.name


def test_the_wheels_clock_is_the_one_that_was_set(wheel: Path) -> None:
    # 1 700 000 000 s after 1970 is 2023-11-14 22:13:20 UTC
    with zipfile.ZipFile(wheel) as archive:
        assert {item.date_time for item in archive.infolist()} == {(2023, 11, 14, 22, 13, 20)}


def test_another_moment_or_another_source_is_seen(build: Build, wheel: Path) -> None:
    later = build(epoch=EPOCH + 86_400)
    with zipfile.ZipFile(wheel) as archive:
        assert differences(wheel, later) == sorted(archive.namelist())

    def spoil(copy: Path) -> None:
        with (copy / "outputs/cut.py").open("a") as file:
            file.write("\n")

    found = differences(wheel, build(change=spoil))
    assert [name.rpartition("/")[2] for name in found] == ["RECORD", "cut.py"]
