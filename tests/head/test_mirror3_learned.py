"""What a session taught about mirror 3's screws is kept with the machine and starts the next one."""

from datetime import date, timedelta
from functools import lru_cache
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from heads import ExactHead, goes_on, head_machine

from coach import Machine, Session
from coach.describing.from_machine import describe
from coach.describing.profile import machine_of
from coach.head.belief import HeadBelief
from coach.head.layout import FIRST_SCREW
from coach.history.taught import mount_lines
from coach.optics.mounts import PlateMotion
from coach.session.store import Store
from coach.steps.finish import keep_learned
from coach.tuning import TUNING

TODAY = date(2026, 3, 1)
OUT: dict[str, Any] = {"mirror3": PlateMotion(4.0, -5.0), "lens": (0.6, -0.5), "hangs": 95.0}


def taught(drive: str = "unknown") -> tuple[Session, ExactHead]:
    """A head far out, its screws pulling, led to its end by the letter; the machine said `drive` of them."""
    head = ExactHead(head_machine(drive=drive), "pull", **OUT)
    session = Session.start(head.machine)
    ended, _ = goes_on(head, session)
    assert ended.kind == "done"
    return session, head


def screws_of(belief: HeadBelief) -> tuple[np.ndarray, np.ndarray]:
    """Mean and covariance of the screws' answers under the likelier drive."""
    mean, cov = belief.bank.likelier_drive().mixture.moments
    return mean[FIRST_SCREW:], cov[FIRST_SCREW:, FIRST_SCREW:]


def test_the_next_session_begins_with_what_the_last_one_learned(tmp_path: Path) -> None:
    """Through the file: the answers are the learned ones, the drive is known, and doubt is added for what may have
    changed at once (`prior.forget_floor` of each answer, common practice)."""
    session, _ = taught()
    machine = session.learned()
    machine.save(tmp_path / "m.toml")
    again = HeadBelief.initial(Machine.load(tmp_path / "m.toml"), session.created.date())
    before, cov = screws_of(session.head_belief)
    mean, doubt = screws_of(again)
    assert mean == pytest.approx(before, abs=1e-5)
    assert np.diag(doubt) == pytest.approx(np.diag(cov) + (TUNING.prior.forget_floor * before) ** 2, abs=1e-5)
    assert again.bank.pushes < 0.01
    assert session.machine.mount(3).learned is None
    assert [mount.mirror for mount in machine.mounts if mount.learned] == [3]


def test_a_second_time_it_goes_faster() -> None:
    """The same head out the same way: nothing has to be tried out, and no more is turned and moved than at first."""
    session, head = taught()
    first = sum(event.kind in ("turn", "shift") for event in session.effective)
    again = ExactHead(session.learned(), "pull", **OUT)
    second = Session.start(again.machine)
    ended, followed = goes_on(again, second)
    assert ended.kind == "done"
    assert sum(advice.kind in ("turn", "shift") for advice in followed) < first
    turns = [advice.turns[0].screws for advice in followed if advice.kind == "turn"]
    assert turns
    exact = ExactHead(again.machine, "pull", **OUT)
    before = np.hypot(*exact.slope())
    exact.turn(turns[0])
    assert np.hypot(*exact.slope()) < 0.35 * before
    assert head.drive == "pull"


def test_a_screw_that_was_not_turned_teaches_nothing() -> None:
    """Marks alone leave the mount as it was described."""
    session = Session.start(head_machine())
    for lowered in (0.0, 120.0):
        session.bed_mark(0.3, 0.2, lowered=lowered)
    assert session.learned() == session.machine


def test_lessons_grow_old() -> None:
    """Three years later every answer is doubted more, and the drive no less surely than at first."""
    machine = taught()[0].learned()
    new, old = (HeadBelief.initial(machine, day) for day in (date.today(), date.today() + timedelta(days=3 * 365)))
    assert (np.diag(screws_of(old)[1]) > np.diag(screws_of(new)[1])).all()
    assert new.bank.pushes < old.bank.pushes <= 0.5


@lru_cache
def as_learned() -> Machine:
    """The machine with what was seen of its mount."""
    return taught()[0].learned()


