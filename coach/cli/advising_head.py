"""`advise-head` and `advise-pointer`: the next action below mirror 3, with its reason, its doubt and the cautions.

With --json, one object with these keys (docs/guide.md):

    session      the session's file
    kind         "shoot", "turn", "shift", "done" or "stop"; of the pointer "look", "turn" or "done"
    why          one plain sentence
    target       shoot: "bed" or "nozzle"; else ""
    lowered      mm below the bed's usual height
    lens         shoot: whether lens and nozzle are in
    turns        turn: {screw: turns} of mirror 3; clockwise positive
    shift        shift: {part, up, right, back}, mm in the machine's frame; else null
    cause        stop: why; else ""
    look_at      stop: what to look at, likeliest first
    lean         {right, back, sd_right, sd_back}: degrees by which the focused beam leans
    nozzle       {right, back, sd_right, sd_back}: mm, the beam less the nozzle's middle
    clipped      {share, sd}: the fraction of the beam that the nozzle cuts off
    chance       that both are good
    suspect      what is surely out: "mirror 3", "lens", "nozzle" or ""
    do           before a turn, and at lock nuts that are slack at the end, what is done; else empty
    safety       the cautions that belong to this action

Of the pointer besides kind, why, lowered and safety: `move`, {right, back} in mm, where its spot has to go; `angle`,
{right, back} in degrees between pointer and beam, null while only one height was looked at.
"""

from argparse import Namespace
from typing import Any, assert_never

from coach.cli.out import number, say, say_json
from coach.cli.where import session_of
from coach.cli.words import screw_words
from coach.head.advice import HeadAdvice
from coach.head.pointer import PointerAdvice
from coach.session.session import Session
from coach.shown import IN_MM
from coach.steps.about import BelowShot, ShiftTask
from coach.steps.head_forms import expected_words, height_words
from coach.steps.head_said import clipped_sentence, lean_sentence
from coach.steps.keys import StepKey
from coach.steps.locks import at_the_nuts, loose_locks, tighten_words
from coach.steps.stages.head import STOPS
from coach.steps.table import cautions_for
from coach.steps.words import shift_words


def advise_head(arguments: Namespace) -> int:
    """Say what to do next about mirror 3, lens and nozzle; enters nothing."""
    session = session_of(arguments)
    advice = session.head_advice()
    safety = [caution.text for caution in cautions_for(_carried_out(advice))]
    if arguments.json:
        say_json(_as_json(session, advice, safety))
        return 0
    known = bool(session.head_belief.marks) or bool(session.head_belief.rounds)
    stands = (lean_sentence(advice.now, IN_MM), clipped_sentence(advice.now, IN_MM)) if known else ()
    expects = _expected(session, advice)
    lines = [
        *_action(advice),
        *(f"Do: {words}" for words in _to_do(session, advice)),
        f"Why: {advice.why}",
        *([f"Now: {' '.join(stands)}"] if stands else []),
        *([f"Mark to expect: {expects}"] if expects else []),
        *(f"Safety: {text}" for text in safety),
    ]
    say("\n".join(lines))
    return 0


def advise_pointer(arguments: Namespace) -> int:
    """Say what to do next about the pointer; enters nothing."""
    session = session_of(arguments)
    advice = session.pointer_advice()
    at: dict[str, StepKey] = {"look": "pointer-card", "turn": "pointer-turn", "done": "pointer-done"}
    safety = [caution.text for caution in cautions_for(at[advice.kind])]
    if arguments.json:
        angle = advice.angle
        say_json(
            {
                "session": str(session.path),
                "kind": advice.kind,
                "why": advice.why,
                "lowered": number(advice.lowered),
                "move": {"right": number(advice.right), "back": number(advice.back)},
                "angle": {"right": number(angle[0]), "back": number(angle[1])} if angle else None,
                "safety": safety,
            }
        )
        return 0
    say("\n".join([_pointed(advice), f"Why: {advice.why}", *(f"Safety: {text}" for text in safety)]))
    return 0


