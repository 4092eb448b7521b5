"""Done asks whether mirrors 1 and 2 are well hit, and only where that is not sure."""

import math
from dataclasses import replace

import numpy as np
import pytest
from machines import ExactMachine, make_machine, obey_exactly

from coach import Session
from coach.advice.advice import Advice
from coach.advice.mirror_words import slide
from coach.advice.mirrors import Face, faces
from coach.advice.reasons import AllCentred, MirrorAtEdge, MirrorUnsure
from coach.belief.belief import Belief
from coach.optics.mounts import side_sign
from coach.optics.trace import at_mirror1, at_mirror2
from coach.tuning import TUNING

PATH = {"mirror1_gap": 150.0, "mirror2_gap": 120.0, "mirror1": 25.0, "mirror2": 25.0}
MOVES = [{"part": "mirror 2", "right": 9.0}, {"part": "head", "up": 9.0, "back": 0.0}]
SIDES = ("left", "right")


def _machine(side: str = "left", **path: float):
    return make_machine(side, path={"side": side, **PATH, **path}, moves=MOVES)


def _aligned_by(session: Session, truth: ExactMachine, most: int = 60) -> list[Advice]:
    """Every advice, obeyed exactly, up to the end."""
    said = []
    for _ in range(most):
        said.append(session.advice())
        if said[-1].kind in ("done", "stop"):
            return said
        obey_exactly(session, truth, said[-1])
    raise AssertionError("no end")


def _at_mirrors(session: Session) -> list[str]:
    return [s.target for s in session.belief.round_sightings if s.target != "head"]


@pytest.mark.parametrize("side", SIDES)
def test_a_usual_machine_that_is_aligned_needs_no_pulse_at_its_mirrors(side: str) -> None:
    """Each station marked once in its middle, and once 0.4 mm off it: done, and nothing else was asked."""
    for off in (0.0, 0.4):
        session = Session.start(_machine(side))
        for station in session.machine.stations:
            session.mark(station.name, u=off, v=-off)
        assert session.advice().kind == "done"


@pytest.mark.parametrize("side", SIDES)
def test_a_mirror_hit_at_its_edge_is_no_done_though_every_station_is_centred(side: str) -> None:
    """The tube 7 mm off sideways, which mirror 2 can make up for: the beam then meets mirror 1, of 25 mm
    and so 8.8 mm wide to either side at 45°, 1.8 mm inside its edge, where Φ(−2·1.8/3) = 11 % of a beam of w = 3 mm
    passes beside it (Gaussian knife edge).  The coach asks for a mark there, for one more, and then says so."""
    machine = _machine(side)
    truth = ExactMachine(machine, {1: "push", 2: "push"}, {"tube_back": side_sign(machine.path.side) * 7.0})
    session = Session.start(machine)
    said = _aligned_by(session, truth)
    assert truth.worst() < machine.tolerance
    last = said[-1]
    assert (last.kind, last.cause) == ("stop", "edge")
    assert isinstance(last.reason, MirrorAtEdge)
    assert last.reason.mirror == 1
    assert last.reason.u == pytest.approx(at_mirror1(truth.state)[0], abs=0.2)
    assert last.reason.lost == pytest.approx(0.11, abs=0.02)
    asked = [
        advice.reason for advice in said if isinstance(advice.reason, MirrorUnsure) and advice.reason.mirror == 1
    ]
    assert [reason.again for reason in asked] == [False, True]
    assert all(reason.chance < 0.99 for reason in asked)


def test_a_mirror_that_is_left_so_is_done_with_what_it_costs() -> None:
    """ "Align to the best that can be had" after the stop: done, and the sentence names the mirror and the cost."""
    session = _stopped()
    session.best("edge")
    advice = session.advice()
    assert advice.kind == "done"
    assert isinstance(advice.reason, AllCentred)
    assert [hit.mirror for hit in advice.reason.at_edge] == [1]
    assert "Left as it is: mirror 1 is hit 7.0 mm right" in advice.why
    assert "about 11 % of the beam" in advice.why


