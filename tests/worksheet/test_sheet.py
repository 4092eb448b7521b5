"""A sheet of paper: true to scale as it is printed, safe to follow, whole, and text where people typed markup."""

import random
import re
from dataclasses import replace
from datetime import date
from functools import cache
from pathlib import Path

import blanks_once
import pytest
import tinyhtml5
from machines import machine_table
from printed import printed, shapes
from sweeps import sampled

from coach import Machine
from coach.advice.shots import Spot, candidates
from coach.belief.belief import Belief, Sighting, update
from coach.cli.main import main
from coach.optics.shifts import shift_effect
from coach.shown import IN_MM
from coach.steps.cautions import ALWAYS, NOT_FIRING
from coach.worksheet.html import html
from coach.worksheet.sheet import Sheet, sheet_of, steps

TODAY = date(2026, 11, 26)
SMALL = {"aperture": {"head": 10.0}, "tape": {"radius": 7.0}}
"""So small that the first pulse goes onto a wide card."""
RUDE = '=<b>&"\u202e🙂'


@cache
def tiny() -> Sheet:
    """The sheet of a machine with a small opening."""
    with pytest.MonkeyPatch.context() as monkeypatch:
        blanks_once.patch(monkeypatch)
        return sheet_of(machine(**SMALL), TODAY)


def machine(**other: object) -> Machine:
    return Machine.model_validate(machine_table(**other))


@pytest.mark.parametrize(
    ("paper", "size"), sampled([("A4", (210.0, 297.0)), ("letter", (215.9, 279.4))], ("letter", (215.9, 279.4)))
)
def test_it_is_printed_in_true_scale(paper: str, size: tuple[float, float]) -> None:
    """In the PDF: the scale is 100 mm, each opening and ring as wide as the profile says, and nothing off the paper.

    Paper sizes: ISO 216 and ANSI/ASME Y14.1.  PDFium and WeasyPrint measure and draw: neither is ours.
    """
    document = printed(html(tiny()), paper)
    assert document[0].get_size() == pytest.approx([mm * 72 / 25.4 for mm in size], abs=0.5)
    drawn = shapes(document)
    round_ones = [width for width, height in drawn if abs(width - height) < 0.02]

    def times(diameter: float) -> int:
        return sum(abs(width - diameter) < 0.02 for width in round_ones)

    assert sum(abs(width - 100.0) < 0.02 and 3.9 < height < 4.1 for width, height in drawn) == 1
    assert (times(60.0), times(10.0), times(2.0)) == (1 + 1, 5, 6)  # the card and its cross; openings; tolerances
    for place in tiny().places[:-1]:
        assert place.drawn.go_on is not None
        assert times(2 * place.drawn.go_on) >= 1
    assert max(width for width, _ in drawn) <= size[0] - 20


def test_a_unit_of_every_drawing_is_a_millimetre() -> None:
    """By its own attributes: as many mm wide and high as its coordinates reach, where no PDF can be made too."""
    found = re.findall(r'width="([\d.]+)mm" height="([\d.]+)mm" viewBox="\S+ \S+ ([\d.]+) ([\d.]+)"', html(tiny()))
    assert len(found) == 7
    assert all((width, height) == (across, along) for width, height, across, along in found)


def test_what_does_not_fit_is_said() -> None:
    """An opening wider than the paper is not drawn smaller: it is not drawn, and that is said; its fields stand."""
    sheet = sheet_of(machine(aperture={"head": 180.0}, tape={"radius": 95.0}), TODAY)
    page = html(sheet)
    assert page.count("it does not fit on the paper") == len(sheet.places) == 5
    assert page.count("<circle") == 0
    assert page.count("Left gap, mm") == 5


@pytest.mark.parametrize("kind", [SMALL, {"side": "right", "bed": {"width": 1300.0, "depth": 900.0}}])
def test_nobody_who_keeps_to_the_sheet_fires_past_a_target(kind: dict[str, object]) -> None:
    """The first pulse is as sure as any; the next ones too, wherever within the dashed rings the marks lie."""
    shed, chance = machine(**kind), random.Random(7)
    start, blanks = Belief.initial(shed, TODAY), blanks_once.once(shed, TODAY)
    limit = start.tuning.shooting.off_target
    for last in (*range(1, len(blanks)), *range(1, len(blanks))):
        belief, farthest = start, blanks[last - 1].go_on or 0.0
        for number, blank in enumerate(blanks[: last + 1]):
            shot = blank.shot
            seen = candidates(belief, [Spot(shot.name, shot.x, shot.y, shot.target, shot.wide)])[0]
            assert number < last or seen.off_target < limit, (number, shot.name)
            u, v = chance.choice([(1, 0), (-1, 0), (0, 1), (0, -1), (0.7, 0.7), (-0.7, 0.7)])
            u, v = u * farthest, v * farthest
            sd = belief.tuning.readings.wide_sd if shot.wide else belief.tuning.readings.sd
            belief = update(belief, Sighting(shot.name, shot.x, shot.y, shot.target, u, v, sd=sd, wide=shot.wide))


