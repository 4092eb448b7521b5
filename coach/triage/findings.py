"""What a check with covers shut says: what its figures mean, which cause it finds, clears, or speaks for."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Literal

from coach.optics.dew import dew_point
from coach.optics.focus import depth_of_focus, peak_left
from coach.optics.heat import absorbed_for
from coach.shown import IN_MM, Wording, percents
from coach.triage import bed
from coach.triage.causes import Cause, CheckName
from coach.triage.figures import RAMP, Result
from coach.tuning.cutting import Cutting

State = Literal["found", "cleared", "open"]

COLDEST_WATER, WARMEST_WATER, STOP_WATER = 15.0, 25.0, 30.0
ICE = 0.0
"""°C: what tubes are run at, and from where on nobody fires (common practice; the tube's own sheet first)."""
BAD_WATER = (
    "The water is bad, by the eye: too warm, too cold, no flow or bubbles. A pulse without water cracks the tube: "
    "nothing is fired until it is good. Let it cool, clean its filter, free its way; a pump that fails is the "
    "service's."
)
SAME_CURRENT = 0.07
"""Share within which a current is the same: a needle is read so well (common practice)."""
NO_LIGHT = "How much light the tube makes of it no needle tells."
CAUSE_OF: dict[CheckName, Cause] = {
    "focus": "focus", "bed": "bed", "lens": "lens", "water": "cooling", "tube": "tube", "extraction": "extraction",
    "material": "material", "mirrors": "mirrors", "rail": "rail", "supply": "supply",
}  # fmt: skip
"""The cause that a check is about."""
SAID: dict[Result, State] = {"good": "cleared", "bad": "found", "not checked": "open"}
"""What a result says by itself."""


@dataclass(frozen=True)
class Finding:
    """One check with what it means."""

    check: CheckName
    result: Result
    figures: Mapping[str, float]
    state: State
    """Of the cause that it is about: "open" where it was not checked, or where the check cannot decide."""
    says: tuple[str, ...] = ()
    """What the figures mean, one sentence each."""
    stop: str = ""
    """Why nothing may be fired now; "" where that does not follow."""
    speaks_for: tuple[tuple[Cause, str], ...] = ()
    speaks_against: tuple[tuple[Cause, str], ...] = ()
    contradicts: bool = False
    """The figures say otherwise than the person did."""


@dataclass(frozen=True)
class Optics:
    """What the figures are judged by."""

    focal: float
    """mm."""
    cutting: Cutting

    @property
    def depth(self) -> float:
        """z_R in mm."""
        return depth_of_focus(self.focal, self.cutting.radius, self.cutting.m2)


def finding(
    check: CheckName, result: Result, figures: Mapping[str, float], optics: Optics, wording: Wording = IN_MM
) -> Finding:
    """What one check means; figures outrank the word that came with them."""
    meaning = _MEANINGS.get(check)
    told = meaning(figures, optics, wording) if meaning and figures else None
    if told is None or (check == "water" and result == "bad" and told.state == "cleared"):
        return _alone(Finding(check, result, figures, SAID[result]))
    agrees = told.state in ("open", SAID[result])
    # what the eye found bad stays bad where the figures alone would not show it: a crack has no mm
    state: State = "found" if result == "bad" and told.state != "open" else told.state
    return Finding(
        check, result, figures, state, told.says, told.stop, told.speaks_for, told.speaks_against, not agrees
    )


def _alone(found: Finding) -> Finding:
    """A check whose figures do not decide: the current is about the supply, not the tube; bad water fires nothing."""
    if found.check == "water" and found.result == "bad":
        return replace(found, says=(BAD_WATER,), stop=BAD_WATER)
    if found.check != "tube" or found.state == "open":
        return found
    if found.state == "cleared":
        return replace(found, state="open", speaks_against=(("supply", "The current is as it was."),))
    return replace(found, state="open", speaks_for=(("supply", "The current is not what it was."),))


def lifts(new: Finding, old: Finding) -> bool:
    """Whether a newer check stands in place of an older one that stopped all firing.

    Not what nobody looked at; and for a current above the rated one only a current that was read.
    """
    return not old.stop or (new.result != "not checked" and (old.check != "tube" or "current" in new.figures))


@dataclass(frozen=True)
class _Told:
    state: State
    says: tuple[str, ...]
    stop: str = ""
    speaks_for: tuple[tuple[Cause, str], ...] = ()
    speaks_against: tuple[tuple[Cause, str], ...] = ()


def _focus(figures: Mapping[str, float], optics: Optics, wording: Wording) -> _Told:
    off = abs(figures["off"]) if "off" in figures else abs(figures["along"]) * RAMP
    left = peak_left(off, optics.depth)
    says = (
        f"{wording.length(off)} off the focus leaves {percents(left)} of its greatest strength "
        f"(depth of focus {wording.length(optics.depth)}).",
    )
    return _Told("found" if off > optics.depth / 2 else "cleared", says)


def _bed(figures: Mapping[str, float], optics: Optics, wording: Wording) -> _Told | None:
    apart = bed.spread(figures)
    if apart is None:
        return None
    limit = optics.depth / 2
    if apart <= limit:
        within = f"within {wording.length(limit)}, half the depth of focus"
        return _Told(
            "cleared" if len(figures) > 2 else "open", (f"The gaps differ by {wording.length(apart)}: {within}.",)
        )
    worst, middle = peak_left(apart, optics.depth), peak_left(apart / 2, optics.depth)
    lost = (
        f"In focus at one corner leaves {percents(worst)} of the greatest strength at the farthest; focused halfway "
        f"between, {percents(middle)} at both."
    )
    says = (
        f"The gaps differ by {wording.length(apart)}, more than {wording.length(limit)}, half the depth of focus: "
        "the bed is a cause by itself.",
        f"It is lowest {bed.lowest(figures)}. {lost}",
    )
    return _Told("found", says)


def _lens(figures: Mapping[str, float], optics: Optics, wording: Wording) -> _Told | None:
    if "moved" not in figures:
        return None
    moved, limit = figures["moved"], optics.depth / 2
    says = [f"The focus moved by {wording.length(moved)} as the lens warmed; {wording.length(limit)} is harmless."]
    if "watts" in figures and moved > 0:
        share = absorbed_for(optics.focal, moved, figures["watts"], optics.cutting.radius)
        says.append(f"So it takes up about {share:.1%} of the light; a clean one 0.2 %.".replace("%", " %", 1))
    return _Told("found" if moved > limit else "cleared", tuple(says))


def _water(figures: Mapping[str, float], optics: Optics, wording: Wording) -> _Told | None:
    water = figures.get("celsius")
    if water is None:
        return None
    dew = dew_point(figures["room"], figures["humidity"]) if {"room", "humidity"} <= set(figures) else None
    if water > STOP_WATER:
        stop = f"The water has {water:g} °C: above {STOP_WATER:g} °C nothing is fired until it is cooler."
        return _Told("found", (stop,), stop)
    if water <= ICE:
        stop = f"The water has {water:g} °C: ice may be in the tube; nothing is fired until it is warmer and flows."
        return _Told("found", (stop,), stop)
    if dew is not None and water < dew:
        stop = (
            f"The water has {water:g} °C and the dew point is {dew:.1f} °C: water settles on the tube and its ends; "
            "nothing is fired until it is warmer or the room drier."
        )
        return _Told("found", (stop,), stop)
    says = [f"The water has {water:g} °C; usual is {COLDEST_WATER:g} to {WARMEST_WATER:g} °C."]
    if dew is not None:
        says.append(f"The dew point is {dew:.1f} °C, below it.")
    return _Told("cleared" if COLDEST_WATER <= water <= WARMEST_WATER else "found", tuple(says))


def _tube(figures: Mapping[str, float], optics: Optics, wording: Wording) -> _Told | None:
    current, usual, rated = (figures.get(key) for key in ("current", "usual", "rated"))
    if current is None:
        return None
    if rated is not None and current > rated:
        stop = f"{current:g} mA is above the tube's rated {rated:g} mA: set it lower before anything is fired."
        return _Told("open", (stop,), stop)
    if usual is None:
        return None
    share = current / usual
    if share < 1 - SAME_CURRENT:
        why = f"{current:g} mA where it used to be {usual:g}: less current speaks for the supply or its setting."
        return _Told("open", (why,), speaks_for=(("supply", why),))
    if share > 1 + SAME_CURRENT:
        why = f"{current:g} mA where it used to be {usual:g}: more current at one setting speaks for the supply."
        return _Told("open", (why,), speaks_for=(("supply", why),))
    same = f"{current:g} mA where it used to be {usual:g}: the same, within the {percents(SAME_CURRENT)} of a needle."
    against = f"{same} That speaks against the supply."
    perhaps = f"{same} With the supply likely as it was, tube or optics may be weaker."
    weaker: tuple[tuple[Cause, str], ...] = (("tube", perhaps), ("lens", perhaps), ("mirrors", perhaps))
    return _Told("open", (f"{against} {NO_LIGHT}",), speaks_for=weaker, speaks_against=(("supply", against),))


_MEANINGS = {"focus": _focus, "bed": _bed, "lens": _lens, "water": _water, "tube": _tube}
