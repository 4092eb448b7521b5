"""Cautions in lines: the signal word before each, as the full screen has it, since a line has no colour."""

from collections.abc import Iterable

from coach.steps.cautions import Caution


def caution_lines(cautions: Iterable[Caution], *, sources: bool = False) -> list[str]:
    """ "Danger: tube supply …", with `sources` where each comes from."""
    return [
        f"{caution.signal.capitalize()}: {caution.text}" + (f" ({caution.source})" if sources else "")
        for caution in cautions
    ]
