"""`advise`: the next action with its reason, its doubt, the marks to expect, and the cautions.

With --json, one object with these keys (docs/guide.md):

    session      the session's file
    kind         "shoot", "turn", "shift", "done" or "stop"
    why          one plain sentence
    stations     shoot: [{name, x, y, target, wide}]; mm, x and y as the controller counts them
    turns        turn: [{mirror, screws: {name: turns}}]; clockwise positive
    shift        shift: {part, up, right, back}; mm in the machine's frame; else null
    cause        stop: why no screw will help; else ""
    look_at      stop: what to look at, likeliest first
    tolerance    mm
    now, then    {chance, worst, worst_high}: the probability that every station is within the tolerance, the
                 largest offset to be expected, and the one exceeded with a chance of one in ten, mm; `then` is
                 after the advised adjustment, null where none is advised
    expected     [{station, x, y, target, u, v, sd}]: the marks to expect, mm
    expected_when  "next pulse", "after the adjustment" or "now"
    left         {pulses, rounds}: what probably remains until "done"
    news         sentences: the last retest, expected against seen, and what it taught about the screws
    do           before a pulse or a turn, and at lock nuts that are slack at the end, what is done one after the
                 other, in the words of its steps; else empty
    safety       the cautions that belong to this action
"""

from argparse import Namespace
from typing import Any, Literal, assert_never

from coach.advice.advice import Advice, Outlook, Shot
from coach.advice.chance_words import percent
from coach.advice.reasons import AllCentred
from coach.advice.shots import expected_shot
from coach.belief import belief as beliefs
from coach.belief.belief import Belief
from coach.cli.out import number, say, say_json
from coach.cli.where import session_of
from coach.cli.words import offset_words, screw_words, spot_words
from coach.frame import Frame
from coach.session.session import Session
from coach.shown import IN_MM
from coach.steps.about import About, ShiftTask
from coach.steps.cautions import Caution, with_always
from coach.steps.check_up import marks_only, next_mark
from coach.steps.keys import StepKey
from coach.steps.locks import at_the_nuts, beam_locks, lock_words, tighten_words
from coach.steps.news import news
from coach.steps.parts.beam_path import advised_step
from coach.steps.stages.checked_up import checked_up
from coach.steps.stages.done import ELSEWHERE, STOPS, done_words
from coach.steps.standing import left_words
from coach.steps.table import cautions_for, kind_of
from coach.steps.words import shift_words

When = Literal["next pulse", "after the adjustment", "now"]


def advise(arguments: Namespace) -> int:
    """Say what to do next; enters nothing."""
    session = session_of(arguments)
    advice = session.advice()
    if marks_only(session) and not arguments.json:
        mark = next_mark(session)
        if mark is None:
            return _checked_up(session)
        advice = mark
    shots, when = expected_marks(session.belief, advice)
    cautions = _cautions(advice)
    told = news(session, IN_MM)
    if arguments.json:
        say_json(_as_json(session, advice, shots, when, cautions))
        return 0
    lines = [
        *_action(advice, session.machine.frame),
        *(f"Do: {words}" for words in _to_do(session, advice)),
        f"Why: {advice.why}",
        f"Now: {_outlook(advice.now, session.machine.tolerance)}",
        *([f"Afterwards: {_outlook(advice.then, session.machine.tolerance)}"] if advice.then else []),
        *([f"Probably left: {left}."] if (left := _left(session, advice)) else []),
        *(f"Last mark: {sentence}" for sentence in told[:1]),
        *(f"Learned: {sentence}" for sentence in told[1:]),
        f"Marks to expect ({when}):",
        *(f"  {_expected(shot, session.machine.frame)}" for shot in shots),
        *(f"Safety: {caution.text}" for caution in cautions),
    ]
    say("\n".join(lines))
    return 0


def _checked_up(session: Session) -> int:
    """A check-up has its marks: what they say, and what comes next."""
    said, cautions = checked_up(session, IN_MM), cautions_for("check-up")
    figure = f" ({said.figure})" if said.figure else ""
    say("\n".join((f"CHECK-UP: {said.action}{figure}.", *said.do, *(f"Safety: {each.text}" for each in cautions))))
    return 0


def _left(session: Session, advice: Advice) -> str:
    told = left_words(advice.left) if advice.left.pulses else ""
    return "; ".join(filter(None, (told, lock_words(beam_locks(session)))))


def _cautions(advice: Advice) -> tuple[Caution, ...]:
    """The cautions of the step at which it is carried out; before a pulse, first those of the way there, where hands
    put the tape on."""
    if advice.kind != "shoot":
        return cautions_for(_cautioned(advice))
    way, pulse = (kind_of(key).own_cautions for key in (advised_step(advice), _cautioned(advice)))
    return with_always(tuple(dict.fromkeys((*way, *pulse))))


def _to_do(session: Session, advice: Advice) -> tuple[str, ...]:
    """What the steps say is to be done, in their own words: of a pulse the way, key out, tape, key in, key out; of
    turns, and at the end, what is done at the lock nuts."""
    if advice.kind == "turn":
        return at_the_nuts(session, advice.turns)
    if advice.kind == "done" and (slack := beam_locks(session)):
        return (f"{tighten_words(slack)}; then a mark at each station.",)
    if advice.kind != "shoot":
        return ()
    way = About(key=advised_step(advice), advice=advice, shot=advice.stations[0])
    pulse = About(key="pulse", shot=advice.stations[0])
    return tuple(words for about in (way, pulse) for words in kind_of(about.key).says(about, session, IN_MM).do)


