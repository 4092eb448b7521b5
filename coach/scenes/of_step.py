"""Which picture belongs to a step, and the pictures that measuring and reports share with it."""

from dataclasses import replace
from typing import Literal, assert_never

from coach.advice.advice import Shot
from coach.machine import Machine
from coach.pictures.aperture import ApertureScene
from coach.pictures.gaps import GapsScene
from coach.pictures.marks_shown import ExpectedMark, MarkShown
from coach.pictures.mount import MountScene, PointShown
from coach.pictures.move import MoveScene
from coach.pictures.path import PathScene
from coach.pictures.view import Scene
from coach.practice.assist import BenchMark
from coach.reading.method import Given
from coach.reading.methods import OPTIONS
from coach.scenes.before_after import LIKELY, beside
from coach.scenes.of_bed import bed_scene
from coach.scenes.of_below import below_scene, head_scene
from coach.scenes.of_cuts import cut_bed_scene
from coach.scenes.seen_from import seen_from
from coach.scenes.visit_steps import optic_place, visit_scene
from coach.session.session import Session
from coach.shown import Wording
from coach.steps.about import ScrewTask, ShiftTask
from coach.steps.step import Step
from coach.steps.words import key_words, moved_words, shift_words

SCORCH = "scorch"
"""What the bench's mark is called in pictures."""
MARK_WIDTH = 2.0
"""mm; so wide a mark is drawn whose width was not measured."""
EXAMPLE_PLACE = (0.3, 0.25, 0.35)
"""u, v and width of a mark that stands for the one that is measured, as shares of the opening's radius."""


def scene_for(
    session: Session, step: Step, bench: BenchMark | None, wording: Wording, *, roomy: bool = True
) -> Scene | None:
    """The picture for this step, or None where words are enough; where room is short, without words beneath it."""
    match step.kind.picture:
        case "none":
            return None
        case "bed":
            done = beside(session) if step.key == "done" else None
            return done or bed_scene(session, step.shot)
        case "tape":
            assert step.shot is not None
            marks = (MarkShown(bench.u, bench.v, "blob", bench.diameter, SCORCH),) if bench else ()
            return aperture_scene(session.machine, step.shot, marks)
        case "mount":
            assert step.screw is not None
            return mount_scene(session.machine, step.screw, wording, caption=roomy)
        case "path":
            return path_scene(session, step, wording)
        case "check" | "optics" | "cuts":
            return visit_scene(session, step)
        case "head":
            return head_scene(session, step)
        case "below":
            return below_scene(session, step)
        case _:
            assert_never(step.kind.picture)


def second_scene(session: Session, step: Step, wording: Wording) -> Scene | None:
    """A smaller picture beside the first, where there is room: where on the machine, or where on the tape."""
    match step.kind.picture:
        case "mount":
            assert step.screw is not None
            return head_scene(session, step) if step.screw.mirror == 3 else part_scene(session, step.screw.mirror)
        case "bed" if step.shot is not None:
            return aperture_scene(session.machine, step.shot)
        case "tape":
            return bed_scene(session, step.shot)
        case "path" if step.advice is not None or step.shift is not None:
            return bed_scene(session, None)
        case "optics":
            return optic_place(session, step)
        case "cuts":
            return cut_bed_scene(session, step)
        case "below" if step.below is not None and step.below.target != "pointer":
            return head_scene(session, step)
        case "none" | "path" | "bed" | "check" | "head" | "below":
            return None
        case _:
            assert_never(step.kind.picture)


def part_scene(session: Session, mirror: int) -> PathScene:
    """Where mirror 1 or 2 is on the machine."""
    bed = session.machine.bed
    here: Literal[1, 2] = 1 if mirror == 1 else 2
    return PathScene(bed.width, bed.depth, session.machine.path.side, (bed.width / 2, bed.depth / 2), here, here)


