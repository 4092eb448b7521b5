"""Reports read by others' programs: browsers' rules for HTML, CommonMark, CSV, JSON Schema, XML."""

import csv
import io
import json
import re
from importlib.resources import files
from itertools import pairwise
from pathlib import Path
from xml.etree import ElementTree as ET

import html5lib
import jsonschema
import pandas
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from markdown_it import MarkdownIt
from reported import aligned, hostile, visited

from coach import Session
from coach.machine import Machine
from coach.pictures.palette import DARK, LIGHT, Role
from coach.report.data import COLUMNS, tables
from coach.report.data_files import FORMULA, csv_files, json_text
from coach.report.html import html
from coach.report.markdown import markdown, pictures
from coach.report.of_session import report_of
from coach.report.text import message
from coach.session.events import Mark, Turn

XHTML = "{http://www.w3.org/1999/xhtml}"
SVG = "{http://www.w3.org/2000/svg}"
DOCS = Path(__file__).parents[2] / "docs" / "report.md"
SCHEMA = json.loads(files("coach.report").joinpath("schema", "report-data.schema.json").read_text("utf-8"))


@pytest.fixture(scope="module", params=[aligned, visited, hostile], ids=lambda made: made.__name__)
def session(request: pytest.FixtureRequest) -> Session:
    return request.param()  # type: ignore[no-any-return]


def parsed(page: str) -> ET.Element:
    """The page as html5lib has it, which follows WHATWG's parsing and raises at each of its parse errors."""
    return html5lib.HTMLParser(strict=True, namespaceHTMLElements=True).parse(page)


def said(element: ET.Element) -> str:
    return " ".join("".join(element.itertext()).split())


def test_the_page_parses_without_an_error_and_is_accessible(session: Session) -> None:
    """WCAG 2.2 (memory): language, one h1 and no level left out, headers with scope, names for drawings."""
    root = parsed(html(report_of(session)))
    assert root.get("lang") == "en"
    levels = [int(e.tag[-1]) for e in root.iter() if re.fullmatch(re.escape(XHTML) + "h[1-6]", e.tag)]
    assert levels.count(1) == 1
    assert levels[0] == 1
    assert all(below <= above + 1 for above, below in pairwise(levels))
    for table in root.iter(f"{XHTML}table"):
        assert said(table.find(f"{XHTML}caption"))  # type: ignore[arg-type]
        heads = list(table.iter(f"{XHTML}th"))
        assert heads
        assert {head.get("scope") for head in heads} <= {"col", "row"}
        assert {len(list(row)) for row in table.iter(f"{XHTML}tr")} == {len(list(next(table.iter(f"{XHTML}tr"))))}
    drawn = list(root.iter(f"{SVG}svg"))
    named = {e.get("id"): said(e) for e in root.iter() if e.get("id")}
    assert len(named) == sum(1 for e in root.iter() if e.get("id"))
    for svg in drawn:
        assert svg.get("role") == "img"
        assert all(named[name] for name in (svg.get("aria-labelledby") or "").split())
        assert [child.tag for child in svg][:2] == [f"{SVG}title", f"{SVG}desc"]


def test_the_page_fetches_nothing(session: Session) -> None:
    """No element that loads, no attribute with an address but within the page, no address in a style."""
    root = parsed(html(report_of(session)))
    loading = {"script", "link", "img", "iframe", "object", "embed", "base", "form", "a", "video", "audio", "image"}
    assert not [e.tag for e in root.iter() if e.tag.rpartition("}")[2] in loading]
    for element in root.iter():
        for name, value in element.attrib.items():
            assert not name.startswith("on")
            if name.rpartition("}")[2] in ("href", "src", "action", "data"):
                assert value.startswith("#")
        if element.tag.endswith("style"):
            assert not re.search(r"@import|url\((?!#)|https?:", said(element))


def test_what_is_written_can_be_read_on_its_ground() -> None:
    """WCAG 2.2, 1.4.3: 4.5 to 1 for text, of the page in both looks and of words in drawings."""
    style = said(next(parsed(html(report_of(hostile()))).iter(f"{XHTML}style")))
    colours = r"--ground: (#\w+); --text: (#\w+); --quiet: (#\w+); --line: #\w+; --warn: (#\w+)"
    looks = re.findall(colours, style)
    assert len(looks) == 2
    for ground, text, quiet, warn in looks:
        assert min(contrast(text, ground), contrast(quiet, ground), contrast(text, warn)) >= 4.5
    for palette in (LIGHT, DARK):
        ground = "#" + bytes(palette.ground).hex()
        assert contrast("#" + bytes(palette.inks[Role.TEXT].rgb).hex(), ground) >= 4.5


def contrast(one: str, other: str) -> float:
    """WCAG 2.2's contrast ratio of two colours: (L1 + 0.05) / (L2 + 0.05)."""

    def luminance(colour: str) -> float:
        parts = (int(colour[n : n + 2], 16) / 255 for n in (1, 3, 5))
        red, green, blue = (p / 12.92 if p <= 0.04045 else ((p + 0.055) / 1.055) ** 2.4 for p in parts)
        return 0.2126 * red + 0.7152 * green + 0.0722 * blue

    low, high = sorted((luminance(one), luminance(other)))
    return (high + 0.05) / (low + 0.05)


