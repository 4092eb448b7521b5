"""A mark that is not whole: the beam is cut on its way, so a mark is asked for where it is cut."""

from coach.advice import reasons
from coach.advice.advice import Advice
from coach.advice.facts import Outlook
from coach.advice.shots import Candidate, first_search
from coach.belief.belief import Belief

NOT_WHOLE = ("crescent", "cut")


def after_clipped(belief: Belief, now: Outlook, todo: list[Candidate]) -> Advice | None:
    """A mark at mirror 2; None where none was cut, or one is there."""
    cut = next((s for s in belief.round_sightings if s.target == "head" and s.shape in NOT_WHOLE), None)
    if cut is None or any(s.target != "head" for s in belief.round_sightings):
        return None
    there = first_search(belief)
    if not there.safe:
        return None
    return Advice("shoot", reasons.Clipped(cut.station, there.shot), now, stations=(there.shot,))
