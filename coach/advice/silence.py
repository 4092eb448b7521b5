"""After a pulse that left nothing, nobody knows why: one more there and stronger, a wide card, or: does it fire?"""

from dataclasses import replace

from coach.advice import reasons
from coach.advice.advice import Advice
from coach.advice.facts import Outlook, Shot
from coach.advice.ladder import next_dose
from coach.advice.shots import Candidate, Spot, candidates
from coach.belief.belief import Belief, Sighting
from coach.belief.firing import rivals
from coach.belief.pulses import trail


def after_nothing(belief: Belief, now: Outlook, todo: list[Candidate]) -> Advice | None:
    """What follows a pulse that left nothing; None where the newest left a mark, or is explained.

    The same place again only where the belief, with the chance that it missed, still finds it sure enough.
    """
    why = rivals(belief)
    if why is None:
        return None
    newest = belief.round_sightings[-1]
    here, card = (_candidate(belief, newest, wide=wide) for wide in (newest.wide, True))
    fires = "not firing" in belief.accepted  # asked before, and answered
    strongest = next_dose(belief, newest).ceiling
    if not fires and (strongest or why.not_firing > why.weak):
        asked = reasons.NotFiring(here.shot, why, len(trail(belief.pulses, newest)))
        return Advice("stop", asked, now, stations=(here.shot,), cause="not firing")
    if here.safe and not strongest:
        return Advice("shoot", reasons.NothingSeen(here.shot, why), now, stations=(here.shot,))
    if not newest.wide and card.safe:
        return Advice("shoot", reasons.NothingSeenWide(card.shot, why), now, stations=(card.shot,))
    return Advice("stop", reasons.BeamNotFound(), now, cause="off the tape") if strongest else None


def dosed(belief: Belief, shot: Shot) -> Shot:
    """The pulse with the dose to use."""
    dose = next_dose(belief, Sighting(shot.name, shot.x, shot.y, shot.target, wide=shot.wide))
    return replace(shot, ms=dose.ms, power=dose.power)


def _candidate(belief: Belief, at: Sighting, *, wide: bool) -> Candidate:
    return candidates(belief, [Spot(at.station, at.x, at.y, at.target, wide)])[0]
