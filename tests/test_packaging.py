"""What is installed is what is in the repository, and nothing that only a developer has."""

import ast
import re
import sys
import tomllib
from fnmatch import fnmatch
from pathlib import Path
from typing import Any

import pytest

ROOT = Path(__file__).resolve().parents[1]
ROOMS = ("params", "geometry", "outputs")

BELONGS_TO = {"OCP": "cadquery", "vtk": "cadquery", "pydantic_core": "pydantic"}
"""Import names that a declared distribution brings under another name."""


def project() -> dict[str, Any]:
    """Return the project file."""
    return tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))


def folders(root: Path) -> set[Path]:
    """Return every folder of the rooms that holds Python files, relative to the root."""
    files = (file for room in ROOMS for file in (root / room).rglob("*.py"))
    return {file.parent.relative_to(root) for file in files}


def package_faults(root: Path, packages: list[str]) -> list[str]:
    """Compare the folders with the packages that would be installed."""
    faults = [
        f"{f}: no __init__.py" for f in folders(root) if not (root / f / "__init__.py").exists()
    ]
    there = {".".join(["collarwright", *folder.parts]) for folder in folders(root)}
    faults += [f"{name}: not in the packages list" for name in there - set(packages)]
    return sorted(faults + [f"{name}: no such folder" for name in set(packages) - there])


def data_faults(root: Path, data: dict[str, list[str]]) -> list[str]:
    """Return the files beside the modules that would be left out of the installed package."""
    faults: list[str] = []
    for room in ROOMS:
        patterns = [
            "/".join([*package.split(".")[2:], pattern])
            for package, of_it in data.items()
            if package.split(".")[1] == room
            for pattern in of_it
        ]
        for file in (root / room).rglob("*"):
            path = file.relative_to(root / room)
            if file.is_dir() or file.suffix in {".py", ".pyc"} or path.parts[0] == "__pycache__":
                continue
            levels = [pattern for pattern in patterns if pattern.count("/") == len(path.parts) - 1]
            if not any(fnmatch(path.as_posix(), pattern) for pattern in levels):
                faults.append(f"{room}/{path.as_posix()}: not in the package data")
    return sorted(faults)


def libraries(source: str) -> set[str]:
    """Return the top-level names of the third-party libraries that a source text imports."""
    names: set[str] = set()
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Import):
            names |= {alias.name.partition(".")[0] for alias in node.names}
        elif isinstance(node, ast.ImportFrom) and not node.level and node.module:
            names.add(node.module.partition(".")[0])
    return names - sys.stdlib_module_names


def distribution(name: str) -> str:
    """Return the distribution that brings an import name, spelled as an index spells it."""
    return BELONGS_TO.get(name, name).replace("_", "-").lower()


def declared(requirements: list[str]) -> set[str]:
    """Return the names in a list of requirements."""
    found = [re.match(r"[A-Za-z0-9._-]+", text) for text in requirements]
    return {match[0].replace("_", "-").lower() for match in found if match}


def test_every_folder_is_a_listed_package() -> None:
    assert package_faults(ROOT, project()["tool"]["setuptools"]["packages"]) == []


def test_a_forgotten_package_is_seen(tmp_path: Path) -> None:
    for path in ("params/__init__.py", "geometry/__init__.py", "geometry/new/x.py"):
        (tmp_path / path).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / path).touch()
    assert package_faults(tmp_path, ["collarwright.params", "collarwright.outputs"]) == [
        "collarwright.geometry.new: not in the packages list",
        "collarwright.geometry: not in the packages list",
        "collarwright.outputs: no such folder",
        "geometry/new: no __init__.py",
    ]


def test_every_data_file_is_installed() -> None:
    assert data_faults(ROOT, project()["tool"]["setuptools"]["package-data"]) == []


def test_a_forgotten_data_file_is_seen(tmp_path: Path) -> None:
    for path in ("params/data/a.csv", "params/data/old/b.csv", "params/c.csv", "outputs/x.py"):
        (tmp_path / path).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / path).touch()
    assert data_faults(tmp_path, {"collarwright.params": ["data/*.csv"]}) == [
        "params/c.csv: not in the package data",
        "params/data/old/b.csv: not in the package data",
    ]


@pytest.mark.parametrize("room", ROOMS)
def test_each_room_says_that_it_is_typed(room: str) -> None:
    assert (ROOT / room / "py.typed").exists()
    assert "py.typed" in project()["tool"]["setuptools"]["package-data"][f"collarwright.{room}"]


def test_the_rooms_import_only_what_is_declared() -> None:
    allowed = declared(project()["project"]["dependencies"])
    for room in ROOMS:
        for file in sorted((ROOT / room).rglob("*.py")):
            used = {distribution(name) for name in libraries(file.read_text("utf-8"))}
            assert used <= allowed, file.relative_to(ROOT).as_posix()


def test_an_undeclared_library_is_seen() -> None:
    source = "import json, tree_sitter_toml\ndef f():\n    from scipy.optimize import brentq\n"
    used = {distribution(name) for name in libraries(source + "from . import pytest\n")}
    assert used == {"tree-sitter-toml", "scipy"}


def test_constraints_are_plain_and_cover_every_requirement() -> None:
    lines = (ROOT / ".ci/constraints.txt").read_text("utf-8").splitlines()
    assert all(re.fullmatch(r"[A-Za-z0-9._-]+==[0-9][A-Za-z0-9.]*", line) for line in lines)
    table = project()["project"]
    wanted = [*table["dependencies"]]
    for extra in table["optional-dependencies"].values():
        wanted += extra
    assert declared(wanted) <= declared(lines)
