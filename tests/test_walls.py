"""The walls between the rooms: who may import what.

Every source file is read as text, so an import inside a function counts too, nothing has to be
installed, and a broken wall is named with file and line. The walls themselves are tried on
made-up files further down: each one is seen to fall.
"""

import ast
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path, PurePosixPath

import pytest

ROOT = Path(__file__).resolve().parents[1]

ROOMS = {
    "params": {"params"},
    "geometry": {"params", "geometry"},
    "outputs": {"params", "geometry", "outputs"},
}
"""Each room, and the rooms that it may import."""

PARTS = {
    "shape": {"shape"},
    "handbook": {"handbook"},
    "plan": {"plan", "shape", "handbook"},
    "solids": {"solids", "shape"},
    "judge": {"judge", "plan", "shape", "handbook"},
}
"""Each part of geometry, and the parts that it may import. A new part needs a line here."""

HEAVY = {"OCP", "cadquery", "ezdxf", "highspy", "pypdf", "reportlab", "scipy", "shapely"}
HEAVY |= {"trimesh", "vtk", "vtkmodules"}
"""Libraries too slow to load before they are needed."""

KERNEL = {"OCP", "cadquery", "vtk", "vtkmodules"}
FORMATS = {"ezdxf", "pypdf", "reportlab"}

SOLIDS = "geometry/solids"
CHECKS = "geometry/judge/checks"
READERS = "outputs/readback"
FOR_CHECKS = ("geometry.judge.finding", "geometry.judge.design")
"""The only modules of the judge that a check may import: what it says and what it looks at."""


@dataclass(frozen=True, slots=True)
class Import:
    """One imported name; a relative one is spelled out from the repository's root."""

    name: str
    line: int
    relative: bool
    at_load: bool

    @property
    def library(self) -> str:
        """The top-level name, or "" for a relative import."""
        return "" if self.relative else self.name.partition(".")[0]

    def inside(self, module: str) -> bool:
        """Whether this is a module of the project, or something in it."""
        return self.relative and f"{self.name}.".startswith(f"{module}.")


class _Imports(ast.NodeVisitor):
    """Collects imports, and knows which of them run when the file is loaded."""

    def __init__(self, path: str) -> None:
        self.folder = PurePosixPath(path).parts[:-1]
        self.at_load = True
        self.found: list[Import] = []

    def _add(self, name: str, node: ast.AST, *, relative: bool = False) -> None:
        self.found.append(Import(name, node.lineno, relative, self.at_load))

    def _later(self, *nodes: ast.AST) -> None:
        before, self.at_load = self.at_load, False
        for node in nodes:
            self.visit(node)
        self.at_load = before

    def visit_Import(self, node: ast.Import) -> None:
        for alias in node.names:
            self._add(alias.name, node)

    def visit_ImportFrom(self, node: ast.ImportFrom) -> None:
        up = node.level - 1
        base = self.folder[: len(self.folder) - up] if node.level else ()
        if up > len(self.folder):
            base = ("..",)
        module = node.module.split(".") if node.module else []
        for alias in node.names:
            self._add(".".join([*base, *module, alias.name]), node, relative=node.level > 0)

    def visit_Call(self, node: ast.Call) -> None:
        called = node.func.attr if isinstance(node.func, ast.Attribute) else None
        called = node.func.id if isinstance(node.func, ast.Name) else called
        if called in {"import_module", "__import__"} and node.args:
            name = node.args[0]
            if isinstance(name, ast.Constant) and isinstance(name.value, str):
                self._add(name.value, node)
        self.generic_visit(node)

    def visit_FunctionDef(self, node: ast.FunctionDef | ast.AsyncFunctionDef) -> None:
        for now in (*node.decorator_list, node.args):
            self.visit(now)
        self._later(*node.body)

    visit_AsyncFunctionDef = visit_FunctionDef  # noqa: N815 - named by ast

    def visit_Lambda(self, node: ast.Lambda) -> None:
        self._later(node.body)

    def visit_If(self, node: ast.If) -> None:
        if ast.unparse(node.test).rpartition(".")[2] == "TYPE_CHECKING":
            self._later(*node.body)
        else:
            for now in (node.test, *node.body):
                self.visit(now)
        for now in node.orelse:
            self.visit(now)


def imports(path: str, source: str) -> list[Import]:
    """Return every import of one file; ``path`` is relative to the repository's root."""
    visitor = _Imports(path)
    visitor.visit(ast.parse(source, path))
    return visitor.found


def _in(path: str, folder: str) -> bool:
    return path.startswith(f"{folder}/")


def _room(path: str) -> str:
    first = path.partition("/")[0]
    return first if first in ROOMS else ""


def bare(_path: str, found: Import) -> bool:
    """No file names a room without the package, or counts on the repository's other folders."""
    return found.library in {*ROOMS, "tests", "examples"}


def absolute(path: str, found: Import) -> bool:
    """Inside the rooms imports are relative."""
    return bool(_room(path)) and found.library == "collarwright"


