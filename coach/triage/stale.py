"""What makes which check stale: once that was done, its older result says nothing of the machine as it is now.

One table for all of them, so that nobody has to look for it elsewhere.  All of it common practice.
"""

from collections.abc import Iterable, Mapping
from typing import Literal

from coach.triage.causes import CheckName

Change = Literal[
    "bed levelled",
    "rail mended",
    "gantry squared",
    "supply mended",
    "lens out",
    "lens bumped",
    "lens moved",
    "head moved",
    "head bumped",
    "mirror bumped",
    "tube out",
    "machine bumped",
    "another sheet",
]
"""What can happen to the machine between two looks; which entries say so: `coach.session.changes`."""
SET_BEFORE = "The bed was levelled since: the focus was gauged to a bed that hung otherwise."
OTHER_SEAT = "The lens was out since: in another seat its focus lies elsewhere."
STALE: Mapping[Change, Mapping[CheckName, str]] = {
    "bed levelled": {"focus": SET_BEFORE},
    "rail mended": {
        "bed": "The rails were seen to since: what rides on them hangs otherwise over the bed.",
        "focus": "The rails were seen to since: what rides on them hangs otherwise over the bed.",
    },
    "gantry squared": {
        "rail": "The gantry was seen to since: its belts and wheels were at hand.",
        "bed": "The gantry was seen to since: the head may ride otherwise over the bed.",
    },
    "supply mended": {"tube": "The supply was seen to since: the current may be another."},
    "lens out": {"focus": OTHER_SEAT},
    "lens bumped": {
        "focus": OTHER_SEAT,
        "lens": "The lens was out since: it may sit loose or the wrong way round.",
    },
    "lens moved": {"focus": "The lens tube was moved since: it may sit higher or lower."},
    "head moved": {"focus": "The head was moved since: it carries lens and gauge."},
    "head bumped": {
        "focus": "The head was bumped or off since: lens or gauge may have slipped.",
        "lens": "The head was bumped or off since: the lens may sit loose.",
        "rail": "The head was bumped or off since: a wheel may have come loose.",
    },
    "mirror bumped": {"mirrors": "A mirror was out or bumped since: its face may have been touched."},
    "tube out": {
        "tube": "Tube or combiner was out or bumped since: the current may be another.",
        "water": "Tube or combiner was out or bumped since: its hoses may leak or hold bubbles.",
    },
    "machine bumped": {
        "focus": "The machine was bumped or carried since: head or gauge may have slipped.",
        "bed": "The machine was bumped or carried since: the bed may hang otherwise.",
        "lens": "The machine was bumped or carried since: the lens may sit loose.",
        "rail": "The machine was bumped or carried since: a wheel may have come loose.",
        "water": "The machine was bumped or carried since: a hose may leak or the water hold bubbles.",
    },
    "another sheet": {"material": "Another sheet was laid in since."},
}
"""Change to the checks that it makes stale, and why, one sentence each."""


def reason(check: CheckName, since: Iterable[Change]) -> str:
    """Why a check is to be made once more, by what was done since, the newest last; "" where it still holds."""
    whys = [STALE[change][check] for change in since if check in STALE[change]]
    return whys[-1] if whys else ""
