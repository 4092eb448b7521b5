"""What is said of a mirror that may be hit badly, or is."""

from math import floor

from coach.advice.reasons import MirrorAtEdge, MirrorUnsure
from coach.optics.mounts import side_sign
from coach.shown import Wording

LEAST_SLIDE = 0.05
"""mm; less is not worth a word."""


def why_unsure(reason: MirrorUnsure) -> str:
    """Why a mark at a mirror comes before "done"."""
    if reason.again:
        return (
            f"That mark says that mirror {reason.mirror} is hit near its edge: make it once more, before the mirror "
            "is blamed for one reading."
        )
    return (
        f"All stations are centred; that mirror {reason.mirror} is hit well inside its face is only "
        f"{floor(100 * reason.chance)} % sure, and 99 % is wanted: one mark at its own opening tells."
    )


def at_edge(hit: MirrorAtEdge, wording: Wording) -> str:
    """Where a mirror is hit, and what that costs: "mirror 1 is hit 6.0 mm left, 0.4 mm up: about 4 % …"."""
    share = "less than 1 %" if hit.lost < 0.01 else f"about {100 * hit.lost:.0f} %"
    return f"mirror {hit.mirror} is hit {wording.place(hit.u, hit.v)}: {share} of the beam passes beside it"


def why_at_edge(hit: MirrorAtEdge, wording: Wording) -> str:
    """Why a mirror is named, with every station centred."""
    said = at_edge(hit, wording)
    return f"Every station is centred, but {said} and heats its holder. No screw cures that."


def cures(hit: MirrorAtEdge, wording: Wording) -> tuple[str, ...]:
    """What to do about it, the gentlest first."""
    tube = ", or the tube, by somebody qualified, and everything behind it anew" if hit.mirror == 1 else ""
    return (
        f"mirror {hit.mirror} in its holder: slid along its own face, {_slid(hit, wording)}, it is hit in its middle "
        f"and no mark moves{tube}",
        "a larger mirror there",
        "what it costs to leave it: weaker cuts, a warm holder; then align to the best that can be had",
    )


def slide(hit: MirrorAtEdge) -> tuple[float, float, float]:
    """How far to slide the mirror for the beam to meet its middle: right, back, up; mm in the machine's frame.

    At mirror 1 who faces the tape looks along the tube's beam: u to the right lies to the back on side left, to the
    front on side right, and the face runs as far to the right as the beam lies to the right on the tape.  At mirror 2
    who faces the tape looks to the front: u to the right lies to the left in the machine, and its face runs back as
    mirror 1's runs to the front.
    """
    right = hit.u if hit.mirror == 1 else -hit.u
    return right, side_sign(hit.side) * hit.u, hit.v


def _slid(hit: MirrorAtEdge, wording: Wording) -> str:
    ways = (("to the right", "to the left"), ("to the back", "to the front"), ("up", "down"))
    told = [(mm, way) for mm, way in zip(slide(hit), ways, strict=True) if abs(mm) >= LEAST_SLIDE]
    return ", ".join(f"{wording.length(abs(mm))} {way[mm < 0]}" for mm, way in told)


def left_so(hits: tuple[MirrorAtEdge, ...], wording: Wording) -> str:
    """What is added at the end about mirrors that are left as they are; "" where there are none."""
    return "".join(f" Left as it is: {at_edge(hit, wording)}." for hit in hits)
