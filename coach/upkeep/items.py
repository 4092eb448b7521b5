"""What a machine needs now and then: what is done, beware of what, and how often.

Intervals are common practice; a machine's manual wins.  Each machine's log may have its own
(`coach.upkeep.standing`).
"""

from dataclasses import dataclass
from typing import Literal, get_args

from coach.errors import UnknownName
from coach.steps.cautions import HANDS, LENS, NOT_FIRING, SOLVENT, SUPPLY, Caution, with_always
from coach.upkeep.cautions import COOL, CUTTING, LOW_AIR, RESIDUE, WATER

ItemName = Literal[
    "lens",
    "optics",
    "rails",
    "grates",
    "fans",
    "hose",
    "filter",
    "belts",
    "water",
    "new water",
    "lock nuts",
    "check-up",
]
ITEM_NAMES: tuple[ItemName, ...] = get_args(ItemName)

SOURCE = "common practice; your manual first"


@dataclass(frozen=True, kw_only=True)
class Item:
    """One thing to be done now and then."""

    name: ItemName
    """What files and the shell call it."""
    title: str
    """What it is called in lists, small letters first, so that several make a line."""
    do: str
    """What is done, in a few sentences."""
    own_cautions: tuple[Caution, ...]
    """Its own, the most important first."""
    days: int | None
    """Due this many days after it was done; None: not by days."""
    hours: float | None = None
    """Due after this many hours of use; None: not by use.  Whichever comes first."""
    source: str = SOURCE
    """Where the interval comes from."""

    @property
    def cautions(self) -> tuple[Caution, ...]:
        """Its own, then those that always stand."""
        return with_always(self.own_cautions)


_HANDS_IN = (NOT_FIRING, COOL)

ITEMS: tuple[Item, ...] = (
    Item(
        name="lens",
        title="lens look",
        do="Hold a torch aslant to the lens, from above and from below. Haze, spots: clean it. A loose ring: seat "
        "it. A crack or a burnt spot: stop, and do not touch it without gloves.",
        own_cautions=(*_HANDS_IN, LENS),
        days=1,
    ),
    Item(
        name="optics",
        title="clean optics",
        do="Mirrors 1, 2, 3, a combiner where there is one, the lens last. Blow dust off with a bulb; isopropanol "
        "(99 % or more) on a fresh tissue for each, one drag, no rubbing; let them dry. The lens goes back the same "
        "way round.",
        own_cautions=(NOT_FIRING, SUPPLY, SOLVENT, LENS),
        days=7,
        hours=40.0,
    ),
    Item(
        name="rails",
        title="rails and wheels",
        do="Wipe rails, wheels and bearings with a dry cloth that leaves no lint. No oil: it holds the dust, "
        "unless your manual asks for it. Push the head by hand to every corner: it runs evenly, nothing grates.",
        own_cautions=(*_HANDS_IN, HANDS),
        days=7,
        hours=40.0,
    ),
    Item(
        name="grates",
        title="grates and tray",
        do="Empty the tray, scrape or brush the grate until no residue is left that could catch fire. Put it back "
        "level: gauge the gap under the head at the four corners.",
        own_cautions=(*_HANDS_IN, RESIDUE),
        days=7,
        hours=40.0,
    ),
    Item(
        name="fans",
        title="fan blades",
        do="Wipe the blades of the exhaust fan, and of the fans that cool tube supply and boards from outside, dry. "
        "Hold the blades while you wipe; a wobble or a worn bearing is mended now.",
        own_cautions=(NOT_FIRING, SUPPLY, RESIDUE),
        days=30,
    ),
    Item(
        name="hose",
        title="hose",
        do="Look along the whole exhaust hose: no kink, no hole, clamps tight, the outlet free. Shake or brush out "
        "what has settled. Then a tissue held to the grate is drawn to it.",
        own_cautions=(*_HANDS_IN, RESIDUE),
        days=30,
    ),
    Item(
        name="filter",
        title="intake filter",
        do="Take the filter out and carry it outdoors. Blow it from the clean side with low-pressure air, about "
        "1.5 bar, well away from boards and optics. Torn or grey through and through: a new one.",
        own_cautions=(LOW_AIR, NOT_FIRING),
        days=30,
    ),
    Item(
        name="belts",
        title="belts",
        do="Press each belt with a finger in the middle of its run: both sides give alike, none sags. No cracked or "
        "missing tooth, pulleys tight on their shafts. Tighten both sides of the gantry alike.",
        own_cautions=(*_HANDS_IN, HANDS),
        days=30,
    ),
    Item(
        name="water",
        title="water clear",
        do="Look at the cooling water: clear, no threads or slime, the level at its mark. Hoses without kinks, the "
        "filter clean. Cloudy: change it now.",
        own_cautions=(WATER, SUPPLY),
        days=30,
    ),
    Item(
        name="new water",
        title="water changed",
        do="Drain, wipe the tank, fill with distilled water and what your manual adds to it, nothing else. Let it "
        "run until no bubble is left in the tube, before the laser is used.",
        own_cautions=(WATER, SUPPLY),
        days=120,
    ),
    Item(
        name="lock nuts",
        title="lock nuts",
        do="Try the lock nut of every mirror screw with two fingers and its key, the screw held still. A nut that "
        "gave has moved the beam: a check-up comes next.",
        own_cautions=(NOT_FIRING, SUPPLY),
        days=90,
    ),
    Item(
        name="check-up",
        title="ten-minute check-up",
        do="A visit of two parts: one mark at each station, nothing turned, and a cut check. It says whether the "
        "beam is where it was, or where it moved.",
        own_cautions=(NOT_FIRING, CUTTING),
        days=30,
    ),
)
"""In the order in which they are listed: what is done most often first.  Days and hours: common practice."""


def item_called(name: str) -> Item:
    """The item of that name, or with that title, in any case.  Raises UnknownName."""
    wanted = " ".join(name.casefold().split())
    for item in ITEMS:
        if wanted in (item.name, item.title):
            return item
    raise UnknownName(f"There is no upkeep item {name!r}", expected="one of: " + ", ".join(ITEM_NAMES))
