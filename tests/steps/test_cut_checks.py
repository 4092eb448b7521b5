"""The cut check before and after, as parts of a visit: speeds proposed, what was cut, does it cut as it did."""

from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest
from cutting_side import SHEET, cut_stations, lay, seen, sheet_noise
from machines import make_machine
from visiting import aligned_visit, at, through_the_gates

from coach import Session
from coach.cutting.limits import Limit
from coach.cutting.order import to_cut
from coach.cutting.series import LINES, series_about, series_after
from coach.errors import InputError
from coach.session.baselines import load, path_of
from coach.shown import IN_MM
from coach.steps.asked_figures import form_of
from coach.steps.cut_baseline import after_choice, take_up
from coach.steps.perform import perform
from coach.steps.step import Choice
from coach.steps.undo import take_back
from coach.tuning import TUNING

ALIKE = dict.fromkeys(("back-left", "back-right", "middle", "front-right", "front-left"), 18.0)
FADING = ALIKE | {"back-left": 19.0, "back-right": 15.0, "middle": 15.5, "front-left": 15.0, "front-right": 9.0}


def visit(part: str = "cut check", **sheet: object) -> Session:
    """A visit at its first station."""
    session = Session.start(make_machine())
    lay(session, part, **sheet)
    return session


def kept(folder: Path, truth: dict[str, float] = ALIKE) -> str:
    """A first visit that ended well: what is said as its check is kept."""
    session = aligned_visit()
    lay(session, "cut again")
    cut_stations(session, truth)
    step = at(session)
    perform(session, step, "end-part")
    return after_choice(folder, session, step, "end-part")


def later(folder: Path, truth: dict[str, float], part: str = "cut again", **sheet: object) -> Session:
    """A later visit to the same machine, cut through."""
    session = Session.start(make_machine())
    session.begin(part)
    take_up(folder, session)
    lay(session, part, **sheet)
    cut_stations(session, truth)
    return session


def proposed(session: Session) -> list[float]:
    """The speeds to cut, mm/s, as they are said."""
    return [float(word) for word in at(session).figure.removesuffix(" mm/s").split(", ")]


# -- where, and how fast --------------------------------------------------------------------------


def test_the_stations_are_far_apart_and_on_a_short_way() -> None:
    """Corners and middle, each once, on the shortest of all ways: the two long sides are not driven twice."""
    machine = make_machine()
    order = to_cut(machine)
    assert {station.name for station in order} == set(ALIKE)
    way = sum(np.hypot(a.x - b.x, a.y - b.y) for a, b in pairwise(order))
    assert way == pytest.approx(2 * 360 + 2 * np.hypot(280, 180))
    more = [{"name": f"{x} {y}", "x": x, "y": y} for x in (20, 200, 400, 580) for y in (20, 200, 380)]
    assert {s.name for s in to_cut(make_machine(stations=more))} >= {"20 20", "580 20", "20 380", "580 380"}
    assert len(to_cut(make_machine(stations=more))) == 5


@pytest.mark.parametrize("speed", [0.4, 3.0, 9.7, 18.0, 29.0, 96.0, 400.0, 1990.0])
def test_a_series_rises_by_about_a_tenth_as_a_controller_takes_it(speed: float) -> None:
    """Six speeds about what is expected, each above the one before by 6 to 15 % (10, rounded), or the finest step."""
    speeds = series_about(speed, TUNING.cutting)
    assert len(speeds) == LINES
    for low, high in pairwise(speeds):
        assert 1.06 < high / low < 1.15 or high - low == pytest.approx(0.1)
    assert speeds[0] < speed
    assert speeds[-1] > speed or speeds[-1] == 2000.0


def test_a_series_goes_on_where_one_ended_open() -> None:
    """None: all of the next are slower; all: all of them are faster."""
    assert series_after(Limit("", 0.0, 14.0), TUNING.cutting)[-1] < 14.0
    assert series_after(Limit("", 23.0, float("inf")), TUNING.cutting)[0] > 23.0


