"""The keys of the build file, taken from the types in ``project``: what each one wants.

Messages, ``[limits]`` and the starter need to know what may be written where; the types say
it already, so it is read from them and not written down a second time.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from types import NoneType, UnionType
from typing import Annotated, Any, Literal, Union, get_args, get_origin

from pydantic import BaseModel, BeforeValidator
from pydantic.fields import FieldInfo

from .. import project
from ..project import BySide, Table
from ..units import WORDS, Kind
from ..values import Reader
from .examples import EXAMPLES, FILLED
from .paths import ROWS, plain

TABLES: Mapping[str, type[Table]] = {
    "lip": project.Lip,
    "board": project.Board,
    "seat": project.Seat,
    "cover": project.Cover,
    "cap": project.Cap,
    "finish": project.Finish,
    "stock": project.Stock,
    "shop": project.Shop,
    "taps": project.Taps,
    "foam": project.Foam,
    "manifold": project.Manifold,
    "lid": project.Lid,
    "hinge": project.Hinge,
    "room": project.Room,
    "well": project.Well,
    "vessel": project.Vessel,
    "pour": project.Pour,
    "hole": project.Passage,
    "tray": project.Tray,
    "keep_out": project.KeepOut,
    "built": project.Built,
}
"""Every table with keys of its own; ``[limits]`` has other people's keys."""

REQUIRED = ("lip", "board", "taps")

IDS: Mapping[str, tuple[str, str]] = {
    "board.stock": ("lumber", "board-1x6"),
    "board.species": ("species", "white-oak"),
    "board.bracket": ("brackets", "bracket-2x2-in"),
    "board.glue": ("glues", "pva-waterproof"),
    "finish.kind": ("finishes", "spar-varnish"),
    "seat.seal": ("seals", "epdm-d-profile"),
    "taps.shank": ("shanks", "shank-4-1-8-in"),
    "taps.faucet": ("faucets", "faucet-forward-sealing"),
    "taps.handle": ("handles", "handle-short-knob"),
    "taps.wrench": ("wrenches", "wrench-hook-pin"),
    "foam.kind": ("foam", "xps-type-iv-1-in"),
    "foam.adhesive": ("adhesives", "adhesive-foam-safe"),
    "manifold.kind": ("manifolds", "manifold-3-outlet"),
    "hinge.screw": ("screws", "wood-screw-no-8"),
    "vessel.kind": ("vessels", "keg-sixth-barrel"),
}
"""Keys that take the id of a catalogue's row: the catalogue, and an id that it has."""