def rooms(path: str, found: Import) -> bool:
    """Imports run outputs -> geometry -> params."""
    room = _room(path)
    return bool(room) and found.relative and found.name.partition(".")[0] not in ROOMS[room]


def parts(path: str, found: Import) -> bool:
    """Inside geometry imports run judge -> plan -> shape, handbook; solids -> shape."""
    if not (_in(path, "geometry") and found.inside("geometry")):
        return False
    part = path.split("/")[1].removesuffix(".py")
    return found.name.split(".")[1] not in PARTS.get(part, set())


def checks(path: str, found: Import) -> bool:
    """A check knows the finding and the design, no other check and nothing else of the judge."""
    if not _in(path, CHECKS) or path == f"{CHECKS}/__init__.py":
        return False
    return found.inside("geometry.judge") and not any(map(found.inside, FOR_CHECKS))


def readers(path: str, found: Import) -> bool:
    """What reads a file back knows nothing of what wrote it."""
    return _in(path, READERS) and found.inside("outputs") and not found.inside("outputs.readback")


def units(path: str, found: Import) -> bool:
    """Only params/units.py uses pint."""
    return bool(_room(path)) and found.library == "pint" and path != "params/units.py"


def kernel(path: str, found: Import) -> bool:
    """Only geometry/solids loads the CAD kernel."""
    return bool(_room(path)) and found.library in KERNEL and not _in(path, SOLIDS)


def formats(path: str, found: Import) -> bool:
    """Params and geometry know no output format."""
    return _room(path) in {"params", "geometry"} and found.library in FORMATS


def heavy(path: str, found: Import) -> bool:
    """Outside geometry/solids, heavy libraries and the solids are imported inside functions."""
    if not _room(path) or _in(path, SOLIDS) or not found.at_load:
        return False
    return found.library in HEAVY or found.inside("geometry.solids")


Wall = Callable[[str, Import], bool]
WALLS: list[Wall] = [
    bare, absolute, rooms, parts, checks, readers, units, kernel, formats, heavy,
]  # fmt: skip


def broken(path: str, source: str) -> list[tuple[str, str]]:
    """Return (name of the wall, sentence with file and line) for each import through a wall."""
    return [
        (wall.__name__, f"{path}:{found.line}: imports {found.name}. {wall.__doc__}")
        for found in imports(path, source)
        for wall in WALLS
        if wall(path, found)
    ]


def sources() -> Iterator[Path]:
    """Return every Python file of the rooms and the tests."""
    for folder in (*ROOMS, "tests"):
        yield from sorted((ROOT / folder).rglob("*.py"))


def test_no_wall_is_broken() -> None:
    faults: list[str] = []
    for file in sources():
        path = file.relative_to(ROOT).as_posix()
        faults += [sentence for _, sentence in broken(path, file.read_text("utf-8"))]
    assert not faults, "\n" + "\n".join(faults)


def test_every_room_is_looked_at() -> None:
    seen = {file.relative_to(ROOT).as_posix() for file in sources()}
    assert {f"{room}/__init__.py" for room in ROOMS} <= seen
    assert "tests/test_walls.py" in seen
    assert f"{CHECKS}/__init__.py" in seen


def test_every_part_of_geometry_has_its_place() -> None:
    inside = {file.name.removesuffix(".py") for file in (ROOT / "geometry").glob("*")}
    assert inside - {"__init__", "__pycache__", "py.typed"} <= set(PARTS)


