"""The parts of a visit around the beam's path, as a session takes them: what changed, checks, cleaning.

Each method checks what it is given and adds an event, or says what follows from those there are.
"""

from collections.abc import Iterable, Mapping
from dataclasses import replace
from typing import Any, get_args

from coach.advice.decide import advise
from coach.advice.offset_cost import harmless
from coach.belief.belief import Belief
from coach.cutting.limits import FEWEST
from coach.errors import InputError, UnknownName
from coach.session.changes import stale_checks
from coach.session.cut_entries import CutEntries
from coach.session.events import Disturbed, Shift, Turn
from coach.session.part_events import ANEW, Item
from coach.session.visit_events import Answer, Baseline, Care, Check
from coach.shown import IN_MM, Wording
from coach.triage.causes import CheckName
from coach.triage.cleaned import Cleaned, Optic
from coach.triage.doubts import Doubt, doubts
from coach.triage.evidence import Beam, Evidence
from coach.triage.figures import agreeing_check
from coach.triage.findings import Finding, Optics, finding, lifts
from coach.triage.questions import QUESTIONS, Question, checked_answer, standing
from coach.triage.suspects import Suspect, Verdict, suspects, verdict


class Visit(CutEntries):
    """What changed, checks with covers shut, cuts and cleaning; and what they speak for."""

    # -- what changed, and what it speaks for -------------------------------------------------------

    def questions(self) -> tuple[Question, ...]:
        """What is asked before anything is measured: `key`, `asks`, `answers`; `many` may hold together."""
        return QUESTIONS

    def answer(self, question: str, answer: str) -> None:
        """One of the questions was answered; a later answer replaces or joins it.  Raises UnknownName."""
        key, said = checked_answer(question, answer)
        self._add("answer", question=key, answer=said)

    def answers(self) -> dict[str, tuple[str, ...]]:
        """Question to the answers that stand."""
        given: list[tuple[str, str]] = []
        for event in self.effective:
            match event:
                case Answer():
                    given.append((event.question, event.answer))
                case Item(part="what changed", name=name) if name == ANEW:
                    given.clear()
        return standing(tuple(given))

    def suspects(self) -> tuple[Suspect, ...]:
        """All causes, the one whose cheapest test pays most first: `name`, `speaks_for`, `speaks_against`, `test`,
        `minutes`, `state`."""
        return suspects(self._evidence(IN_MM))

    def verdict(self, wording: Wording = IN_MM) -> Verdict:
        """Where the evidence leads: "stop", "as it was", "not alignment", "on to the beam", "cut again", or the next
        "test"."""
        return verdict(self._evidence(wording))

    def doubts(self) -> tuple[Doubt, ...]:
        """Entries that contradict each other, each as a question."""
        return doubts(self._evidence(IN_MM))

    # -- checks with covers shut --------------------------------------------------------------------

    def check(self, name: str, result: str, **figures: float | None) -> None:
        """A check with covers shut ended "good", "bad" or "not checked", with its figures.  Raises InputError.

        The newest one of each name counts.
        """
        known, said, read_ = agreeing_check(name, result, figures)
        self._add("check", name=known, result=said, figures=read_)

    def judged(self, name: str, figures: Mapping[str, Any], wording: Wording = IN_MM) -> Finding:
        """What a check with these figures would mean, and whether they make it good or bad.  Raises InputError."""
        known, _, read_ = agreeing_check(name, "good", figures)
        optics = Optics(self._focal, self.belief.tuning.cutting)
        found = finding(known, "good", read_, optics, wording)
        amiss = bool(found.speaks_for) and not found.speaks_against  # a current as it was clears one cause for others
        bad = found.state == "found" or bool(found.stop) or amiss
        return replace(found, result="bad" if bad else "good", contradicts=False)

    def checks(self, wording: Wording = IN_MM) -> dict[CheckName, Finding]:
        """Check to what it found and what its figures mean; what stops all firing stands until it is better.

        The rating of a tube, once entered, holds for every current that is read after it.
        """
        optics = Optics(self._focal, self.belief.tuning.cutting)
        known = {"usual": self.kept_current} if self.kept_current is not None else {}
        found: dict[CheckName, Finding] = {}
        for event in (e for e in self.effective if isinstance(e, Check)):
            figures = dict(event.figures)
            if event.name == "tube" and "current" in figures:
                figures = known | figures
                known |= {"rated": figures["rated"]} if "rated" in figures else {}
            new = finding(event.name, event.result, figures, optics, wording)
            if event.name not in found or lifts(new, found[event.name]):
                found[event.name] = new
        return found

    def stale_checks(self) -> dict[CheckName, str]:
        """Check that was good to why it is to be made once more: what it depends on was changed since."""
        return stale_checks(self.effective)

    @property
    def kept_current(self) -> float | None:
        """The tube's current at the usual setting as it once was, mA; None where it was never kept."""
        usual = [e.current for e in self.effective if isinstance(e, Baseline) and e.current is not None]
        return usual[-1] if usual else None

    # -- cleaning -----------------------------------------------------------------------------------

    def care(self, optic: str, result: str, *, taken_out: bool = False) -> None:
        """An optic was cleaned, or left; `taken_out`: what it steers is believed less, and asked for again.

        Raises UnknownName.
        """
        for what, value, known in (("optic", optic, get_args(Optic)), ("result", result, get_args(Cleaned))):
            if value not in known:
                raise UnknownName(f"There is no {what} {value!r}", expected="one of: " + ", ".join(known))
        if taken_out and result == "not opened":
            raise InputError(
                f"The {optic} was not opened, and yet taken out", expected="how it looked once it was out"
            )
        self._add("care", optic=optic, result=result, taken_out=taken_out)

    def cared(self) -> dict[Optic, Cleaned]:
        """Optic to how it looked last."""
        return {e.optic: e.result for e in self.effective if isinstance(e, Care)}

    # -- inside -------------------------------------------------------------------------------------

    def _holding(self, found: Mapping[CheckName, Finding]) -> dict[CheckName, Finding]:
        """Without those that were good and say nothing of the machine as it is now."""
        stale = self.stale_checks()
        return {name: each for name, each in found.items() if name not in stale or each.state == "found" or each.stop}

    def _evidence(self, wording: Wording) -> Evidence:
        counting: Any = self.effective
        runs = self._cuts_entered.runs
        whole = bool(runs) and len(runs[-1].limits) >= FEWEST
        return Evidence(
            answers=self.answers(),
            findings=self._holding(self.checks(wording)),
            looks=_looks([e for e in self.effective if isinstance(e, Check)]),
            care=self.cared(),
            cuts=self.cuts() if whole else None,
            beam=(beam := _beam(self.belief)),
            aligned=beam == "in" and _adjusted_since(counting, runs[-1].last if runs else 0),
            disturbed=tuple(event.part for event in counting if isinstance(event, Disturbed)),
        )


def _looks(checks: list[Check]) -> dict[CheckName, int]:
    """How often each check ended as it did last, in a row."""
    looks: dict[CheckName, int] = {}
    ended: dict[CheckName, str] = {}
    for check in checks:
        looks[check.name] = looks[check.name] + 1 if ended.get(check.name) == check.result else 1
        ended[check.name] = check.result
    return looks


def _adjusted_since(events: Iterable[Any], last: int) -> bool:
    """Whether something was turned or moved after the entry of that number."""
    return any(isinstance(event, Turn | Shift) for event in events if event.id > last)


def _beam(belief: Belief) -> Beam:
    """What the marks say of the alignment as a cause: nothing until every station had one.

    What costs too little to be seen in a cut is no cause, though it may be worth a turn.
    """
    if len(belief.seen) < len(belief.layout.machine.stations):
        return ""
    if harmless(belief):
        return "in"
    kind = advise(belief).kind
    return "in" if kind == "done" else "" if kind == "shoot" else "out"
