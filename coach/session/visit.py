"""The parts of a visit around the beam's path, as a session takes them: what changed, checks, cuts, cleaning.

Each method checks what it is given and adds an event, or says what follows from those there are.
"""

from collections.abc import Mapping
from dataclasses import replace
from typing import Any, get_args

from coach.advice.decide import advise
from coach.advice.offset_cost import harmless, offset_costs
from coach.belief.belief import Belief
from coach.cutting.check import Again, CutCheck, Interval, Surroundings, compared, read
from coach.cutting.limits import FEWEST, checked_limit, enough
from coach.cutting.sheet import checked_sheet
from coach.errors import InputError, UnknownName
from coach.optics.gaussian import beam_radius, passed_fraction
from coach.optics.legs import leg_lengths
from coach.session.cut_checks import TOUCHED, CutRun, baseline_for, begins_anew, cut_runs, gaps_for, joins
from coach.session.events import Disturbed, Event, Gate, Note, Opened
from coach.session.kept import Kept
from coach.session.part_events import ANEW, Begin, End, Item, Skip
from coach.session.pulse_checks import checked_power
from coach.session.visit_events import Answer, Baseline, Care, Check, KeptCuts
from coach.shown import IN_MM, Wording
from coach.triage.causes import CheckName
from coach.triage.doubts import Doubt, doubts
from coach.triage.evidence import Beam, Cleaned, Evidence, Optic
from coach.triage.figures import checked_check, checked_figure
from coach.triage.findings import Finding, Optics, finding
from coach.triage.questions import QUESTIONS, Question, checked_answer, standing
from coach.triage.suspects import Suspect, Verdict, suspects, verdict


