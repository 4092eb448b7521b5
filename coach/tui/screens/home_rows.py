"""What the data folder holds, as rows to choose; nothing of it is read before the first paint."""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from coach.steps.stored import Stored, session_words
from coach.tui.screens.choices import Entry
from coach.tui.screens.home_machine import Shown

if TYPE_CHECKING:
    from coach.describing.drafts import Draft
    from coach.session.found import Found
    from coach.session.index import Told
    from coach.session.summary import Summary
    from coach.upkeep.at_home import DueAt

PRACTISE = Entry("practise", "Practise on the demo machine", brief="Practise")
REHEARSE = Entry("rehearse", "Rehearse a whole visit on it", brief="Rehearse")
DESCRIBE = Entry("describe", "Describe a machine")
READING = "reading"
"""Key of the row that says that more is still to come, or why nothing more is there."""
MOST_OPEN = 20
"""So many unfinished sessions are listed; the others are found by words."""


@dataclass(frozen=True)
class Listing:
    """What is in the data folder, as rows to choose."""

    entries: tuple[Entry, ...]
    paths: Mapping[str, Path]
    """Entry key to file."""
    drafts: Mapping[str, "Draft"]
    """Entry key to half-described machine."""
    last: Mapping[str, "Found[Summary]"]
    """Machine's entry key to its newest finished session."""
    names: Mapping[str, str]
    """Machine's entry key to its name."""
    states: Mapping[str, str]
    """Machine's entry key to how its last session left it, in words, as soon as that is known."""
    shown: Mapping[str, Shown]
    """Entry key of a machine or of a session on one to what is shown beside the list."""
    due: Mapping[str, str]
    """Entry key of a row that says what upkeep is due to its machine's name."""
    sessions: tuple["Found[Summary]", ...]
    """Every session that could be read, also those without a row."""
    visits: Mapping[str, "Found[Summary]"]
    """Entry key to a finished visit, of which it is still to be said how it ended."""

    @property
    def is_read(self) -> bool:
        """Whether this is all there is."""
        return not any(entry.key == READING for entry in self.entries)

    @property
    def unlisted(self) -> int:
        """How many sessions have no row."""
        return len(self.sessions) - sum(key.startswith("session") for key in self.paths)

    @property
    def is_new(self) -> bool:
        """Whether nothing was described and nothing begun here."""
        return self.is_read and not (self.paths or self.drafts)


NOTHING = Listing((), {}, {}, {}, {}, {}, {}, {}, (), {})


def read_listing(folder: Path, now: datetime, told: "Told | None" = None) -> Listing:
    """Everything in the data folder, as rows; never raises for a broken file.  `told`: as in `survey`."""
    from coach.describing.drafts import drafts
    from coach.upkeep.at_home import at_home

    here = at_home(folder, now.date(), told=told)
    found = here.found
    begun, broken = drafts(folder)
    listing = replace(NOTHING, drafts={f"draft{n}": draft for n, draft in enumerate(begun)})
    listing = _with_sessions(listing, found, now)
    listing = _with_machines(listing, found)
    listing = _with_due(replace(listing, entries=(*listing.entries, DESCRIBE, PRACTISE, REHEARSE)), here.due)
    entries = list(listing.entries)
    paths, shown, visits = dict(listing.paths), dict(listing.shown), {}
    if found.finished:
        entries.append(Entry("finished", "Finished", True))
    for number, session in enumerate(found.finished, start=len(found.unfinished)):
        paths[f"session{number}"] = session.path
        if session.content:
            invented = session.content.practice is not None
            shown[f"session{number}"] = Shown(session.content.machine, invented=invented)
            if session.content.visit:
                visits[f"session{number}"] = session
        name = session.content.title if session.content else ""
        entries.append(Entry(f"session{number}", f"Look at {session_words(session, now)}", brief=f"Look at {name}"))
    return replace(
        listing, entries=(*entries, *_problems((*found.problems, *broken, *here.problems))), paths=paths, shown=shown,
        visits=visits, sessions=found.sessions,
    )  # fmt: skip


