"""Answers, checks, cuts and cleaning in a session: what is entered counts, is undone, resumed and compared."""

import math

import pytest
from machines import make_machine
from visiting import mark_until_done

from coach import Session
from coach.advice.advice import Shot
from coach.errors import InputError, Unreadable, Unwritable
from coach.optics.focus import depth_of_focus, peak_left
from coach.optics.legs import leg_lengths
from coach.session.baselines import Baselines, KeptCurrent, keep, load, path_of
from coach.session.good_cuts import compare, keep_first_good, replace_baseline
from coach.shown import IN_MM
from coach.steps.entries import doing_words, entry_words
from coach.steps.situation import situation
from coach.tuning import TUNING

SHEET = "ply 6 mm, lot 3"
NAMES = ("back-left", "back-right", "middle", "front-right", "front-left")


def cut_all(session: Session, *speeds: float, sheet: str = SHEET, anew: bool = False) -> None:
    """One line of the ladder at each station, 10 % between lines."""
    for number, (name, speed) in enumerate(zip(NAMES, speeds, strict=False)):
        session.cut(name, fastest=speed, next=1.1 * speed, material=sheet, anew=anew and number == 0)


def aligned() -> Session:
    """A machine that is aligned, marked at every station until the coach says done."""
    session = Session.start(make_machine())
    mark_until_done(session)
    return session


# -- the contract ---------------------------------------------------------------------------------


def test_the_whole_way_as_the_contract_has_it(tmp_path) -> None:
    """Questions are data, answers, checks, cuts and care are entered; all of it is the same after a resume."""
    path = tmp_path / "s.toml"
    s = Session.start(make_machine())
    s.keep_in(path)
    asked = {question.key: question for question in s.questions()}
    assert "toward one corner" in asked["weak"].answers
    s.answer("weak", "toward one corner")
    s.check("bed", "bad", front_left=5.0, front_right=6.2, back_left=5.1, back_right=6.0)
    s.cut("back-left", fastest=18.0, next=20.0, material=SHEET)
    s.cut("middle", fastest=None, next=20.0)
    s.cut("front-right", fastest=18.0, next=None)
    s.care("mirror 1", "clean", taken_out=True)
    first = s.suspects()[0]
    assert (first.name, first.state, first.test) == ("bed", "found", "")
    assert any("1.2 mm" in sentence for sentence in first.speaks_for)
    assert s.verdict().cause == "bed"
    c = s.cuts()
    assert c.stations == {"back-left": (18.0, 20.0), "middle": (0.0, 20.0), "front-right": (18.0, math.inf)}
    assert c.uniformity[0] <= c.uniformity[1] <= c.uniformity[2]
    assert c.pattern in ("alike", "legs", "bed", "one place", "fine")
    assert c.change is None
    again = Session.resume(path)
    assert again.suspects() == s.suspects()
    assert again.cuts() == c
    assert again.checks() == s.checks()
    assert again.cared() == {"mirror 1": "clean"}


def test_undo_takes_each_of_them_back() -> None:
    """An answer, a check, a cut and a cleaning that were undone count no more."""
    s = Session.start(make_machine())
    for act, left in (
        (lambda: s.answer("moved", "bumped"), lambda: s.answers()),
        (lambda: s.check("focus", "bad", off=1.0), lambda: s.checks()),
        (lambda: s.care("lens", "haze"), lambda: s.cared()),
    ):
        act()
        assert left()
        s.undo()
        assert not left()
    cut_all(s, 18, 18, 18)
    s.undo()
    with pytest.raises(InputError, match="Too few stations were cut"):
        s.cuts()


# -- cuts -----------------------------------------------------------------------------------------


def test_a_station_cut_twice_counts_as_cut_last() -> None:
    """Cut once more without anything done in between: one check, the later limit."""
    s = Session.start(make_machine())
    cut_all(s, 18, 18, 18, 18, 18)
    s.cut("front-left", fastest=9.0, next=9.9, material=SHEET)
    assert s.cuts().stations["front-left"] == (9.0, 9.9)
    assert s.cuts(0) == s.cuts()
    with pytest.raises(InputError, match="no cut check 1"):
        s.cuts(1)


