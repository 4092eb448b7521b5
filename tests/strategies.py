"""What hypothesis draws: machines, hidden errors, and what a person may enter."""

from typing import Any

from hypothesis import strategies as st
from hypothesis.strategies import DrawFn, SearchStrategy
from machines import ExactMachine, machine_table, mount_table

from coach import Machine
from coach.optics.mounts import PlateMotion

DRIVES = ("push", "pull", "unknown")


def between(low: float, high: float) -> SearchStrategy[float]:
    """A number with three digits behind the point, as people enter them."""
    return st.integers(round(low * 1000), round(high * 1000)).map(lambda n: n / 1000)


@st.composite
def machines(draw: DrawFn) -> Machine:
    """Machines of either side, small and large, on two or three screws, with any drive."""
    width, depth = draw(between(200, 1400)), draw(between(150, 1000))
    table = machine_table(
        side=draw(st.sampled_from(("left", "right"))),
        bed={"width": width, "depth": depth},
        tape={"radius": draw(between(8, 15))},
        tolerance=draw(between(0.5, 2)),
        mounts=[
            mount_table(
                mirror,
                draw(st.sampled_from(DRIVES)),
                draw(st.sampled_from(("BC", "ABC", "AC"))),
                draw(st.sampled_from((0.7, 0.25, 0.5, 1.0))),
                draw(between(30, 70)),
            )
            for mirror in (1, 2)
        ],
    )
    table["path"] |= {"mirror1_gap": draw(between(50, 400)), "mirror2_gap": draw(between(50, 300))}
    return Machine.model_validate(table)


@st.composite
def exact_machines(draw: DrawFn, machine: Machine, most: float = 3.0) -> ExactMachine:
    """A machine as its profile says, with plates out by up to `most` mrad and parts by up to 1.5 mm."""
    plates = {f"mirror{m}": PlateMotion(draw(between(-most, most)), draw(between(-most, most))) for m in (1, 2)}
    parts = {name: draw(between(-1.5, 1.5)) for name in ("tube_back", "tube_up", "head_back", "head_up")}
    drives = {
        mount.mirror: draw(st.sampled_from(("push", "pull"))) if mount.drive == "unknown" else mount.drive
        for mount in machine.mounts
    }
    return ExactMachine(machine, drives, plates | parts)


Entry = tuple[str, dict[str, Any]]
"""The name of a method of Session and what it is called with."""

offsets = between(-12, 12)
sds = st.none() | between(0.05, 2)
texts = st.text(max_size=40).filter(lambda text: text.strip())
typed = st.dictionaries(st.sampled_from(("method", "left", "right", "face")), st.text(max_size=10), max_size=3)


def marks(machine: Machine) -> SearchStrategy[Entry]:
    """A mark at a station, or at a point of one's own on either tape."""
    at_station = st.fixed_dictionaries({"station": st.sampled_from([s.name for s in machine.stations])})
    at_point = st.fixed_dictionaries(
        {
            "station": st.sampled_from(("P1", "P 2")),
            "x": between(0, machine.bed.width),
            "y": between(0, machine.bed.depth),
            "target": st.sampled_from(("head", "mirror 2")),
        }
    )
    reading = st.fixed_dictionaries({"u": offsets, "v": offsets, "sd": sds, "typed": typed})
    return st.tuples(st.just("mark"), st.builds(lambda a, b: a | b, at_station | at_point, reading))


def misses(machine: Machine) -> SearchStrategy[Entry]:
    """A pulse at a station that left no mark."""
    names = st.sampled_from([s.name for s in machine.stations])
    return st.tuples(st.just("miss"), st.fixed_dictionaries({"station": names}))


@st.composite
def turns(draw: DrawFn, machine: Machine) -> Entry:
    """Some screws of one mirror, each by no more than one turn."""
    mount = draw(st.sampled_from(machine.mounts[:2]))
    names = st.sampled_from([screw.name for screw in mount.screws])
    screws = draw(st.dictionaries(names, between(-1, 1), min_size=1))
    return "turn", {"mirror": mount.mirror, "screws": screws}


shifts: SearchStrategy[Entry] = st.tuples(
    st.just("shift"),
    st.fixed_dictionaries({"part": st.just("tube"), "up": between(-3, 3), "back": between(-3, 3)})
    | st.fixed_dictionaries({"part": st.just("mirror 2"), "right": between(-3, 3)})
    | st.fixed_dictionaries({"part": st.just("head"), "up": between(-3, 3)}),
)
locks: SearchStrategy[Entry] = st.tuples(st.just("lock"), st.fixed_dictionaries({"mirror": st.sampled_from((1, 2))}))
notes: SearchStrategy[Entry] = st.tuples(st.just("note"), st.fixed_dictionaries({"text": texts}))


def entries(machine: Machine) -> SearchStrategy[Entry]:
    """Anything that may be entered about the beam, marks most often."""
    return st.one_of(marks(machine), marks(machine), misses(machine), turns(machine), shifts, locks, notes)
