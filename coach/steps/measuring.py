"""The tape that a mark lies on; questions about a reading before it is believed, and what is carried on when it is
kept."""

import math
from dataclasses import replace
from typing import TypedDict

import numpy as np

from coach.advice.advice import Shot
from coach.advice.clipped import NOT_WHOLE
from coach.belief import belief as beliefs
from coach.belief.belief import Belief, Sighting
from coach.machine import Machine
from coach.reading.method import Tape
from coach.reading.model import Reading
from coach.reading.plausibility import Rival, doubtful_sd, question_far, question_outside
from coach.session.events import Pulse, Typed
from coach.session.session import Session

HARDLY = 0.1
"""mm beyond the tolerance that are told apart from it: what is shown is rounded to this."""
BLAMED_FROM = 0.5
"""Probability from which another reading is called wrong rather than the new one: likelier than not."""


def tape_of(machine: Machine, shot: Shot) -> Tape:
    """What is known of the tape that a shot is made on."""
    opening = machine.aperture.head if shot.target == "head" and not shot.wide else None
    return Tape(opening, opening or 2 * machine.tape.readable(shot.target, shot.wide))


def where_on_tape(reading: Reading, machine: Machine, shot: Shot) -> str:
    """Where on the tape a reading lies, in words."""
    away = math.hypot(reading.u, reading.v)
    if away > machine.tape.readable(shot.target, shot.wide):
        return "beyond the tape"
    opening = tape_of(machine, shot).opening
    if opening is None:
        return "on the wide card" if shot.wide else f"on {shot.target}'s tape"
    if away <= machine.tolerance:
        return "inside the tolerance"
    if away <= machine.tolerance + HARDLY:
        return "just beyond the tolerance"
    return "beyond the tolerance" if away <= opening / 2 else "outside the imprint, on the tape"


def questioned(session: Session, shot: Shot, reading: Reading) -> Reading:
    """The reading with every question that its place and the belief raise added to its own."""
    machine = session.machine
    opening = tape_of(machine, shot).opening
    outside = question_outside(reading.u, reading.v, opening, machine.tape.readable(shot.target, shot.wide))
    mark = session.belief.expected(shot.x, shot.y, shot.target, sd=0.0)
    far = question_far(reading.u, reading.v, mark.u, mark.v, mark.cov, reading.sd)
    if far is not None:
        far = replace(far, rival=likelier_wrong(session.belief, shot, reading))
    return reading.asked(outside, far)


def likelier_wrong(belief: Belief, shot: Shot, reading: Reading) -> Rival | None:
    """Of this round's readings, the new one among them, the likeliest to be wrong, unless that is the new one.

    Every reading is compared with what all the others say (`coach.belief.consistency`).
    """
    sighting = Sighting(
        shot.name, shot.x, shot.y, shot.target, reading.u, reading.v, sd=reading.sd, wide=shot.wide
    )  # fmt: skip
    after = beliefs.update(belief, sighting)
    blamed = int(np.argmax(after.outliers))
    other, chance = after.round_sightings[blamed], float(after.outliers[blamed])
    if other == sighting or other.u is None or other.v is None or chance < BLAMED_FROM:
        return None
    return Rival(other.station, (other.u, other.v), chance)


def kept(reading: Reading) -> Reading:
    """The reading as the person keeps it in spite of questions: with a wider doubt, unless they looked twice."""
    return replace(reading, sd=doubtful_sd(reading)) if reading.questions and not reading.looked_twice else reading


class Entered(TypedDict):
    """What a session keeps of a reading."""

    u: float
    v: float
    sd: float | None
    kept: bool
    width: float | None
    typed: Typed


def as_entered(reading: Reading) -> Entered:
    """A reading as it is entered: one that is kept as doubtful carries a wider doubt."""
    final = kept(reading)
    width = round(final.width, 2) if final.width is not None and final.width > 0 else None
    return Entered(u=final.u, v=final.v, sd=final.sd, kept=bool(reading.questions), width=width, typed=reading.typed)


def is_cut(session: Session, pulse: int) -> bool:
    """Whether that pulse left a mark that is not whole: its middle is not the beam's.  0: of none it is known."""
    return any(e.id == pulse and isinstance(e, Pulse) and e.shape in NOT_WHOLE for e in session.events)