@pytest.mark.parametrize(
    "done",
    [
        lambda s: s.turn(1, {"B": 0.1}),
        lambda s: s.care("lens", "clean"),
        lambda s: s.mark("middle", u=0.1, v=0.0),
        lambda s: s.check("bed", "good", front_left=5.0, front_right=5.1, back_left=5.0, back_right=5.1),
    ],
)
def test_after_something_was_done_a_second_check_begins(done) -> None:
    """Before and after are two checks, and are compared with each other."""
    s = Session.start(make_machine())
    cut_all(s, 18, 18, 18, 18, 9)
    assert s.cut_before() is None
    done(s)
    cut_all(s, 18, 18, 18, 18, 18)
    assert s.cuts(0).pattern == "one place"
    assert s.cuts().pattern == "alike"
    change, again = s.cut_before()
    assert again == "yes"
    assert change[0] > 1.0


def test_a_check_looked_up_in_between_does_not_part_a_cut_check() -> None:
    """Left after two stations for a look at the water, and resumed: one check of five."""
    s = Session.start(make_machine())
    cut_all(s, 18, 18)
    s.check("water", "good", celsius=20.0)
    s.answer("fades", "no")
    for name in NAMES[2:]:
        s.cut(name, fastest=18.0, next=19.8)
    assert len(s.cuts().stations) == 5


@pytest.mark.parametrize(
    ("wrong", "said"),
    [
        ({"material": "ply 6 mm, lot 4"}, "another batch"),
        ({"material": "ply 3 mm, lot 3"}, "another thickness"),
        ({"power": 60.0}, "another power"),
        ({"fastest": 20.0, "next": 18.0}, "order"),
        ({"fastest": None, "next": None}, "No speed"),
        ({"material": "PVC"}, "never cut"),
    ],
)
def test_what_cannot_be_compared_is_refused_and_not_entered(wrong: dict, said: str) -> None:
    """Another batch, thickness or power in one check, wrong order, PVC: a sentence; as a further check it may."""
    s = Session.start(make_machine())
    cut_all(s, 18, 18)
    entered = {"fastest": 18.0, "next": 19.8, "material": SHEET} | wrong
    with pytest.raises(InputError, match=said):
        s.cut("middle", **entered)
    assert len(s.events) == 2
    if "another" in said:
        s.cut("middle", **entered, anew=True)
        assert len(s.events) == 3


def test_the_first_cut_names_its_sheet() -> None:
    """Without a material there is nothing to compare with later."""
    with pytest.raises(InputError, match="thickness and batch"):
        Session.start(make_machine()).cut("middle", fastest=18.0, next=19.8)


def test_measured_gaps_tell_the_bed_from_the_beam() -> None:
    """Cuts that fall toward the far corner: the legs; with the gaps measured, which fall so too, the bed (Kogelnik
    & Li: 1/(1 + (Δ/z_R)²) of the peak)."""
    depth = depth_of_focus(50.8, TUNING.cutting.radius, TUNING.cutting.m2)
    s = Session.start(make_machine())
    gaps = {"back-left": 5.0, "back-right": 5.9, "middle": 5.7, "front-right": 6.6, "front-left": 5.5}
    cut_all(s, *(18 * peak_left(gaps[name] - 5.0, depth) for name in NAMES))
    assert s.cuts().pattern == "legs"
    s.check("bed", "bad", back_left=4.95, back_right=5.93, front_right=6.65, front_left=5.47)
    assert s.cuts().pattern == "bed"
    assert s.verdict().cause == "bed"


# -- baselines ------------------------------------------------------------------------------------


def test_the_first_good_cuts_after_done_are_what_later_visits_are_compared_with(tmp_path) -> None:
    """Kept with the machine; a later session takes it up, says how much was lost, and does not replace it."""
    s = aligned()
    cut_all(s, 18, 18, 18, 18, 18)
    kept = keep_first_good(s, tmp_path)
    assert kept is not None
    assert load(tmp_path, "Shed laser").cuts == (kept,)
    later = Session.start(make_machine())
    later.keep_in(tmp_path / "later.toml")
    assert compare(later, tmp_path)
    assert not compare(later, tmp_path)
    cut_all(later, 13, 13, 13, 13, 13)
    _, value, high = later.cuts().change
    assert value == pytest.approx(13 / 18, abs=0.03)
    assert high < 0.85
    assert later.cuts().again == "no"
    assert Session.load(tmp_path / "later.toml").cuts() == later.cuts()
    assert keep_first_good(s, tmp_path) is None


