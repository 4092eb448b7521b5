"""What somebody wrote in their own words in a visit's file: listed before it is given away, and left out on request.

What is left out is replaced, never removed: entries keep their numbers, and the same name is the same everywhere, so
that everything computed from the file stays as it was.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any, Literal

from coach.machine import Machine, default_stations
from coach.session.document import Document, to_table
from coach.session.events import Event
from coach.session.visit_events import Baseline, Cut, SheetLaid

Kind = Literal["name", "note", "stays"]
"""What stays is told and cannot be left out: something is computed from it."""
LEFT_OUT = "(left out)"
"""Stands for a note or a reason."""
OWN_WORDS = ("text", "why")
"""Whatever an entry is, what stands there under these keys somebody wrote."""
CALLED: Mapping[str, str] = {"note": "a note", "skip": "why a part was left out", "item": "why it stays open"}
"""What such words are of an entry of that kind."""
NO_TITLE, NO_MACHINE = "A visit", "A machine"
FRONT_OF_MIRROR2 = ("mirror 2, gantry at the front", "mirror 2, gantry in front")
OWN_POINTS = ("mirror 1", "mirror 2", *FRONT_OF_MIRROR2, "the nearest corner")
"""Places that the coach names itself, or did once, besides those on the way to a station."""
ON_THE_WAY = " of the way to "
SHORT = 2
"""Signs up to which a screw's name says nothing of anybody: A, B, C, TL."""


@dataclass(frozen=True)
class Personal:
    """One thing in somebody's own words."""

    kind: Kind
    what: str
    text: str


def personal(doc: Document) -> tuple[Personal, ...]:
    """All of it, in the order of the file."""
    machine, names = doc.machine, _Names(doc)
    said = [Personal("name", "Title", doc.title), Personal("name", "Name of the machine", machine.name)]
    said += [Personal("name", "Place", old) for old in names.places]
    said += [Personal("name", "Screw", old) for old in names.screws]
    said += [Personal("note", f"Entry {event.id}, {what}", text) for event, what, text in _notes(doc)]
    if doc.draft:
        typed = ", ".join(f"{name} {text}" for name, text in doc.draft.items())
        said.append(Personal("note", "Half typed", typed))
    said += [Personal("stays", "Material", old) for old in _materials(doc)]
    said.append(Personal("stays", "Times, with the zone of the clock", f"{doc.created:%Y-%m-%d %H:%M %z}"))
    return tuple(each for each in said if each.text not in (LEFT_OUT, NO_TITLE, NO_MACHINE))


def without(doc: Document, *kinds: Kind) -> Document:
    """The same visit with names, notes, or both, replaced."""
    table = to_table(doc)
    if "name" in kinds:
        table = _Names(doc).replaced(table)
        table["title"], table["machine"]["name"] = NO_TITLE, NO_MACHINE
    if "note" in kinds:
        noted = {event.id for event, _, _ in _notes(doc)}
        table.pop("draft", None)
        table["events"] = [_silent(event) if event["id"] in noted else event for event in table["events"]]
    return Document.model_validate(table)


def _notes(doc: Document) -> Iterator[tuple[Event, str, str]]:
    for event in doc.events:
        for key in OWN_WORDS:
            if words := getattr(event, key, ""):
                yield event, CALLED.get(event.kind, "somebody's own words"), words


def _silent(event: Mapping[str, Any]) -> dict[str, Any]:
    return {name: LEFT_OUT if name in OWN_WORDS else value for name, value in event.items()}


class _Names:
    """What the places and screws of one visit are called instead."""

    def __init__(self, doc: Document) -> None:
        self._stations = _own_stations(doc.machine)
        self.places = {**self._stations, **self._other_places(doc)}
        points = dict.fromkeys(point.name for mount in doc.machine.mounts for point in mount.points)
        self.screws = _numbered([name for name in points if len(name) > SHORT], "screw")

    def _other_places(self, doc: Document) -> dict[str, str]:
        """Places that somebody named while marking, in their order."""
        usual = {*(each.name for each in doc.machine.stations), *OWN_POINTS}
        named = dict.fromkeys(_stations_in(to_table(doc)["events"]))
        return _numbered([name for name in named if name not in usual and ON_THE_WAY not in name], "place")

    def replaced(self, value: Any) -> Any:
        """A table, or what stands in one, with every name replaced where names stand."""
        if isinstance(value, list):
            return [self.replaced(each) for each in value]
        return {key: self._under(key, each) for key, each in value.items()} if isinstance(value, dict) else value

    def _under(self, key: str, value: Any) -> Any:
        match key:
            case "station":
                return self._place(value)
            case "screws" | "typed":
                return {self.screws.get(name, name): each for name, each in value.items()}
            case "turns":
                return {mirror: self._under("screws", screws) for mirror, screws in value.items()}
            case "stations":
                return [{**each, "name": self._place(each["name"])} for each in value]
            case "points":
                return [{**each, "name": self.screws.get(each["name"], each["name"])} for each in value]
        return self.replaced(value)

    def _place(self, name: str) -> str:
        share, way, station = name.partition(ON_THE_WAY)
        return f"{share}{way}{self._stations.get(station, station)}" if way else self.places.get(name, name)


def _own_stations(machine: Machine) -> dict[str, str]:
    """The stations that the coach did not name, by their place in the list."""
    usual = {each.name for each in default_stations(machine.bed)}
    numbered = enumerate(machine.stations, start=1)
    return {each.name: f"station {number}" for number, each in numbered if each.name not in usual}


def _stations_in(value: Any) -> Iterator[str]:
    """Every place that entries name, in their order."""
    if isinstance(value, list):
        for each in value:
            yield from _stations_in(each)
    elif isinstance(value, dict):
        yield from (each for key, each in value.items() if key == "station")
        yield from (each["name"] for each in value.get("stations", ()))
        for each in value.values():
            yield from _stations_in(each)


def _materials(doc: Document) -> list[str]:
    found = [event.material for event in doc.events if isinstance(event, Cut | SheetLaid)]
    found += [event.cuts.material for event in doc.events if isinstance(event, Baseline) and event.cuts]
    return list(dict.fromkeys(name for name in found if name))


def _numbered(names: list[str], what: str) -> dict[str, str]:
    return {name: f"{what} {number}" for number, name in enumerate(names, start=1)}