def _cautioned(advice: Advice) -> StepKey:
    """The step whose cautions belong to that advice: the one at which it is carried out."""
    match advice.kind:
        case "shoot":
            return "pulse"
        case "turn":
            return "screw"
        case "shift":
            return "move-tube" if advice.part == "tube" else "move"
        case "done" | "stop":
            return advice.kind
        case _:
            assert_never(advice.kind)


def expected_marks(belief: Belief, advice: Advice) -> tuple[list[Shot], When]:
    """The marks to expect: of the pulses advised, else at every station, after the adjustment if one is advised."""
    if advice.kind == "shoot":
        return [_expect(belief, shot) for shot in advice.stations], "next pulse"
    for turn in advice.turns:
        belief = beliefs.turn(belief, turn.mirror, turn.screws)
    if advice.kind == "shift":
        belief = beliefs.shift(belief, advice.part, advice.up, advice.right, advice.back)
    when: When = "after the adjustment" if advice.kind in ("turn", "shift") else "now"
    return [_expect(belief, Shot(s.name, s.x, s.y)) for s in belief.layout.machine.stations], when


def _expect(belief: Belief, shot: Shot) -> Shot:
    return expected_shot(belief, shot)


def _action(advice: Advice, frame: Frame) -> list[str]:
    match advice.kind:
        case "shoot":
            spots = "; then ".join(spot_words(shot, frame) for shot in advice.stations)
            return [f"SHOOT: one short pulse at {spots}."]
        case "turn":
            return [
                f"TURN mirror {turn.mirror}: {screw_words(turn.screws)}, as seen facing the screw heads."
                for turn in advice.turns
            ]
        case "shift":
            assert advice.part
            task = ShiftTask(advice.part, advice.up, advice.right, advice.back)
            return [f"SHIFT: move the {advice.part} {shift_words(task, IN_MM)}, without tilting it."]
        case "done":
            return _done(advice)
        case _:
            title, _ = STOPS[advice.cause]
            return [f"STOP ({advice.cause}): {title}.", *(f"Look at: {thing}." for thing in advice.look_at)]


def _done(advice: Advice) -> list[str]:
    title, _ = done_words(advice)
    elsewhere = ELSEWHERE if isinstance(advice.reason, AllCentred) and not advice.reason.turned else ()
    return [f"DONE: {title[:1].lower()}{title[1:]}.", *elsewhere]


def _outlook(outlook: Outlook, tolerance: float) -> str:
    return (
        f"worst station {IN_MM.length(outlook.worst)} ({IN_MM.length(outlook.worst_high)} with bad luck); "
        f"all within {IN_MM.exact(tolerance)} with {percent(outlook.chance)} probability"
    )


def _expected(shot: Shot, frame: Frame) -> str:
    offset = offset_words(shot.expected_u, shot.expected_v, 1)
    return f"{spot_words(shot, frame)}: {offset}, give or take {IN_MM.length(2 * shot.expected_sd)}"


def _as_json(
    session: Session, advice: Advice, shots: list[Shot], when: When, cautions: tuple[Caution, ...]
) -> dict[str, Any]:
    amounts = {"up": advice.up, "right": advice.right, "back": advice.back}
    return {
        "session": str(session.path),
        "kind": advice.kind,
        "why": advice.why,
        "stations": [
            {"name": s.name, **_counted(s, session.machine.frame), "target": s.target, "wide": s.wide}
            | {"ms": s.ms, "power": s.power}
            for s in advice.stations
        ],
        "turns": [
            {"mirror": turn.mirror, "screws": {name: number(amount, 6) for name, amount in turn.screws.items()}}
            for turn in advice.turns
        ],
        "shift": {"part": advice.part} | {way: number(v) for way, v in amounts.items()} if advice.part else None,
        "cause": advice.cause,
        "look_at": list(advice.look_at),
        "tolerance": number(session.machine.tolerance),
        "now": _outlook_json(advice.now),
        "then": _outlook_json(advice.then) if advice.then else None,
        "expected": [_expected_json(shot, session.machine.frame) for shot in shots],
        "expected_when": when,
        "left": {"pulses": number(advice.left.pulses, 1), "rounds": number(advice.left.rounds, 1)},
        "news": list(news(session, IN_MM)),
        "do": list(_to_do(session, advice)),
        "safety": [caution.text for caution in cautions],
    }


def _outlook_json(outlook: Outlook) -> dict[str, float | None]:
    return {
        "chance": number(outlook.chance),
        "worst": number(outlook.worst),
        "worst_high": number(outlook.worst_high),
    }


def _expected_json(shot: Shot, frame: Frame) -> dict[str, Any]:
    return {
        "station": shot.name,
        **_counted(shot, frame),
        "target": shot.target,
        "u": number(shot.expected_u),
        "v": number(shot.expected_v),
        "sd": number(shot.expected_sd),
    }


def _counted(shot: Shot, frame: Frame) -> dict[str, float | None]:
    """Where the head stands in the controller's numbers, as --x and --y take them."""
    x, y = frame.counted(shot.x, shot.y)
    return {"x": number(x), "y": number(y)}