# Each of these goes through the wall named last, on its last line.
FALL = [
    ("tests/params/test_x.py", "from params.units import parse", "bare"),
    ("geometry/shape/x.py", "import geometry.shape.lip", "bare"),
    ("outputs/x.py", "import tests.helpers", "bare"),
    ("outputs/x.py", "def f():\n    import outputs", "bare"),
    ("outputs/x.py", "import importlib\nx = importlib.import_module('params.units')", "bare"),
    ("geometry/shape/x.py", "from collarwright.params.units import parse", "absolute"),
    ("params/x.py", "import collarwright.params.units", "absolute"),
    ("params/x.py", "from ..geometry.shape import lip", "rooms"),
    ("params/x.py", "from .. import geometry", "rooms"),
    ("params/x.py", "def f():\n    from ..outputs import cli", "rooms"),
    ("geometry/shape/x.py", "import math\nfrom ...outputs.cli import main", "rooms"),
    ("geometry/shape/x.py", "if TYPE_CHECKING:\n    from ...outputs.cli import main", "rooms"),
    ("outputs/x.py", "from ...elsewhere import y", "rooms"),
    ("geometry/shape/x.py", "from ..plan.boards import fit", "parts"),
    ("geometry/shape/x.py", "from .. import handbook", "parts"),
    ("geometry/shape/x.py", "def f():\n    from ..judge.finding import Finding", "parts"),
    ("geometry/handbook/x.py", "from ..shape.lip import Lip", "parts"),
    ("geometry/plan/x.py", "def f():\n    from ..solids.board import board", "parts"),
    ("geometry/plan/x.py", "from ..judge import finding", "parts"),
    ("geometry/judge/x.py", "def f():\n    from ..solids.board import board", "parts"),
    ("geometry/solids/x.py", "from ..judge.finding import Finding", "parts"),
    ("geometry/solids/x.py", "from ..plan.boards import fit", "parts"),
    ("geometry/stray.py", "from .shape.lip import Lip", "parts"),
    ("geometry/__init__.py", "from .judge.finding import Finding", "parts"),
    (f"{CHECKS}/x.py", "from .y import helper", "checks"),
    (f"{CHECKS}/x.py", "from . import y", "checks"),
    (f"{CHECKS}/x.py", "from ..checks.y import helper", "checks"),
    (f"{CHECKS}/x.py", "from ..tolerance import spread", "checks"),
    (f"{CHECKS}/x.py", "def f():\n    from ..finding_extra import y", "checks"),
    (f"{CHECKS}/x.py", "from ..evaluate import evaluate", "checks"),
    (f"{READERS}/x.py", "from ..cut import LAYERS", "readers"),
    (f"{READERS}/x.py", "from .. import cut", "readers"),
    ("params/project.py", "import pint", "units"),
    ("outputs/x.py", "def f():\n    from pint import UnitRegistry", "units"),
    ("geometry/shape/x.py", "def f():\n    import cadquery as cq", "kernel"),
    ("outputs/x.py", "def f():\n    from OCP.gp import gp_Pnt", "kernel"),
    (f"{READERS}/x.py", "def f():\n    return __import__('OCP.gp')", "kernel"),
    ("geometry/solids_extra.py", "def f():\n    import cadquery", "kernel"),
    ("geometry/shape/x.py", "def f():\n    import ezdxf", "formats"),
    ("geometry/solids/x.py", "def f():\n    from reportlab.pdfgen.canvas import Canvas", "formats"),
    ("params/x.py", "def f():\n    import pypdf", "formats"),
    ("outputs/x.py", "import ezdxf", "heavy"),
    ("outputs/x.py", "from reportlab.pdfgen import canvas", "heavy"),
    (f"{READERS}/x.py", "import pypdf, json", "heavy"),
    ("outputs/x.py", "try:\n    pass\nfinally:\n    import trimesh", "heavy"),
    ("outputs/x.py", "class A:\n    import shapely", "heavy"),
    (
        "geometry/shape/x.py",
        "if TYPE_CHECKING:\n    pass\nelse:\n    import scipy.optimize",
        "heavy",
    ),
    ("outputs/x.py", "from ..geometry.solids.board import board", "heavy"),
]


@pytest.mark.parametrize(("path", "source", "wall"), FALL)
def test_a_broken_wall_is_seen(path: str, source: str, wall: str) -> None:
    found = broken(path, source)
    assert [name for name, _ in found] == [wall]
    assert found[0][1].startswith(f"{path}:{len(source.splitlines())}: imports ")


def test_every_wall_is_tried() -> None:
    assert {wall for _, _, wall in FALL} == {wall.__name__ for wall in WALLS}


STAND = [
    ("params/units.py", "import pint"),
    ("params/project.py", "from .units import parse\nfrom pydantic import BaseModel"),
    ("geometry/shape/x.py", "from ...params.units import parse\nfrom ..shape.lip import Lip"),
    ("geometry/plan/x.py", "from ..shape import lip\nfrom ..handbook.heat import loss"),
    (
        "geometry/judge/x.py",
        "from ..plan import a\nfrom ..shape import b\nfrom ..handbook import c",
    ),
    ("geometry/judge/x.py", "from .checks import CHECKS\nfrom .finding import Finding"),
    (f"{CHECKS}/__init__.py", "from .skirt import check\nfrom . import lid_wall"),
    (f"{CHECKS}/x.py", "from ..finding import Finding\nfrom ..design import Design, at"),
    (f"{CHECKS}/x.py", "from ...shape.lip import Lip\nfrom ...handbook.heat import loss"),
    ("geometry/solids/x.py", "import cadquery as cq\nfrom OCP.gp import gp_Pnt\nimport trimesh"),
    ("outputs/x.py", "def f():\n    import ezdxf\n    from ..geometry.solids import board"),
    ("outputs/x.py", "if TYPE_CHECKING:\n    from ezdxf.document import Drawing"),
    ("outputs/x.py", "f = lambda: __import__('trimesh')\nasync def g():\n    import pypdf"),
    ("outputs/x.py", "from ..params.units import parse\nfrom .readback import dxf"),
    (f"{READERS}/x.py", "from .common import Circle\nfrom ...geometry.shape.hole import Hole"),
    ("tests/params/test_x.py", "import pint, cadquery, shapely\nimport collarwright.params.units"),
]


@pytest.mark.parametrize(("path", "source"), STAND)
def test_what_is_allowed_passes(path: str, source: str) -> None:
    assert broken(path, source) == []