def test_a_mirror_that_was_slid_is_marked_again_and_then_done() -> None:
    """Mended: marks at the stations, one at mirror 1 in its middle, and the job is done."""
    session = _stopped()
    session.mended("edge")
    for station in session.machine.stations:
        session.mark(station.name, u=0.0, v=0.0)
    for _ in range(4):
        advice = session.advice()
        if advice.kind != "shoot":
            break
        assert isinstance(advice.reason, MirrorUnsure)
        shot = advice.stations[0]
        session.mark(shot.name, u=0.1, v=0.0, x=shot.x, y=shot.y, target=shot.target)
    assert advice.kind == "done"
    assert "mirror 1" in _at_mirrors(session)


def _stopped() -> Session:
    """All stations in their middle, and mirror 1 marked 7 mm off its own, twice."""
    session = Session.start(_machine())
    for station in session.machine.stations:
        session.mark(station.name, u=0.0, v=0.0)
    for _ in range(2):
        session.mark("mirror 1", u=7.0, v=0.0, x=0.0, y=400.0, target="mirror 1", sd=0.1)
    session.mark("mirror 2", u=0.0, v=0.0, x=0.0, y=400.0, target="mirror 2", sd=0.1)
    assert session.advice().cause == "edge"
    return session


@pytest.mark.parametrize("side", SIDES)
def test_what_to_slide_brings_the_beam_to_the_middle_of_the_face_and_nothing_else(side: str) -> None:
    """The words' own amounts: along the face (no component along its normal, so that no beam moves), and as far that
    the ray, traced to the plane of the face, meets it in its middle."""
    machine = _machine(side)
    sign = side_sign(machine.path.side)
    truth = ExactMachine(machine, {}, {"tube_back": 5.0, "tube_up": 6.5})
    cases = {
        1: (at_mirror1(truth.state), np.array([sign, -1.0])),
        2: (at_mirror2(truth.state, 400.0), np.array([sign, 1.0])),
    }
    for mirror, ((u, v), normal) in cases.items():
        right, back, up = slide(MirrorAtEdge(mirror, machine.path.side, u, v, 0.1))
        assert np.dot([right, back], normal) == pytest.approx(0.0, abs=1e-9)
        # mirror 1's beam runs along X, 5 mm to the back; mirror 2's along Y, from where mirror 1 sent it
        met = back if mirror == 1 else right
        true = 5.0 if mirror == 1 else sign * 5.0
        assert met == pytest.approx(true, abs=1e-6)
        assert up == pytest.approx(6.5, abs=1e-6)


@pytest.mark.parametrize("mirror", [1, 2])
def test_the_chance_of_being_well_hit_is_what_random_beams_have(mirror: int) -> None:
    """Monte Carlo of the prior and of beliefs after marks: the share of 400 000 drawn beams that meet the face within
    its ellipse, at both ends of the gantry's travel for mirror 2, to 0.002."""
    rng = np.random.default_rng(5)
    for belief in _beliefs():
        face = faces(belief)[mirror - 1]
        rows = face.matrices(belief).reshape(-1, belief.layout.size)
        room = face.room(belief).ravel()
        drawn = []
        for weight, mean, cov in zip(
            belief.settled.weights, *belief.settled.mixture.project(rows).components, strict=True
        ):
            drawn.append(rng.multivariate_normal(mean, cov, round(400_000 * weight)))
        marks = np.concatenate(drawn) / room
        inside = (np.hypot(marks[:, 0::2], marks[:, 1::2]) <= 1.0).all(axis=1).mean()
        assert face.well_hit(belief) == pytest.approx(float(inside), abs=0.002)


