"""What the documents say is true: their examples run, and their tables agree with the code."""

import argparse
import doctest
import json
import re
import shlex
from collections.abc import Iterator
from dataclasses import dataclass, fields
from pathlib import Path
from typing import Any, get_args

import pytest
import safety_rows
from figures import guide_pictures
from pydantic import BaseModel
from sweeps import sampled

from coach import Machine, Session, settings
from coach import machine as machines
from coach.cli import main as shell
from coach.cli.main import main
from coach.cli.options import build_parser
from coach.parts import PartMove
from coach.paths import DATA_VARIABLE
from coach.plain.words import WORDS
from coach.practice.kinds import KINDS
from coach.practice.visit_kinds import SCENARIOS
from coach.reading.methods import METHODS
from coach.session import baselines
from coach.session.baselines import Baselines, KeptCurrent, Replaced
from coach.session.document import Document, Practice
from coach.session.events import Event
from coach.session.visit_events import KeptCuts, KeptLimit, KeptMark
from coach.steps.beam_stages import BEAM_STAGES as STAGES
from coach.steps.glossary import GLOSSARY
from coach.steps.stages.done import STOPS
from coach.tui.commands import registry
from coach.tuning import TUNING
from coach.visit import VISIT_PARTS

ROOT = Path(__file__).parent.parent
DOCS = sorted([ROOT / "README.md", ROOT / "DEVELOPERS.md", *(ROOT / "docs").glob("*.md")])
RUN = [ROOT / "README.md", ROOT / "docs" / "guide.md"]
FLAGS = doctest.ELLIPSIS | doctest.NORMALIZE_WHITESPACE | doctest.IGNORE_EXCEPTION_DETAIL


@dataclass(frozen=True)
class Block:
    """A fenced block: its language, its text and the line on which it starts."""

    language: str
    text: str
    line: int


def blocks(path: Path) -> Iterator[Block]:
    """All fenced blocks of a document, in order."""
    language, begun, inside = "", 0, []
    for number, line in enumerate(path.read_text(encoding="utf-8").splitlines(), start=1):
        if not line.startswith("```"):
            inside.append(line)
        elif begun:
            yield Block(language, "\n".join(inside) + "\n", begun)
            begun = 0
        else:
            language, begun, inside = line[3:].strip(), number + 1, []
    assert not begun, f"{path.name}: the block at line {begun} is not closed"


def table_rows(path: Path, first_cell: str) -> list[list[str]]:
    """The cells of all rows under the heading row that begins with this cell, in every such table."""
    rows, inside = [], False
    for line in path.read_text(encoding="utf-8").splitlines():
        cells = [cell.strip() for cell in line.strip().strip("|").split("|")] if line.startswith("|") else []
        if not cells:
            inside = False
        elif cells[0] == first_cell:
            inside = True
        elif inside and not set(cells[0]) <= set("-:"):
            rows.append(cells)
    return rows


def in_backticks(text: str) -> list[str]:
    """Everything that stands between backticks."""
    return re.findall(r"`([^`]+)`", text)


