"""What a cut check says: its headline, how evenly it cuts, in which pattern, and against how it once cut."""

from collections.abc import Mapping
from typing import Literal

from coach.cutting.check import Comparison, CutCheck, Interval, shown_less
from coach.cutting.limits import FEWEST
from coach.cutting.pattern import Shape
from coach.session.good_cuts import not_good
from coach.session.session import Session
from coach.session.visit_events import KeptCuts
from coach.shown import Wording, day_words, percents, share_within
from coach.steps.about import About
from coach.steps.check_up import check_up_sentence
from coach.steps.cut_progress import CutPart, CutProgress, cut_progress, kept_of
from coach.steps.kind import Said
from coach.steps.known_sheets import cut_part

Word = Literal["yes", "nearly", "no", "not known"]
EVEN_FROM = 0.9
"""The slowest over the fastest from which stations are said to cut alike: one step of the ladder."""
SEEN_AS: Mapping[Shape, str] = {
    "alike": "The stations cut alike: what weakens it weakens it everywhere, as tube, lens, focus or material do.",
    "legs": "The farther along the beam's way, the slower: as when the beam leaves its path. A bed that is lowest "
    "there looks the same: its gaps tell.",
    "bed": "Slower toward one side of the bed, as no beam out of its path makes it: as when the bed is out of level.",
    "crosswise": "Opposite corners are slower than the other two: as when the bed is twisted and the focus is right "
    "at those. A gantry out of square looks the same: the bed's gaps tell.",
    "one place": "This station alone differs from what the others let expect: look at the rail, or at the bed there.",
}
NAMED: Mapping[Shape, str] = {
    "alike": "no pattern at all",
    "legs": "a fall along the beam's way",
    "bed": "a bed out of level",
    "crosswise": "a twisted bed",
    "one place": "one place alone",
}
IF_ANY = "Whether any station is slower than another cannot be told; if one is, likeliest so. "
SHARED = "Dirt, lens, focus, tube and material weaken all stations alike: that shows only beside how it once cut."


def word(check: CutCheck) -> Word:
    """Whether it cuts as the baseline did, at every station."""
    if check.again == "yes":
        return "yes"
    if check.nearly:
        return "nearly"
    return "no" if check.again == "no" else "not known"


def result(about: About, session: Session, wording: Wording) -> Said:
    """What the step says once every station was answered."""
    part = cut_part(about.part)
    progress = cut_progress(session, part)
    title = "Cut check again" if part == "cut again" else "Cut check"
    cut = len(progress.limits)
    if progress.number is None or cut < FEWEST:
        few = (
            f"{cut} of at least {FEWEST} stations were cut: nothing can be compared. Cut it once more, at others too."
        )
        both = filter(None, (check_up_sentence(session, None),))
        return Said(title, "Cuts as it did: not known", f"{cut} station{'' if cut == 1 else 's'} cut", (*both, few))
    check = session.cuts(progress.number)
    before = _before(session, progress) if part == "cut again" else None
    action, figure = headline(check, before)
    both = filter(None, (check_up_sentence(session, check),))
    do = (*both, *told(session, check, before, progress.number), *_kept(session, progress, part))
    return Said(title, action, figure, do, why=SHARED, tone="good" if word(check) == "yes" else "do")


def told(session: Session, check: CutCheck, before: Comparison | str | None, number: int) -> tuple[str, ...]:
    """All that a cut check says, the session's of that number, in sentences; `before`: against the one before."""
    return (
        *_against_baseline(check, session.compared_with(number)),
        *_against_before(before),
        f"The slowest station cuts at {between(check.uniformity)} of the fastest.",
        *_pattern(check),
        *_fading(check),
    )


def headline(check: CutCheck, before: Comparison | str | None) -> tuple[str, str]:
    """The answer in large type, and the one figure beside it: of the station that the answer hangs on."""
    if check.worst is not None:
        said = word(check)
        share = _open(check.worst) if said == "not known" else percents(check.worst[1])
        return f"Cuts as it did: {said}", f"worst station {share} of then"
    if isinstance(before, Comparison):
        low, value, high = before.change
        better = "Cuts better than before" if low > 1 else "Cuts worse than before" if high < 1 else "Cuts no better"
        return better, f"{percents(value)} of before"
    if check.pattern not in ("alike", "fine") and not check.uneven:
        return "Cuts alike: not known", f"slowest {_open(check.uniformity)} of fastest"
    slowest = f"slowest {percents(check.uniformity[1])} of fastest"
    match check.pattern:
        case "legs":
            return "Cuts fade outwards", slowest
        case "bed":
            return ("Opposite corners weak" if check.opposite else "Cuts follow the bed"), slowest
        case "one place":
            return f"Cuts weak: {check.place}", slowest
        case "alike" | "fine":
            even = check.uniformity[1] >= EVEN_FROM
            return ("Cuts alike everywhere" if even else "Cuts: no clear pattern"), slowest


