"""``work``: the order of work and its time plan, as text or as data."""

from ...geometry.plan.work import READY
from .data import work_data
from .planned import Work, date_text, parse_start, plan_work, wrong_hours
from .words import before_text, begun_text, gap, hands_text, missing_text, rules, work_text

__all__ = [
    "READY",
    "Work",
    "before_text",
    "begun_text",
    "date_text",
    "gap",
    "hands_text",
    "missing_text",
    "parse_start",
    "plan_work",
    "rules",
    "work_data",
    "work_text",
    "wrong_hours",
]