def aperture_scene(
    machine: Machine, shot: Shot, marks: tuple[MarkShown, ...] = (), *, sticky: bool = False
) -> ApertureScene:
    """The tape of a shot, rim in view, with the mark that is expected on it; mirrored as seen from the sticky side.

    Where the mark could lie nearly anywhere no place is drawn for it: that would only cover what is to be seen.
    """
    readable = machine.tape.readable(shot.target, shot.wide)
    opening = machine.aperture.head if shot.target == "head" else 2 * readable
    doubt = max(LIKELY * shot.expected_sd, 0.1)
    u, v = -shot.expected_u if sticky else shot.expected_u, shot.expected_v
    expected = ExpectedMark(u, v, doubt, doubt) if doubt <= opening / 4 else None
    scene = ApertureScene(opening, readable, machine.tolerance, marks, expected, mirrored=sticky)
    view = 1.06 * opening / 2
    return replace(scene, view_radius=view if 1.05 * scene.reach() <= view else scene.whole)


def gaps_scene(
    tape: ApertureScene, mark: tuple[float, float, float] | None, entries: Given, *, asked: str
) -> GapsScene:
    """The gaps to a mark at (u, v) of that width, in mm; to one such as it might be while none was measured."""
    rim = tape.aperture / 2
    u, v, width = mark or (EXAMPLE_PLACE[0] * rim, EXAMPLE_PLACE[1] * rim, EXAMPLE_PLACE[2] * rim)
    to_edge = OPTIONS["to"].stands(entries).key == "edge"
    return GapsScene(replace(tape, expected=None, bare=True), u, v, width, to_edge, asked, example=mark is None)


def mount_scene(machine: Machine, task: ScrewTask, wording: Wording, *, caption: bool = True) -> MountScene:
    """The mount, and which of its screws turns which way."""
    one, two, three = (
        PointShown(p.name, p.x, p.y, p.kind, task.turns if p.name == task.screw else None)
        for p in machine.mount(task.mirror).points
    )
    goes = key_words(wording.turns(task.turns).direction)
    seen = seen_from(task.mirror, machine.path.side)
    return MountScene((one, two, three), (goes,) if caption and goes else (), seen)


def move_scene(machine: Machine, task: ShiftTask, wording: Wording) -> MoveScene:
    """Which part goes which way, and how far."""
    assert task.part != "lens"  # below the head: no business of this picture
    bed, flat = machine.bed, replace(task, up=0.0)
    up = moved_words("up", task.up, wording) if task.up else ""
    across = shift_words(flat, wording) if flat.right or flat.back else ""
    return MoveScene(
        bed.width,
        bed.depth,
        machine.path.side,
        task.part,
        task.right,
        task.back,
        task.up,
        flat_words=across,
        up_words=up,
    )


def shift_of(step: Step) -> ShiftTask | None:
    """What is moved at this step, or is about to be."""
    if step.shift is not None:
        return step.shift
    advice = step.advice
    if advice is None or not advice.part:
        return None
    return ShiftTask(advice.part, up=advice.up, right=advice.right, back=advice.back)


def path_scene(session: Session, step: Step, wording: Wording) -> PathScene | MoveScene:
    """The beam's path with the part or the leg in question, none where both mirrors are; a move with its arrows."""
    if (task := shift_of(step)) is not None:
        return move_scene(session.machine, task, wording)
    bed = session.machine.bed
    mirror: Literal[1, 2, 3] | None = None
    if step.advice is not None and len(step.advice.turns) == 1:
        mirror = 1 if step.advice.turns[0].mirror == 1 else 2
    leg: Literal[1, 2] | None = 1 if mirror == 1 else 2 if mirror == 2 else None
    if step.shot is not None and step.shot.target != "head":
        mirror = 1 if step.shot.target == "mirror 1" else 2
    middle, side = (bed.width / 2, bed.depth / 2), session.machine.path.side
    return PathScene(bed.width, bed.depth, side, middle, mirror, leg)
