"""Head, lens and nozzle as a part of the visit: where the steps lead, and their signs, on exactly traced heads."""

from math import hypot

import numpy as np
import pytest
from built_below import PULSED
from built_steps import built
from head_following import Exactly, end_of, follow_below
from heads import ExactHead, head_machine
from machines import make_machine
from sweeps import sampled
from visiting import at

from coach import Session
from coach.belief.chances import beyond
from coach.errors import InputError
from coach.head.expectation import expected
from coach.head.marks import HeadMark
from coach.machine import Machine
from coach.optics.below import slope_of
from coach.optics.mounts import PlateMotion
from coach.plain.step_lines import action_words
from coach.practice.demo import demo_machine
from coach.practice.head_bench import HeadBench
from coach.practice.head_zoo import HEAD_CASES
from coach.practice.head_zoo import head_machine as zoo_head
from coach.session.events import Plan
from coach.shown import IN_MM
from coach.steps.asked_figures import form_of
from coach.steps.gates import GATES
from coach.steps.perform import perform
from coach.steps.situation import situation
from coach.steps.stages.below import CARD


def begun(machine: Machine, part: str = "head") -> Session:
    """A visit in that part, all gates acknowledged."""
    session = Session.start(machine)
    session.begin(part)
    for gate in PULSED:
        session.gate(gate)
    return session


class Bench:
    """A practice head with rough hands and readings, to be followed; it knows nothing of what is believed."""

    def __init__(self, bench: HeadBench) -> None:
        self.bench, self.lowest = bench, bench.lowers

    def on_card(self, lowered: float, *, lens: bool, key: int) -> tuple[float, float] | None:
        return self.bench.bed_mark(lowered, lens=lens, key=key)

    def at_nozzle(self, *, key: int) -> tuple[float, float, bool] | None:
        return self.bench.nozzle_mark(key=key)

    def turn(self, screw: str, turns: float, *, key: int) -> None:
        self.bench.turn({screw: turns}, key=key)

    def move(self, part: str, up: float, right: float, back: float, *, key: int) -> None:
        if part == "lens":
            self.bench.move_lens(right, back, key=key)
        else:
            self.bench.move_head(up, back, key=key)


@pytest.mark.parametrize("heads", sampled([2, 12], 2))
def test_who_follows_the_steps_alone_ends_upright_and_through_the_nozzle(heads: int) -> None:
    """Rough practice heads, either side and every mount shape, judged on their truth: at most one is not good
    at "done"; none of them is led in circles."""
    good = []
    for seed in range(heads):
        machine = zoo_head(HEAD_CASES[0], seed)
        bench, session = HeadBench(machine, seed), begun(machine)
        step = end_of(session, Bench(bench))
        if step.key == "head-done":
            good.append(bench.good())
    assert len(good) >= 0.75 * heads
    assert sum(not each for each in good) <= 1


@pytest.mark.parametrize("side", ["left", "right"])
@pytest.mark.parametrize("drive", ["push", "pull"])
def test_the_large_words_turn_the_traced_beam_toward_the_nozzle(side: str, drive: str) -> None:
    """What stands in the headline alone ("clockwise") and in the figure beside it, done at the exactly traced head:
    all screws of the plan together bring the beam nearer to the nozzle's middle, or nearer to upright."""
    head = ExactHead(head_machine(side, drive=drive), drive=drive, mirror3=PlateMotion(5.0, -4.0))
    session = begun(head.machine)
    while at(session).key != "head-turn":
        follow_below(session, at(session), Exactly(head))
    before = hypot(*head.off_nozzle())
    while (step := at(session)).key == "head-turn":
        sign = {"clockwise": 1.0, "counterclockwise": -1.0}[step.action.split()[-1]]
        minutes = float(step.figure.split(" tick")[0])
        head.turn({step.action.split()[3]: sign * minutes / 60})
        perform(session, step, "turned")
    assert hypot(*head.off_nozzle()) < 0.6 * before


@pytest.mark.parametrize("side", ["left", "right"])
def test_the_large_words_move_the_lens_toward_an_upright_beam(side: str) -> None:
    """ "0.8 mm to the right and 0.5 mm to the front", done at the traced head: it leans less."""
    head = ExactHead(head_machine(side), lens=(-0.9, 0.6))
    session = begun(head.machine)
    while at(session).key != "head-shift":
        follow_below(session, at(session), Exactly(head))
    step, before = at(session), hypot(*head.lean())
    ways = {"right": (1.0, 0.0), "left": (-1.0, 0.0), "back": (0.0, 1.0), "front": (0.0, -1.0)}
    for piece in step.figure.split(" and "):
        amount, way = float(piece.split()[0]), ways[piece.split()[-1]]
        head.shift("lens", 0.0, amount * way[0], amount * way[1])
    assert hypot(*head.lean()) < 0.4 * before


