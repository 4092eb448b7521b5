"""The sheets that can be laid in with one key: that of the check before, and those whose baselines are kept."""

from dataclasses import dataclass

from coach.cutting.cuts import Cuts
from coach.cutting.sheet import checked_sheet
from coach.session.session import Session
from coach.session.visit_events import Cut, SheetLaid
from coach.shown import day_words
from coach.steps.cut_progress import CutPart, baselines, cut_progress
from coach.steps.kind import Option
from coach.visit import VisitPart


@dataclass(frozen=True)
class KnownSheet:
    """A sheet with its setting."""

    material: str
    power: float | None
    speed: float | None
    """mm/s, about how fast it is cut, where that was said."""
    known: str
    """From where it is known."""

    @property
    def called(self) -> str:
        """Sheet and setting in words, and as what it is entered."""
        return self.material if self.power is None else f"{self.material} at {self.power:g} %"

    def apart(self, material: str, power: float | None) -> str:
        """Why cuts in another sheet, or at another power, are not compared with this one; "" where they are."""
        now, then = (
            Cuts(checked_sheet(name), (), set_) for name, set_ in ((material, power), (self.material, self.power))
        )
        return now.set_apart(then)


def cut_part(part: VisitPart | None) -> CutPart:
    """The part of the visit that a step of a cut check belongs to."""
    return "cut again" if part == "cut again" else "cut check"


def first_sheet(session: Session, part: CutPart) -> KnownSheet | None:
    """What the check before was cut in; None before the first."""
    laid = cut_progress(session, "cut check").sheet if part == "cut again" else None
    return _as_before(laid) if laid is not None else None


def known_sheets(session: Session, part: CutPart) -> tuple[KnownSheet, ...]:
    """Each once, the one that is compared first."""
    first = first_sheet(session, part)
    own = [_as_before(e) for e in reversed(session.effective) if isinstance(e, SheetLaid)]
    kept = [
        KnownSheet(each.material, each.power, None, f"as kept on {day_words(each.on)}")
        for each in reversed(baselines(session))
    ]
    found: dict[str, KnownSheet] = {}
    for sheet in ([first] if first else []) + kept + own:
        found.setdefault(sheet.called.casefold(), sheet)
    return tuple(found.values())[:MOST]


MOST = 4
"""So many are offered; another one is typed."""


def sheet_options(session: Session, part: CutPart) -> tuple[Option, ...]:
    """The rows to choose from."""
    return tuple(Option(sheet.called, f"{sheet.called}: {sheet.known}") for sheet in known_sheets(session, part))


def _as_before(laid: SheetLaid | Cut) -> KnownSheet:
    speed = laid.speed if isinstance(laid, SheetLaid) else laid.fastest or laid.next
    return KnownSheet(laid.material, laid.power, speed, "as before")
