"""A cut check, before and after: the sheet, the lines at each station, and what they say."""

import math
from itertools import pairwise

from coach.cutting.limits import checked_limit, checked_speed
from coach.cutting.series import LENGTH
from coach.cutting.sheet import checked_sheet
from coach.machine import Station
from coach.session.pulse_checks import checked_power
from coach.session.session import Session
from coach.shown import Wording
from coach.steps.about import About
from coach.steps.cautions import ATTENDED, MATERIAL, NOT_FIRING
from coach.steps.cut_deeds import (
    OPEN,
    cut_figures,
    cut_through,
    lay_known,
    lay_other,
    leave_station,
)
from coach.steps.cut_progress import CutProgress, cut_progress, series
from coach.steps.form import Figures, Form, number_field, words_field
from coach.steps.kind import ChoiceKind, Option, Said, Stage, StepKind
from coach.steps.known_sheets import cut_part, first_sheet, known_sheets, sheet_options
from coach.steps.stages.cut_ending import CUT_RESULT
from coach.steps.visit_deeds import enough

APART = 4.0
"""mm between two lines: the cut of one warms the next no more than its own start."""


def _title(about: About) -> str:
    return "Cut check again" if about.part == "cut again" else "Cut check"


# -- the sheet ------------------------------------------------------------------------------------


def _sheet(about: About, session: Session, wording: Wording) -> Said:
    again = about.part == "cut again"
    first = first_sheet(session, cut_part(about.part))
    which = (
        f"Take what was cut before: {first.called}. Another batch, thickness or power is not compared."
        if again and first is not None
        else "One sheet, of a material that you cut often: pieces of it will do. The same batch is needed once more."
    )
    return Said(
        _title(about),
        "Lay the sheet in",
        "",
        (
            which,
            "Gauge the focus once, in the middle of the bed, and not again at the stations: else a bed out of level "
            "hides.",
            "Power and air as you always cut this sheet, and so at every station; the key stays out meanwhile.",
        ),
        labels={} if known_sheets(session, cut_part(about.part)) else {"sheet-other": "It lies in: enter what it is"},
    )


def _sheet_form(about: About, session: Session, wording: Wording) -> Form:
    part = cut_part(about.part)
    first, known = first_sheet(session, part), known_sheets(session, part)

    def apart(figures: Figures) -> str:
        if first is None:
            return ""
        power = float(figures["power"]) if "power" in figures else None
        reason = first.apart(str(figures["material"]), power)
        return f"This is {reason}: the two checks will not be compared. Is it so?" if reason else ""

    like = first or (known[0] if known else None)
    return Form(
        title="Lay the sheet in",
        lead="Material, thickness and batch, as you call them: ply 6 mm, lot 3.",
        fields=(
            words_field(
                "material", "Material with thickness and batch", _material, starts=like.material if like else ""
            ),
            number_field(
                "power",
                "Power that is set",
                "%",
                lambda value: checked_power(value) or value,
                starts=f"{like.power:g}" if like and like.power else "",
                needed=False,
            ),
            number_field(
                "speed",
                "About the speed at which you cut it",
                "mm/s",
                lambda value: checked_speed("The usual speed", value) or value,
                starts=f"{like.speed:g}" if like and like.speed else "",
            ),
        ),
        says=_sheet_echo,
        doubt=apart,
    )


def _material(text: str) -> str:
    return checked_sheet(text).name


def _sheet_echo(figures: Figures) -> str:
    sheet = checked_sheet(figures["material"])
    power = f" at {figures['power']:g} %" if "power" in figures else ", power not said"
    missing = [name for name, there in (("thickness", sheet.thickness), ("batch", sheet.batch)) if not there]
    unsaid = (
        f" No {' and no '.join(missing)} is named: later nobody can tell whether it is the same." if missing else ""
    )
    return f"Understood: {sheet.name}{power}, cut at about {figures['speed']:g} mm/s.{unsaid}"


# -- the stations ---------------------------------------------------------------------------------


def _here(about: About, session: Session) -> tuple[CutProgress, str, tuple[float, ...]]:
    """How far the check is, its station, and the speeds to cut there."""
    progress = cut_progress(session, cut_part(about.part))
    assert about.item is not None
    return progress, about.item, series(session, progress, about.item)


