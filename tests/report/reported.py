"""Sessions to be reported: one of the practice bench from first mark to end, and a visit with a bit of all."""

from coach.practice.begun import begun
from coach.practice.bench import Bench
from coach.practice.demo import demo_machine
from coach.practice.peers import the_coach
from coach.practice.play import play
from coach.session.document import Practice
from coach.session.session import Session

RUDE = '<b>&"'
"""A station's name that would be markup, were it not escaped."""


def aligned(seed: int = 3) -> Session:
    """The beam's path of a practice machine, aligned; nobody finished it yet."""
    machine = demo_machine()
    bench = Bench(machine, seed, "plain")
    profile, adviser = the_coach(machine, bench)
    session = Session.start(profile, practice=Practice(kind="plain", seed=seed))
    play(session, bench, adviser)
    return session


def visited(notes: int = 1) -> Session:
    """A visit in which something of each kind was entered; not finished."""
    session = begun(Practice(kind="visit-bed", seed=1))
    session.gate("rules")
    session.answer("weak", "toward one corner")
    for speed, place in enumerate(session.machine.stations, start=10):
        session.cut(place.name, fastest=speed, next=speed + 1.0, material="Birch 4 mm, lot 9", power=60.0)
    session.check("bed", "bad", front_left=50.0, front_right=52.0, back_left=50.0, back_right=50.1)
    session.check("water", "not checked")
    session.care("lens", "clean")
    session.mark("middle", u=1.0, v=-2.0, width=1.5, typed={"method": "offset", "right": "1,0", "down": "2"})
    session.mark(RUDE, u=0.3, v=0.4, x=100.0, y=100.0)
    session.miss("front-right")
    session.bed_mark(1.0, 2.0)
    session.nozzle_mark(0.2, 0.1)
    session.item("close up", "covers", False, "hinge broken")
    for number in range(notes):
        session.note(f"{RUDE} note {number} of what was seen at the machine")
    return session