def test_cuts_before_done_or_in_practice_are_no_baseline(tmp_path) -> None:
    """Nobody said that the machine was well: nothing is kept."""
    s = Session.start(make_machine())
    cut_all(s, 18, 18, 18)
    assert keep_first_good(s, tmp_path) is None
    early = Session.start(make_machine())
    cut_all(early, 18, 18, 18)
    for event in aligned().events:
        early.mark(event.station, u=event.u, v=event.v, x=event.x, y=event.y, target=event.target)
    assert early.advice().kind == "done"
    assert keep_first_good(early, tmp_path) is None
    assert not path_of(tmp_path, "Shed laser").exists()


def test_a_baseline_of_another_sheet_is_said_and_not_used(tmp_path) -> None:
    """The reason stands beside the missing figure."""
    s = Session.start(make_machine())
    cut_all(s, 18, 18, 18)
    keep(tmp_path, Baselines(machine="Shed laser").with_cuts(s.kept_cuts()))
    other = Session.start(make_machine())
    compare(other, tmp_path)
    cut_all(other, 18, 18, 18, sheet="acrylic 3 mm, lot 1")
    assert other.cuts().change is None
    assert "another material" in other.cuts().not_compared


def test_each_sheet_has_one_baseline_and_currents_are_kept_in_order(tmp_path) -> None:
    """A newer one of the same sheet replaces the older; another sheet's stands beside it; all of it reads back."""
    s = Session.start(make_machine())
    cut_all(s, 18, 18, 18)
    first = s.kept_cuts()
    s.cut("middle", fastest=None, next=20.0, anew=True)
    s.cut("back-left", fastest=19.0, next=None)
    s.cut("back-right", fastest=19.0, next=21.0)
    second = s.kept_cuts()
    other = first.model_copy(update={"material": "acrylic 3 mm"})
    kept = Baselines(machine="Shed laser").with_cuts(first).with_cuts(other).with_cuts(second)
    assert kept.cuts == (other, second)
    for on, current in ((first.on, 20.0), (first.on.replace(year=first.on.year + 1), 18.5)):
        kept = kept.with_current(KeptCurrent(on=on, current=current))
    keep(tmp_path, kept)
    assert load(tmp_path, "Shed laser") == kept
    assert load(tmp_path, "Shed laser").usual_current == 20.0
    assert load(tmp_path, "another") == Baselines(machine="another")


def test_a_replaced_baseline_stays_in_the_record_and_an_older_file_is_lifted(tmp_path) -> None:
    """Two replaced in a row, each with its reason, all read back; a file of the shape before has none of them."""
    s = Session.start(make_machine())
    cut_all(s, 18, 18, 18)
    keep(tmp_path, Baselines(machine="Shed laser").with_cuts(s.kept_cuts()))
    path = path_of(tmp_path, "Shed laser")
    path.write_text(path.read_text(encoding="utf-8").replace("schema = 2", "schema = 1"), encoding="utf-8")
    assert load(tmp_path, "Shed laser").replaced == ()
    for speed, why in ((12, "new lens"), (25, "new tube")):
        now = Session.start(make_machine())
        compare(now, tmp_path)
        cut_all(now, speed, speed, speed)
        assert replace_baseline(now, tmp_path, why).why == why
        assert now.cuts().again == "yes"
    kept = load(tmp_path, "Shed laser")
    assert [(old.why, old.stations[0].fastest) for old in kept.replaced] == [("new lens", 18), ("new tube", 12)]
    assert len(kept.cuts) == 1
    half = Session.start(make_machine())
    half.cut("middle", fastest=None, next=20.0, material="ply 6 mm, lot 3")
    half.cut("back-left", fastest=19.0, next=21.0)
    half.cut("back-right", fastest=19.0, next=21.0)
    with pytest.raises(InputError, match="middle cuts through is not known"):
        replace_baseline(half, tmp_path, "new tube")
    other = Session.start(make_machine())
    cut_all(other, 18, 18, 18, sheet="acrylic 3 mm, lot 1")
    with pytest.raises(InputError, match="no baseline of this sheet"):
        replace_baseline(other, tmp_path, "new tube")
    assert load(tmp_path, "Shed laser") == kept


