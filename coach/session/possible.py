"""Whether an entry can have happened on its machine; nothing is reckoned for that."""

from collections.abc import Iterable

from coach.errors import InputError
from coach.machine import Machine
from coach.mount import Mount, checked_screws
from coach.parts import checked_ways
from coach.session.described import Described, of_head
from coach.session.events import Event, Shift, Turn
from coach.session.visit_events import Cut


def check_possible(machine: Machine, event: Event) -> None:
    """That the machine, as it was then, has what the event names and allows what was done.

    Raises UnknownName, InputError or OutOfReach.
    """
    match event:
        case Turn():
            checked_screws(machine.mount(event.mirror), event.screws)
        case Shift(part="lens"):
            pass  # checked when it is entered; a file's changes nothing before the head
        case Shift():
            checked_ways(event.part, event.up, event.right, event.back)
        case Cut():
            machine.station(event.station)


def check_screws(began: Machine, events: Iterable[Event]) -> None:
    """That every turn of mirror 3 was of screws that were known then and are still.  Raises InputError."""
    mount, turned = of_head(began)["mount"], set[str]()
    for event in events:
        match event:
            case Turn(mirror=3):
                turned |= set(event.screws)
            case Described():
                mount = event.mount
            case _:
                continue
        names = {screw.name for screw in mount.screws} if isinstance(mount, Mount) else set()
        if missing := sorted(turned - names):
            raise InputError(
                f"Screw {missing[0]} of mirror 3 was turned in this session, and would not be there",
                expected="its screws by the names that they have, or those turns taken back first",
            )
