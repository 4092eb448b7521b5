"""What was cut: material, thickness and batch as their owner calls them, and whether two sheets can be compared."""

import re
from dataclasses import dataclass

from coach.errors import InputError, OutOfReach

LONGEST = 60
_THICKNESS = re.compile(r"(\d+(?:[.,]\d+)?)\s*mm\b")
_BATCH = re.compile(r"\b(?:lot|batch)\b\.?\s*:?\s*(.+)$")
_CHLORINE = re.compile(r"\b(pvc|vinyl|polyvinyl\s*chloride)\b")


@dataclass(frozen=True)
class Sheet:
    """One kind of sheet: "ply 6 mm, lot 3"."""

    name: str
    """As it was entered first."""
    kind: str
    thickness: float | None
    """mm; None where the name does not say it."""
    batch: str
    """Empty where the name does not say it."""

    def same(self, other: "Sheet") -> bool:
        """Whether cuts in the two can be compared: same kind, thickness and batch."""
        return (self.kind, self.thickness, self.batch) == (other.kind, other.thickness, other.batch)


def checked_sheet(name: object) -> Sheet:
    """The sheet of that name.  Raises InputError, and OutOfReach for what must not be cut."""
    text = " ".join(name.split()) if isinstance(name, str) else ""
    if not text or len(text) > LONGEST:
        raise InputError(
            f"The material is {name!r}" if text else "The material is not said",
            expected=f"material, thickness and batch in at most {LONGEST} letters",
            example="ply 6 mm, lot 3",
        )
    plain = text.casefold()
    if _CHLORINE.search(plain):
        raise OutOfReach(
            f"{text}: PVC and vinyl are never cut: the smoke is poisonous and eats the machine",
            expected="another sheet",
            example="ply 6 mm, lot 3",
        )
    batch, thick = _BATCH.search(plain), _THICKNESS.search(plain)
    kind = _THICKNESS.sub(" ", _BATCH.sub(" ", plain))
    return Sheet(
        text,
        " ".join(re.sub(r"[,;/]", " ", kind).split()),
        float(thick[1].replace(",", ".")) if thick else None,
        batch[1].strip() if batch else "",
    )


def told_apart(sheet: Sheet, before: Sheet) -> str:
    """Why cuts in the two cannot be compared: "another batch (lot 4, before lot 3)"; "" where they can."""
    if sheet.same(before):
        return ""
    if sheet.kind != before.kind:
        return f"another material ({sheet.name}, before {before.name})"
    if sheet.thickness != before.thickness:
        return f"another thickness ({_thick(sheet)}, before {_thick(before)})"
    return f"another batch ({_batch(sheet)}, before {_batch(before)})"


def _batch(sheet: Sheet) -> str:
    return f"lot {sheet.batch}" if sheet.batch else "none named"


def _thick(sheet: Sheet) -> str:
    return f"{sheet.thickness:g} mm" if sheet.thickness is not None else "none named"