def _beliefs() -> list[Belief]:
    session = Session.start(_machine())
    found = [session.belief]
    for station in session.machine.stations:
        session.mark(station.name, u=2.5, v=-1.0)
    session.shift("head", back=-2.5)
    found.append(session.belief)
    session.mark("mirror 2", u=5.6, v=1.0, x=0.0, y=0.0, target="mirror 2")
    session.mark("mirror 1", u=6.0, v=1.0, x=0.0, y=0.0, target="mirror 1")
    return [*found, session.belief]


def test_the_room_on_a_face_follows_from_the_knife_edge() -> None:
    """Mirror 1 of 25 mm, w = 3 mm: where the beam stands at the end of its room, ½·erfc(√2(a − d)/w) passes beside
    the edge, the share that is allowed.  20 mm and w = 3.5 mm: 3.96 % at 4 mm (Gaussian knife edge, recomputed)."""
    belief = Session.start(_machine()).belief
    face = Face.of(belief, 1)
    assert face.halves == pytest.approx([12.5 * math.cos(math.pi / 4), 12.5])
    a, d = face.halves[0], face.room(belief)[0, 0]
    share = TUNING.deciding.beside_a_mirror
    assert 0.5 * math.erfc(math.sqrt(2) * (a - d) / face.radii[0]) == pytest.approx(share)
    tuned = replace(
        TUNING, beam=replace(TUNING.beam, waist=3.5), deciding=replace(TUNING.deciding, beside_a_mirror=0.0396)
    )
    small = replace(belief, layout=replace(belief.layout, machine=_machine(mirror1=20.0)), tuning=tuned)
    assert Face.of(small, 1).room(small)[0, 0] == pytest.approx(4.0, abs=0.01)


@pytest.mark.parametrize("side", SIDES)
def test_mirror_2_is_looked_at_at_both_ends_of_the_gantrys_travel(side: str) -> None:
    """4 mm off with the gantry at the back, 6 mm half way and 8 mm in front, or the other way round: well at one end
    alone, so it is badly hit, and said where it is worse."""
    for offsets in ((4.0, 6.0, 8.0), (8.0, 6.0, 4.0)):
        session = Session.start(_machine(side))
        for y, u in zip((400.0, 200.0, 0.0), offsets, strict=True):
            session.mark("mirror 2", u=u, v=0.0, x=0.0, y=y, target="mirror 2", sd=0.1)
        face = faces(session.belief)[1]
        assert face.well_hit(session.belief) < 0.05
        assert face.as_hit(session.belief).u == pytest.approx(8.0, abs=0.3)


def test_a_diameter_that_nobody_measured_makes_it_less_sure() -> None:
    """Guessed, or never said: the same marks leave a smaller chance than where 25 mm were measured."""
    chances = []
    for machine in (
        _machine(),
        _machine().model_copy(update={"guessed": ("path.mirror1", "path.mirror2")}),
        make_machine(),
    ):
        session = Session.start(machine)
        for station in machine.stations:
            session.mark(station.name, u=3.0, v=0.0)
        chances.append([face.well_hit(session.belief) for face in faces(session.belief)])
    measured, guessed, unsaid = chances
    assert guessed == pytest.approx(unsaid)
    assert all(one < other - 0.0005 for one, other in zip(guessed, measured, strict=True))


def test_a_mark_at_a_mirror_that_contradicts_is_asked_for_once_more_and_no_oftener() -> None:
    """Every mark at mirror 2 is read 6 mm out, against all others: the coach does not go on asking there."""
    session = Session.start(_machine())
    for station in session.machine.stations:
        session.mark(station.name, u=0.1, v=-0.1)
    for y in (400.0, 0.0):
        session.mark("mirror 2", u=6.0 * (y > 0), v=0.0, x=0.0, y=y, target="mirror 2")
    asked = 0
    while (advice := session.advice()).kind == "shoot" and asked < 12:
        shot = advice.stations[0]
        session.mark(
            shot.name, u=6.0 * (shot.target != "head"), v=0.0, x=shot.x, y=shot.y, target=shot.target, wide=shot.wide
        )
        asked += 1
    assert asked <= 4
    assert advice.kind in ("done", "stop")