def test_the_first_series_is_about_what_the_person_said_the_next_about_what_was_cut() -> None:
    """18 said; where the first limit is at 24, the next station's series has 24 within it."""
    session = visit()
    assert at(session).figure == "14, 15.5, 17, 19, 21, 23 mm/s"
    perform(session, at(session), "cut-figures", figures={"fastest": 23.0, "next": 25.0})
    low, *_, high = proposed(session)
    assert low < 23.0 < 25.0 < high


def test_open_ends_lead_to_slower_and_to_faster_lines_at_the_same_station() -> None:
    """Far from what was said, found all the same, and the last series counts; "leave it at that" ends it too."""
    session = visit()
    cut_stations(session, ALIKE | {"back-left": 6.0, "middle": 50.0})
    stations = session.cuts().stations
    assert stations["back-left"][0] <= 6.0 < stations["back-left"][1]
    assert stations["middle"][0] <= 50.0 < stations["middle"][1]
    session = visit()
    here = at(session).item
    perform(session, at(session), "cut-through", option=seen(at(session), 1.0))
    assert (at(session).item, at(session).more) == (here, True)
    assert "now slower ones" in at(session).do[0]
    perform(session, at(session), "cut-enough")
    assert at(session).item != here


def test_what_the_series_before_found_is_not_forgotten() -> None:
    """All of the first fell through, none of the faster ones: the limit lies between the two; and the other way."""
    for first, second in ((30.0, 24.0), (5.0, 13.5)):
        session = visit()
        here, was = at(session).item, proposed(session)
        perform(session, at(session), "cut-through", option=seen(at(session), first))
        then = proposed(session)
        perform(session, at(session), "cut-through", option=seen(at(session), second))
        event = session.effective[-1]
        between = (was[-1], then[0]) if first > second else (then[-1], was[0])
        assert (event.station, event.fastest, event.next) == (here, *between)
        assert at(session).item != here


# -- what is entered, left, resumed ---------------------------------------------------------------


def test_the_gate_is_asked_before_the_first_cut_and_after_a_resume_before_the_next() -> None:
    """Laying the sheet in needs no beam; cutting is attended, and asked again when the program was opened again."""
    session = Session.start(make_machine())
    session.begin("cut check")
    assert through_the_gates(session) == ["rules"]
    perform(session, at(session), "sheet-other", figures=SHEET)
    assert through_the_gates(session) == ["attended"]
    here = at(session).item
    perform(session, at(session), "cut-through", option=seen(at(session), 18.0))
    session.opened()
    assert through_the_gates(session) == ["rules", "attended"]
    assert at(session).item not in (None, here)


def test_every_entry_is_undone_and_comes_back() -> None:
    """From the result back to the sheet, one by one, and the same step stands there again."""
    session = visit()
    steps = []
    while at(session).key == "cut-station":
        steps.append(at(session))
        perform(session, at(session), "cut-through", option=seen(at(session), 18.0))
    for step in reversed(steps):
        take_back(session)
        assert at(session) == step
    take_back(session)
    take_back(session)
    assert session.effective[-1].kind == "gate"


def test_what_lies_with_the_folder_is_nobodys_entry_to_undo(tmp_path: Path) -> None:
    """A baseline that was taken up stays; the undo goes to what was entered before; half a word typed stays too."""
    kept(tmp_path)
    session = Session.start(make_machine())
    session.begin("cut check")
    session.keep_draft({"for": "sheet-other after 1", "material": "ply 6"})
    assert "ply 6 mm, lot 3" in take_up(tmp_path, session)
    assert session.draft["material"] == "ply 6"
    assert take_up(tmp_path, session) == ""
    assert take_back(session).kind == "begin"
    assert [event.kind for event in session.effective] == ["baseline"]


