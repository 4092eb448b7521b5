"""The suspects in words: what speaks for and against each, and the test that pays most."""

from collections.abc import Sequence

from coach.triage.suspects import Suspect

NAMED = {
    "cooling": "the cooling",
    "focus": "the focus",
    "bed": "the bed's level",
    "lens": "the lens",
    "mirrors": "the mirrors",
    "extraction": "the extraction",
    "material": "the material",
    "supply": "the supply",
    "tube": "the tube",
    "rail": "the rails",
    "alignment": "the alignment",
}
"""What a cause is called in a sentence."""


def leading(ordered: Sequence[Suspect]) -> Suspect | None:
    """The suspect to test first, where anything speaks for one."""
    first = ordered[0]
    return first if first.state == "found" or first.per_minute > 0 else None


def lines_about(suspect: Suspect) -> tuple[str, ...]:
    """One suspect with its pros and cons, each said once; nothing where nobody said anything about it."""
    if not suspect.speaks_for and not suspect.speaks_against:
        return ()
    name = NAMED[suspect.name]
    sides = (("For", suspect.speaks_for), ("Against", suspect.speaks_against))
    said = " ".join(f"{side}: {' '.join(reasons)}" for side, reasons in sides if reasons)
    return (f"{name[0].upper()}{name[1:]}. {said}",)


def test_words(ordered: Sequence[Suspect]) -> str:
    """Which test pays most, and how long it takes."""
    first = leading(ordered)
    if first is None or not first.test:
        return "Nothing speaks for one cause more than for another: the checks go on from what costs least."
    return f"What pays most: {first.test} About {first.minutes:g} minute{'' if first.minutes == 1 else 's'}."
