"""Sessions are found by words: names, days, what they are."""

from datetime import UTC, datetime
from pathlib import Path

import pytest
from machines import make_machine

from coach.session.document import Document, Practice
from coach.session.events import EVENT
from coach.session.found import Found
from coach.session.search import found_by
from coach.session.summary import Summary, summary_of


def session(
    title: str, machine: str, month: int, *, practice: int | None = None, finished: bool = False
) -> Found[Summary]:
    """A session begun at noon on the fifteenth of that month."""
    at = datetime(2026, month, 15, 12, tzinfo=UTC)
    events = (EVENT.validate_python({"id": 1, "at": at, "kind": "finish"}),) if finished else ()
    document = Document(
        title=title,
        created=at,
        machine=make_machine(name=machine),
        practice=None if practice is None else Practice(seed=practice),
        events=events,
    )
    return Found(Path(f"{title.split()[0]}.toml".lower()), summary_of(document))


ALL = [
    session("Spring check", "Shed laser", 3, finished=True),
    session("After the bump", "Atelier Müller", 4),
    session("Exercise", "Shed laser", 11, practice=71),
    Found[Summary](Path("hurt.toml"), None, "broken"),
]


@pytest.mark.parametrize(
    ("words", "found"),
    [
        ("", "spring after exercise hurt"),
        ("SHED", "spring exercise"),
        ("muller", "after"),
        ("bump atelier", "after"),
        ("finished", "spring"),
        ("unfinished", "after exercise"),
        ("unfinished shed", "exercise"),
        ("practice", "exercise"),
        ("71", "exercise"),
        ("2026-0", "spring after"),
        ("2026-11-15", "exercise"),
        ("broken", "hurt"),
        ("laser march", "spring"),
        ("nowhere", ""),
    ],
)
def test_every_word_must_be_true(words: str, found: str) -> None:
    """Names by a part, days and what a session is by their beginning; in the order in which they came."""
    assert " ".join(each.path.stem for each in found_by(words, ALL)) == found