def test_what_developers_are_sent_to_is_there() -> None:
    """Every file and folder that DEVELOPERS.md names, in the tree or in the package, also in its commands."""
    text = re.sub(r"```.*?```", "", (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8"), flags=re.DOTALL)
    words = [word for quoted in in_backticks(text) for word in quoted.split() if not word.startswith(".venv/")]
    named = {word for word in words if re.fullmatch(r"[\w./-]*(/[\w.-]*|\w\.py|\w\.tcss)", word)}
    near = {f"{path.parent.name}/{path.name}" for path in (ROOT / "coach").rglob("*.py")}
    there = {word for word in named if (ROOT / word).exists() or (ROOT / "coach" / word).exists()}
    alone = {word for word in named - there if any(each.endswith(f"/{word}") for each in near)}
    assert len(there) > 150
    assert sorted(named - there - alone) == []


# -- examples run ---------------------------------------------------------------------------------


@pytest.fixture
def desk(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """An empty folder to work in, with a data folder of its own."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv(DATA_VARIABLE, str(tmp_path / "data"))
    return tmp_path


@pytest.mark.parametrize(
    "path", sampled(RUN, *(path for path in RUN if path.name != "guide.md")), ids=lambda path: path.name
)
def test_python_examples_run(path: Path, desk: Path) -> None:
    """Every Python example gives what the document shows."""
    text = "\n".join(block.text for block in blocks(path) if block.language == "python")
    test = doctest.DocTestParser().get_doctest(text, {}, path.name, str(path), 0)
    assert test.examples
    said: list[str] = []
    results = doctest.DocTestRunner(optionflags=FLAGS).run(test, out=said.append)
    assert results.failed == 0, "".join(said)


@pytest.mark.parametrize("path", sampled(RUN, RUN[0]), ids=lambda path: path.name)
def test_shell_examples_run(path: Path, desk: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Every shell example prints what the document shows, and ends as it says."""
    checker = doctest.OutputChecker()
    examples = [example for block in blocks(path) for example in shell_examples(block)]
    assert examples
    for line, expected, status in examples:
        words = shlex.split(line)
        assert words[0] == "coach", line
        ended = main(words[1:])
        shown = capsys.readouterr()
        printed = shown.out + shown.err
        assert ended == status, f"{line}\n{printed}"
        assert checker.check_output(expected, printed, FLAGS), f"{line}\nexpected:\n{expected}\nprinted:\n{printed}"


def shell_examples(block: Block) -> Iterator[tuple[str, str, int]]:
    """Command, what it prints, and its exit status, for each `$ ` line of a console block."""
    if block.language != "console":
        return
    for example in re.split(r"^\$ ", block.text, flags=re.MULTILINE)[1:]:
        command, _, expected = example.partition("\n")
        status = re.search(r"^\(exit status (\d)\)\n", expected, re.MULTILINE)
        yield command, expected.replace(status[0], "") if status else expected, int(status[1]) if status else 0


def test_the_guide_shows_every_action() -> None:
    """Every action of the shell is run in the guide, or opens the full screen and is told of."""
    parser = build_parser()
    actions = next(a for a in parser._actions if isinstance(a, argparse._SubParsersAction)).choices
    guide = ROOT / "docs" / "guide.md"
    shown = {shlex.split(line)[1] for block in blocks(guide) for line, _, _ in shell_examples(block)}
    told = {name for name in actions if f"`coach {name}`" in guide.read_text(encoding="utf-8")}
    assert set(actions) == shown | {"practice", "open"}
    assert {"practice", "open"} <= told


def test_the_guide_tells_every_stage() -> None:
    """docs/guide.md goes through the stages of the job in their order."""
    rows = table_rows(ROOT / "docs" / "guide.md", "stage")
    assert [row[0] for row in rows] == [stage.name for stage in STAGES]


def test_the_guide_tells_every_stop() -> None:
    """docs/guide.md lists every cause for which the coach stops."""
    causes = [in_backticks(row[0])[0] for row in table_rows(ROOT / "docs" / "guide.md", "cause")]
    assert sorted(causes) == sorted(STOPS)


def test_the_guide_says_how_sure_done_is() -> None:
    """The two probabilities stand in one place, `coach.tuning`."""
    text = " ".join((ROOT / "docs" / "guide.md").read_text(encoding="utf-8").split())
    deciding = TUNING.deciding
    assert f"at least {deciding.done:.0%} probability ({deciding.done_at_least:.0%} where".replace("%", " %") in text


def test_the_guide_tells_every_kind_of_practice() -> None:
    """docs/guide.md lists what a practice machine can hide."""
    rows = table_rows(ROOT / "docs" / "guide.md", "kind of trouble")
    assert [in_backticks(row[0]) for row in rows] == [[name] for name in KINDS]


def test_the_guide_tells_every_visit_to_practise() -> None:
    """docs/guide.md lists what a visit's practice machine can have, in the words of its table."""
    rows = table_rows(ROOT / "docs" / "guide.md", "what is wrong")
    told = [(*in_backticks(row[0]), row[1]) for row in rows]
    assert told == [(name.removeprefix("visit-"), scenario.about) for name, scenario in SCENARIOS.items()]


def test_the_parts_of_a_visit_are_told() -> None:
    """docs/session-format.md names them in their order, as they stand in files."""
    told = f"Parts of a visit: {', '.join(map(json.dumps, VISIT_PARTS))}."
    assert told in (ROOT / "docs" / "session-format.md").read_text(encoding="utf-8")


def test_the_guide_tells_every_key() -> None:
    """docs/guide.md lists the keys of all screens but the settings' in their order, with their own words."""
    screens = (
        registry.HOME, registry.SESSION, registry.MEASURING, registry.REVIEW, registry.DESCRIBING, registry.UPKEEP,
        registry.SHEET,
    )  # fmt: skip
    known = [[command.shown_keys, command.label, command.about] for screen in screens for command in screen]
    assert table_rows(ROOT / "docs" / "guide.md", "keys") == known


def test_the_guide_tells_every_way_to_measure() -> None:
    """docs/guide.md says of each way what is measured, and what it is good for."""
    ways = [row[0] for row in table_rows(ROOT / "docs" / "guide.md", "way")]
    assert sorted(ways) == sorted(method.label.lower() for method in METHODS)


def test_the_guide_tells_every_plain_word() -> None:
    """docs/guide.md lists the words of the plain mode in their order, with what each does."""
    rows = table_rows(ROOT / "docs" / "guide.md", "word")
    assert rows == [[f"`{word}`", about] for word, about in WORDS.items()]


def test_the_guide_tells_every_setting() -> None:
    """docs/guide.md lists the keys of settings.toml in their order, and the names that some of them take."""
    rows = {in_backticks(row[0])[0]: row for row in table_rows(ROOT / "docs" / "guide.md", "in the file")}
    assert list(rows) == [key for key, _ in settings.KEPT.values()]
    for key, names in (
        ("look", settings.LOOKS),
        ("unit", ("mm", "inch")),
        ("turns", settings.TURNS_IN),
        ("signs", settings.SIGNS),
    ):
        assert in_backticks(rows[key][2]) == [f'"{name}"' for name in names]
    assert str(list(settings.Settings.steps)) in rows["crosshair_steps"][2]


def test_the_glossary_tells_every_word() -> None:
    """docs/glossary.md lists the program's own words in their order."""
    assert table_rows(ROOT / "docs" / "glossary.md", "word") == [list(row) for row in GLOSSARY]


def test_what_troubleshooting_quotes_is_said() -> None:
    """Every sentence in its first column stands in the program, and the statuses are the shell's."""
    page = ROOT / "docs" / "troubleshooting.md"
    said = "\n".join(path.read_text(encoding="utf-8") for path in (ROOT / "coach").rglob("*.py"))
    quoted = [words for row in table_rows(page, "it says") for words in in_backticks(row[0])]
    assert len(quoted) > 15
    assert [words for words in quoted if words not in said] == []
    statuses = (shell.DONE, shell.MISTAKE, shell.WRONG, shell.UNSAID, shell.INTERRUPTED)
    assert [row[0] for row in table_rows(page, "status")] == [str(status) for status in statuses]


# -- commands of the README -----------------------------------------------------------------------


def test_the_readme_begins_with_two_commands() -> None:
    """One line opens the practice on a fresh machine, one line runs the tests; `.ci/run` takes the second."""
    first, second = [block.text.strip() for block in blocks(ROOT / "README.md") if block.language == "sh"][:2]
    assert first.startswith("python3 -m venv .venv && .venv/bin/pip install")
    assert first.endswith("coach practice")
    assert second.endswith('.venv/bin/python -m pytest -n auto -m "not sweep"')
    assert "\n" not in first + second
    heading = (ROOT / "README.md").read_text(encoding="utf-8").partition("## Run the tests\n")[2]
    assert heading.partition("```sh\n")[2].startswith(second)


# -- tables agree with the code -------------------------------------------------------------------


def test_the_models_numbers_are_the_codes() -> None:
    """docs/model.md gives every number of the tuning, with value, meaning and source, and no other."""
    rows = table_rows(ROOT / "docs" / "model.md", "name")
    told = {row[0].strip("`"): float(row[1]) for row in rows}
    known = {
        f"{section.name}.{field.name}": getattr(getattr(TUNING, section.name), field.name)
        for section in fields(TUNING)
        for field in fields(getattr(TUNING, section.name))
        if field.name != "explanations"
    }
    assert told == known
    assert len(told) == len(rows)
    assert all(len(row) == 4 and all(row) for row in rows)


def test_the_models_explanations_are_the_codes() -> None:
    """docs/model.md lists every explanation with its share, yaw, wander and reader."""
    rows = table_rows(ROOT / "docs" / "model.md", "explanation")
    told = [(row[0], *(float(cell) for cell in row[1:7])) for row in rows]
    assert told == [
        (e.name, e.share, e.sd_yaw, e.wander, e.reading, e.beam, e.mounts) for e in TUNING.prior.explanations
    ]


def test_every_caution_is_told_with_its_source() -> None:
    """docs/safety.md holds exactly the program's cautions: signal word, words, source and steps."""
    assert table_rows(ROOT / "docs" / "safety.md", "key") == safety_rows.rows()


def keys_told(path: Path) -> list[set[str]]:
    """The keys of each table of keys, table by table."""
    text = path.read_text(encoding="utf-8")
    return [
        {key for row in table.splitlines() for key in in_backticks(row.split("|")[1])}
        for table in re.findall(r"^\| key \|.*\n\|[-|]+\n((?:\|.*\n)+)", text, re.MULTILINE)
    ]


def fields_of(model: type[BaseModel]) -> set[str]:
    """A model's keys as they stand in its file."""
    return {field.alias or name for name, field in model.model_fields.items()}


def test_every_key_of_the_files_is_told() -> None:
    """docs/session-format.md has a table for each part of a file, with exactly the keys of that part."""
    told = keys_told(ROOT / "docs" / "session-format.md")
    parts: list[type[BaseModel]] = [
        machines.Bed, machines.BeamPath, machines.Aperture, machines.Tape, machines.Station, machines.Mount,
        machines.Point, machines.Learned, machines.Pulse, machines.Lens, PartMove, Document, Practice,
        Baselines, KeptCuts, Replaced, KeptLimit, KeptCurrent, KeptMark,
    ]  # fmt: skip
    missing = [part.__name__ for part in parts if fields_of(part) not in told]
    assert not missing
    nested = {"bed", "path", "aperture", "tape", "mounts", "moves", "pulse", "lens", "stations"}
    assert fields_of(Machine) - nested in told


def event_models() -> dict[str, type[BaseModel]]:
    """Event kind to its model."""
    union: Any = get_args(Event)[0]
    return {model.model_fields["kind"].default: model for model in get_args(union)}


def test_every_event_is_told_with_its_keys() -> None:
    """docs/session-format.md names every kind of event, and in its row every key that is its own."""
    rows = {in_backticks(row[0])[0]: row for row in table_rows(ROOT / "docs" / "session-format.md", "kind")}
    models = event_models()
    assert set(rows) == set(models)
    shared = {"id", "at", "kind", "station", "x", "y", "target", "wide", "ms", "power", "layers"}
    for kind, model in models.items():
        missing = fields_of(model) - shared - set(in_backticks(rows[kind][2]))
        assert not missing, (kind, missing)


def test_the_example_files_can_be_used(desk: Path) -> None:
    """The machine and the session printed in docs/session-format.md load as they stand."""
    examples = [block.text for block in blocks(ROOT / "docs" / "session-format.md") if block.language == "toml"]
    for text in examples:
        (desk / text.splitlines()[0].removeprefix("# ")).write_text(text, encoding="utf-8")
    assert Machine.load("shed-laser.toml").guessed == ("path.mirror1_gap",)
    (desk / "baselines").mkdir()
    (desk / "baselines.toml").rename(desk / "baselines" / "shed-laser.toml")
    assert [len(kept.stations) for kept in baselines.load(desk, "Shed laser").cuts] == [3]
    session = Session.load("session.toml")
    assert [event.kind for event in session.effective] == ["opened", "gate", "arrive", "pulse"]
    assert session.draft == {"left": "4,2"}


@pytest.mark.parametrize("path", DOCS, ids=lambda path: path.name)
def test_links_lead_somewhere(path: Path) -> None:
    """Every link to a file of the project finds it."""
    links = re.findall(r"\]\(([^)#]+)[^)]*\)", path.read_text(encoding="utf-8"))
    assert not [link for link in links if "://" not in link and not (path.parent / link).exists()]


def test_the_risk_of_a_pulse_is_told_as_it_is() -> None:
    """docs/safety.md names the chance of leaving its target that no advised pulse exceeds; the code's limits, the
    first mark's included, are no larger."""
    text = " ".join((ROOT / "docs" / "safety.md").read_text(encoding="utf-8").split())
    told = re.search(r"more than (one|[0-9.]+) chances? in a hundred to leave its target", text)
    assert told
    limits = [getattr(TUNING.shooting, f.name) for f in fields(TUNING.shooting) if f.name.endswith("off_target")]
    assert limits
    assert 100 * max(limits) <= float(told[1].replace("one", "1"))


def test_the_pictures_of_the_screens_are_of_the_steps_as_they_are() -> None:
    """Each picture's text is what its step says today; if not: `python tests/figures/guide_pictures.py`."""
    assert (ROOT / "docs" / "screens.md").read_text(encoding="utf-8") == guide_pictures.page()
    shown = {path.stem for path in guide_pictures.PICTURES.iterdir()}
    assert shown == set(guide_pictures.SHOWN)
