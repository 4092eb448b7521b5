"""The practice machine of a whole visit: what is wrong shows, what is done about it helps, replay tells the same."""

import math

import numpy as np
import pytest

from coach.errors import UnknownName
from coach.optics.heat import focus_moves
from coach.practice.begun import begun
from coach.practice.visit_bench import OLD_SHEET, VisitBench, fell_through
from coach.practice.visit_kinds import SCENARIOS, VISIT_KINDS
from coach.practice.visit_world import DEPTH, FOCAL, SHARPNESS, WATTS
from coach.session.document import Practice
from coach.session.session import Session
from coach.session.store import Found
from coach.session.summary import summary_of
from coach.steps.stored import session_words

SEEDS = range(3)
SOUND = ("visit-head", "visit-pointer", "visit-weak")
"""Machines that cut as they did, or nearly."""
SERVICE = ("visit-tube", "visit-supply")
"""What its owner does not mend."""


def bench_of(session: Session) -> VisitBench:
    assert session.practice is not None
    return VisitBench.after(session.machine, session.practice.seed, session.practice.kind, session.events)


def started(kind: str, seed: int = 1) -> Session:
    return begun(Practice(kind=kind, seed=seed))


def slowest(session: Session) -> float:
    """The slowest station's speed over the one it once had."""
    bench = bench_of(session)
    once = dict(zip(bench.once(), bench.world.speeds(sound=True), strict=True))
    return min(speed / once[name] for name, speed in bench.speeds().items())


def see_to(session: Session, cause: str) -> None:
    """What an owner does who found that."""
    if cause == "mirrors":
        for mirror in ("mirror 1", "mirror 2", "mirror 3"):
            session.care(mirror, "clean")
    elif cause == "lens":
        session.care("lens", "clean")
    else:
        session.check("water" if cause == "cooling" else cause, "bad")


@pytest.mark.parametrize("kind", [k for k in SCENARIOS if k not in (*SOUND, "visit-alignment", "visit-mixed")])
def test_what_is_wrong_shows_in_the_cuts_and_is_gone_once_it_was_seen_to(kind: str) -> None:
    """Every scenario loses a tenth and more somewhere; what an owner can mend cuts as once, the others do not."""
    for seed in SEEDS:
        session = started(kind, seed)
        assert slowest(session) < 0.9
        see_to(session, SCENARIOS[kind].wrong[0])
        assert (slowest(session) > 0.93) == (kind not in SERVICE)


@pytest.mark.parametrize("kind", ["visit-pointer", "visit-weak"])
def test_a_machine_that_is_only_marked_badly_cuts_as_it_did(kind: str) -> None:
    """Pointer and doses take nothing from a cut."""
    assert all(slowest(started(kind, seed)) > 0.95 for seed in SEEDS)


def test_a_bed_out_of_level_costs_what_the_defocus_costs() -> None:
    """Speed over that of the sound machine is (1/(1 + (Δ/z)²))^p with the gap's way off the middle's (derived)."""
    bench = bench_of(started("visit-bed"))
    gaps, machine = bench.world.gaps, bench.machine
    corner = next(s for s in machine.stations if s.name == "front-right")
    near, far = corner.x / machine.bed.width, 1 - corner.y / machine.bed.depth
    there = sum(
        gap * (near if "right" in name else 1 - near) * (far if "front" in name else 1 - far)
        for name, gap in gaps.items()
    )
    off = there - np.mean(list(gaps.values())) + bench.world.gauge_off
    off -= focus_moves(FOCAL, bench.world.absorbed, WATTS, 3.6)
    level = started("visit-bed")
    level.check("bed", "bad")
    share = bench.speeds()[corner.name] / bench_of(level).speeds()[corner.name]
    assert abs(off) > 0.5
    assert share == pytest.approx((1 / (1 + (off / DEPTH) ** 2)) ** SHARPNESS, rel=0.02)


def test_the_same_entries_show_the_same_also_after_an_undo() -> None:
    """Taking an entry back brings back what it mended, and the same events draw the same cuts."""
    session = started("visit-bed")
    before = bench_of(session)
    session.check("bed", "bad")
    assert bench_of(session).world.gaps != before.world.gaps
    session.undo()
    after = bench_of(session)
    assert after.world.gaps == before.world.gaps
    cuts = [[bench.just_through(s.name, sheet=9) for s in session.machine.stations] for bench in (before, after)]
    assert cuts[0] == cuts[1]