@pytest.mark.parametrize("side", ["left", "right"])
def test_which_way_it_leans_is_said_as_it_is(side: str) -> None:
    """At the traced head, by the sentence alone."""
    head = ExactHead(head_machine(side), lens=(-0.9, 0.6))
    session = begun(head.machine)
    while at(session).key != "head-adjust":
        follow_below(session, at(session), Exactly(head))
    x, y = head.lean()
    (leans,) = (line for line in at(session).do if line.startswith("Leans"))
    assert f"° to the {'right' if x > 0 else 'left'}" in leans
    assert f"° to the {'back' if y > 0 else 'front'}" in leans


def test_a_lean_is_said_over_a_board() -> None:
    """1.13° over 6 mm is 0.12 mm (tangent: derived); the lens 1 mm beside the beam leans so much at f 50.8."""
    from coach.head.outlook import HeadOutlook
    from coach.steps.head_said import lean_sentence

    now = HeadOutlook(0.0, (1.13, 0.0), (0.1, 0.1), (0.0, 0.0), (0.1, 0.1), (0.0, 0.0), (0.1, 0.1), 0.0, 0.0, "")
    assert lean_sentence(now, IN_MM) == ("Leans 1.1° to the right (give or take 0.2°): 0.12 mm over a board of 6 mm.")


@pytest.mark.parametrize(("lens", "lowered"), [(False, 0.0), (False, 170.0), (True, 20.0), (True, 170.0)])
def test_no_pulse_leaves_the_card_that_is_asked_for(lens: bool, lowered: float) -> None:
    """However mirror 3 may stand beforehand, the mark lies beside the card with less than 1 % chance: slope times the
    way down from mirror 3, and the offset, against half of the card's side."""
    layout = (belief := begun(head_machine()).head_belief).layout
    way = (layout.tuning.mirror_distance + layout.lens.focal + lowered) / 1000
    rows = (layout.lean if lens else layout.slope) * way + layout.own(2)
    mean, cov = belief.bank.mixture.project(rows).moments
    assert float(beyond(mean[None], cov[None], CARD / 2)[0]) < 0.01


def test_two_heights_too_near_are_refused_with_the_height_that_it_takes() -> None:
    """Where it is typed, before anything is entered; a repeated height is a second reading and no mistake."""
    session = begun(head_machine())
    session.bed_mark(0.0, 0.0, lowered=20.0, lens=True)
    session.nozzle_mark(0.0, 0.0)
    perform(session, at(session), "ready")
    perform(session, at(session), "mark")
    step = at(session)
    (choice,) = (choice for choice in step.choices if choice.key == "whole")
    form = form_of(session, step, choice, IN_MM)
    with pytest.raises(InputError, match=r"only 15 mm apart.*at least 49 mm"):
        form.echo({"right": "1", "back": "0", "lowered": "35"})
    assert "the bed 120 mm below" in form.echo({"right": "0,2", "back": "0", "lowered": "120"})
    assert "the bed 20 mm below" in form.echo({"right": "0", "back": "0", "lowered": "20"})


def test_a_mark_far_from_where_it_is_expected_is_asked_about() -> None:
    """Enter alone keeps no doubtful entry: 15 mm from where the beam of a whole round stands."""
    session = begun(head_machine())
    session.nozzle_mark(0.0, 0.0)
    for lowered in (20.0, 170.0, 20.0):
        session.bed_mark(1.0, 1.0, lowered=lowered, lens=True)
    mean, cov = expected(session.head_belief, HeadMark("bed", 0.0, 0.0, 1.0, 170.0, True))
    assert mean == pytest.approx([1.0, 1.0], abs=0.1)
    assert np.sqrt(cov.diagonal()).max() < 0.5
    session.head_pulse("bed", "mark", lowered=170.0)
    step = at(session)
    form = form_of(session, step, step.choices[0], IN_MM)
    typed = {"right": "1", "back": "1", "lowered": "170"}
    assert not form.doubtful(typed)
    assert form.doubtful(typed | {"right": "16"})
    assert "Expected was 1.0 mm to the right" in form.echo(typed | {"right": "16"})


def test_lock_nuts_come_before_the_end_and_one_mark_confirms_them() -> None:
    """Turned screws: first the nuts, then one mark under the nozzle, then done; no word of them afterwards."""
    session = Session(built("head-locks")._doc)
    head = ExactHead(head_machine())
    assert at(session).action == "Tighten lock nuts"
    perform(session, at(session), "lock-three")
    asked = []
    while (step := at(session)).key != "head-done":
        asked.append(step.key)
        follow_below(session, step, Exactly(head))
    assert asked == ["nozzle-tape", "head-pulse", "nozzle-mark"]
    assert "Lock nuts" not in " ".join(at(session).do)


