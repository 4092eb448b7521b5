"""The current step of a session: computed from its events and the advice, never stored."""

from dataclasses import replace

from coach.advice import words
from coach.advice.advice import Advice, Shot
from coach.session.session import Session
from coach.shown import show_axes, show_degrees, show_head, show_length, show_text, show_turns
from coach.steps.afterwards import after_screw, after_shift
from coach.steps.cautions import cautions_for
from coach.steps.news import news
from coach.steps.situation import Situation, situation
from coach.steps.step import Choice, ScrewTask, ShiftTask, Step

OUTCOMES = (
    Choice("mark", "There is a mark"),
    Choice("nothing", "No mark at all"),
    Choice("flare", "Flame or flare-up"),
)
MEASURED = Choice("measured", "Measure the mark", wants="reading")
ELSEWHERE = (Choice("finish", "It is something else: close this session"),)
MISSED = Choice("missed", "Treat it as missed the tape")


def current_step(session: Session) -> Step:
    """What the person should do now."""
    where = situation(session.effective)
    match where.key:
        case "safety" | "question" | "clean" | "tape" | "flare":
            return _gate_step(where)
        case "pulse" | "nothing" | "measure":
            return _shot_step(session, where)
        case "screw":
            assert where.screw is not None
            return _screw_step(where.screw, show_text(where.why), after_screw(session.belief, where.screw))
        case "move":
            assert where.shift is not None
            return _move_step(where.shift, show_text(where.why), after_shift(session.belief, where.shift))
        case _:
            return replace(_advised_step(session.advice()), news=news(session))


def _gate_step(where: Situation) -> Step:
    gate = where.gate
    assert gate is not None
    return Step(
        key=gate.step,
        title={"safety": "Safety", "question": "Before blaming the beam", "clean": "Clean the optics"}.get(
            gate.step, "Tape" if gate.step == "tape" else "Flare-up"
        ),
        action=gate.title,
        figure="",
        do=(gate.text,),
        why="",
        cautions=cautions_for(gate.step),
        choices=(Choice("acknowledge", gate.confirm), *(ELSEWHERE if gate.step == "question" else ())),
        gate=gate.name,
        shot=where.shot,
    )


def _shot_step(session: Session, where: Situation) -> Step:
    shot = _with_expectation(session, where.shot)
    if where.key == "pulse":
        return _pulse_step(shot)
    if where.key == "nothing":
        return _nothing_step(shot)
    return _measure_step(shot)


def _pulse_step(shot: Shot) -> Step:
    return Step(
        "pulse",
        f"Pulse at {shot.name}",
        "PULSE ONCE",
        shot.name,
        ("One short pulse at the lowest power that marks. Let go at once. Watch the tape.", "Then say what you see."),
        _expected_words(shot),
        cautions_for("pulse"),
        OUTCOMES,
        shot=shot,
    )


def _nothing_step(shot: Shot) -> Step:
    return Step(
        "nothing",
        f"No mark at {shot.name}",
        "A LITTLE MORE",
        shot.name,
        (
            "Make the next pulse a little longer or a little stronger: one small step, then say what you see.",
            "After two or three steps without a mark, treat it as missed: the mark lies outside the tape.",
        ),
        "A pulse that was too weak leaves nothing; so does one that missed the tape.",
        cautions_for("nothing"),
        (*OUTCOMES, MISSED),
        shot=shot,
    )


def _measure_step(shot: Shot) -> Step:
    return Step(
        "measure",
        f"Measure at {shot.name}",
        "MEASURE THE MARK",
        shot.name,
        (
            f"At {shot.name} ({place_words(shot)}): leave the tape in place or peel it off.",
            "Measure where the mark lies against the imprint of the rim.",
        ),
        _expected_words(shot),
        cautions_for("measure"),
        (MEASURED, Choice("missed", "There was no mark after all")),
        shot=shot,
    )


def _with_expectation(session: Session, shot: Shot | None) -> Shot:
    assert shot is not None
    mean, cov = session.belief.expected(shot.x, shot.y, shot.target)
    sd = float(max(cov[0, 0], cov[1, 1]) ** 0.5)
    return Shot(shot.name, shot.x, shot.y, shot.target, float(mean[0]), float(mean[1]), sd)


def place_words(shot: Shot) -> str:
    """Where the head goes, in words."""
    if shot.target == "mirror 2":
        return "tape over mirror 2's own opening, gantry at the very back"
    return f"head at {show_head(shot.x, shot.y)}"


def _expected_words(shot: Shot) -> str:
    return f"Expected {words.expected_words(shot)}."


def _screw_step(task: ScrewTask, why: str, then: str) -> Step:
    said = show_turns(task.turns)
    amount = said.ascii.removesuffix(" turn")
    direction = said.direction.replace("COUNTERC", "COUNTER-C")
    return Step(
        "screw",
        f"Mirror {task.mirror}: screw {task.screw} ({task.number} of {task.of})",
        f"MIRROR {task.mirror} SCREW {task.screw} {amount} {direction}",
        f"{said.fraction} {said.direction.lower()}",
        (
            f"As seen facing the screw heads, behind the mirror: {clock_face_words(task.turns)}.",
            "Slacken a lock nut first; then say what you really turned.",
            *filter(None, (then,)),
        ),
        why,
        cautions_for("screw"),
        (Choice("turned", "Turned as told"), Choice("turned-otherwise", "Turned differently", wants="turns")),
        screw=task,
    )