def test_markdown_is_headings_tables_and_its_own_pictures(session: Session) -> None:
    """By a CommonMark parser: one heading of the first level, no HTML, every picture's file is there with a text."""
    report = report_of(session)
    tokens = MarkdownIt("commonmark").enable("table").parse(markdown(report, "x"))
    flat = [each for token in tokens for each in (token, *(token.children or ()))]
    assert sum(t.type == "heading_open" and t.tag == "h1" for t in flat) == 1
    assert not [t for t in flat if t.type.startswith("html") or t.type.startswith("link")]
    shown = {t.attrs["src"]: t.content for t in flat if t.type == "image"}
    drawn = pictures(report, "x")
    assert set(shown) == set(drawn)
    assert all(shown.values())
    assert sum(t.type == "table_open" for t in flat) == sum(bool(t.rows) for s in report.sections for t in s.tables)
    for text in drawn.values():
        root = ET.fromstring(text)
        assert root.tag == f"{SVG}svg"
        assert [child.tag for child in root][:2] == [f"{SVG}title", f"{SVG}desc"]


def test_tables_are_read_back_as_they_were_entered(session: Session) -> None:
    """By Python's csv and by pandas: the columns, every mark's figures, every turn."""
    marks = [event for event in session.effective if isinstance(event, Mark)]
    texts = csv_files(session)
    for name, text in texts.items():
        rows = list(csv.DictReader(io.StringIO(text, newline="")))
        assert len(rows) == len(tables(session)[name])
        assert tuple(pandas.read_csv(io.StringIO(text)).columns) == COLUMNS[name]
        for row in rows:
            assert not [cell for cell in row.values() if cell.startswith(FORMULA) and not _number(cell)]
    read = pandas.read_csv(io.StringIO(texts["readings"])).set_index("entry")
    for mark in marks:
        assert read.loc[mark.id, ["right_mm", "up_mm"]].tolist() == pytest.approx([mark.u, mark.v])
    turned = sum(len(e.screws) for e in session.effective if isinstance(e, Turn))
    assert (pandas.read_csv(io.StringIO(texts["adjustments"]))["kind"] == "turn").sum() == turned


def _number(cell: str) -> bool:
    return re.fullmatch(r"-?\d+(\.\d+)?(e-?\d+)?", cell) is not None


def test_the_json_follows_its_schema(session: Session) -> None:
    """By jsonschema (2020-12, formats too); what the schema does not know is refused, so it means something."""
    jsonschema.Draft202012Validator.check_schema(SCHEMA)
    judge = jsonschema.Draft202012Validator(SCHEMA, format_checker=jsonschema.FormatChecker())
    written = json.loads(json_text(session))
    judge.validate(written)
    assert written["readings"]
    for spoilt in ({**written, "more": 1}, {**written, "readings": [{**written["readings"][0], "right_mm": "1"}]}):
        assert not judge.is_valid(spoilt)


def test_columns_are_the_same_in_tables_schema_and_document() -> None:
    """One list, three places: what the document says of each is what the schema says."""
    told = DOCS.read_text(encoding="utf-8")
    for name, columns in COLUMNS.items():
        described = SCHEMA["properties"][name]["items"]["properties"]
        assert tuple(described) == columns
        part = told.partition(f"### {name}\n")[2].partition("\n#")[0]
        assert re.findall(r"^\| `(\w+)` \|", part, re.M) == list(columns)
        assert all(f"| `{column}` | {described[column]['description']}" in part for column in columns)


TYPED = st.one_of(
    st.text(min_size=1, max_size=300),
    st.sampled_from(
        ["</script>", "]]>", "=1+1", "@x", "\\|", "-2+3", "<svg onload=x>", "\u202e", "🔥" * 300, "a/../b/"]
    ),
).filter(str.strip)


@given(name=TYPED, note=TYPED)
@settings(max_examples=5, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_any_name_and_note_is_only_text(demo: Machine, name: str, note: str) -> None:
    """Whatever was typed: the page still parses and has no element of its own, and no other form obeys it."""
    name = "".join(filter(str.isprintable, name)).strip()[:60].strip() or "x"  # what a machine's name may be
    session = Session.start(demo.model_copy(update={"name": name}))
    session.mark("middle", u=0.5, v=0.5, typed={"right": note})
    session.note(note)
    report = report_of(session)
    tags = {e.tag.rpartition("}")[2] for e in parsed(html(report)).iter()}
    assert tags <= KNOWN
    tokens = MarkdownIt("commonmark").enable("table").parse(markdown(report, "x"))
    flat = [each for token in tokens for each in (token, *(token.children or ()))]
    assert not [t for t in flat if t.type.startswith(("html", "link")) or t.type == "code_inline"]
    assert len(message(session)) < 2000
    for text in csv_files(session).values():
        cells = [cell for row in csv.reader(io.StringIO(text, newline="")) for cell in row]
        assert all(_number(cell) or not cell.startswith(FORMULA) for cell in cells)
    assert json.loads(json_text(session))["session"]["machine"] == name


KNOWN = {
    *("html", "head", "meta", "title", "style", "body", "main", "h1", "h2", "h3", "p", "div", "section", "figure"),
    *("figcaption", "table", "caption", "thead", "tbody", "tr", "th", "td"),
    *("svg", "desc", "defs", "g", "rect", "circle", "ellipse", "line", "path", "polygon", "polyline", "text"),
    *("clipPath", "mask"),
}
"""The elements of a page, and of its drawings."""