def test_a_flame_below_the_head_comes_before_everything() -> None:
    """And once it is out, a fresh card or tape; not the mark of the pulse that burned."""
    session = Session(built("head-flare")._doc)
    assert at(session).gate == "flame-out"
    session.opened()
    assert at(session).gate == "flame-out"
    perform(session, at(session), "acknowledge")
    while at(session).gate:
        perform(session, at(session), "acknowledge")
    assert at(session).key == "nozzle-tape"


def test_plans_of_the_head_and_of_the_beam_do_not_mix() -> None:
    """A plan for mirror 3 that was left half done is no business of the beam's path, and is gone on with later."""
    session = Session(built("head-turn")._doc)
    screw = at(session).screw
    session.begin("beam path")
    session.gate("tape")
    assert at(session).key == "go"
    session.begin("head")
    assert at(session).screw == screw


@pytest.mark.parametrize("name", ["screw", "head-turn"])
def test_plain_lines_say_which_way_a_screw_is_turned(name: str) -> None:
    """In a word, beside the amount: nobody sees a headline there."""
    step = at(built(name))
    way = "clockwise" if step.screw.turns > 0 else "counterclockwise"
    assert f", {way}, " in action_words(step)


def test_a_machine_without_a_pointer_says_so_once() -> None:
    """One answer, kept with the visit; the part counts as left out."""
    session = begun(head_machine(), "pointer")
    perform(session, at(session), "no-pointer")
    assert at(session).key == "next-part"
    assert "no pointer" in session.effective[-1].why


def test_a_combiner_that_was_moved_leads_back_to_the_beam() -> None:
    """It moves the beam (1.47 mm for 3 mm of zinc selenide at 45°: derived): marks come again."""
    assert "1.5 mm" in " ".join(at(built("pointer-turn")).do)
    session = Session(built("pointer-beam")._doc)
    perform(session, at(session), "to-beam")
    session.gate("tape")
    assert at(session).key == "go"


def test_without_a_described_mount_that_is_said_and_the_way_to_describe_it() -> None:
    """No turn is invented: the lens alone moves, and where it cannot, that is a stop."""
    assert any("not in this machine's profile" in line for line in at(built("no-levers")).do)
    head = Exactly(ExactHead(head_machine(), lens=(1.2, 0.0)))
    session = begun(demo_machine())
    assert at(session).action == "Mirror 3: not described"
    perform(session, at(session), "undescribed")
    while at(session).key not in ("head-adjust", "head-stop"):
        follow_below(session, at(session), head)
    assert not any(mount.mirror == 3 for mount in session.machine.mounts)
    assert at(session).head.part == "lens"
    assert any("not in this machine's profile" in line for line in at(session).do)


def test_a_head_that_nobody_described_is_described_in_its_part() -> None:
    """What is described then holds at once: mirror 3's screws are told where its beam leans."""
    session = begun(make_machine())
    perform(session, at(session), "describe-head", machine=head_machine())
    assert at(session).key == "nozzle-tape"
    head = Exactly(ExactHead(head_machine(), mirror3=PlateMotion(5.0, -4.0)))
    while at(session).key != "head-adjust":
        follow_below(session, at(session), head)
    assert at(session).action == "Adjust mirror 3"


def test_after_a_resume_the_card_is_put_in_place_again() -> None:
    """ "In place" was said; then the program was closed and opened: nobody knows what happened meanwhile."""
    session = Session(built("head-pulse")._doc)
    assert at(session).key == "head-pulse"
    session.opened()
    for gate in GATES:
        session.gate(gate.name)
    assert at(session).key == "nozzle-tape"


def test_lean_limits_are_those_of_the_advice() -> None:
    """Done is said of a beam that leans less than 0.3°."""
    head = ExactHead(head_machine(), mirror3=PlateMotion(5.0, -4.0), lens=(0.5, -0.4))
    session = begun(head.machine)
    assert end_of(session, Exactly(head)).action == "Done: beam upright"
    assert hypot(*head.lean()) < slope_of(0.3)
    assert hypot(*head.off_nozzle()) < 0.2


def test_a_plan_below_the_head_is_not_carried_out_along_the_beam() -> None:
    """A screw of mirror 1 or 2 waits while mirror 3's are planned: back at the beam's path it is that screw still."""
    session = built("screw")
    plan = next(event for event in reversed(session.effective) if isinstance(event, Plan))
    newest = session.effective[-1].id + 1
    below = plan.model_copy(update={"id": newest, "below": True, "turns": {"3": {"A": 0.1}}, "part": ""})
    waits = situation(session.effective)
    assert waits is not None
    assert waits.screw is not None
    assert waits.screw.mirror in (1, 2)
    assert situation((*session.effective, below)) == waits
