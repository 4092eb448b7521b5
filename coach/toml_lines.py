"""Where in a TOML file a value stands: from a validation's location to a line number.

Not a parser (the standard library's has no positions): it follows table headers, keys and the elements of
arrays that stand on lines of their own, which is all that a file in the shapes used here needs.
"""

import re
from collections.abc import Iterable, Sequence

Location = tuple[int | str, ...]

_HEADER = re.compile(r"\s*(\[\[|\[)\s*([^\[\]]+?)\s*\]{1,2}\s*(#.*)?")
_WORD = r"(?:[A-Za-z0-9_-]+|\"[^\"]*\"|'[^']*')"
_KEY = re.compile(rf"\s*({_WORD}(?:\s*\.\s*{_WORD})*)\s*=(.*)")
_PART = re.compile(r"\"([^\"]*)\"|'([^']*)'|([A-Za-z0-9_-]+)")


def line_of(text: str, location: Location) -> int | None:
    """The line (from 1) of a location such as ("mounts", 1, "pitch"), or of the nearest table around it.

    Names in the location that the file does not have (a union's tag, a missing key) are passed over.
    """
    return lines_of(text, [location])[0]


def lines_of(text: str, locations: Sequence[Location]) -> list[int | None]:
    """The same for several; the text is gone through once."""
    places = _places(text)
    return [_nearest(places, location) for location in locations]


def _nearest(places: Iterable[tuple[int, Location]], location: Location) -> int | None:
    best: tuple[int, int] | None = None
    for number, place in places:
        if place and _leads_to(place, location) and (best is None or len(place) > best[0]):
            best = (len(place), number)
    return best[1] if best else None


def _leads_to(place: Location, location: Location) -> bool:
    """Whether the place's parts occur in the location in this order, beginning with its first."""
    rest = iter(location)
    return place[0] == location[:1][0] and all(part in rest for part in place) if location else False


def _places(text: str) -> list[tuple[int, Location]]:
    """Every header, key and array element that begins a line, with its location."""
    found: list[tuple[int, Location]] = []
    counts: dict[Location, int] = {}
    table: Location = ()
    array: Location | None = None
    element = -1
    for number, line in enumerate(text.split("\n"), start=1):
        if not line or line.isspace():
            continue
        if array is not None:
            if line.strip().startswith("{"):
                element += 1
                found.append((number, (*array, element)))
            if line.strip().startswith("]"):
                array = None
            continue
        header, key = _HEADER.fullmatch(line), _KEY.fullmatch(line)
        if header:
            table = _table(_parts(header[2]), header[1] == "[[", counts)
            found.append((number, table))
        elif key:
            place = (*table, *_parts(key[1]))
            found.append((number, place))
            if key[2].strip() == "[":
                array, element = place, -1
    return found


def _parts(dotted: str) -> Location:
    return tuple(quoted or single or bare for quoted, single, bare in _PART.findall(dotted))


def _table(parts: Location, appends: bool, counts: dict[Location, int]) -> Location:
    """The header's location, with the running number of every array of tables on the way to it."""
    place: Location = ()
    for index, part in enumerate(parts):
        place = (*place, part)
        if appends and index == len(parts) - 1:
            counts[place] = counts.get(place, -1) + 1
        if place in counts:
            place = (*place, counts[place])
    return place