def test_a_station_is_left_out_with_a_reason_and_two_are_too_few() -> None:
    """Without a reason it is refused; the rest is cut; with two stations nothing is said of how it cuts."""
    session = visit()
    with pytest.raises(InputError, match="No reason was given"):
        perform(session, at(session), "cut-left-out", why=" ")
    for _ in range(3):
        perform(session, at(session), "cut-left-out", why="the honeycomb is bent there")
    assert session.effective[-1].why == "the honeycomb is bent there"
    cut_stations(session, ALIKE)
    step = at(session)
    assert (step.key, step.action, step.figure) == ("cut-result", "Cuts as it did: not known", "2 stations cut")
    perform(session, step, "part-again")
    through_the_gates(session)
    assert at(session).key == "cut-sheet"


@pytest.mark.parametrize(
    ("figures", "said"),
    [
        ({"fastest": 20.0, "next": 18.0}, "order is not that of the lines"),
        ({"fastest": 18.0, "next": 18.0}, "not above 18"),
        ({}, "No speed was given"),
    ],
)
def test_speeds_out_of_order_are_refused_and_stay_to_be_corrected(figures: dict[str, float], said: str) -> None:
    """By the form before they are entered, and by the session where they come all the same."""
    session = visit()
    step, choice = at(session), next(each for each in at(session).choices if each.key == "cut-figures")
    form = form_of(session, step, choice, IN_MM)
    with pytest.raises(InputError, match=said if figures else "Nothing was entered"):
        form.echo({name: f"{value}" for name, value in figures.items()})
    with pytest.raises(InputError, match=said):
        perform(session, step, "cut-figures", figures=figures)
    assert at(session) == step


def sheet_form(session: Session):
    """The form for another sheet."""
    return form_of(session, at(session), Choice("sheet-other", "", "figures"), IN_MM)


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ({"material": "PVC 3 mm", "speed": "18"}, "never cut"),
        ({"material": "ply 6 mm", "speed": "-18"}, "more than 0"),
        ({"material": "ply 6 mm", "speed": "18", "power": "120"}, "120"),
        ({"material": "", "speed": "18"}, "Nothing was entered for"),
        ({"material": "ply 6 mm", "speed": "fast"}, "fast"),
    ],
)
def test_a_sheet_that_cannot_be_is_refused_in_a_sentence(typed: dict[str, str], said: str) -> None:
    """What must not be cut, and numbers that are none."""
    session = Session.start(make_machine())
    session.begin("cut check")
    through_the_gates(session)
    with pytest.raises(InputError, match=said):
        sheet_form(session).echo(typed)


def test_a_sheet_without_a_batch_is_taken_with_a_word_about_it() -> None:
    """Later nobody can tell whether it is the same."""
    session = Session.start(make_machine())
    session.begin("cut check")
    through_the_gates(session)
    echo = sheet_form(session).echo({"material": "ply", "speed": "18 mm/s"})
    assert "No thickness and no batch is named" in echo


def test_the_second_check_takes_the_first_ones_sheet_and_another_is_questioned() -> None:
    """One key lays in the same; another batch is doubted, entered all the same, and not compared."""
    session = visit()
    cut_stations(session, FADING)
    session.turn(1, {"B": 0.1})
    session.begin("cut again")
    through_the_gates(session)
    assert at(session).choices[0].label == "ply 6 mm, lot 3 at 60 %: as before"
    form = sheet_form(session)
    assert form.fields[0].starts == "ply 6 mm, lot 3"
    other = {"material": "ply 6 mm, lot 4", "power": "60", "speed": "18"}
    assert form.doubtful(other)
    assert "another batch (lot 4, before lot 3)" in form.echo(other)
    assert not form.doubtful(other | {"material": "ply 6 mm, lot 3"})
    perform(session, at(session), "sheet-other", figures=SHEET | {"material": "ply 6 mm, lot 4"})
    through_the_gates(session)
    cut_stations(session, ALIKE)
    assert any("Not compared with the check before: this is another batch" in line for line in at(session).do)


