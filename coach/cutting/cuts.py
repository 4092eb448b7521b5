"""What was cut, before anything is made of it; `coach.cutting.check` reads it."""

from dataclasses import dataclass

from coach.cutting.limits import Limit
from coach.cutting.sheet import Sheet, told_apart


@dataclass(frozen=True)
class Cuts:
    """What was cut in one go: one sheet, one setting."""

    sheet: Sheet
    limits: tuple[Limit, ...]
    power: float | None = None
    """Per cent, where it was said."""

    def not_compared(self, with_: "Cuts") -> str:
        """Why these cannot be compared with others; "" where they can."""
        apart = self.set_apart(with_)
        if not apart and not {limit.station for limit in self.limits} & {limit.station for limit in with_.limits}:
            return "no station that was cut then"
        return apart

    def set_apart(self, with_: "Cuts") -> str:
        """Why this sheet and setting are not those of others, wherever they were cut; "" where they are."""
        if self.power is not None and with_.power is not None and self.power != with_.power:
            return f"another power ({self.power:g} %, before {with_.power:g} %)"
        return told_apart(self.sheet, with_.sheet)
