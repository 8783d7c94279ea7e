"""The order of work as data."""

from typing import Any

from ...geometry.plan.work import FIRST, READY, Step
from ..summary import FORMAT
from .planned import Work


def work_data(work: Work) -> dict[str, Any]:
    """Return the order of work as JSON-ready data; times in hours from midnight before day 1."""
    return {
        "format": FORMAT,
        "title": work.project.title,
        "first": FIRST,
        "must_fails": work.fails,
        "hours_a_day": work.hours,
        "start": None if work.start is None else work.start.isoformat(),
        "ready": {
            "day": work.turn(READY).last_day,
            "date": _iso(work, work.turn(READY).last_day),
            "shortest_day": work.shortest,
        },
        "longest_chain": {
            "steps": list(work.chain.steps),
            "bench_h": round(work.chain.bench, 3),
            "waiting_h": round(work.chain.waiting, 3),
        },
        "steps": [_step_data(work, number, step) for number, step in enumerate(work.steps, 1)],
        "days": [
            {
                "step": turn.step.id,
                "day": turn.first_day,
                "last_day": turn.last_day,
                "date": _iso(work, turn.first_day),
                "begin_h": round(turn.begin, 3),
                "end_h": round(turn.end, 3),
            }
            for turn in work.turns
        ],
        "taking_off": _step_data(work, None, work.off),
    }


def _iso(work: Work, day: int) -> str | None:
    found = work.date(day)
    return None if found is None else found.isoformat()


def _step_data(work: Work, number: int | None, step: Step) -> dict[str, Any]:
    return {
        "number": number,
        "id": step.id,
        "phase": step.phase,
        "title": step.title,
        "do": list(step.do),
        "figures": [{"name": name, "value": value} for name, value in step.figures],
        "cautions": list(step.cautions),
        "after": [
            {
                "step": each.step,
                "wait_low_h": round(each.wait[0], 3),
                "wait_high_h": round(each.wait[1], 3),
                "why": each.why,
            }
            for each in step.after
        ],
        "hands_low_h": round(step.hands[0], 2),
        "hands_high_h": round(step.hands[1], 2),
        "people": step.people,
        "papers": list(step.papers),
        "missing": list(step.missing),
        "assumed": list(step.assumed),
        "sources": list(step.sources),
    }
