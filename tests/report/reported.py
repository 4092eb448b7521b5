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


def hostile() -> Session:
    """A machine and a visit whose names and notes would break a page, a table or a file, were they let."""
    machine = demo_machine().model_copy(update={"name": "=cmd|'/C calc'!A1 <script>alert(1)</script> 🔥/../\\"})
    session = Session.start(machine)
    session.mark(RUDE, u=1.3, v=0.4, x=100.0, y=100.0, typed={"right": "=1,3", "up": "@0,4"})
    session.mark("=HYPERLINK()", u=-1.2, v=0.1, x=300.0, y=100.0, typed={"right": "-1,2", "up": "+0,1"})
    session.mark("W" * 60, u=-1.0, v=2.1, x=300.0, y=300.0)
    session.mark("middle 🔧", u=0.3, v=-0.4, x=200.0, y=200.0)
    session.note("</table></svg><h1>![x](http://example.invalid/y.png) | a | b |\n# not a heading\n`code` &amp;")
    session.note("\x1b[31m red \x00 end \u202e turned")
    session.note("=1+1")
    session.note("@sum\t+2\r\n-3")
    session.note("ends with a backslash \\")
    session.note("🔥" * 300)
    return session
