"""docs/upkeep-format.md and docs/safety.md say of upkeep what the code does."""

from pathlib import Path
from typing import Any, get_args

from test_docs import ROOT, blocks, fields_of, in_backticks, table_rows

from coach import MachineLog
from coach.steps.cautions import ALWAYS, Caution
from coach.upkeep import cautions
from coach.upkeep.document import LogDocument
from coach.upkeep.entries import Entry
from coach.upkeep.items import ITEMS, Item
from coach.upkeep.visited import _FOUND

FORMAT = ROOT / "docs" / "upkeep-format.md"


def interval(item: Item) -> str:
    """How often, as the table has it."""
    days = "1 day" if item.days == 1 else f"{item.days} days"
    return days if item.hours is None else f"{days} or {item.hours:g} hours"


def test_every_item_is_told_with_its_interval() -> None:
    """Names, titles and intervals in their order, and which of them a visit can do."""
    rows = [[f"`{item.name}`", item.title, interval(item)] for item in ITEMS]
    told = table_rows(FORMAT, "item")
    assert [row for row in told if len(row) == 3] == rows
    assert [row[0] for row in told if len(row) == 2] == [f"`{name}`" for name in _FOUND]


def test_every_key_is_told() -> None:
    """Of the file, and of every kind of event."""
    assert {in_backticks(row[0])[0] for row in table_rows(FORMAT, "log key")} == fields_of(LogDocument)
    union: Any = get_args(Entry)[0]
    models = {model.model_fields["kind"].default: model for model in get_args(union)}
    rows = {in_backticks(row[0])[0]: set(in_backticks(row[2])) for row in table_rows(FORMAT, "log kind")}
    assert rows == {kind: fields_of(model) - {"id", "at", "kind"} for kind, model in models.items()}


def test_the_example_can_be_used(tmp_path: Path) -> None:
    """It loads as it stands."""
    (text,) = (block.text for block in blocks(FORMAT) if block.language == "toml")
    path = tmp_path / "log.toml"
    path.write_text(text)
    log = MachineLog.load(path)
    assert (log.hours(), log.used(), next(i.days for i in log.items if i.name == "belts")) == (131.0, 12.5, 30)


def test_every_caution_of_upkeep_is_told() -> None:
    """docs/safety.md holds them with signal word, words, source and items."""
    known = [value for value in vars(cautions).values() if isinstance(value, Caution)]
    rows = table_rows(ROOT / "docs" / "safety.md", "of upkeep")
    shown = [", ".join(item.name for item in ITEMS if c in item.own_cautions) for c in known]
    assert rows == [[c.key, c.signal.lower(), c.text, c.source, at] for c, at in zip(known, shown, strict=True)]


def test_no_item_is_without_cautions() -> None:
    """Its own first; hands go in nowhere without isolation said; the three that always stand are added."""
    for item in ITEMS:
        assert item.own_cautions, item.name
        assert item.cautions[-3:] == ALWAYS, item.name
        said = " ".join(caution.text for caution in item.own_cautions)
        assert "supply isolated" in said or "unplugged" in said, item.name
