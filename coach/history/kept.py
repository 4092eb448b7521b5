"""What a visit says as plain values, which the index keeps: a visit is replayed once for each writing of its file."""

from datetime import datetime
from typing import TYPE_CHECKING, Any

import numpy as np
from pydantic import TypeAdapter

from coach.errors import CoachError
from coach.history.beam import BeamState
from coach.history.cuts import CutSpeed
from coach.history.happenings import Happening
from coach.history.visits import Visit, visit_of
from coach.machine import Machine
from coach.session.index import Facet

if TYPE_CHECKING:
    from coach.session.document import Document

_CUT = TypeAdapter[CutSpeed | None](CutSpeed | None)
_HAPPENED = TypeAdapter[tuple[Happening, ...]](tuple[Happening, ...])
_PLAIN = ("title", "finished", "adjusted", "marks", "went_back")
"""Fields that are plain values already."""


def told_by(document: "Document") -> dict[str, Any]:
    """What that session says, or the problem for which it cannot be replayed."""
    try:
        visit = visit_of("", document)
    except CoachError as error:
        return {"title": document.title, "problem": str(error)}
    return {name: getattr(visit, name) for name in _PLAIN} | {
        "begun": visit.begun.isoformat(),
        "ended": visit.ended.isoformat(),
        "machine": visit.machine.model_dump(mode="json"),
        "found": _state_told(visit.found),
        "left": _state_told(visit.left),
        "cut_found": _CUT.dump_python(visit.cut_found, mode="json"),
        "cut_left": _CUT.dump_python(visit.cut_left, mode="json"),
        "happened": _HAPPENED.dump_python(visit.happened, mode="json"),
    }


VISIT = Facet("visit", told_by)
"""Asked of the newest visits to one machine alone, never of every session."""


def visit_from(key: str, told: dict[str, Any]) -> Visit | str:
    """The visit again, called by that key; or why it was left out: one sentence."""
    if "problem" in told:
        return f"{told['title']} ({key}) was left out: {told['problem']}"
    return Visit(
        key=key,
        **{name: told[name] for name in _PLAIN},
        begun=datetime.fromisoformat(told["begun"]),
        ended=datetime.fromisoformat(told["ended"]),
        machine=Machine.model_validate(told["machine"]),
        found=_state(told["found"]),
        left=_state(told["left"]),
        cut_found=_CUT.validate_python(told["cut_found"]),
        cut_left=_CUT.validate_python(told["cut_left"]),
        happened=_HAPPENED.validate_python(told["happened"]),
    )


def _state_told(state: BeamState | None) -> list[Any] | None:
    return None if state is None else [state.mean.tolist(), state.cov.tolist()]


def _state(told: list[Any] | None) -> BeamState | None:
    return None if told is None else BeamState(np.array(told[0]), np.array(told[1]))