def test_the_current_is_compared_with_the_machine_s_own(tmp_path) -> None:
    """Read at the visit that ended well, kept beside the cuts; later less of it is the supply's or the setting's, and
    as much with weaker cuts the tube's or the optics'."""
    s = aligned()
    s.check("tube", "good", current=20.0)
    cut_all(s, 18, 18, 18)
    keep_first_good(s, tmp_path)
    later = Session.start(make_machine())
    assert compare(later, tmp_path)
    later.check("tube", "bad", current=16.0)
    assert later.suspects()[0].name == "supply"
    assert "20" in later.checks()["tube"].says[0]
    later.check("tube", "bad", current=20.3)
    assert {cause for cause, _ in later.checks()["tube"].speaks_for} == {"tube", "lens", "mirrors"}
    later.check("tube", "bad", current=16.0, usual=16.0)
    assert "supply" in {cause for cause, _ in later.checks()["tube"].speaks_against}
    with pytest.raises(InputError, match="mA"):
        later.usual_current(0.0)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("schema = 99\nmachine = 'x'\n", "newer coach"),
        ("machine = 'x'\n", "'schema' with a whole number is missing"),
        ("schema = 1\nmachine = 'x'\ncolour = 'red'\n", "not known here"),
        ("schema = 1\nmachine = 'x'\n[[cuts]]\nmaterial = 'ply'\non = 2026-11-26\nstations = []\n", "at the least"),
        ("schema = 1\nmachine = 'x'\n[[cuts]]\nmaterial = 'ply'\non = 2026-11-26\n"
         "stations = [{name = 'a', fastest = 20.0, next = 18.0}]\n", "order"),
    ],
)  # fmt: skip
def test_a_broken_file_of_baselines_is_told_and_left(tmp_path, text: str, said: str) -> None:
    """With its line and reason; nothing is overwritten."""
    path = path_of(tmp_path, "x")
    path.parent.mkdir()
    path.write_text(text, encoding="utf-8")
    with pytest.raises(Unreadable, match=said):
        load(tmp_path, "x")
    assert path.read_text(encoding="utf-8") == text


def test_two_programs_do_not_overwrite_each_others_baselines(tmp_path) -> None:
    """Written since it was read: refused."""
    s = Session.start(make_machine())
    cut_all(s, 18, 18, 18)
    kept = Baselines(machine="Shed laser").with_cuts(s.kept_cuts())
    keep(tmp_path, kept)
    with pytest.raises(Unwritable, match="another program"):
        keep(tmp_path, kept, stamp=(1, 1))


# -- cleaning and the belief ----------------------------------------------------------------------


@pytest.mark.parametrize("optic", ["mirror 1", "mirror 2", "combiner"])
def test_what_was_out_asks_for_a_confirming_mark(optic: str) -> None:
    """Done; cleaned in its place it stays done; taken out its slopes are 4 mrad less well known, and a mark is asked
    for before anything else."""
    s = aligned()
    s.care(optic, "clean")
    assert s.advice().kind == "done"
    before = s.belief.expected(580.0, 20.0).cov[0, 0]
    s.care(optic, "clean", taken_out=True)
    assert s.advice().kind == "shoot"
    leg1, leg2 = leg_lengths(s.machine, 580.0, 20.0)
    steered = leg2 if optic == "mirror 2" else leg1 + leg2
    assert s.belief.expected(580.0, 20.0).cov[0, 0] - before > 0.9 * (4.0 * steered) ** 2


@pytest.mark.parametrize("optic", ["lens", "mirror 3"])
def test_what_lies_behind_the_opening_moves_no_mark_there(optic: str) -> None:
    """Lens and mirror 3 come after the head's tape: done stays done."""
    s = aligned()
    s.care(optic, "clean", taken_out=True)
    assert s.advice().kind == "done"


@pytest.mark.parametrize(
    ("optic", "result", "out", "said"),
    [
        ("mirror 4", "clean", False, "mirror 1"),
        ("lens", "dirty", False, "scratched"),
        ("lens", "not opened", True, "not opened"),
    ],
)
def test_cleaning_that_cannot_be_is_refused(optic: str, result: str, out: bool, said: str) -> None:
    """One sentence, nothing entered."""
    s = Session.start(make_machine())
    with pytest.raises(InputError, match=said):
        s.care(optic, result, taken_out=out)
    assert s.events == ()