def test_what_was_touched_begins_the_check_after_anew_but_not_the_one_before() -> None:
    """Before is before; after turning once more it has to be cut once more; half a check is begun anew."""
    session = visit()
    cut_stations(session, FADING)
    lay(session, "cut again")
    cut_stations(session, FADING)
    assert at(session).key == "cut-result"
    session.turn(1, {"B": 0.1})
    through_the_gates(session)
    assert at(session).key == "cut-sheet"
    session.begin("cut check")
    assert at(session).key == "cut-result"
    half = visit()
    perform(half, at(half), "cut-through", option=seen(at(half), 18.0))
    half.care("lens", "clean")
    through_the_gates(half)
    assert at(half).key == "cut-sheet"


def test_another_part_in_between_loses_no_station() -> None:
    """Left after one station for the checks, and gone on with."""
    session = visit()
    first = at(session).item
    perform(session, at(session), "cut-through", option=seen(at(session), 18.0))
    session.begin("checks")
    session.check("water", "good", celsius=20.0)
    session.begin("cut check")
    through_the_gates(session)
    assert at(session).item not in (None, first)
    cut_stations(session, ALIKE)
    assert len(session.cuts().stations) == 5


# -- what it says ---------------------------------------------------------------------------------


def test_without_a_baseline_nobody_says_that_it_cuts_as_it_did() -> None:
    """Before: the pattern is named; after: it is told apart from the check before, in the same words."""
    session = visit()
    cut_stations(session, FADING)
    step = at(session)
    assert step.action == "Cuts fade outwards"
    low, value, high = session.cuts().uniformity
    assert low < 9 / 19 < high
    assert step.figure == f"slowest {value:.0%} of fastest".replace("%", " %")
    assert any("never kept" in line for line in step.do)
    session.turn(1, {"B": 0.1})
    lay(session, "cut again")
    cut_stations(session, ALIKE)
    assert at(session).action == "Cuts better than before"
    truth = np.exp(np.mean([np.log(ALIKE[name] / FADING[name]) for name in ALIKE]))
    change = session.cut_before()
    assert change is not None
    assert change[0][0] < truth < change[0][2]
    assert at(session).figure == f"{change[0][1]:.0%} of before".replace("%", " %")


@pytest.mark.parametrize(("share", "action"), [(1.0, "Cuts no better"), (0.7, "Cuts worse than before")])
def test_what_did_not_help_is_not_called_better(share: float, action: str) -> None:
    """Against the check before, as fast or slower; "as before" would read like the good end."""
    session = visit()
    cut_stations(session, ALIKE)
    session.turn(1, {"B": 0.1})
    lay(session, "cut again")
    cut_stations(session, {name: share * speed for name, speed in ALIKE.items()})
    assert at(session).action == action


@pytest.mark.parametrize(
    ("truth", "said"),
    [
        (ALIKE, "yes"),
        ({name: 0.8 * speed for name, speed in ALIKE.items()}, "nearly"),
        ({name: 0.5 * speed for name, speed in ALIKE.items()}, "no"),
        (ALIKE | {"front-right": 9.0}, "no"),
    ],
)
def test_it_cuts_as_it_did_where_its_worst_station_does(tmp_path: Path, truth: dict[str, float], said: str) -> None:
    """The word and its figure are both about the station that lost most: one corner at half is "no" and 50 %."""
    kept(tmp_path)
    session = later(tmp_path, truth)
    step = at(session)
    assert step.action == f"Cuts as it did: {said}"
    worst = session.cuts().worst
    assert worst is not None
    assert worst[0] < min(truth.values()) / 18 < worst[2]
    assert step.figure == f"worst station {worst[1]:.0%} of then".replace("%", " %")


