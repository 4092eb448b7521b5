"""In plain lines a report is a word: at a step, and at the list for a session that is chosen."""

from pathlib import Path

import pytest
from lineside import in_turn, talk

from coach.report.text import message
from coach.session.document import Practice
from coach.session.session import Session


def test_the_word_writes_and_says_where(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A page under a name that is free, the message as lines, a file as asked; refusals are sentences."""
    here = tmp_path / "here"
    here.mkdir()
    monkeypatch.chdir(here)
    words = (
        "report", "report", "report text", "report csv tables.csv", "report mine.html", "report no/where.html",
        "report /proc/page.html", "home", "report json", "1", "quit",
    )  # fmt: skip
    (here / "mine.html").write_text("mine", encoding="utf-8")
    said = talk(tmp_path / "data", in_turn(*words), practice=Practice(seed=3))
    path = next((tmp_path / "data").rglob("*practice*.toml"))
    session, stem = Session.load(path), f"{path.stem}-report"
    tables = [f"tables-{name}.csv" for name in ("adjustments", "checks", "cuts", "readings")]
    made = [f"{stem}-2.html", f"{stem}.html", f"{stem}.json", "mine.html", *tables]
    assert sorted(path.name for path in here.iterdir()) == sorted(made)
    assert all(f"The report is in {here / name}." in said.text for name in made if name != "mine.html")
    assert message(session).splitlines()[0] in said.text
    assert "mine.html: there is one already" in said.text
    assert "There is no folder 'no'." in said.text.replace(f"{here}/", "")
    assert "/proc/page.html: could not be written" in said.text
    assert (here / "mine.html").read_text(encoding="utf-8") == "mine"


def test_a_copy_is_given_away_and_taken_up_by_words(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """`share` writes what `import` takes up elsewhere; a second time nothing is new, and that is said."""
    monkeypatch.chdir(tmp_path)
    said = talk(tmp_path / "data", in_turn("share copy.toml", "4", "quit"), practice=Practice(seed=3))
    assert f"The copy is in {Path('copy.toml')}." in said.text
    said = talk(tmp_path / "other", in_turn("import copy.toml", "import", "copy.toml", "import no.toml", "quit"))
    (kept,) = (tmp_path / "other").rglob("sessions/*.toml")
    assert Session.load(kept).created == Session.load(tmp_path / "copy.toml").created
    assert "Nothing new" in said.text
    assert "no.toml" in said.text
