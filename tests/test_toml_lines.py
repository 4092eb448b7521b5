"""From a validation's location to the line of the file."""

import pytest

from coach.toml_lines import line_of

TEXT = """\
schema = 1
[machine.bed]
width = 600.0
[[machine.mounts]]
pitch = 0.7
points = [
    { name = "A", x = 1 },
    { name = "B", x = 2 },
]
[[machine.mounts]]
pitch = 0
[[events]]
u = 2
[[events]]
u = "x" # comment
[events.typed]
"u" = "3"
"""


@pytest.mark.parametrize(
    ("location", "line"),
    [
        (("schema",), 1),
        (("machine", "mounts", 0, "pitch"), 5),
        (("machine", "mounts", 1, "pitch"), 11),
        (("machine", "mounts", 0, "points", 1, "x"), 8),
        (("events", 1, "mark", "u"), 15),  # a union's tag is not in the file
        (("events", 1, "mark", "typed", "u"), 17),
        (("machine", "bed", "depth"), 2),  # missing: the table it is missing from
        (("events", 1, "mark", "v"), 14),
        (("title",), None),
        ((), None),
    ],
)
def test_the_line_of_a_location(location: tuple[int | str, ...], line: int | None) -> None:
    """The line of the very element meant, not of the first key with its name (lines counted by hand)."""
    assert line_of(TEXT, location) == line