def clock_face_words(turns: float) -> str:
    """A turn as something to picture: "22.5°, or 4 minutes on a clock's face"."""
    minutes = abs(turns) * 60
    shown = f"{minutes:.0f}" if minutes >= 1 else f"{minutes:.1f}"
    return f"{show_degrees(turns)}, or {shown} minute{'' if shown == '1' else 's'} on a clock's face"


def _move_step(task: ShiftTask, why: str, then: str) -> Step:
    way = shift_words(task)
    return Step(
        "move",
        f"Move {_named(task.part)}",
        f"MOVE {task.part.upper()}",
        way,
        (
            f"Move {_named(task.part)}: {way}, as seen from the front, without tilting it.",
            "Say what you really moved.",
            *filter(None, (then,)),
        ),
        why,
        cautions_for("move"),
        (Choice("shifted", "Moved as told"), Choice("shifted-otherwise", "Moved differently", wants="shift")),
        shift=task,
    )


def _named(part: str) -> str:
    return part if part[-1].isdigit() else f"the {part}"


def shift_words(task: ShiftTask) -> str:
    """A shift's amounts in words: "1.2 mm up and 0.4 mm to the front"."""
    parts = []
    for amount, plus, minus in (
        (task.up, "up", "down"),
        (task.right, "to the right", "to the left"),
        (task.back, "to the back", "to the front"),
    ):
        if amount:
            parts.append(f"{show_length(abs(amount))} {plus if amount > 0 else minus}")
    return " and ".join(parts) or "not at all"


def turn_words(turns: float) -> str:
    """A turn in words: "⅛ turn clockwise"."""
    words = show_turns(turns)
    return f"{words.fraction} {words.direction.lower()}".strip()


def _advised_step(advice: Advice) -> Step:
    match advice.kind:
        case "shoot":
            return _go_step(advice)
        case "turn" | "shift":
            return _adjust_step(advice)
        case "done":
            return Step(
                "done",
                "Every station is centred",
                "DONE: STOP TURNING",
                f"worst about {show_length(advice.now.worst)}",
                (
                    "Lock nuts: tighten one mirror's at a time and say so; it moves a little, so marks confirm it.",
                    "Then take all tape off, covers, interlocks and settings back, and make a test cut.",
                ),
                advice.why,
                cautions_for("done"),
                (Choice("lock", "Lock nuts of a mirror tightened", wants="mirror"), Choice("finish", "Finish")),
                advice=advice,
            )
        case _:
            return Step(
                "stop",
                "No screw will help",
                "STOP TURNING",
                f"cause: {advice.cause}",
                tuple(f"Look at: {thing}." for thing in advice.look_at),
                advice.why,
                cautions_for("stop"),
                (Choice("finish", "Finish"),),
                advice=advice,
                look_at=advice.look_at,
            )


def _go_step(advice: Advice) -> Step:
    shot = advice.stations[0]
    where = "mirror 2's own tape" if shot.target == "mirror 2" else shot.name
    tape = (
        "Wide fresh tape over mirror 2's opening."
        if shot.target == "mirror 2"
        else "Fresh tape on the head's opening."
    )
    return Step(
        "go",
        f"Go to {where}",
        f"GO TO {shot.name.upper()}",
        "  ".join(show_axes(shot.x, shot.y)),
        (f"Move: {place_words(shot)}.", f"{tape} Press its rim in."),
        advice.why,
        cautions_for("go"),
        (Choice("arrived", "There, fresh tape on"),),
        advice=advice,
        shot=shot,
    )


def _adjust_step(advice: Advice) -> Step:
    if advice.kind == "shift":
        task = ShiftTask(advice.part, advice.up, advice.right, advice.back)
        action, figure = f"MOVE {advice.part.upper()}", shift_words(task)
        do: tuple[str, ...] = (f"Move the {advice.part} {figure}.",)
    else:
        mirrors = " + ".join(str(turn.mirror) for turn in advice.turns)
        plural = "S" if len(advice.turns) > 1 else ""
        count = sum(len(turn.screws) for turn in advice.turns)
        action, figure = f"ADJUST MIRROR{plural} {mirrors}", f"{count} screw{'s' if count > 1 else ''}"
        do = tuple(
            f"Mirror {turn.mirror}, screw {name}: {turn_words(amount)}"
            for turn in advice.turns
            for name, amount in turn.screws.items()
        )
    return Step(
        "adjust",
        "Adjust",
        action,
        figure,
        do,
        advice.why,
        cautions_for("adjust"),
        (Choice("start", "Start, one at a time" if sum(len(t.screws) for t in advice.turns) > 1 else "Start"),),
        advice=advice,
    )
