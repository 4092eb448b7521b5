"""Questions about a reading before it is believed, and what is carried on when the person keeps it."""

from dataclasses import replace

from coach.advice.advice import Shot
from coach.reading.model import Reading
from coach.reading.plausibility import doubtful_sd, question_far, question_outside
from coach.session.session import Session


def questioned(session: Session, shot: Shot, reading: Reading) -> Reading:
    """The reading with every question that its place and the belief raise added to its own."""
    machine = session.machine
    if shot.target == "head":
        outside = question_outside(reading.u, reading.v, machine.aperture.head, machine.tape.radius)
    else:
        outside = question_outside(reading.u, reading.v, None, machine.tape.mirror2_radius)
    mean, cov = session.belief.expected(shot.x, shot.y, shot.target)
    far = question_far(reading.u, reading.v, float(mean[0]), float(mean[1]), cov.tolist(), reading.sd)
    return reading.asked(outside, far)


def kept(reading: Reading) -> Reading:
    """The reading as the person keeps it in spite of questions: with a wider doubt."""
    return replace(reading, sd=doubtful_sd(reading)) if reading.questions else reading