def test_every_station_has_a_blank() -> None:
    """At the head's opening, once, numbered in the order of the sheet, the wide card first."""
    places = tiny().places
    assert sorted(place.name for place in places[1:]) == sorted(each.name for each in machine().stations)
    assert [place.number for place in places] == [1, 2, 3, 4, 5, 6]
    assert places[0].circle_is.startswith("Circle: the wide card")


@pytest.mark.parametrize("side", ["left", "right"])
def test_right_on_the_tape_is_said_as_the_model_has_it(side: str) -> None:
    """A head that goes back leaves the mark toward the front: so which of both is right follows from the model."""
    u = shift_effect(side, "head", back=1.0).head_u  # type: ignore[arg-type]
    toward = "front" if u > 0 else "back"
    assert f"Right at the head is toward the {toward} of the machine." in " ".join(
        steps(machine(side=side), (), IN_MM)
    )


def test_the_page_is_whole_and_needs_nothing_else() -> None:
    """As a parser of its own reads it: one h1, headings for rows, drawings told, no id twice, no address, no script;
    names stand there as text; the cautions that always stand, and that the laser is off before hands go in."""
    page = html(replace(tiny(), title=f"Worksheet: {RUDE}", places=(replace(tiny().places[0], name=RUDE),) * 6))
    tree = tinyhtml5.parse(page)
    names = [each.tag.rpartition("}")[2] for each in tree.iter() if isinstance(each.tag, str)]
    assert names.count("h1") == 1
    assert names.count("svg") == names.count("desc") + 1 == 7
    assert names.count("table") == names.count("caption") == 6
    assert not {"script", "link", "img", "iframe", "b"} & set(names)
    ids = [each.get("id") for each in tinyhtml5.parse(html(tiny())).iter() if each.get("id")]
    assert len(ids) == len(set(ids))
    assert {w for each in tree.iter() for w in (each.get("aria-labelledby") or "").split()} <= set(ids)
    assert "http" not in page
    text = "".join(tree.itertext())
    assert 'Worksheet: =<b>&"\N{REPLACEMENT CHARACTER}🙂' in text
    assert "\u202e" not in page
    for caution in (*ALWAYS, NOT_FIRING):
        assert caution.text in text


def test_it_is_written_where_asked_and_over_nothing(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """A name with slashes makes no folder; what is there stays; a folder that is not there is told, and not made."""
    monkeypatch.chdir(tmp_path)
    blanks_once.patch(monkeypatch)
    shed = machine().model_copy(update={"name": "../../a/b"})
    shed.save(tmp_path / "m.toml")

    def coach(*words: str) -> tuple[int, str]:
        status = main(["--data", str(tmp_path / "data"), "worksheet", *words])
        caught = capsys.readouterr()
        return status, caught.out + caught.err

    assert coach("m.toml") == (0, "a-b-worksheet.html\n")
    (tmp_path / "mine.html").write_text("mine", encoding="utf-8")
    status, said = coach("m.toml", "--to", "mine.html")
    assert (status, "there is a file of that name already" in said, "--replace" in said) == (2, True, True)
    assert (tmp_path / "mine.html").read_text(encoding="utf-8") == "mine"
    (tmp_path / "folder").mkdir()
    assert coach("m.toml", "--to", "folder", "--replace")[1].startswith("folder: this is a folder")
    assert coach("m.toml", "--to", "no/page.html")[1].startswith("There is no folder 'no'.")
    assert coach("nothing")[1].startswith("There is no machine called 'nothing'.")
    assert coach("m.toml", "--to", "mine.html", "--replace", "--unit", "in") == (0, "mine.html\n")
    assert "Left gap, inches" in (tmp_path / "mine.html").read_text(encoding="utf-8")
    assert sorted(path.name for path in tmp_path.iterdir()) == [
        "a-b-worksheet.html",
        "folder",
        "m.toml",
        "mine.html",
    ]
