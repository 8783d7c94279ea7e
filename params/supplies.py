"""What is used up in the work: glue, finish, adhesives and lines, named in the build file or not.

No check asks for them, so they stay out of ``Project.parts``; the list of what to buy and the
order of work need their figures also where no key names one. What is taken then is said here.
"""

from .catalogue import Row, load
from .project import Project
from .units import UnitError, parse
from .values import is_tap

SUPPLIES = ("glues", "finishes", "adhesives", "lines")
"""The catalogues whose rows a project brings along whole."""

USUAL_GLUE = "pva-waterproof"
USUAL_FINISH = "spar-varnish"
USUAL_FOAM_ADHESIVE = "adhesive-foam-safe"
USUAL_LINE = "vinyl-3-16-in"

SAME_SIZE = 0.1
"""Lines whose inside diameters differ by less are of one size, mm."""

LIP = {"adhesive": "adhesive-lip", "sealant": "sealant-removable"}
"""``seat.hold`` -> the row of what comes from a cartridge; tape and cleats have none."""


def glue(project: Project) -> Row:
    """Return the glue of the miters; without a name the waterproof PVA."""
    return row(project, "glues", project.board.glue or USUAL_GLUE)


def finish(project: Project) -> Row:
    """Return the finish of the wood; without a name spar varnish."""
    named = project.finish.kind if project.finish else None
    return row(project, "finishes", named or USUAL_FINISH)


def primer(project: Project) -> Row | None:
    """Return what the finish wants on the bare wood under it, one coat; None where it wants none.

    None, too, where the row of a finish that no key names wants one that is in no catalogue.
    """
    named = finish(project).text("primer")
    return project.supplies.get(("finishes", named)) or load("finishes").get(named)


def brushed(project: Project) -> tuple[Row, ...]:
    """Return what goes on the wood with a brush: primer, if there is one, and finish."""
    under = primer(project)
    return (*((under,) if under else ()), finish(project))


def coats(project: Project) -> int:
    """Return how many coats the finish gets: as the build file says, else as the finish takes."""
    said = project.finish.coats if project.finish else None
    return said or round(finish(project).value("coats"))


def foam_adhesive(project: Project) -> Row | None:
    """Return what holds the foam panels, a kind for foam; None without foam."""
    if project.foam is None:
        return None
    return row(project, "adhesives", project.foam.adhesive or USUAL_FOAM_ADHESIVE)


def lip_adhesive(project: Project) -> Row | None:
    """Return the adhesive or sealant between collar and lip; None where neither holds it."""
    part_id = LIP.get((project.seat.hold if project.seat else None) or "")
    return row(project, "adhesives", part_id) if part_id else None


def strip_adhesive(project: Project) -> Row:
    """Return what holds steel strips on the top edges, if no screws do."""
    return row(project, "adhesives", LIP["adhesive"])


def row(project: Project, catalogue: str, part_id: str) -> Row:
    """Return one supply; of a project that no file was read for, the built-in row.

    Raises:
        KeyError: no such row.
    """
    found = project.supplies.get((catalogue, part_id))
    return load(catalogue)[part_id] if found is None else found


def gloves(one: Row) -> bool:
    """Tell whether something is not for bare hands: its row's note says so."""
    return "gloves" in one.text("note")


def drink_line(project: Project, tap: int, name: str) -> tuple[Row | None, str]:
    """Return a tap's line and what the build file calls it; without a word the usual line.

    The row is None where no line of the catalogue answers to that.

    Args:
        project: the build file.
        tap: the tap's number.
        name: the tap's name.
    """
    for pour in project.pour:
        if not is_tap(pour.tap, tap, name) or pour.line is None:
            continue
        rows = [each for each in lines(project) if each.text("use") == "drink"]
        try:
            inside = parse(pour.line, "length")
        except UnitError:
            return next((each for each in rows if each.id == pour.line), None), pour.line
        near = [each for each in rows if abs(each.value("inside_diameter") - inside) < SAME_SIZE]
        return (near[0] if near else None), f"{pour.line} inside"
    return row(project, "lines", USUAL_LINE), ""


def push_fit(line: Row) -> bool:
    """Tell whether a line goes into push-fit fittings, without barbs and clamps."""
    return "push-fit" in line.text("material")


def lines(project: Project) -> list[Row]:
    """Return every kind of line."""
    own = [each for (name, _), each in project.supplies.items() if name == "lines"]
    return own or list(load("lines").values())
