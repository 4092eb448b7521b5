"""Two copies of one visit: whether they are that, up to which entry they agree, and which of them goes further."""

from dataclasses import dataclass
from typing import Literal

from coach.session.document import Document
from coach.sharing.personal import without

Related = Literal["same", "shorter", "further", "forked"]
"""How the other copy stands to the one here: as it is, its beginning, its continuation, or a way of its own."""


@dataclass(frozen=True)
class Relation:
    """How another copy of the same visit stands to the one here."""

    kind: Related
    common: int
    """So many entries both begin with."""
    last: int
    """The number of the last entry on which both agree; 0 where there is none."""
    word_for_word: bool
    """Whether what both begin with is the same in every word; else names or notes were left out of one of them."""


def relation(mine: Document, other: Document) -> Relation | None:
    """How the other document stands to this one; None where they are of two visits.

    They are of one where they began at the same moment on the same machine and, where both have entries, agree on the
    first.  Names and notes do not count: they may have been left out of a copy.
    """
    bare, bare_other = without(mine, "name", "note"), without(other, "name", "note")
    same_start = (mine.created, mine.practice) == (other.created, other.practice)
    if not same_start or bare.machine != bare_other.machine:
        return None
    pairs = list(zip(bare.events, bare_other.events, strict=False))
    common = next((place for place, (one, two) in enumerate(pairs) if one != two), len(pairs))
    if pairs and not common:
        return None
    ends = (common == len(mine.events), common == len(other.events))
    kinds: dict[tuple[bool, bool], Related] = {
        (True, True): "same",
        (True, False): "further",
        (False, True): "shorter",
        (False, False): "forked",
    }
    exact = mine.machine == other.machine and mine.events[:common] == other.events[:common]
    return Relation(kinds[ends], common, mine.events[common - 1].id if common else 0, exact)
