"""Advice about head, lens and nozzle, followed to the letter on exactly traced heads; and the five kinds."""

from dataclasses import replace
from math import hypot
from typing import Any, get_args

import pytest
from heads import ExactHead, goes_on, head_machine, played
from machines import make_machine
from sweeps import sampled

from coach import Session
from coach.head import reasons, words
from coach.head.belief import shift_step
from coach.head.layout import HeadLayout
from coach.head.outlook import outlook
from coach.optics.below import slope_of
from coach.optics.mounts import PlateMotion
from coach.shown import IN_MM
from coach.tuning import TUNING

OUT = {
    "mirror 3": {"mirror3": PlateMotion(6.0, -5.0, 0.2)},
    "lens": {"lens": (0.7, -0.5)},
    "nozzle": {"nozzle": (-0.4, 0.5)},
    "all": {"mirror3": PlateMotion(-4.0, 3.0), "lens": (-0.4, 0.3), "nozzle": (0.2, 0.2)},
}


@pytest.mark.parametrize("side", sampled(["left", "right"], "right"))
@pytest.mark.parametrize("screws", sampled(["BC", "ABC"], "ABC"))
@pytest.mark.parametrize("out", OUT)
def test_whatever_is_out_ends_upright_and_through_the_nozzle(side: str, screws: str, out: str) -> None:
    """Exact hands and readings, a lens that hangs 12 mm higher than usual: good, in at most three rounds."""
    what: dict[str, Any] = OUT[out]
    head = ExactHead(head_machine(side, screws=screws), hangs=58.0, **what)
    advice, session = played(head)
    assert advice.kind == "done", advice.why
    assert hypot(*head.lean()) < slope_of(0.3)
    assert hypot(*head.off_nozzle()) < 0.2
    assert session.head_belief.rounds <= 3


@pytest.mark.parametrize("truth", ["push", "pull"])
def test_an_unknown_drive_is_found_out_by_a_small_turn(truth: str) -> None:
    """The first turn is small; at the end the drive is known, and all is well."""
    head = ExactHead(head_machine(drive="unknown"), drive=truth, mirror3=PlateMotion(-5.0, 6.0))
    session = Session.start(head.machine)
    end, followed = goes_on(head, session)
    first = next(advice for advice in followed if advice.kind == "turn")
    assert isinstance(first.reason, reasons.DriveOpen)
    assert max(abs(turns) for turns in first.turns[0].screws.values()) < 0.3
    assert end.kind == "done"
    assert (session.head_belief.bank.pushes > 0.95) == (truth == "push")
    assert hypot(*head.lean()) < slope_of(0.3)


@pytest.mark.parametrize("side", ["left", "right"])
def test_a_lens_that_cannot_be_moved_has_the_head_moved_in_its_place(side: str) -> None:
    """The same end, by the head's bracket: up and back, with the sign that the traced beam asks for."""
    head = ExactHead(head_machine(side), lens=(0.8, 0.6))
    session = Session.start(head.machine)
    session.refuse("lens")
    end, followed = goes_on(head, session)
    assert {advice.part for advice in followed if advice.kind == "shift"} == {"head"}
    assert end.kind == "done"
    assert hypot(*head.lean()) < slope_of(0.3)


@pytest.mark.parametrize("side", ["left", "right"])
def test_moving_the_head_moves_its_lens_against_the_beam(side: str) -> None:
    """Traced: the head 1 mm up and 0.5 mm back, and the beam lands beside where it did by what is believed of it."""
    head = ExactHead(head_machine(side))
    before = [offset for offset, _ in head._axes()]
    head.shift("head", 1.0, 0.0, 0.5)
    landed = [offset - at for (offset, _), at in zip(head._axes(), before, strict=True)]
    step = shift_step(HeadLayout(head.machine, TUNING.head), "head", 1.0, 0.0, 0.5)
    assert landed == pytest.approx([-step[0], -step[1]], abs=1e-9)


def test_nothing_comes_through_a_nozzle_behind_a_mirror_that_leans() -> None:
    """Lens and nozzle out, two heights, mirror 3 turned there and then; a little less, as its answers are doubted."""
    head = ExactHead(head_machine(), mirror3=PlateMotion(12.0, 11.0))
    session, asked = Session.start(head.machine), []
    for _ in range(3):
        advice = session.head_advice()
        asked.append((advice.target, advice.lens))
        head.do(session, advice)
    assert asked == [("nozzle", True), ("bed", False), ("bed", False)]
    advice, before = session.head_advice(), hypot(*head.slope())
    assert advice.kind == "turn"
    assert isinstance(advice.reason, reasons.LeansWithoutLens)
    assert advice.suspect == "mirror 3"
    head.do(session, advice)
    assert hypot(*head.slope()) < 0.2 * before
    assert session.head_advice().target == "nozzle"


def test_an_upright_beam_far_off_the_hole_is_a_badly_seated_nozzle() -> None:
    """Upright without the lens, and nothing through: a stop that says what to look at; seated anew, on it goes."""
    head = ExactHead(head_machine(), nozzle=(1.6, 0.0))
    advice, session = played(head)
    assert (advice.kind, advice.cause) == ("stop", "nozzle")
    assert advice.look_at == words.SEAT_LOOK_AT
    head.nozzle = (0.1, 0.0)
    session.mended("nozzle")
    assert goes_on(head, session)[0].kind == "done"