# -- beside the job -------------------------------------------------------------------------------


def test_other_parts_of_a_visit_do_not_lose_a_mark_that_waits() -> None:
    """A pulse whose mark is to be measured is still to be measured after an answer, a check, a cut, a cleaning."""
    s = Session.start(make_machine())
    s.pulse(Shot("middle", 300.0, 200.0), "mark")
    gates = s.effective
    s.answer("weak", "on and off")
    s.check("tube", "good", current=18.0)
    s.cut("middle", fastest=18.0, next=19.8, material=SHEET)
    s.care("lens", "clean")
    waiting = situation(s.effective)
    assert (waiting.key, waiting.gate) == (situation(gates).key, situation(gates).gate)


def test_entries_are_listed_in_words() -> None:
    """What was entered reads as it was meant."""
    s = Session.start(make_machine())
    s.answer("weak", "toward one corner")
    s.check("bed", "bad", front_left=5.0, back_left=6.2)
    s.check("water", "good", celsius=20.0)
    s.cut("middle", fastest=None, next=9.0, material=SHEET)
    s.care("mirror 2", "haze", taken_out=True)
    assert [entry_words(event, IN_MM) for event in s.events] == [
        "Where does it cut worse? Toward one corner",
        "Checked bed: bad (front left 5 mm, back left 6.2 mm)",
        "Checked water: good (water 20 °C)",
        f"Cut at middle: none fell through from 9 mm/s on ({SHEET})",
        "Mirror 2: haze, was taken out",
    ]
    assert doing_words(s.effective) == "cleaning, mirror 2"


def test_a_hand_edit_that_cannot_be_is_told_with_its_line(tmp_path) -> None:
    """A cut at a station that the machine does not have, an answer that no question has."""
    path = tmp_path / "s.toml"
    s = Session.start(make_machine())
    s.cut("middle", fastest=18.0, next=19.8, material=SHEET)
    s.answer("weak", "on and off")
    s.save(path)
    text = path.read_text(encoding="utf-8")
    for old, new, said in (
        ('station = "middle"', 'station = "nowhere"', "no station 'nowhere'"),
        ('answer = "on and off"', 'answer = "sometimes"', "no answer 'sometimes'"),
        ("next = 19.8", "next = 17.0", "order"),
    ):
        assert old in text
        path.write_text(text.replace(old, new), encoding="utf-8")
        with pytest.raises(Unreadable, match=said) as caught:
            Session.load(path)
        assert caught.value.line


def test_a_cut_check_is_read_anew_whenever_anything_about_it_changed() -> None:
    """Asked again it is the same object; a cut, an undo, gaps that were measured, a baseline change what it says."""
    s = Session.start(make_machine())
    cut_all(s, 18, 14.8, 16.3, 9.5, 15.5)
    first = s.cuts()
    s.answer("weak", "on and off")
    assert s.cuts() is first
    s.cut("front-right", fastest=18.0, next=19.8)
    assert s.cuts().stations["front-right"] == (18.0, 19.8)
    s.undo()
    assert s.cuts() == first
    assert first.pattern == "legs"
    s.check("bed", "good", back_left=5.0, back_right=5.0, front_right=8.0, front_left=5.0)
    assert s.cuts() is not first
    s.baseline(s.kept_cuts())
    assert s.cuts().again == "yes"


def test_a_current_as_it_was_is_no_fault_and_one_focus_is_told_once() -> None:
    """19.7 mA where 20 were usual clears the supply: good.  Less is bad.  1 mm up the ramp is 0.1 mm, never 1 mm."""
    session = Session.start(make_machine())
    assert session.judged("tube", {"current": 19.7, "usual": 20.0}).result == "good"
    assert session.judged("tube", {"current": 14.0, "usual": 20.0}).result == "bad"
    session.check("focus", "good", along=1.0, off=0.1)
    for enter in (session.judged, lambda name, figures: session.check(name, "bad", **figures)):
        with pytest.raises(InputError, match=r"1 mm up the board is 0\.1 mm of height, not 1 mm"):
            enter("focus", {"along": 1.0, "off": 1.0})
    assert len([event for event in session.events if event.kind == "check"]) == 1
