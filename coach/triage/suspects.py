"""The causes in the order in which it pays to test them, and where that ends.

What was found bad comes first, what was cleared last.  Between them stand the open ones by how much speaks for them,
(sentences for − sentences against), per minute of their cheapest test; what nobody could check waits behind.
"""

from dataclasses import dataclass, replace
from typing import Literal

from coach.triage.causes import ABOUT, CAUSES, Cause
from coach.triage.evidence import Evidence
from coach.triage.findings import CAUSE_OF, State

Ends = Literal["stop", "as it was", "not alignment", "on to the beam", "test", "cut again"]
NOT_FOUND = "No test found it: it is the likeliest of what none cleared."
_FIRST: dict[State, int] = {"found": 0, "open": 1, "cleared": 2}


@dataclass(frozen=True)
class Suspect:
    """One cause: what speaks for and against it, and the cheapest test that is left."""

    name: Cause
    speaks_for: tuple[str, ...]
    speaks_against: tuple[str, ...]
    test: str
    """One sentence; "" where it was tested."""
    minutes: float
    """Of the test that is left; 0 where it was tested."""
    state: State
    """"found" by its test, "cleared" by it, else "open"."""
    skipped: bool = False
    """Its test was said not to be possible, or cannot decide: it is left to exclusion."""

    @property
    def per_minute(self) -> float:
        """What speaks for it, less what speaks against it, per minute of its test."""
        net = float(len(self.speaks_for) - len(self.speaks_against))
        return net / self.minutes if net > 0 and self.minutes else net


@dataclass(frozen=True)
class Verdict:
    """Where the evidence leads: what is wrong, or what to do next."""

    ends: Ends
    cause: Cause | Literal[""]
    says: str
    """What to do, in a sentence or two."""
    service: bool = False
    """Left to licensed service."""
    also: tuple[Cause, ...] = ()
    """What was found beside it."""
    found: bool = False
    """Its own test found it; else it is what is left, or still to be looked at."""


def suspects(evidence: Evidence) -> tuple[Suspect, ...]:
    """All causes, the one whose test pays most first."""
    found = [_suspect(cause, evidence) for cause in CAUSES]
    mended_first = {cause: index for index, cause in enumerate(CAUSES)}
    return tuple(
        sorted(
            found,
            key=lambda s: (
                _FIRST[s.state],
                s.skipped,
                mended_first[s.name] if s.state == "found" else -s.per_minute,
                s.minutes,
            ),
        )
    )


def _suspect(cause: Cause, evidence: Evidence) -> Suspect:
    plus, minus = evidence.speaks(cause)
    state, seen = evidence.state(cause)
    entered = any(CAUSE_OF[check] == cause for check in evidence.findings)
    tested = state != "open" or entered
    about = ABOUT[cause]
    plus = (*seen, *plus) if state == "found" else plus
    minus = (*seen, *minus) if state == "cleared" else minus
    test, minutes = ("", 0.0) if tested else (about.test, about.minutes)
    return Suspect(cause, plus, minus, test, minutes, state, skipped=entered and state == "open")


def verdict(evidence: Evidence) -> Verdict:
    """Where the evidence leads so far."""
    ordered = suspects(evidence)
    stop = next((found for found in evidence.findings.values() if found.stop), None)
    if stop is not None:
        return Verdict("stop", CAUSE_OF[stop.check], stop.stop)
    found = [suspect.name for suspect in ordered if suspect.state == "found"]
    if found and ABOUT[found[0]].service and evidence.looked_once(found[0]):
        return _once_more(found[0], "Before the service is called, look once more.")
    if found:
        return replace(_ended(found[0], tuple(found[1:])), found=True)
    if evidence.cuts is not None and evidence.cuts.pattern == "fine":
        return Verdict("as it was", "", "It cuts as it did; nothing is to be mended.")
    left = [suspect for suspect in ordered if suspect.state == "open"]
    to_test = [suspect for suspect in left if not suspect.skipped]
    if to_test:
        first = to_test[0]
        return _ended("alignment") if first.name == "alignment" else Verdict("test", first.name, first.test)
    again = [suspect.name for suspect in ordered if evidence.cleared_too_soon(suspect.name)]
    if again:
        return _once_more(again[0], "Nothing else is left, so look once more, with fresh eyes.")
    if evidence.aligned:
        return Verdict("cut again", "", "The beam was aligned since it was cut last: cut again, then look further.")
    likeliest = max(left, key=lambda suspect: suspect.per_minute) if left else None
    if likeliest is None:
        return Verdict("as it was", "", "Every test was good: cut again, and compare with how it once cut.")
    return _by_exclusion(likeliest.name)


def _once_more(cause: Cause, why: str) -> Verdict:
    return Verdict("test", cause, f"{why} {ABOUT[cause].test}")


def _by_exclusion(cause: Cause) -> Verdict:
    """What no test found: it is the likeliest of what none cleared, and nobody says more of it."""
    ended = _ended(cause)
    return replace(ended, says=f"{NOT_FOUND} {ended.says}") if ended.ends == "not alignment" else ended


def _ended(cause: Cause, also: tuple[Cause, ...] = ()) -> Verdict:
    about = ABOUT[cause]
    return Verdict(
        "on to the beam" if cause == "alignment" else "not alignment", cause, about.remedy, about.service, also
    )