def test_what_the_geometry_explains_is_said_apart() -> None:
    """Marks 6 mm off at the far corner and cuts that lose what that offset cuts off: nothing is left; cuts that lose
    far more: the fall is left, and where it is worst is named."""
    said = {}
    for name, far in (("explained", 0.87), ("more", 0.55)):
        session = Session.start(make_machine())
        for station in session.machine.stations:
            off = (
                6.0 if station.name == "front-right" else 3.0 if station.name in ("back-right", "front-left") else 0.0
            )
            session.mark(station.name, u=off, v=0.0)
        passes = session.power()
        lay(session, "cut check")
        share = {station: passes[station] / max(passes.values()) for station in passes}
        cut_stations(
            session, {s: 18.0 * (share[s] if far > 0.8 else far ** (1.6 * (1 - share[s]) / 0.12)) for s in share}
        )
        said[name] = " ".join(at(session).do)
    assert "does not explain it. Left over is" in said["more"]
    assert "front-right gets" in said["more"]
    assert "does not explain" not in said["explained"]


# -- what is kept ---------------------------------------------------------------------------------


def test_the_first_good_check_is_kept_and_said_and_nothing_is_overwritten(tmp_path: Path) -> None:
    """Told on the step beforehand, in one sentence as it happens; a later one leaves the file as it was."""
    session = aligned_visit()
    lay(session, "cut again")
    cut_stations(session, ALIKE)
    assert any("kept as this machine's baseline" in line for line in at(session).do)
    assert kept(tmp_path).startswith("Kept as this machine's baseline for ply 6 mm, lot 3, in ")
    before = path_of(tmp_path, "Shed laser").read_bytes()
    assert kept(tmp_path, dict.fromkeys(ALIKE, 20.0)) == ""
    assert path_of(tmp_path, "Shed laser").read_bytes() == before
    assert [cuts.material for cuts in load(tmp_path, "Shed laser").cuts] == ["ply 6 mm, lot 3"]


@pytest.mark.parametrize(
    ("truth", "spoil", "said"),
    [
        (ALIKE, lambda s: s.turn(1, {"B": 0.2}), "the beam's path is not done"),
        (FADING, lambda s: None, "does not cut alike everywhere"),
        (ALIKE, lambda s: s.check("focus", "bad", off=2.0), "focus was found wrong"),
    ],
)
def test_what_is_not_good_is_not_kept_and_why_is_said(tmp_path: Path, truth, spoil, said: str) -> None:
    """Not aligned, cut unevenly, or with something found wrong that nobody saw to."""
    session = aligned_visit()
    spoil(session)
    lay(session, "cut again")
    cut_stations(session, truth)
    step = at(session)
    assert any(line.startswith("Not kept as a baseline: ") and said in line for line in step.do)
    perform(session, step, "end-part")
    assert after_choice(tmp_path, session, step, "end-part") == ""
    assert not path_of(tmp_path, "Shed laser").exists()


def test_the_first_station_is_cut_once_more_while_it_is_warm() -> None:
    """One choice at the end; the same station, said to be warm, as every cut attended; then what it comes to."""
    session = visit()
    cut_stations(session, ALIKE)
    first = session.machine.station(next(iter(session.cuts().stations))).name
    perform(session, at(session), "once-warm")
    step = at(session)
    assert (step.key, step.item) == ("cut-station", first)
    assert step.title.endswith("once more, warm")
    assert "warm" in step.do[0]
    perform(session, step, "cut-through", option=seen(step, 0.6 * ALIKE[first]))
    assert session.effective[-1].warm
    assert at(session).key == "cut-result"
    assert any("it fades while warm" in line for line in at(session).do)
    assert "once-warm" not in [choice.key for choice in at(session).choices]
    left = visit()
    cut_stations(left, ALIKE)
    perform(left, at(left), "once-warm")
    perform(left, at(left), "cut-enough")
    assert at(left).key == "cut-result"