def test_no_two_sheets_cut_quite_alike_and_the_lines_say_between_what() -> None:
    """Sheets differ by some per cent about the true speed; the lines on both sides of it are the ones beside it."""
    bench = bench_of(started("visit-tube"))
    just = np.array([bench.just_through("middle", sheet=sheet) for sheet in range(2, 60)])
    assert np.mean(just) == pytest.approx(bench.speeds()["middle"], rel=0.02)
    assert 0.015 < np.std(np.log(just)) < 0.06
    lines = (10.0, 11.0, 12.1)
    assert [fell_through(lines, speed) for speed in (9.9, 11.0, 12.0, 13.0)] == [
        (None, 10.0),
        (11.0, 12.1),
        (11.0, 12.1),
        (12.1, None),
    ]


def test_a_film_on_mirror_1_takes_the_light_from_every_later_opening() -> None:
    """The same dose makes a smaller mark at the head, or none, until the mirror is wiped; mirror 1's is as ever."""
    seed = next(s for s in range(40) if "mirror 1" in bench_of(started("visit-mirrors", s)).dull)
    session = started("visit-mirrors", seed)

    def widths() -> list[float]:
        beam = bench_of(session).beam
        shots = [beam.pulse(310.0, 210.0, at, key=50, ms=90.0, power=20.0) for at in ("mirror 1", "head")]
        return [shot.width or 0.0 if shot else 0.0 for shot in shots]

    dull = widths()
    for mirror in bench_of(session).dull:
        session.care(mirror, "clean")
    wiped = widths()
    assert wiped[0] == dull[0]
    assert wiped[1] > dull[1] + 0.3


def test_a_mirror_that_was_out_sends_the_beam_elsewhere() -> None:
    """As one that was wiped in its place does not."""
    session = started("visit-mirrors")
    where = bench_of(session).beam.true_offsets()
    session.care("mirror 2", "clean")
    assert bench_of(session).beam.true_offsets() == where
    session.care("mirror 2", "clean", taken_out=True)
    moved = bench_of(session).beam.true_offsets()
    assert max(math.dist(where[name], moved[name]) for name in where) > 0.3


def test_a_pointer_comes_onto_the_mark_at_both_heights_by_its_own_screws() -> None:
    """Whoever follows the advice has it there within ten looks."""
    for seed in SEEDS:
        session = started("visit-pointer", seed)
        for _ in range(10):
            advice = session.pointer_advice()
            if advice.kind == "done":
                break
            right, back = bench_of(session).pointer.seen(advice.lowered, key=session.events[-1].id + 1)
            session.pointer(right=right, back=back, lowered=advice.lowered)
        assert session.pointer_advice().kind == "done"
        assert max(math.hypot(*bench_of(session).pointer.at(lowered)) for lowered in (0.0, 40.0)) < 1.0


def test_another_batch_is_called_so() -> None:
    """The sheet at hand is another one than the baseline's until the old one is taken."""
    session = started("visit-material")
    assert bench_of(session).sheet != OLD_SHEET
    session.check("material", "bad")
    assert bench_of(session).sheet == OLD_SHEET


def test_any_visit_is_one_of_them_and_the_seed_says_which() -> None:
    """Twenty seeds bring several scenarios, the same seed always the same."""
    drawn = [bench_of(started("visit", seed)).scenario for seed in range(20)]
    assert len({scenario.about for scenario in drawn}) > 5
    assert drawn == [bench_of(started("visit", seed)).scenario for seed in range(20)]


def test_a_kind_that_there_is_not_is_refused_in_a_sentence() -> None:
    """With those that there are."""
    with pytest.raises(UnknownName, match="There is no practice kind 'visit-nothing'") as refused:
        started("visit-nothing")
    assert all(kind in str(refused.value) for kind in VISIT_KINDS)


@pytest.mark.parametrize("kind", ["visit-bed", "yaw", "visit"])
def test_a_sessions_name_does_not_give_away_what_is_hidden(kind: str, tmp_path) -> None:
    """Where sessions are listed, and in the file's name; the kind stands in the file, to bring the same one back."""
    session = begun(Practice(kind=kind, seed=3))
    path = session.keep_new(tmp_path)
    listed = session_words(Found(path, summary_of(session._doc)))
    assert listed.startswith("practice of a visit, seed 3" if "visit" in kind else "practice, seed 3")
    trouble = kind.removeprefix("visit").lstrip("-") or "no trouble is named"
    assert trouble not in listed + path.name + session.title
    assert Session.load(path).practice.kind == kind