REASONS: Mapping[str, str] = {
    "taps.names": "a side of 4 m has no room for more taps",
    "taps.count": "a side of 4 m has no room for more",
    "taps.positions": "a side of 4 m has no room for more",
    "lip": "nobody reads one edge more often",
    "vessel.count": "no freezer holds more",
    "hinge.screws": "no leaf has more",
    "tray.count": "no tray hangs on more",
    "tray.positions": "no tray hangs on more",
    "cover.sides": "a collar has four sides",
    "finish.coats": "nobody puts on more",
}
"""Why a number of things is limited, by key or by table."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Key:
    """One key: its path without indexes, what it wants in words, and a value that it takes.

    ``kind`` is the kind of quantity, None for what is none; ``usual`` is the example that all
    values of its type share; ``table`` says that the value is a table (``one``) or a list of
    tables (``many``). ``low`` and ``high`` bound a quantity or a number; ``choices`` are the words
    that it may be; ``whole`` says that it counts things, ``many`` that it takes a list.
    """

    path: str
    wanted: str
    example: str
    required: bool = False
    kind: Kind | None = None
    usual: str = ""
    table: Literal["", "one", "many"] = ""
    by_side: bool = False
    low: float | None = None
    high: float | None = None
    choices: tuple[str, ...] = ()
    whole: bool = False
    many: bool = False

    @property
    def name(self) -> str:
        """The key as it stands in its table."""
        return self.path.rpartition(".")[2]

    @property
    def line(self) -> str:
        """A line of a build file that would be accepted."""
        if self.table:
            return f"[[{self.path}]]" if self.table == "many" else f"[{self.path}]"
        return f"{self.name} = {self.example}"

    @property
    def filled(self) -> str:
        """The same; a table that is required with the lines that make it complete."""
        wanted = FILLED.get(self.path, ())
        return "\n".join([self.line, *(every()[f"{self.path}.{name}"].line for name in wanted)])


def find(path: str) -> Key | None:
    """Return a key by its path, with or without indexes; a side of a key is that key."""
    found = every()
    path = plain(path)
    key = found.get(path)
    if key is None:
        above = found.get(path.rpartition(".")[0])
        key = above if above is not None and above.by_side else None
    return key


def under(table: str) -> list[Key]:
    """Return the keys of a table, in their order; of the top of the file for an empty name."""
    return [key for key in every().values() if key.path.rpartition(".")[0] == table]


@cache
def every() -> Mapping[str, Key]:
    """Return every key and every table of the build file, by its path without indexes."""
    found = {key.path: key for key in _of(project.Top, "")}
    for name, model in TABLES.items():
        table = "many" if name in ROWS and name != "taps" else "one"
        wanted = f"the table {f'[[{name}]]' if table == 'many' else f'[{name}]'}"
        needed = name in REQUIRED
        found[name] = Key(path=name, wanted=wanted, example="", required=needed, table=table)
        found |= {key.path: key for key in _of(model, name)}
    found["limits"] = Key(path="limits", wanted="the table [limits]", example="", table="one")
    return found


def _of(model: type[BaseModel], above: str) -> Iterator[Key]:
    """Yield the keys of a table and of the tables in it."""
    for name, field in model.model_fields.items():
        path = f"{above}.{name}" if above else name
        shape = _Shape()
        shape.look(field.annotation)
        shape.take(field.metadata)
        table: Literal["", "one", "many"] = ""
        if shape.inner is not None:
            table = "many" if shape.many else "one"
        yield Key(
            path=path,
            wanted=shape.wanted(path),
            example=EXAMPLES.get(path) or shape.example(path),
            required=field.is_required(),
            kind=shape.reader.kind if shape.reader else None,
            usual=shape.reader.example if shape.reader else "",
            table=table,
            by_side=shape.by_side,
            low=shape.reader.low if shape.reader else shape.low,
            high=shape.reader.high if shape.reader else shape.high,
            choices=shape.choices,
            whole=shape.base is int,
            many=shape.many and shape.inner is None,
        )
        if shape.inner is not None:
            yield from _of(shape.inner, path)


@dataclass(slots=True)
class _Shape:
    """What a type annotation says about the value that it takes."""

    reader: Reader | None = None
    inner: type[Table] | None = None
    many: bool = False
    by_side: bool = False
    choices: tuple[str, ...] = ()
    base: type | None = None
    low: Any = None
    high: Any = None

    def look(self, annotation: Any) -> None:
        """Take in an annotation and everything inside it."""
        origin = get_origin(annotation)
        if origin is Annotated:
            inner, *notes = get_args(annotation)
            self.look(inner)
            self.take(notes)
        elif origin is Literal:
            self.choices = get_args(annotation)
        elif origin is tuple:
            self.many = True
            self.look(get_args(annotation)[0])
        elif origin in (Union, UnionType):
            for each in get_args(annotation):
                if each is not NoneType:
                    self.look(each)
        elif isinstance(annotation, type) and issubclass(annotation, BySide):
            self.by_side = True
            self.look(annotation.model_fields["front"].annotation)
        elif isinstance(annotation, type) and issubclass(annotation, Table):
            self.inner = annotation
        else:
            self.base = annotation

    def take(self, notes: Any) -> None:
        """Take in what stands beside a type in ``Annotated``."""
        for note in notes:
            if isinstance(note, BeforeValidator) and isinstance(note.func, Reader):
                self.reader = note.func
            elif isinstance(note, FieldInfo):
                self.take(note.metadata)
            else:
                self.low = getattr(note, "ge", self.low)
                self.high = getattr(note, "le", self.high)

    def wanted(self, path: str) -> str:
        """Say in words what the key takes."""
        if self.inner is not None:
            return f"the table {f'[[{path}]]' if self.many else f'[{path}]'}"
        if path == "stock.owned.defects":
            return (
                "a list of pairs: where a flaw begins and where it ends along the stick; of four:"
                " then also up from one edge"
            )
        if self.reader is not None:
            words = WORDS[self.reader.kind]
            if self.reader.ids:
                words = f"an id of the catalogue {IDS[path][0]}, or {words}"
            if self.reader.words:
                words += "".join(f', or "{word}"' for word in self.reader.words)
        elif path in IDS:
            words = f"an id of the catalogue {IDS[path][0]}"
        elif self.choices:
            words = "one of " + ", ".join(f'"{each}"' for each in self.choices)
        elif self.base is bool:
            words = "true or false"
        elif self.base is int and path.endswith(".tap"):
            words = "a tap's name in quotes, or its number"
        elif self.base in (int, float):
            words = "a whole number" if self.base is int else "a plain number"
            if self.low is not None:
                words += f" from {self.low:.9g} to {self.high:.9g}"
        else:
            words = "a text in quotes"
        return f"a list, each {words}" if self.many and path not in _ONE_OR_MANY else words

    def example(self, path: str) -> str:
        """Return a value that the key takes, as TOML."""
        if self.inner is not None:
            return ""
        if path in IDS:
            return f'"{IDS[path][1]}"'
        if self.reader is not None:
            text = self.reader.example
            listed = self.many and path not in _ONE_OR_MANY
            return f"[{text}]" if listed else text
        if self.choices:
            return f'"{self.choices[0]}"'
        if self.base is bool:
            return "true"
        return "2" if self.base is int and not path.endswith(".tap") else "1"


_ONE_OR_MANY = {f"lip.{name}" for name in project.Lip.model_fields}
