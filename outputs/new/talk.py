"""``new`` at a terminal: asks for the readings one after another, and keeps each as it is given.

Nothing that was said is lost: an answer that is taken is in the file before the next question is
put. What a file said already is not asked again, but can be gone back to.
"""

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Literal

from ...params.starter import (
    BY_KEY,
    GROUP_OF,
    GROUPS,
    QUESTIONS,
    EditError,
    Group,
    Question,
    answered,
    makes_sense,
)
from ...params.units import Show
from ..text import wrapped
from . import words
from .checking import DIAGONALS, State, is_of, new_problems, refusal, state
from .doubts import Doubt, doubt
from .opens import opens
from .paper import Changes, Paper
from .parts import Found, look, nearest, rows_of, told

UNITS: Mapping[Show, tuple[str, ...]] = {
    "in": ("in", "deg", "degF", "ft2", "%"),
    "mm": ("mm", "deg", "degC", "m2", "%"),
}
"""Units that may be meant where one is missing, by what lengths are told in."""

Say = Callable[[str], None]
Hear = Callable[[str], str]
Ending = Literal["done", "stopped"]
Next = Literal["on", "again", "stop"]

ALSO = {"metric": "mm", "millimeters": "mm", "millimetres": "mm", "imperial": "in"}
"""Words that are answers too, where one of a few is asked for."""