@pytest.mark.parametrize(
    ("key", "text", "kept"),
    [
        ("name", "Barn laser", True), ("lens.focal", "63.5", True), ("lens.mirror_distance", "95", True),
        ("mounts.1.arm", "33", True), ("mounts.3.arm", "33", False), ("mounts.3.drive", "push", False),
        ("mounts.3.thread", "M5", False), ("path.side", "right", False),
    ],
)  # fmt: skip
def test_they_stay_with_a_mount_that_is_described_as_it_was(key: str, text: str, kept: bool) -> None:
    """As with mirrors 1 and 2; a way down that was measured since says nothing against what was seen."""
    changed = machine_of(describe(as_learned()).answered(key, text))
    assert (changed.mount(3).learned is not None) == kept


def test_an_older_file_opens_and_its_lesson_of_three_numbers_tells_nothing() -> None:
    """Nobody used one for mirror 3, and no coach wrote one; five numbers for each screw fit no mount."""
    table = head_machine().to_table()
    table["mounts"][2]["learned"] = {
        "on": "2026-01-05", "push": 0.9, "mean": [9.0, 1.0, 0.1] * 2, "cov": np.eye(6).tolist(),
    }  # fmt: skip
    older = HeadBelief.initial(Machine.model_validate(table), TODAY)
    assert screws_of(older)[0] == pytest.approx(screws_of(HeadBelief.initial(head_machine(), TODAY))[0])
    table["mounts"][2]["learned"] |= {"mean": [1.0] * 10, "cov": np.eye(10).tolist()}
    with pytest.raises(ValueError, match="does not fit this mount's number of screws"):
        Machine.model_validate(table)


def test_it_is_kept_with_the_machine_at_the_end_of_the_job(tmp_path: Path) -> None:
    """The lesson, and that the lens tube cannot be moved; said once, and heeded by the next session's advice."""
    store = Store(tmp_path)
    path = store.save_machine(head_machine(drive="unknown"))
    head = ExactHead(Machine.load(path), "pull", **OUT)
    session = Session.start(head.machine)
    session.keep_in(tmp_path / "sessions" / "s.toml")
    session.refuse("lens")
    goes_on(head, session)
    said = keep_learned(tmp_path, session)
    assert "about the screws is kept in" in said
    assert "That the lens tube cannot be moved is kept there too" in said
    stored = Machine.load(path)
    assert stored.mount(3).learned is not None
    assert stored.lens is not None
    assert stored.lens.reach == 0.0
    assert "taught nothing new" in keep_learned(tmp_path, session)
    next_head = ExactHead(stored, "pull", **OUT)
    _, followed = goes_on(next_head, Session.start(stored))
    assert not [advice for advice in followed if advice.part == "lens"]


def test_a_tube_that_goes_only_so_far_is_moved_no_farther() -> None:
    """0.2 mm each way, the lens a millimetre off: no single move is longer."""
    head = ExactHead(head_machine(reach=0.2), lens=(1.0, 0.0))
    session = Session.start(head.machine)
    followed = goes_on(head, session)[1]
    moved = [advice for advice in followed if advice.part == "lens"]
    assert all(max(abs(advice.right), abs(advice.back)) <= 0.2 + 1e-9 for advice in moved)
    free = goes_on(ExactHead(head_machine(), lens=(1.0, 0.0)), Session.start(head_machine()))[1]
    assert max(abs(advice.right) for advice in free if advice.part == "lens") > 0.2


def test_the_shell_tells_which_way_mirror_3_sends_the_beam() -> None:
    """To the right and to the back, by the exact trace of the head that taught it; mirrors 1 and 2 say "up"."""
    session, head = taught()
    lines = mount_lines(session.learned().mount(3))
    assert "a clockwise turn pulls the plate" in lines[0]
    for line, screw in zip(lines[1:], ("B", "C"), strict=True):
        before = np.array(head.slope())
        head.turn({screw: 0.01})
        right, back = (np.array(head.slope()) - before) / 0.01
        told = [float(word) for word in line.split() if word[0] in "+-"]
        assert told == pytest.approx([right, back], abs=0.15 * np.hypot(right, back))
        assert "to the back" in line