def test_a_baseline_is_replaced_on_purpose_with_a_reason(tmp_path: Path) -> None:
    """Offered where one of that sheet is kept; from then on it is compared with, and the old one stays on record."""
    kept(tmp_path)
    session = aligned_visit()
    take_up(tmp_path, session)
    lay(session, "cut again")
    cut_stations(session, dict.fromkeys(ALIKE, 12.0))
    step = at(session)
    assert (step.action, "new-baseline" in [choice.key for choice in step.choices]) == ("Cuts as it did: no", True)
    with pytest.raises(InputError, match="No reason"):
        perform(session, step, "new-baseline", why=" ")
    perform(session, step, "new-baseline", why="new tube")
    assert "stays in the record: new tube." in after_choice(tmp_path, session, step, "new-baseline")
    assert [old.why for old in load(tmp_path, "Shed laser").replaced] == ["new tube"]
    assert at(session).action == "Cuts as it did: yes"
    assert "new-baseline" not in [choice.key for choice in at(session).choices]


def test_a_baseline_of_another_sheet_is_said_and_not_compared(tmp_path: Path) -> None:
    """And its own sheet is offered with one key."""
    kept(tmp_path)
    session = later(tmp_path, ALIKE, part="cut check", material="acrylic 3 mm, lot 1")
    assert any("Not compared with how it cut on" in line and "another material" in line for line in at(session).do)
    fresh = Session.start(make_machine())
    fresh.begin("cut check")
    take_up(tmp_path, fresh)
    through_the_gates(fresh)
    assert at(fresh).choices[0].label.startswith("ply 6 mm, lot 3 at 60 %: as kept on ")
    perform(fresh, at(fresh), "sheet-known", option=at(fresh).choices[0].option)
    through_the_gates(fresh)
    low, *_, high = proposed(fresh)
    assert low < 18.0 < high


def test_a_file_of_baselines_that_is_broken_stops_no_visit(tmp_path: Path) -> None:
    """It is told with its reason, left as it was, and the visit goes on without it."""
    path = path_of(tmp_path, "Shed laser")
    path.parent.mkdir()
    path.write_text("schema = 1\nmachine = [", encoding="utf-8")
    session = aligned_visit()
    assert "could not be taken up" in take_up(tmp_path, session)
    lay(session, "cut again")
    cut_stations(session, ALIKE)
    step = at(session)
    perform(session, step, "end-part")
    assert "could not be kept" in after_choice(tmp_path, session, step, "end-part")
    assert path.read_text(encoding="utf-8") == "schema = 1\nmachine = ["


@pytest.mark.sweep
def test_the_word_is_seldom_wrong(tmp_path: Path) -> None:
    """Forty made-up machines before → after, 4 % from place to place of the sheet and 3 % from one to the next: what
    cuts as it did is called so in most, what lost a third at its worst station never; and what is said of the worst
    station holds the truth in 90 to 100 of 100 (19 in 20 claimed)."""
    kept(tmp_path)
    rng = np.random.default_rng(20261126)
    words: dict[str, list[str]] = {"as it did": [], "a third less": []}
    held = []
    for number in range(40):
        name, worst = ("as it did", 1.0) if number % 2 else ("a third less", 0.66)
        share = np.exp(np.where(np.arange(5) == rng.integers(5), np.log(worst), 0.0) + 0.03 * rng.standard_normal())
        truth = {station: 18.0 * by for station, by in zip(ALIKE, share, strict=True)}
        session = Session.start(make_machine())
        session.begin("cut again")
        take_up(tmp_path, session)
        lay(session, "cut again")
        cut_stations(session, truth, sheet_noise(rng))
        words[name].append(at(session).action.removeprefix("Cuts as it did: "))
        lost = session.cuts().worst
        assert lost is not None
        held.append(lost[0] <= worst <= lost[2])
    assert words["as it did"].count("yes") >= 15
    assert words["as it did"].count("no") <= 1
    assert words["a third less"].count("yes") == 0
    assert words["a third less"].count("no") >= 17
    assert np.mean(held) >= 0.9
