"""Commands that only think must not wait for libraries that draw.

The walls are read from the text; here a fresh interpreter says what it really loaded, also what
came in through other libraries.
"""

import re
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[1]
EXAMPLES = sorted((ROOT / "examples").glob("*.toml"))

HEAVY = {"OCP", "cadquery", "ezdxf", "pypdf", "reportlab", "scipy", "shapely", "trimesh"}
HEAVY |= {"jsonschema", "vtk", "vtkmodules"}

LIGHT = {"scipy", "scipy.version"}
"""pint asks whether scipy is there; that loads its shell (8 ms) and none of its parts."""

IMPORTED = re.compile(r"^import time:[^|]*\|[^|]*\|\s*(\S+)\n", re.MULTILINE)


def loaded(*args: str) -> tuple[subprocess.CompletedProcess[str], set[str]]:
    """Run a fresh interpreter; return what it did and the modules that it imported."""
    command = [sys.executable, "-X", "importtime", *args]
    done = subprocess.run(command, capture_output=True, text=True, timeout=120, check=False)
    names = set(IMPORTED.findall(done.stderr))
    done.stderr = IMPORTED.sub("", done.stderr)
    return done, names


def heavy(names: set[str]) -> set[str]:
    """Return the heavy libraries among some modules."""
    parts = {name for name in names - LIGHT if not name.startswith("scipy._")}
    return {name.partition(".")[0] for name in parts} & HEAVY


@pytest.mark.parametrize("example", EXAMPLES, ids=lambda file: file.stem)
def test_check_loads_nothing_heavy(example: Path) -> None:
    done, names = loaded("-m", "collarwright.outputs", "check", str(example))
    assert done.returncode in {0, 1}, done.stderr
    assert done.stdout.strip(), done.stderr
    assert {"collarwright.outputs.cli", "pint"} <= names
    assert heavy(names) == set()


def test_catalog_loads_nothing_heavy() -> None:
    done, names = loaded("-m", "collarwright.outputs", "catalog", "shanks")
    assert done.returncode == 0, done.stderr
    assert done.stdout.strip(), done.stderr
    assert "collarwright.outputs.cli" in names
    assert heavy(names) == set()


def modules() -> list[str]:
    """Return every module of the rooms, but for the solids and what runs when imported."""
    found: list[str] = []
    for room in ("params", "geometry", "outputs"):
        for file in sorted((ROOT / room).rglob("*.py")):
            parts = file.relative_to(ROOT).with_suffix("").parts
            if parts[:2] != ("geometry", "solids") and parts[-1] != "__main__":
                found.append(".".join(["collarwright", *parts]).removesuffix(".__init__"))
    return found


def test_no_module_loads_anything_heavy() -> None:
    wanted = modules()
    assert len(wanted) > 5
    done, names = loaded("-c", "\n".join(f"import {name}" for name in wanted))
    assert done.returncode == 0, done.stderr
    assert set(wanted) <= names
    assert heavy(names) == set()


@pytest.mark.parametrize(
    ("statement", "library"),
    [
        ("def f():\n    import pypdf.errors\nf()", "pypdf"),
        ("import scipy.optimize", "scipy"),
        ("import ezdxf.lldxf.const", "ezdxf"),
    ],
)
def test_a_heavy_import_is_seen(statement: str, library: str) -> None:
    done, names = loaded("-c", statement)
    assert done.returncode == 0, done.stderr
    assert heavy(names) == {library}
