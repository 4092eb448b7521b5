"""Cut checks as a session takes them: the sheet, the lines that fell through, and what they are compared with."""

from dataclasses import replace

from coach.advice.offset_cost import offset_costs
from coach.cutting.check import Again, Comparison, CutCheck, Interval, Surroundings, compared, read
from coach.cutting.fading import Fading, fading
from coach.cutting.limits import FEWEST, checked_limit, checked_speed, enough
from coach.cutting.sheet import checked_sheet
from coach.errors import InputError
from coach.optics.gaussian import beam_radius, passed_fraction
from coach.optics.legs import leg_lengths
from coach.session.cut_checks import TOUCHED, CutReplay, CutRun, compared_with, gaps_for, joins, laid
from coach.session.events import Event, Gate, Note, Opened
from coach.session.kept import Kept
from coach.session.part_events import Begin, End, Item, Skip
from coach.session.pulse_checks import checked_power
from coach.session.visit_events import Answer, Check, KeptCuts
from coach.triage.figures import checked_figure


class CutEntries(Kept):
    """What was cut, and what that says."""

    _cuts_read: tuple[tuple[Event, ...], dict[int, CutCheck]] = ((), {})
    """The cut checks that were read last, and from what: reading takes a tenth of a second, screens ask often."""
    _cuts_so_far = CutReplay()

    def sheet(self, material: str, *, power: float | None = None, speed: float | None = None) -> None:
        """A sheet is laid in, focus gauged: with the next cut a further check begins.  Raises InputError, OutOfReach.

        `material`: with thickness and batch; `power` per cent; `speed` mm/s, about how fast it is usually cut.
        """
        name = checked_sheet(material).name
        self._add("sheet", material=name, power=checked_power(power), speed=checked_speed("The usual speed", speed))

    def cut(
        self,
        station: str,
        *,
        fastest: float | None = None,
        next: float | None = None,
        material: str | None = None,
        power: float | None = None,
        anew: bool = False,
        warm: bool = False,
    ) -> None:
        """At a station the line at `fastest` mm/s fell through and the one at `next` did not.  Raises InputError.

        `fastest=None`: none did; `next=None`: all did.  `material`: with thickness and batch; left out, that and the
        power are as before.  `anew`: a further cut check begins; it does so by itself where the machine was touched
        since, or another sheet laid in.  `warm`: this station once more, at once, while the tube is warm.
        """
        known = self.machine.station(station).name
        limit = checked_limit(known, fastest, next)
        so_far, before = self._cuts_entered, laid(self.effective)
        if material is None and before is not None:
            material, power = before.material, before.power if power is None else power
        sheet, per_cent = checked_sheet(material), checked_power(power)
        begins = anew or so_far.begins_with(known)
        joins(so_far.runs, begins, sheet, per_cent)
        if warm and (begins or known not in so_far.runs[-1].entered):
            raise InputError(
                f"{known} was not cut cold in this check",
                expected="the same station cold first, and nothing touched since",
            )
        entered = {"fastest": limit.low or None, "next": None if next is None else limit.high}
        self._add("cut", station=known, material=sheet.name, power=per_cent, anew=anew, warm=warm, **entered)

    def cuts(self, number: int = -1) -> CutCheck:
        """What a cut check says, the newest or the one of that number from 0.  Raises InputError.

        `stations`, `uniformity`, `pattern`, `beyond`, `left`, `change` against the baseline, `again`.
        """
        told = tuple(event for event in self.effective if not _says_nothing_of_cuts(event))
        if self._cuts_read[0] != told:
            self._cuts_read = told, {}
        known = self._cuts_read[1]
        if number not in known:
            run, kept = self._run(number), self.compared_with(number)
            before = kept.cuts if kept is not None else None
            check = read(run.cuts, self._around(run), before, self.belief.tuning.cutting)
            known[number] = replace(check, fading=self._fading(run))
        return known[number]

    def compared_with(self, number: int = -1) -> KeptCuts | None:
        """The baseline that a cut check stands beside; None where there is none.  Raises InputError."""
        return compared_with(self.effective, self._run(number).cuts)

    def cut_before(self) -> tuple[Interval, Again] | None:
        """How the newest cut check compares with the first of this session; None where nothing can."""
        if len(self._cuts_entered.runs) < 2:
            return None
        beside = self.cut_beside(-1, 0)
        return (beside.change, beside.again) if isinstance(beside, Comparison) else None

    def cut_beside(self, number: int, before: int) -> Comparison | str:
        """How one cut check of this session compares with an earlier one, or why it cannot.  Raises InputError."""
        now, then = self._run(number).cuts, self._run(before).cuts
        return now.not_compared(then) or compared(now, then, self.belief.tuning.cutting)

    def cut_since_done(self) -> bool:
        """Whether a whole cut check was made since the machine was last touched or marked."""
        runs = self._cuts_entered.runs
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

    # -- inside -------------------------------------------------------------------------------------

    @property
    def _cuts_entered(self) -> CutReplay:
        """Every cut check so far."""
        self._cuts_so_far = self._cuts_so_far.of(self.effective)
        return self._cuts_so_far

    @property
    def _focal(self) -> float:
        lens = self.machine.lens
        return lens.focal if lens is not None else self.belief.tuning.beam.focal

    def _run(self, number: int) -> CutRun:
        runs = self._cuts_entered.runs
        if not runs:
            enough(())
        try:
            return runs[number]
        except IndexError:
            raise InputError(f"There is no cut check {number}", expected=f"0 to {len(runs) - 1}") from None

    def _fading(self, run: CutRun) -> Fading | None:
        """The newest station that was cut once more, warm."""
        if not run.warm:
            return None
        cut = max(run.warm.values(), key=lambda cut: cut.id)
        return fading(run.entered[cut.station].limit, cut.limit, self.belief.tuning.cutting)

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


def _says_nothing_of_cuts(event: Event) -> bool:
    return isinstance(event, Answer | Begin | End | Gate | Item | Note | Opened | Skip) or (
        isinstance(event, Check) and event.name != "bed"
    )
