"""Which optics can be cleaned, and what cleaning one of them can show."""

from collections.abc import Mapping
from typing import Literal

Optic = Literal["mirror 1", "mirror 2", "mirror 3", "lens", "combiner"]
Cleaned = Literal["clean", "haze", "scratched", "burnt", "cracked", "not opened"]
MIRRORS: tuple[Optic, ...] = ("mirror 1", "mirror 2", "mirror 3")
OPTICS_OF: Mapping[Literal["lens", "mirrors"], tuple[Optic, ...]] = {"lens": ("lens",), "mirrors": MIRRORS}
"""The optics that a cause, or the check of it, is about: cleaning them is its mending."""
DULL: dict[Cleaned, str] = {
    "haze": "haze that stays",
    "scratched": "a scratch",
    "burnt": "a burnt spot",
    "cracked": "a crack",
}
"""Results of cleaning that find a cause, in words."""
