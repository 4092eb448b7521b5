"""A mark that is not whole: the beam is cut on its way, so marks are asked for where it may be cut."""

from coach.advice import reasons
from coach.advice.advice import Advice
from coach.advice.facts import Outlook
from coach.advice.shots import Candidate, candidate, first_search
from coach.belief.belief import Belief

NOT_WHOLE = ("crescent", "cut")


def after_clipped(belief: Belief, now: Outlook, todo: list[Candidate]) -> Advice | None:
    """A mark at mirror 2, then at mirror 1; None where no mark was cut, or both are there since."""
    cut = next((s for s in belief.round_sightings if s.target == "head" and s.shape in NOT_WHOLE), None)
    if cut is None:
        return None
    seen = {s.target for s in belief.round_sightings}
    at_mirror2 = first_search(belief)
    at_mirror1 = candidate(belief, "mirror 1", at_mirror2.shot.x, at_mirror2.shot.y, "mirror 1")
    there = next((c for c in (at_mirror2, at_mirror1) if c.shot.target not in seen and c.safe), None)
    if there is None:
        return None
    return Advice("shoot", reasons.Clipped(cut.station, there.shot), now, stations=(there.shot,))
