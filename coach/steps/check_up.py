"""A ten-minute check-up: marks only, nothing is turned; what beam and cuts say together, in one sentence.

Its beam path has an end of its own: once every station was marked it says "as it was", or where it moved, and going
on to align is a choice.  That this is a check-up is what its other parts are left out for.
"""

from typing import Literal

from coach.advice.advice import Advice, Cause
from coach.advice.outlook import outlook
from coach.advice.reasons import TellsMost
from coach.advice.shots import Spot, candidates, unmarked_candidates
from coach.advice.silence import dosed
from coach.cutting.check import CutCheck, Interval, shown_less
from coach.session.part_events import Item, Skip
from coach.session.session import Session
from coach.shown import percents
from coach.steps.moved import Comparison, since_begun

WHY = "a check-up: marks and cuts alone"
"""Why the other parts are left out; each can be gone to all the same."""
ALIGN = "align"
"""Name of the entry that says that the person goes on to turn screws after all."""
NOT_SEEN: tuple[Cause, ...] = ("off the tape", "not firing")
"""Stops that end a check-up's marks too: no mark is to be had."""
CutWord = Literal["yes", "no", "unsure", "not compared", "not cut"]
BeamWord = Literal["as it was", "moved", "not known"]
SEEN_FROM = 0.03
"""A change below that is not said of all stations: one of them is the slow one then."""


def is_check_up(session: Session) -> bool:
    """Whether this visit is a check-up."""
    return any(isinstance(event, Skip) and event.why == WHY for event in session.effective)


def marks_only(session: Session) -> bool:
    """Whether nothing is advised along the beam but marks: a check-up, as long as nobody went on to align."""
    aligning = any(isinstance(e, Item) and (e.part, e.name) == ("beam path", ALIGN) for e in session.effective)
    return is_check_up(session) and not aligning


def next_mark(session: Session) -> Advice | None:
    """The pulse that a check-up still asks for; None once it has its marks, or no further one is sure to land."""
    belief, advice = session.belief, session.advice()
    left = unmarked_candidates(belief)
    if (left and advice.kind == "shoot") or advice.cause in NOT_SEEN:
        return advice
    seen = since_begun(session)
    if not left and seen is not None and seen.verdict == "one mark":
        at = session.machine.station(seen.moved[0].station)
        left = candidates(belief, [Spot(at.name, at.x, at.y)])
    safe = [each for each in left if each.safe]
    if not safe:
        return None
    shot = dosed(belief, max(safe, key=lambda each: each.information).shot)
    return Advice("shoot", TellsMost(shot, belief.locked), outlook(belief.layout, belief.settled), stations=(shot,))


# -- both together --------------------------------------------------------------------------------


def beam_word(seen: Comparison | None) -> BeamWord:
    """Whether the beam lies where the last visit left it, as far as anybody can tell."""
    if seen is None or seen.verdict in ("one mark", "too few"):
        return "not known"
    return "moved" if seen.verdict == "moved" else "as it was"


def cut_word(check: CutCheck | None) -> CutWord:
    """Whether it cuts as the baseline did."""
    if check is None:
        return "not cut"
    return check.again or "not compared"


def joined(beam: BeamWord, check: CutCheck | None) -> str:
    """What beam and cuts say together, and what to look at first."""
    cuts = cut_word(check)
    return f"{_BEAM[beam]}, {_cuts(cuts, check)}: {_next(beam, cuts, check)}."


_BEAM: dict[BeamWord, str] = {
    "as it was": "Beam as it was",
    "moved": "Beam moved",
    "not known": "Whether the beam moved is not known",
}


def _cuts(cuts: CutWord, check: CutCheck | None) -> str:
    match cuts:
        case "yes":
            return "cuts as the baseline"
        case "no":
            assert check is not None
            return _slower(check)
        case "unsure":
            return "cuts near the baseline, not sure at every station"
        case "not compared":
            return "no baseline to compare the cuts with"
        case "not cut":
            return "fewer than three stations cut"


def _slower(check: CutCheck) -> str:
    """By how much; of all stations where all are slower, else of the weakest."""
    assert check.change is not None
    assert check.worst is not None
    if check.pattern == "alike" and check.change[1] <= 1 - SEEN_FROM:
        return f"cuts {_less(check.change)} slower than the baseline"
    perhaps = "" if shown_less(check.worst) else "perhaps "
    return f"its weakest station {perhaps}cuts {_less(check.worst)} slower than the baseline"


def _less(share: Interval) -> str:
    """What is missing of it, with its interval: "8 % (3 to 13)"."""
    low, value, high = (max(0.0, 1 - each) for each in reversed(share))
    return f"{percents(value)} ({100 * low:.0f} to {100 * high:.0f})"


def _next(beam: BeamWord, cuts: CutWord, check: CutCheck | None) -> str:
    moved, unknown = beam == "moved", beam == "not known"
    match cuts:
        case "yes":
            return "as long as it cuts so nothing has to be turned" if moved else "nothing is to be done"
        case "no":
            assert check is not None
            if check.fading is not None and check.fading.fades == "yes":
                return "it fades while warm, so look at the water first"
            first = _look_first(check, moved=moved)
            return f"{first}; mark every station as well" if unknown else first
        case "unsure":
            again = "cut the same sheet once more"
            return f"{again}; is it slower then, go on to align" if moved else again
        case "not compared":
            return "go on to align if it cuts worse than you remember" if moved else "nothing speaks for a change"
        case "not cut":
            return "a cut check tells whether it matters" if moved else "a cut check tells the rest"


def _look_first(check: CutCheck, *, moved: bool) -> str:
    """The cheapest test of what the pattern speaks for; a beam that moved is aligned where it can be the reason."""
    match check.pattern:
        case "legs":
            if moved:
                return "go on to align first"
            return "measure the bed's gaps first"  # lowest at the far corner it looks the same
        case "bed":
            looks = "measure the bed's gaps first"
        case "one place":
            looks = f"look at rail and bed at {check.place} first"
        case "alike" | "fine":
            looks = "look at the lens first"
    return f"{looks}, then align" if moved else looks


def check_up_sentence(session: Session, check: CutCheck | None) -> str:
    """The sentence for this session; "" where it is no check-up."""
    return joined(beam_word(since_begun(session)), check) if is_check_up(session) else ""
