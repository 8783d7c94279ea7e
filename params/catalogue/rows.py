"""What a catalogue row is: named figures, each with low, high, basis and source."""

from collections.abc import Mapping
from dataclasses import dataclass

from .schema import SCHEMAS


class CatalogueError(KeyError):
    """A catalogue does not have what was asked of it, or one of the built-in files is wrong."""

    def __str__(self) -> str:
        """Return the sentence itself; a plain KeyError would put it in quotes."""
        return str(self.args[0]) if self.args else ""


@dataclass(frozen=True, slots=True)
class Figure:
    """One number of a thing that can be bought.

    ``low`` and ``high`` say how far the part in hand may differ from ``value``; all three are
    in ``unit``. ``basis`` is one of ``catalogue_schema.BASES``.
    """

    value: float
    low: float
    high: float
    unit: str
    basis: str
    source: str


@dataclass(frozen=True, slots=True)
class Row:
    """One thing that can be bought. A figure that nobody gave is not among ``figures``.

    ``origin`` says where the row stands: file name and line.
    """

    catalogue: str
    id: str
    name: str
    figures: Mapping[str, Figure]
    texts: Mapping[str, str]
    origin: str

    def value(self, name: str) -> float:
        """Return a figure's value in its unit.

        Raises:
            CatalogueError: The row does not have that figure.
        """
        found = self.figures.get(name)
        if found is None:
            raise CatalogueError(self._lacks(name))
        return found.value

    def get(self, name: str) -> float | None:
        """Return a figure's value in its unit, or None where the row does not have it."""
        found = self.figures.get(name)
        return None if found is None else found.value

    def text(self, name: str) -> str:
        """Return the words of a text column, empty where there are none."""
        return self.texts.get(name, "")

    def with_figure(self, name: str, value: float) -> "Row":
        """Return a copy with another value; low, high, basis and source stay.

        This is the step of a tolerance loop, so nothing is checked but the name. A figure that
        the row does not have yet becomes a reading (see ``with_reading``).

        Raises:
            CatalogueError: Rows of this catalogue have no such figure.
        """
        old = self.figures.get(name)
        if old is None:
            return self.with_reading(name, value, "the build file")
        new = Figure(value, old.low, old.high, old.unit, old.basis, old.source)
        return self._with(name, new)

    def with_reading(self, name: str, value: float, source: str) -> "Row":
        """Return a copy in which somebody measured this figure: low and high are the value.

        Raises:
            CatalogueError: Rows of this catalogue have no such figure.
        """
        column = SCHEMAS[self.catalogue].figure(name)
        if column is None:
            raise CatalogueError(self._lacks(name))
        return self._with(name, Figure(value, value, value, column.unit, "measured", source))

    def _with(self, name: str, figure: Figure) -> "Row":
        figures = {**self.figures, name: figure}
        return Row(self.catalogue, self.id, self.name, figures, self.texts, self.origin)

    def _lacks(self, name: str) -> str:
        who = f"{self.catalogue}: {self.id} ({self.origin})"
        schema = SCHEMAS[self.catalogue]
        if schema.figure(name) is not None:
            return f"{who} has no {name}"
        return f"{who}: no figure is called {name}; there are " + ", ".join(
            column.name for column in schema.figures
        )