class Visit(Kept):
    """What changed, checks with covers shut, cuts and cleaning; and what they speak for."""

    _cuts_read: tuple[tuple[int, tuple[Event, ...]], CutCheck] | None = None
    """The cut check that was read last, and from what: reading takes a tenth of a second, screens ask often."""

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
        """Where the evidence leads: "stop", "as it was", "not alignment", "on to the beam", or the next "test"."""
        return verdict(self._evidence(wording))

    def doubts(self) -> tuple[Doubt, ...]:
        """Entries that contradict each other, each as a question."""
        return doubts(self._evidence(IN_MM))

    # -- checks with covers shut --------------------------------------------------------------------

    def check(self, name: str, result: str, **figures: float | None) -> None:
        """A check with covers shut ended "good", "bad" or "not checked", with its figures.  Raises InputError.

        The newest one of each name counts.
        """
        known, said, read_ = checked_check(name, result, figures)
        self._add("check", name=known, result=said, figures=read_)

    def judged(self, name: str, figures: Mapping[str, Any], wording: Wording = IN_MM) -> Finding:
        """What a check with these figures would mean, and whether they make it good or bad.  Raises InputError."""
        known, _, read_ = checked_check(name, "good", figures)
        optics = Optics(self._focal, self.belief.tuning.cutting)
        found = finding(known, "good", read_, optics, wording)
        bad = found.state == "found" or bool(found.stop) or bool(found.speaks_for)
        return replace(found, result="bad" if bad else "good", contradicts=False)

    def checks(self, wording: Wording = IN_MM) -> dict[CheckName, Finding]:
        """Check to what it found and what its figures mean."""
        optics = Optics(self._focal, self.belief.tuning.cutting)
        newest = {e.name: dict(e.figures) for e in self.effective if isinstance(e, Check)}
        result = {e.name: e.result for e in self.effective if isinstance(e, Check)}
        usual = [e.current for e in self.effective if isinstance(e, Baseline) and e.current is not None]
        if usual and "current" in newest.get("tube", {}):
            newest["tube"] = {"usual": usual[-1]} | newest["tube"]
        return {name: finding(name, result[name], newest[name], optics, wording) for name in newest}

    # -- cut checks ---------------------------------------------------------------------------------

    def cut(
        self,
        station: str,
        *,
        fastest: float | None = None,
        next: float | None = None,
        material: str | None = None,
        power: float | None = None,
        anew: bool = False,
    ) -> None:
        """At a station the line at `fastest` mm/s fell through and the one at `next` did not.  Raises InputError.

        `fastest=None`: none did; `next=None`: all did.  `material`: with thickness and batch; left out, as before.
        `anew`: a further cut check begins; it does so by itself where the machine was touched since.
        """
        known = self.machine.station(station).name
        limit = checked_limit(known, fastest, next)
        runs = cut_runs(self.effective)
        sheet = checked_sheet(material if material is not None or not runs else runs[-1].sheet.name)
        per_cent = checked_power(power)
        joins(runs, anew or begins_anew(self.effective, known), sheet, per_cent)
        entered = {"fastest": limit.low or None, "next": None if next is None else limit.high}
        self._add("cut", station=known, material=sheet.name, power=per_cent, anew=anew, **entered)

    def cuts(self, number: int = -1) -> CutCheck:
        """What a cut check says, the newest or the one of that number from 0.  Raises InputError.

        `stations`, `uniformity`, `pattern`, `beyond`, `left`, `change` against the baseline, `again`.
        """
        told = number, tuple(event for event in self.effective if not _says_nothing_of_cuts(event))
        if self._cuts_read is None or self._cuts_read[0] != told:
            run = self._run(number)
            before = baseline_for(self.effective, run.cuts)
            self._cuts_read = told, read(run.cuts, self._around(run), before, self.belief.tuning.cutting)
        return self._cuts_read[1]

    def cut_before(self) -> tuple[Interval, Again] | None:
        """How the newest cut check compares with the first of this session; None where nothing can."""
        runs = cut_runs(self.effective)
        if len(runs) < 2 or runs[-1].cuts.not_compared(runs[0].cuts):
            return None
        return compared(runs[-1].cuts, runs[0].cuts, self.belief.tuning.cutting)

    def cut_since_done(self) -> bool:
        """Whether a whole cut check was made since the machine was last touched or marked."""
        runs = cut_runs(self.effective)
        touched = max((event.id for event in self.effective if isinstance(event, TOUCHED)), default=0)
        return bool(runs) and len(runs[-1].limits) >= FEWEST and runs[-1].first > touched

    def baseline(self, kept: KeptCuts) -> None:
        """What this machine once cut, from its folder; cuts of this session are compared with it."""
        self._add("baseline", cuts=kept)

    def usual_current(self, current: float) -> None:
        """The tube's current at the usual setting as it once was, mA; a check of the tube is compared with it.

        Raises InputError or OutOfReach.
        """
        self._add("baseline", current=checked_figure("tube", "usual", current))

    def kept_cuts(self) -> KeptCuts:
        """The newest cut check, as it would be kept for later visits.  Raises InputError."""
        run = self._run(-1)
        enough(run.limits.values())
        last = next(event for event in self.effective if event.id == run.last)
        return KeptCuts.of(run.cuts, last.at.date())

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

    @property
    def _focal(self) -> float:
        lens = self.machine.lens
        return lens.focal if lens is not None else self.belief.tuning.beam.focal

    def _run(self, number: int) -> CutRun:
        runs = cut_runs(self.effective)
        if not runs:
            enough(())
        try:
            return runs[number]
        except IndexError:
            raise InputError(f"There is no cut check {number}", expected=f"0 to {len(runs) - 1}") from None

    def _around(self, run: CutRun) -> Surroundings:
        return Surroundings(
            self.machine, self._expected(run), gaps_for(self.machine, self.effective, run), self._focal
        )

    def _expected(self, run: CutRun) -> dict[str, float]:
        """The share of the beam that passes at each station, as believed when these were cut; centred where no mark
        was made yet."""
        later = next((event for event in self.effective if event.id > run.last), None)
        belief = self.belief if later is None else self.belief_before(later)
        if belief.seen:
            return {cost.station: cost.passes for cost in offset_costs(belief)}
        beam, opening = belief.tuning.beam, self.machine.aperture.head / 2
        grown = {
            place.name: beam_radius(sum(leg_lengths(self.machine, place.x, place.y)), beam.waist, m2=beam.m2)
            for place in self.machine.stations
        }
        return {name: passed_fraction(opening, w, 0.0) for name, w in grown.items()}

    def _evidence(self, wording: Wording) -> Evidence:
        counting: Any = self.effective
        runs = cut_runs(counting)
        whole = bool(runs) and len(runs[-1].limits) >= FEWEST
        return Evidence(
            answers=self.answers(),
            findings=self.checks(wording),
            looks=_looks([e for e in self.effective if isinstance(e, Check)]),
            care=self.cared(),
            cuts=self.cuts() if whole else None,
            beam=_beam(self.belief),
            disturbed=tuple(event.part for event in counting if isinstance(event, Disturbed)),
        )


def _says_nothing_of_cuts(event: Event) -> bool:
    return isinstance(event, Answer | Begin | End | Gate | Item | Note | Opened | Skip) or (
        isinstance(event, Check) and event.name != "bed"
    )


def _looks(checks: list[Check]) -> dict[CheckName, int]:
    """How often each check ended as it did last, in a row."""
    looks: dict[CheckName, int] = {}
    ended: dict[CheckName, str] = {}
    for check in checks:
        looks[check.name] = looks[check.name] + 1 if ended.get(check.name) == check.result else 1
        ended[check.name] = check.result
    return looks


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