def _station(about: About, session: Session, wording: Wording) -> Said:
    progress, name, speeds = _here(about, session)
    place = session.machine.station(name)
    assert progress.sheet is not None
    power = f", at {progress.sheet.power:g} %" if progress.sheet.power is not None else ""
    length, apart = wording.length(LENGTH, 0), wording.length(APART, 0)
    place_words = f"station {progress.place} of {len(progress.stations)}"
    return Said(
        f"{_title(about)}: {'once more, warm' if progress.station is None else place_words}",
        f"Cut lines: {name}",
        f"{', '.join(f'{speed:g}' for speed in speeds)} mm/s",
        (
            *_so_far(progress, name),
            f"Head at {wording.head(place.x, place.y)}, sheet under it, focus left as gauged. Lid shut.",
            f"Slowest first: {len(speeds)} lines of {length}{_way(session, place)}, {apart} apart{power}.",
            "No smoke left: key out, look from below. Light all along it: it is through.",
        ),
    )


def _way(session: Session, place: Station) -> str:
    """Toward where the lines run, so that all of them lie within the travel."""
    bed = session.machine.bed
    central = math.hypot(place.x - bed.width / 2, place.y - bed.depth / 2) < 2 * LENGTH
    return "" if central else " toward the bed's middle"


def _so_far(progress: CutProgress, name: str) -> tuple[str, ...]:
    """What the series before ended with, where it ended open."""
    limit = progress.limits.get(name)
    if progress.station is None:
        return ("At once, while the tube is warm from the cuts before: beside the first lines.",)
    if limit is None:
        return ()
    if limit.low == 0:
        return (f"None fell through so far, from {limit.high:g} mm/s on: now slower ones beside them.",)
    return (f"All fell through so far, up to {limit.low:g} mm/s: now faster ones beside them.",)


def _through(about: About, session: Session) -> tuple[Option, ...]:
    """Each gap between two lines, and both ends."""
    _, _, speeds = _here(about, session)
    return (
        *(Option(f"{low:g} {high:g}", f"Through at {low:g}, not at {high:g}") for low, high in pairwise(speeds)),
        Option(f"{OPEN} {speeds[0]:g}", "No line fell through"),
        Option(f"{speeds[-1]:g} {OPEN}", "All fell through"),
    )


def _speeds_form(about: About, session: Session, wording: Wording) -> Form:
    assert about.item is not None
    return Form(
        title=f"Lines at {about.item}",
        lead="The fastest that fell through, and the next, which did not; one stays empty where none or all did.",
        fields=tuple(
            number_field(name, label, "mm/s", lambda value: checked_speed("The speed", value) or value, needed=False)
            for name, label in (("fastest", "Fastest that fell through"), ("next", "The next, which did not"))
        ),
        says=_speeds_echo,
    )


def _speeds_echo(figures: Figures) -> str:
    """Raises InputError where the order is not that of the lines."""
    limit = checked_limit("", figures.get("fastest"), figures.get("next"))
    if limit.low == 0:
        return f"Understood: no line fell through, from {limit.high:g} mm/s on."
    if "next" not in figures:
        return f"Understood: all lines fell through, up to {limit.low:g} mm/s."
    wide = (
        " A step of more than a fifth tells little: lines in between tell more."
        if _wide(limit.low, limit.high)
        else ""
    )
    return f"Understood: through at {limit.low:g} mm/s, not at {limit.high:g}.{wide}"


def _wide(low: float, high: float) -> bool:
    return high > 1.2 * low


SHEET_GIVEN = ChoiceKind(
    key="sheet-known",
    label="",
    wants="option",
    does=lay_known,
    makes="sheet",
    options=lambda about, session: sheet_options(session, cut_part(about.part)),
)
CUTS_STAGE = Stage(
    "Cuts",
    (
        StepKind(
            key="cut-sheet",
            says=_sheet,
            own_cautions=(NOT_FIRING, MATERIAL),
            choices=(
                SHEET_GIVEN,
                ChoiceKind(
                    key="sheet-other",
                    label="Another sheet: enter it",
                    wants="figures",
                    does=lay_other,
                    makes="sheet",
                    form=_sheet_form,
                ),
            ),
            about=("part",),
            danger_begins=True,
        ),
        StepKind(
            key="cut-station",
            says=_station,
            own_cautions=(ATTENDED, NOT_FIRING),
            choices=(
                ChoiceKind(
                    key="cut-through", label="", wants="option", does=cut_through, makes="cut", options=_through
                ),
                ChoiceKind(
                    key="cut-figures",
                    label="Other speeds: enter them",
                    wants="figures",
                    does=cut_figures,
                    makes="cut",
                    form=_speeds_form,
                ),
                ChoiceKind(
                    key="cut-enough",
                    label="Leave it at that here",
                    does=enough,
                    makes="item",
                    offered=lambda about, session: about.more,
                ),
                ChoiceKind(
                    key="cut-left-out",
                    label="No cut is possible here: leave it out",
                    wants="why",
                    does=leave_station,
                    makes="item",
                    offered=lambda about, session: not about.more,
                ),
            ),
            picture="cuts",
            about=("part", "item"),
        ),
        CUT_RESULT,
    ),
)
