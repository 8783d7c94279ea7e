"""What a step of the work is: what is done, with which numbers, after what, and minding what."""

from dataclasses import dataclass

Hours = tuple[float, float]
"""From the least to the most, hours."""

NOW: Hours = (0.0, 0.0)


@dataclass(frozen=True, slots=True)
class After:
    """A step that has to be done before, and how long is waited after it, hours; ``why`` says so.

    ``why`` completes "wait": "for the glue's full strength"; empty where nothing is waited for.
    """

    step: str
    wait: Hours = NOW
    why: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One step; every sentence is for a person in the shop, lengths in the units of ``show``.

    Attributes:
        id: a word that the other steps name it by.
        phase: the part of the work that it belongs to.
        title: what is done, in a few words.
        do: sentences, in the order in which they are done.
        figures: pairs of a name and a value with its unit, to hold the work against.
        cautions: what can hurt somebody at this step.
        after: what has to be done before, with its waits.
        hands: hours at the bench, an estimate.
        people: how many it takes.
        papers: drawings, templates and lists to have at hand.
        missing: keys of the build file without which a figure of this step is not known.
        assumed: keys that the build file lacks, too, but for which something usual stands here.
        sources: what its numbers rest on.
    """

    id: str
    phase: str
    title: str
    do: tuple[str, ...]
    hands: Hours
    figures: tuple[tuple[str, str], ...] = ()
    cautions: tuple[str, ...] = ()
    after: tuple[After, ...] = ()
    people: int = 1
    papers: tuple[str, ...] = ()
    missing: tuple[str, ...] = ()
    assumed: tuple[str, ...] = ()
    sources: tuple[str, ...] = ()


def after(*steps: str) -> tuple[After, ...]:
    """Return steps that have to be done before, without a wait."""
    return tuple(After(step) for step in steps)