def test_a_machine_without_screws_and_slots_is_told_so() -> None:
    """No mount of mirror 3, nothing that moves: what is known is said, and nothing is promised."""
    session, head = Session.start(make_machine()), ExactHead(head_machine(), lens=(1.0, 0.0))
    session.refuse("lens")
    session.refuse("head")
    advice, _ = goes_on(head, session)
    assert (advice.kind, advice.cause) == ("stop", "no levers")
    assert advice.look_at == words.LEVER_LOOK_AT


def test_an_aligned_head_is_left_alone() -> None:
    """Marks that lie where they should: done, nothing turned, and said so; without one at the nozzle never."""
    session = Session.start(head_machine())
    session.bed_mark(0.0, 0.0, lowered=20.0, lens=True)
    session.bed_mark(0.0, 0.0, lowered=170.0, lens=True)
    assert session.head_advice().target == "nozzle"
    advice, session = played(ExactHead(head_machine()))
    assert advice.kind == "done"
    assert session.head_belief.rounds == 0
    assert "nothing had to be turned" in advice.why
    assert advice.clipped < 0.005


def test_what_was_good_is_asked_again_once_something_was_touched() -> None:
    """Done; then mirror 3 was bumped, or mirror 2 turned: marks come first again."""
    for touch in (
        lambda s: s.disturbed("mirror 3"),
        lambda s: s.turn(2, {"B": 0.2}),
        lambda s: s.shift("tube", up=1.0),
    ):
        _, session = played(ExactHead(head_machine()))
        touch(session)
        assert session.head_advice().kind == "shoot"
    head = ExactHead(head_machine())
    _, session = played(head)
    session.lock(3)
    for lowered in (20.0, 170.0) * 3:
        session.bed_mark(*head.on_card(lowered, lens=True), lowered=lowered, lens=True)
    assert session.head_advice().target == "nozzle"


@pytest.mark.parametrize(("off", "share"), [(0.3, 0.001), (0.9, 0.127), (1.2, 0.473)])
def test_what_the_nozzle_cuts_off_is_told(off: float, share: float) -> None:
    """Hole 2.5, s 8, f 50.8: the published shares (w 3.5, noncentral χ², derived), near enough for the usual beam of
    this machine, 3.2 mm at the lens, and a reading's doubt."""
    session = Session.start(head_machine())
    for _ in range(6):
        session.nozzle_mark(off, 0.0)
    assert session.head_advice().clipped == pytest.approx(share, abs=0.03)


def test_every_reason_is_one_plain_sentence() -> None:
    """Each kind of reason is said, and ends as a sentence; none is forgotten here, and no two are said alike."""
    now = outlook(Session.start(head_machine()).head_belief)
    told = [
        reasons.NozzleFirst(False),
        reasons.NozzleFirst(True),
        reasons.HeightNeeded(20.0, True, False),
        reasons.HeightNeeded(0.0, False, False),
        reasons.HeightNeeded(170.0, True, True),
        reasons.LensOut(1.2),
        reasons.LensOut(None),
        reasons.DriveOpen("B"),
        reasons.BadlySeated("nozzle", 1.4),
        reasons.BadlySeated("nozzle", None),
        reasons.BadlySeated("lens", 3.4),
        reasons.TooCloseToTell(now),
        reasons.LeansWithoutLens(now),
        *(reasons.OffBelow(now, part) for part in ("", "mirror 3", "lens", "nozzle")),
        reasons.Upright(now, True),
        reasons.Upright(now, False),
        reasons.Upright(now, True, as_it_is=True),
        reasons.NothingToTurn(now),
        reasons.HeadTooCoarse(now, 0),
        reasons.HeadTooCoarse(now, 3),
    ]
    assert {type(reason) for reason in told} == set(get_args(reasons.HeadReason))
    said = [words.why(reason, IN_MM) for reason in told]
    assert all(sentence.endswith(".") and sentence[0].isupper() for sentence in said)
    assert len(set(said)) == len(said)


def test_what_may_be_good_as_it_is_is_said_beside_what_is_done_about_it() -> None:
    """With the chance that the outlook gives, and why no mark comes first; nothing of it where it is surely out."""
    _, session = played(ExactHead(head_machine(), lens=(0.3, 0.0)))
    now = replace(outlook(session.head_belief), chance=0.36)
    said = [words.why(reasons.OffBelow(now, "", why), IN_MM) for why in get_args(reasons.NoMoreMarks)]
    assert all("It may be good as it is (36 %)." in each for each in said)
    assert len(set(said)) == len(said)
    assert "may be good" not in words.why(reasons.OffBelow(replace(now, chance=0.04), ""), IN_MM)


def test_the_pair_reaches_both_for_every_lens() -> None:
    """Turning and moving the lens together have the determinant −1 for every lens, wherever it hangs (derived)."""
    for focal, above, hangs in ((50.8, 8.0, 70.0), (38.1, 5.0, 38.1), (101.6, 20.0, 55.0)):
        layout = HeadLayout(head_machine(focal=focal, nozzle_distance=above), TUNING.head)
        lean, nozzle = layout.lean[0], layout.nozzle[0]
        turned = [rows[0] + rows[2] * hangs / 1000 for rows in (lean, nozzle)]  # slope +1 mrad, offset + hangs µm
        moved = [-rows[2] for rows in (lean, nozzle)]
        assert turned[0] * moved[1] - turned[1] * moved[0] == pytest.approx(-1.0)