def _with_sessions(listing: Listing, found: Stored, now: datetime) -> Listing:
    """Unfinished sessions, then half-described machines: what was interrupted comes first."""
    entries, paths, shown = [], {}, {}
    for number, session in enumerate(found.unfinished[:MOST_OPEN]):
        if session.content:
            summary = session.content
            shown[f"session{number}"] = Shown(summary.machine, True, summary.practice is not None)
        paths[f"session{number}"] = session.path
        name = session.content.machine.name if session.content else ""
        entries.append(Entry(f"session{number}", f"Resume {session_words(session, now)}", brief=f"Resume {name}"))
    for key, draft in listing.drafts.items():
        what = f"changing {draft.name}" if draft.machine else f"describing {draft.name}"
        entries.append(Entry(key, f"Go on {what}"))
    return replace(listing, entries=tuple(entries), paths=paths, shown=shown)


def _with_machines(listing: Listing, found: Stored) -> Listing:
    from coach.session.summary import outline_of
    from coach.steps.results import NOT_YET

    entries, paths = list(listing.entries), dict(listing.paths)
    last, names, shown = {}, {}, dict(listing.shown)
    begun = {s.content.machine.name for s in found.unfinished if s.content and s.content.practice is None}
    for number, machine in enumerate(found.machines):
        key, name = f"machine{number}", machine.content.name if machine.content else ""
        paths[key], names[key] = machine.path, name
        if machine.content:
            shown[key] = Shown(outline_of(machine.content), name in begun)
        session = found.last.get(name)
        if session is not None:
            last[key] = session
        entries.append(Entry(key, name, brief=name))
    listing = replace(listing, entries=tuple(entries), paths=paths, last=last, names=names, shown=shown)
    return _stating(listing, {key: NOT_YET for key in names if key not in last})


def _with_due(listing: Listing, due: "Sequence[DueAt]") -> Listing:
    """With a row for each machine on which upkeep is due: below the rows whose numbers a hand knows."""
    from coach.upkeep.at_home import row_words

    entries, shown, rows = list(listing.entries), dict(listing.shown), {}
    machines = {name: key for key, name in listing.names.items()}
    for number, each in enumerate(due):
        key = f"due{number}"
        rows[key] = each.machine
        entries.append(Entry(key, row_words(each, due), brief=f"Upkeep: {each.count} due"))
        if (about := shown.get(machines[each.machine])) is not None:
            shown[machines[each.machine]] = shown[key] = replace(about, upkeep=each.words)
    return replace(listing, entries=tuple(entries), shown=shown, due=rows)


def with_results(listing: Listing, words: Callable[["Found[Summary]"], str]) -> Listing:
    """With what each machine's last session left behind, in words; this replays one session for each machine."""
    return _stating(listing, {key: words(session) for key, session in listing.last.items()})


def with_endings(listing: Listing, words: Callable[["Found[Summary]"], str]) -> Listing:
    """With how each finished visit ended, in its row; this replays them."""
    said = {key: f": {ended}" for key, visit in listing.visits.items() if (ended := words(visit))}
    entries = (replace(row, label=f"{row.label}{said.get(row.key, '')}") for row in listing.entries)
    return replace(listing, entries=tuple(entries))


def _stating(listing: Listing, states: Mapping[str, str]) -> Listing:
    """With how these machines stand in their rows."""
    said = {key: f"{listing.names[key]}: {state}" for key, state in states.items()}
    entries = tuple(replace(entry, label=said.get(entry.key, entry.label)) for entry in listing.entries)
    return replace(listing, entries=entries, states={**listing.states, **states})


def _problems(problems: Iterable[str]) -> list[Entry]:
    rows = [Entry(f"problem{number}", f"! {problem}", True) for number, problem in enumerate(problems)]
    return [Entry("problems", "Could not be read (the files were left as they are)", True), *rows] if rows else []
