"""`report`: writes where it is asked to, says where that is, and leaves alone what is there."""

import csv
from pathlib import Path

import pytest
from shellside import Shell


@pytest.fixture
def marked(shell: Shell) -> Path:
    path = shell.begun()
    shell.ok("mark", "last", "middle", "--u", "1,5", "--v", "-0,5")
    return path


def test_a_report_is_written_where_one_stands(shell: Shell, marked: Path) -> None:
    """Without --to in the folder one is in, named after the session; the session is as it was."""
    before = marked.read_bytes()
    named, said = shell.ok("report").splitlines()
    assert named.endswith(f"({marked}).")
    assert said == f"{marked.stem}-report.html"
    assert "1.5 mm right, 0.5 mm down" in Path(said).read_text(encoding="utf-8")
    assert marked.read_bytes() == before


def test_markdown_has_its_drawings_beside_it(shell: Shell, marked: Path) -> None:
    """Every file is told, and is there."""
    Path("out").mkdir()
    said = shell.ok("report", "last", "--format", "markdown", "--to", "out").splitlines()[1:]
    assert len(said) > 1
    assert sorted(Path(line) for line in said) == sorted(path for path in Path("out").rglob("*") if path.is_file())


def test_the_short_text_is_printed_or_written(shell: Shell, marked: Path) -> None:
    """Without --to it is the answer itself."""
    said = shell.ok("report", "--format", "text")
    assert "Shed laser" in said
    assert shell.ok("report", "--format", "text", "--to", "short.txt").endswith("\nshort.txt\n")
    assert Path("short.txt").read_text(encoding="utf-8") == said


def test_a_file_that_is_there_is_left_unless_asked(shell: Shell, marked: Path) -> None:
    """Refused with a sentence that names the way out, one of the drawings too; with --replace it is written."""
    shell.ok("report", "--format", "markdown", "--to", "a.md")
    for form, there in (("html", "mine.html"), ("markdown", "b-drawings/bed.svg")):
        Path(there).parent.mkdir(exist_ok=True)
        Path(there).write_text("mine", encoding="utf-8")
        refused = shell("report", "--format", form, "--to", "b.md" if form == "markdown" else there)
        assert refused.status == 2
        assert f"{there}: there is a file of that name already" in refused.err
        assert "--replace" in refused.err
        assert Path(there).read_text(encoding="utf-8") == "mine"
    assert not Path("b.md").exists()
    shell.ok("report", "--to", "mine.html", "--replace")
    assert "<h1>" in Path("mine.html").read_text(encoding="utf-8")


def test_a_folder_that_is_not_there_is_told(shell: Shell, marked: Path) -> None:
    """One sentence, and nothing is made."""
    said = shell("report", "--to", "nowhere/page.html")
    assert said.status == 2
    assert said.err.startswith("There is no folder 'nowhere'.")
    assert not Path("nowhere").exists()


def test_tables_are_written_side_by_side(shell: Shell, marked: Path) -> None:
    """One file a table; the mark stands in the readings with its units in the columns' names."""
    said = shell.ok("report", "--format", "csv", "--to", "t.csv").splitlines()[1:]
    assert said == ["t-readings.csv", "t-adjustments.csv", "t-cuts.csv", "t-checks.csv"]
    with Path("t-readings.csv").open(encoding="utf-8", newline="") as stream:
        assert [row["right_mm"] for row in csv.DictReader(stream)] == ["1.5"]


def test_what_cannot_be_written_or_read_is_told(shell: Shell, marked: Path) -> None:
    """A folder that takes no files, and a session from a newer version, which stays as it is: one sentence each."""
    refused = shell("report", "--to", "/proc/page.html")
    assert refused.status == 2
    assert refused.err.startswith("/proc/page.html: could not be written (")
    newer = marked.read_text(encoding="utf-8").replace("schema = ", "schema = 99", 1)
    marked.write_text(newer, encoding="utf-8")
    refused = shell("report", str(marked))
    assert refused.status == 2
    assert "newer" in refused.err
    assert len(refused.err.splitlines()) == 1
    assert marked.read_text(encoding="utf-8") == newer