def _pointed(advice: PointerAdvice) -> str:
    match advice.kind:
        case "look":
            return f"LOOK: a fresh mark, then the pointer's spot beside it, {height_words(advice.lowered, IN_MM)}."
        case "turn":
            goes = shift_words(ShiftTask("lens", 0.0, advice.right, advice.back), IN_MM)
            at = height_words(advice.lowered, IN_MM)
            return f"TURN the pointer's own screws until its spot has gone {goes}, {at}."
        case "done":
            return "DONE: the pointer lies on the mark at both heights."
        case _:
            assert_never(advice.kind)


def _carried_out(advice: HeadAdvice) -> StepKey:
    """The step whose cautions belong to that advice."""
    match advice.kind:
        case "shoot":
            return "head-pulse"
        case "turn":
            return "head-turn"
        case "shift":
            return "head-shift"
        case "done":
            return "head-done"
        case "stop":
            return "head-stop"
        case _:
            assert_never(advice.kind)


def _action(advice: HeadAdvice) -> list[str]:
    match advice.kind:
        case "shoot" if advice.target == "nozzle":
            return ["SHOOT: one short pulse on tape under the nozzle, lens and nozzle in."]
        case "shoot":
            lens = "lens and nozzle in" if advice.lens else "lens and nozzle out"
            at = height_words(advice.lowered, IN_MM)
            return [f"SHOOT: one short pulse on a card on the bed, {at}, {lens}; the head is not moved between two."]
        case "turn":
            (turn,) = advice.turns
            return [f"TURN mirror 3: {screw_words(turn.screws)}, facing the screw heads from outside the head."]
        case "shift":
            assert advice.part
            task = ShiftTask(advice.part, advice.up, advice.right, advice.back)
            return [f"SHIFT: move the {advice.part} {shift_words(task, IN_MM)}, without tilting it."]
        case "done":
            return ["DONE: the beam is upright and passes the nozzle's middle."]
        case "stop":
            looks = (f"Look at: {thing}." for thing in advice.look_at)
            return [f"STOP ({advice.cause}): {STOPS[advice.cause][0]}.", *looks]
        case _:
            assert_never(advice.kind)


def _to_do(session: Session, advice: HeadAdvice) -> tuple[str, ...]:
    """Of turns, and at the end, what is done at mirror 3's lock nuts, in the words of the steps."""
    if advice.kind == "turn":
        return at_the_nuts(session, advice.turns)
    slack = tuple(mirror for mirror in loose_locks(session) if mirror == 3)
    return (f"{tighten_words(slack)}; then a mark under the nozzle.",) if advice.kind == "done" and slack else ()


def _expected(session: Session, advice: HeadAdvice) -> str:
    if not advice.target:
        return ""
    return expected_words(session, BelowShot(advice.target, advice.lowered, advice.lens), IN_MM)


def _as_json(session: Session, advice: HeadAdvice, safety: list[str]) -> dict[str, Any]:
    now = advice.now
    shift = {"part": advice.part, "up": advice.up, "right": advice.right, "back": advice.back}
    return {
        "session": str(session.path),
        "kind": advice.kind,
        "why": advice.why,
        "target": advice.target,
        "lowered": number(advice.lowered),
        "lens": advice.lens,
        "turns": {name: turns for turn in advice.turns for name, turns in turn.screws.items()},
        "shift": shift if advice.part else None,
        "cause": advice.cause,
        "look_at": list(advice.look_at),
        "lean": _pair(now.lean, now.lean_sd),
        "nozzle": _pair(now.nozzle, now.nozzle_sd),
        "clipped": {"share": number(now.clipped), "sd": number(now.clipped_sd)},
        "chance": number(now.chance),
        "suspect": now.suspect,
        "do": list(_to_do(session, advice)),
        "safety": safety,
    }


def _pair(mean: tuple[float, float], sd: tuple[float, float]) -> dict[str, float | None]:
    return {
        "right": number(mean[0]),
        "back": number(mean[1]),
        "sd_right": number(sd[0]),
        "sd_back": number(sd[1]),
    }