@dataclass(slots=True)
class Talk:
    """One talk. ``skipped`` are keys, ``opened`` and ``passed`` names of groups."""

    paper: Paper
    hear: Hear
    say: Say
    skipped: set[str] = field(default_factory=set[str])
    opened: set[str] = field(default_factory=set[str])
    passed: set[str] = field(default_factory=set[str])
    told: set[str] = field(default_factory=set[str])
    aim: Question | None = None
    doubted: tuple[str, str, str] | None = None
    choices: list[Changes] = field(default_factory=list[Changes])
    warned: bool = False
    heading: Group | None = None
    wrong: set[str] = field(default_factory=set[str])

    def run(self) -> Ending:
        """Ask what is open, until nothing is or the person stops."""
        for line in words.HELP:
            self.say(line)
        self.told |= set(self._state().fails)
        for problem in self._state().problems:
            key = next((each for each in BY_KEY if is_of(problem.key, each)), "")
            self.wrong |= {key} if key in self.paper.answers else set()
            self._tell(f"{problem.key}: {problem.read} will not do: expected {problem.wanted}.", "")
        while True:
            if self.aim is not None:
                question, self.aim = self.aim, None
                ending = self._ask(question)
            else:
                group = next((each for each in GROUPS if self._open(each)), None)
                if group is None:
                    return "done"
                if group.first or group.name in self.opened:
                    ending = self._ask(self._open(group)[0])
                else:
                    ending = self._offer(group)
            if ending == "stop":
                return "stopped"

    def _state(self) -> State:
        return state(self.paper.path, self.paper.text)

    def _tell(self, text: str, indent: str = "   ") -> None:
        later = indent + ("  " if text.startswith("- ") else "")
        for line in wrapped(text, indent, later):
            self.say(line)

    def _is_open(self, question: Question) -> bool:
        return (
            (not answered(question, self.paper.answers) or question.key in self.wrong)
            and question.key not in self.skipped
            and question.key not in self.paper.own
            and makes_sense(question, self.paper.answers)
        )

    def _open(self, group: Group) -> list[Question]:
        """Return the questions of a group that are to be asked still."""
        if group.name in self.passed:
            return [each for each in group.questions if each.needed and self._is_open(each)]
        return [each for each in group.questions if self._is_open(each)]

    def _offer(self, group: Group) -> Next:
        """Ask whether a group is to be measured."""
        some = [each for each in group.questions if not answered(each, self.paper.answers)]
        self.say("")
        needed = [check for each in group.questions for check in opens().get(each.key, ())]
        count = sum(self._counts(each) for each in some)
        for line in words.offer(group, count, needed):
            self._tell(line, "")
        while True:
            said = self.hear("   y measures it now, n leaves it for later [n]: ").strip()
            lower = said.lower()
            if lower in ("y", "yes"):
                self.opened.add(group.name)
                self.heading = group
                return "on"
            if lower in ("", "n", "no", "skip", "skip all"):
                self.passed.add(group.name)
                self._tell("Left for later: --complete asks for it.")
                return "on"
            if lower in ("stop", "quit", "exit"):
                return "stop"
            if lower == "back":
                if self._go_back(group.questions[0]):
                    return "on"
            elif said in BY_KEY:
                self.aim = BY_KEY[said]
                return "on"
            elif lower == "answers":
                self._answers()
            else:
                self._tell("y or n; back, answers, stop, and the name of a question do as well.")

    def _ask(self, question: Question) -> Next:
        """Put one question until it is answered, passed over or left."""
        group = GROUP_OF[question.key]
        some = [each for each in group.questions if self._counts(each) or each is question]
        self.say("")
        if group is not self.heading:
            self._tell(words.opening(group, len(some)), "")
            self.heading = group
        self._tell(words.asked(question, some.index(question) + 1, len(some)), "")
        self._tell(f"{question.how} {words.hint(question)}")
        self.choices = []
        while True:
            said = self.hear(words.prompt(question, self.paper.answers, self.paper.show)).strip()
            done = self._command(question, said)
            if done is None:
                done = self._answer(question, said)
            if done != "again":
                return done

    def _counts(self, question: Question) -> bool:
        """Tell whether a question is one of its group's, also if that is not certain yet."""
        if question.key in self.paper.own or question.key in self._by_sizes():
            return False
        before = BY_KEY.get(question.follows)
        return makes_sense(question, self.paper.answers) or (
            before is not None and self._is_open(before)
        )

    def _by_sizes(self) -> set[str]:
        """Return the keys of sizes that were given in place of an id."""
        known = self.paper.answers
        return {
            key
            for each in QUESTIONS
            if each.key not in known and answered(each, known)
            for key in each.measured
        }

    def _command(self, question: Question, said: str) -> Next | None:
        """Do what is no answer; None if it is one."""
        lower = said.lower()
        if lower in ("stop", "quit", "exit"):
            return "stop"
        if lower == "back":
            return "on" if self._go_back(question) else "again"
        if said in BY_KEY and "." in said:
            self.aim = BY_KEY[said]
            return "on"
        if lower in ("?", "help"):
            for line in words.more(question, opens(), self.paper.show):
                self._tell(line)
        elif lower == "answers":
            self._answers()
        elif lower == "list" and question.catalogue:
            for row in rows_of(question, self.paper.path).values():
                self._tell(told(row, self.paper.show))
        elif lower in ("skip all", "skip group"):
            group = GROUP_OF[question.key]
            self.skipped |= {each.key for each in self._open(group) if not self._needed(each)}
            self._tell(f"The rest of {group.name} is left open. --complete asks for it later.")
            return "on" if not self._needed(question) else self._wait(question)
        elif not said and answered(question, self.paper.answers):
            if question.key not in self.wrong:
                return "on"
            self._tell("What stands in the file will not do. Answer otherwise, or skip it.")
        elif not said or lower == "skip":
            return self._skip(question)
        else:
            return None
        return "again"

    def _needed(self, question: Question) -> bool:
        if question.key == DIAGONALS[0] and self._state().apart:
            return True
        return question.needed

    def _wait(self, question: Question) -> Next:
        self._tell(words.cannot_wait(question, apart=not question.needed))
        return "again"

    def _skip(self, question: Question) -> Next:
        if self._needed(question):
            return self._wait(question)
        self.wrong.discard(question.key)
        if answered(question, self.paper.answers):
            changes = dict.fromkeys((question.key, *question.measured))
            if not self._take({key: None for key in changes if key in self.paper.answers}):
                return "again"
        self.skipped.add(question.key)
        for line in words.skipped(question, opens()):
            self._tell(line)
        self._notes()
        return "on"

    def _answers(self) -> None:
        for each in QUESTIONS:
            if each.key in self.paper.answers:
                self._tell(f"{each.key}: {self.paper.answers[each.key]}")
        if not self.paper.answers:
            self._tell("Nothing was said yet.")

    def _go_back(self, question: Question) -> bool:
        """Aim at the question before; False if there is none."""
        for each in reversed(QUESTIONS[: QUESTIONS.index(question)]):
            known = answered(each, self.paper.answers) or each.key in self.skipped
            if known and makes_sense(each, self.paper.answers) and each.key not in self.paper.own:
                self.aim = each
                return True
        self._tell("There is no question before this one.")
        return False

    def _answer(self, question: Question, said: str) -> Next:
        """Take an answer, or say why not."""
        key, _, meant = self.doubted or ("", "", "")
        if meant and key == question.key and said.lower() in ("y", "yes"):
            said = meant
            self._tell(f"Taken: {said}.")
        changes = self._changes(question, said)
        if not changes:
            return "again"
        before = self._state()
        try:
            after = state(self.paper.path, self.paper.tried(changes))
        except EditError as error:
            self._tell(f"{error}.")
            return "again"
        keys = [key for key, value in changes.items() if value is not None]
        wrong = new_problems(before, after, keys)
        if wrong:
            self._refuse(question, said, refusal(wrong[0], keys, self.paper.answers))
            return "again"
        if self._is_doubtful(question, said, changes):
            return "again"
        if not self._take(changes):
            return "again"
        self.skipped.discard(question.key)
        self.wrong.discard(question.key)
        if self._state().apart and not self.warned and question.key.startswith("lip."):
            self.warned = True
            self._tell(words.APART)
        self._notes()
        return "on"

    def _refuse(self, question: Question, said: str, why: str) -> None:
        """Say why an answer will not do, and what may have been meant."""
        odd = doubt(self.paper.answers, question, said)
        if odd is not None and odd.offer:
            self.doubted = (question.key, said, odd.offer)
            self._tell(f"{words.capital(odd.text)} y takes that.")
            return
        if odd is not None and question.key in DIAGONALS:
            why = words.capital(odd.text)
        for unit in UNITS[self.paper.show]:
            meant = f"{said} {unit}"
            if re.fullmatch(r"-?[\d ./-]*\d", said) and self._will_do(question, meant):
                self.doubted = (question.key, said, meant)
                why = f"The unit is missing; did you mean {meant}? y takes that."
                break
        self._tell(why)

    def _will_do(self, question: Question, said: str) -> bool:
        after = state(self.paper.path, self.paper.tried({question.key: said}))
        return not new_problems(self._state(), after, [question.key])

    def _changes(self, question: Question, said: str) -> Changes:
        """Return what an answer comes to; empty where it has to be asked again."""
        if self.choices and said.isdecimal() and 0 < int(said) <= len(self.choices):
            return self.choices[int(said) - 1]
        if question.choices:
            lower = ALSO.get(said.lower(), said.lower())
            some = [each for each in question.choices if each.startswith(lower)]
            some = some or [each for each in question.choices if lower.startswith(each)]
            exact = [each for each in some if each == lower] or some
            return {question.key: exact[0] if len(exact) == 1 else said}
        if not question.catalogue:
            return {question.key: said}
        if question.measured and re.fullmatch(r"\d+(\.\d+)?", said):
            meant = f"{said} {self.paper.show}"
            self.doubted = (question.key, said, meant)
            self._tell(f"The unit is missing; did you mean {meant}? y takes that.")
            return {}
        found = look(question, said, self.paper.path, self.paper.show)
        if found.said and not found.offers and not found.changes:
            self._tell(found.said)
            return {}
        if found.changes or found.offers:
            return self._chosen(found)
        rows = rows_of(question, self.paper.path)
        if question.key == "taps.shank" and not nearest(rows, said):
            return {question.key: said}  # a length gone wrong: the door says how
        self._tell(f"Nothing in the catalogue is called {said!r}; list shows what there is.")
        if question.measured and len(question.measured) > 1:
            self._tell("Sizes measured on the part, with their unit, do as well.")
        return {}

    def _chosen(self, found: Found) -> Changes:
        if found.changes:
            if found.said:
                self._tell(found.said)
            return found.changes
        self._tell("Which of these? Answer with its number, or with more words.")
        self.choices = [changes for _, changes in found.offers]
        for number, (text, _) in enumerate(found.offers, 1):
            self._tell(f"{number}. {text}", "     ")
        if found.said:
            self._tell(found.said)
        return {}

    def _is_doubtful(self, question: Question, said: str, changes: Changes) -> bool:
        """Say once what is odd about an answer; the same again keeps it."""
        key, before, meant = self.doubted or ("", "", "")
        if key == question.key and (said == before or (said == meant and key in DIAGONALS)):
            return False
        odd: Doubt | None = None
        for key, value in changes.items():
            if value is not None:
                odd = odd or doubt(self.paper.answers, BY_KEY[key], value)
        if odd is None:
            return False
        self.doubted = (question.key, said, odd.offer)
        taken = "y takes that. " if odd.offer else ""
        self._tell(f"{words.capital(odd.text)} {taken}Type the same again to keep it.")
        return True

    def _take(self, changes: Changes) -> bool:
        """Write answers to the file; those that make no sense any more go with them."""
        after = {**self.paper.answers, **{k: v for k, v in changes.items() if v is not None}}
        for key, value in changes.items():
            if value is None:
                after.pop(key, None)
        gone = {
            each.key: None
            for each in QUESTIONS
            if each.key in after and not makes_sense(each, after) and each.key not in changes
        }
        real = {
            key: value
            for key, value in {**changes, **gone}.items()
            if value is not None or key in self.paper.answers
        }
        try:
            self.paper.take(real)
        except EditError as error:
            self._tell(f"{error}.")
            return False
        return True

    def _notes(self) -> None:
        """Say which checks fail now, once no question is left that could mend them."""
        ahead = {
            each.key
            for group in GROUPS
            if group.first or group.name in self.opened
            for each in self._open(group)
        }
        fails = self._state().fails
        for check, finding in fails.items():
            if check not in self.told and not ahead & set(finding.levers):
                self.told.add(check)
                self._tell(words.failing(finding, self.paper.show))
        for check in sorted(self.told - set(fails)):
            if self._state().judged:
                self.told.discard(check)
                self._tell(f"That mends {check}.")


def talk(paper: Paper, hear: Hear, say: Say) -> Ending:
    """Ask what the file does not say yet; each answer is kept as it is given.

    Args:
        paper: the file.
        hear: prints a prompt and returns a line; raises ``EOFError`` at the end of input.
        say: prints a line.
    """
    return Talk(paper, hear, say).run()