def between(interval: Interval) -> str:
    """A share with its interval: "84 % (80 to 88)"."""
    return share_within(*interval)


def _open(interval: Interval) -> str:
    """A share of which only the interval counts: "68 to 100 %"."""
    low, _, high = interval
    return f"{100 * low:.0f} to {percents(high)}"


def _before(session: Session, progress: CutProgress) -> Comparison | str | None:
    """How it compares with the check before, or why it cannot; None where there was none."""
    then = cut_progress(session, "cut check")
    if then.number is None or progress.number is None or then.number == progress.number:
        return None
    return session.cut_beside(progress.number, then.number)


def _against_baseline(check: CutCheck, kept: KeptCuts | None) -> tuple[str, ...]:
    if kept is None:
        return ("How it once cut was never kept: nobody can say whether it cuts as it did.",)
    if check.change is None or check.worst is None:
        return (f"Not compared with how it cut on {day_words(kept.on)}: this is {check.not_compared}.",)
    return (
        f"Against {day_words(kept.on)}: over all {between(check.change)}; at whichever station lost most "
        f"{between(check.worst)}.",
    )


def _against_before(before: Comparison | str | None) -> tuple[str, ...]:
    if before is None:
        return ()
    if isinstance(before, str):
        return (f"Not compared with the check before: this is {before}.",)
    return (f"Against the check before: {between(before.change)}.",)


def _pattern(check: CutCheck) -> tuple[str, ...]:
    """What it looks like, what else would look so, and what of it the geometry explains."""
    if check.pattern == "fine":
        return ()
    shape: Shape = "crosswise" if check.opposite else check.pattern
    named = (
        f"{check.place}: " if shape == "one place" else f"{' and '.join(check.opposite)}: " if check.opposite else ""
    )
    also = f" {' or '.join(NAMED[shape] for shape in check.also)} explains it nearly as well." if check.also else ""
    perhaps = "" if check.uneven or shape == "alike" else IF_ANY
    return (f"{perhaps}{named}{SEEN_AS[shape]}{also[:2].upper()}{also[2:]}", *_explained(check))


def _fading(check: CutCheck) -> tuple[str, ...]:
    """What a station says that was cut once more, warm."""
    seen = check.fading
    if seen is None:
        return ()
    said = f"Warm, {seen.station} cuts at {between(seen.ratio)} of cold: "
    match seen.fades:
        case "yes":
            return (f"{said}it fades while warm, as with warm water, a dirty lens or a tired tube.",)
        case "no":
            return (f"{said}it does not fade while warm.",)
        case "unsure":
            return (f"{said}whether it fades while warm is too close to tell.",)


def _explained(check: CutCheck) -> tuple[str, ...]:
    """What the beam's widening and the openings, by the marks, explain, and what they leave; of no fall nothing."""
    if not check.uneven or (check.pattern == "alike" and check.beyond == "alike"):
        return ()
    if check.beyond == "alike":
        return ("That the beam widens on its way, and what the openings cut off, explains all of that fall.",)
    name, left = min(check.left.items(), key=lambda item: item[1][1])
    gets = f"{between(left)} of what the stations get on average"
    least = f"{name} gets {gets}" if shown_less(left) else f"where cannot be told (least at {name}, if any: {gets})"
    return (
        "That the beam widens on its way, and what the openings cut off, does not explain it. Left over is "
        f"{NAMED[check.beyond]}: {least}.",
    )


def _kept(session: Session, progress: CutProgress, part: CutPart) -> tuple[str, ...]:
    """Whether this becomes what later visits are compared with; before the work only where it does."""
    if kept_of(session, progress) is not None or session.practice is not None:
        return ()
    reason = not_good(session)
    if not reason:
        return ("Go on, and it is kept as this machine's baseline for this sheet, to compare later visits with.",)
    return (f"Not kept as a baseline: {reason}.",) if part == "cut again" else ()
