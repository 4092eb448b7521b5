"""Whether the beam lies where it lay, in sentences."""

from collections.abc import Sequence
from typing import assert_never

from coach.shown import Wording
from coach.steps.moved import Apart, Comparison

MOST_NAMED = 5
"""So many stations are named."""


def comparison_lines(seen: Comparison, wording: Wording) -> tuple[str, ...]:
    """The verdict with its figures, and which stations are missing.  ± is two standard deviations."""
    missing = f"Not marked this time: {', '.join(seen.missing)}." if seen.missing else ""
    return tuple(filter(None, (_told(seen, wording), missing)))


def _told(seen: Comparison, wording: Wording) -> str:
    since = f"{seen.since}"
    match seen.verdict:
        case "as it was":
            far = seen.stations[0]
            return (
                f"The beam is as it was on {since}: no mark moved by more than chance explains (most at "
                f"{far.station}, {wording.length(far.distance)} ± {wording.length(2 * far.sd)})."
            )
        case "moved" if seen.moved:
            others = len(seen.stations) - len(seen.moved)
            rest = f" The other {others if others > 1 else 'one'} by no more than chance." if others else ""
            return f"The beam moved since {since}: {_listed(seen.moved, wording)}.{rest}"
        case "moved":
            assert seen.together is not None
            return f"The beam moved since {since}, everywhere alike: {_place(seen.together, wording)}."
        case "one mark":
            one = seen.moved[0]
            return (
                f"One mark alone lies elsewhere than on {since}: {_listed((one,), wording)}. Mark {one.station} once "
                f"more: it may be misread."
            )
        case "too few":
            return f"Too few stations were marked to compare with {since}."
        case _:
            assert_never(seen.verdict)


def _listed(apart: Sequence[Apart], wording: Wording) -> str:
    named = "; ".join(f"{each.station} {_place(each, wording)}" for each in apart[:MOST_NAMED])
    return named + (f"; {len(apart) - MOST_NAMED} more" if len(apart) > MOST_NAMED else "")


def _place(each: Apart, wording: Wording) -> str:
    return f"{wording.place(each.right, each.up)} (± {wording.length(2 * each.sd)})"
