"""Closing up, item by item, until the machine may be left."""

from dataclasses import dataclass

from coach.session.events import Pulse, Turn
from coach.session.head_events import HeadPulse
from coach.session.session import Session
from coach.shown import Wording
from coach.steps.about import About
from coach.steps.cautions import BEAM, COVERS, EYEWEAR, NOT_FIRING, SMOULDER, SUPPLY, Caution
from coach.steps.keys import StepKey
from coach.steps.kind import ChoiceKind, Said, Stage, StepKind
from coach.steps.part import Laser
from coach.steps.visit_deeds import nothing_turned, seen_to


@dataclass(frozen=True)
class ToClose:
    """One thing to be seen to before the machine is left."""

    name: str
    title: str
    text: str
    confirm: str
    laser: Laser = "off"
    """What the machine is meanwhile."""


CLOSING: tuple[ToClose, ...] = (
    ToClose(
        "tape",
        "All tape off",
        "Every piece of tape and card is off: head, mirror 2, mirror 1. Count them against what was put up.",
        "All off, counted",
    ),
    ToClose(
        "wiped",
        "Wipe behind the tape",
        "Smoke has settled on what stood behind the tape: wipe those faces again, one drag with a fresh tissue. "
        "What was wetted dries before anything fires; bottle away.",
        "Wiped and dry",
    ),
    ToClose(
        "locks",
        "Lock nuts tight",
        "Every screw that was turned has its lock nut tight, the screw held still by its key. A nut tightened since "
        "the last marks may have moved the beam: go back to the beam's path for a mark at each station.",
        "Tight, and marked since",
    ),
    ToClose(
        "nozzle",
        "Nozzle back in",
        "Lens and nozzle are in and finger tight, the air hose is on, and the focus is gauged anew.",
        "In, and gauged",
    ),
    ToClose(
        "covers",
        "Covers back",
        "Every cover and lid is back with all of its screws; no interlock is bridged.",
        "All back",
    ),
    ToClose(
        "settings",
        "Settings back",
        "Pulse time and power stand as they did before; a soft limit or an offset that was changed is back.",
        "As before",
        "idle",
    ),
    ToClose(
        "interlock",
        "Test the interlock",
        "Nobody in front, eyewear on, lowest power, a scrap under the head: with the lid "
        "open the machine must not fire. If it fires: switch off, plug out, and leave it to the service.",
        "Lid open: it does not fire",
        "pulses",
    ),
    ToClose(
        "parked",
        "Park the head",
        "Hands out: the head goes where a move at the next start meets nothing, and that place is stored as the "
        "origin if the controller asks for one. Then key out, machine off.",
        "Parked, key out, off",
        "idle",
    ),
    ToClose(
        "watch",
        "Look for smoke",
        "Look once more under the bed, behind the mirrors and into the extraction: no smouldering. Stay near for "
        "half an hour after the last pulse.",
        "Nothing smoulders, I stay near",
        "untouched",
    ),
    ToClose(
        "notes",
        "Notes and photos",
        "Note what nobody will remember: what was odd, which photo shows what, what is still to be bought. The help "
        "says how.",
        "Noted",
        "untouched",
    ),
)
"""In the order in which they are done (common practice)."""


def laser_at(about: About) -> Laser:
    """What the machine is at a thing on the list."""
    return next(item.laser for item in CLOSING if item.name == about.item)


NO_TURN = "No turn of a screw is entered in this visit."


def _without_turns(about: About, session: Session) -> bool:
    """Whether this is about lock nuts and no screw was turned, as far as the entries say."""
    return about.item == "locks" and not any(isinstance(event, Turn) for event in session.effective)


NONE_TURNED = ChoiceKind(
    key="none-turned",
    label="No screw was turned: no nut was slack",
    does=nothing_turned,
    makes="item",
    offered=_without_turns,
)
ITEM_WORDS = {item.name: item.title for item in CLOSING}
"""What an entry about one of them is called."""


def close_up_about(done: frozenset[str]) -> About | None:
    """The first thing that was not answered yet; None once all were."""
    waits = next((item for item in CLOSING if item.name not in done), None)
    if waits is None:
        return None
    return About(key="interlock-test" if waits.laser == "pulses" else "close-item", part="close up", item=waits.name)


def _says(about: About, session: Session, wording: Wording) -> Said:
    number, item = next((n, item) for n, item in enumerate(CLOSING, start=1) if item.name == about.item)
    pulses = sum(isinstance(event, Pulse | HeadPulse) for event in session.effective)
    counted = (f"{pulses} pulse{'' if pulses == 1 else 's'} made in this visit.",) if item.name == "tape" else ()
    unturned = _without_turns(about, session)
    return Said(
        "Close up",
        item.title,
        f"{number} of {len(CLOSING)}",
        (item.text, *counted, *((NO_TURN,) if unturned else ())),
        labels={"item-done": item.confirm},
    )


def _kind(key: StepKey, cautions: tuple[Caution, ...], *before: ChoiceKind) -> StepKind:
    """A thing on the list, with the cautions of what the machine is meanwhile; `before`: answers to one of them."""
    return StepKind(
        key=key,
        says=_says,
        own_cautions=cautions,
        choices=(
            *before,
            ChoiceKind(key="item-done", label="Seen to", does=seen_to(True), makes="item"),
            ChoiceKind(
                key="item-open",
                label="Not now: it stays open",
                does=seen_to(False),
                makes="item",
                read_back="It stays open, and stands so in the record of this visit.",
            ),
        ),
        danger_begins=True,
        about=("part", "item"),
    )


CLOSE_UP_STAGE = Stage(
    "List",
    (
        _kind("close-item", (NOT_FIRING, SUPPLY, SMOULDER, COVERS), NONE_TURNED),
        _kind("interlock-test", (EYEWEAR, BEAM, COVERS)),  # the one thing on the list at which something may fire
    ),
)
