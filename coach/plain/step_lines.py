"""A step in lines: where in the job, what to do, why, what was learned, what to beware of."""

from coach.plain.cautions import caution_lines
from coach.session.session import Session
from coach.shown import Wording
from coach.steps.standing import remaining_words, standing
from coach.steps.step import Standing, Step


def step_lines(session: Session, step: Step, bench: str, wording: Wording) -> list[str]:
    """Everything that the step says, a label before each line; `bench`: what the practice bench shows, "" nothing."""
    return [
        f"Step: {step.title}.",
        *where_lines(standing(session, step)),
        f"Action: {action_words(step)}",
        *what_lines(step, bench),
        *(f"News: {sentence}" for sentence in step.news),
        *caution_lines(step.cautions),
    ]


def what_lines(step: Step, bench: str) -> list[str]:
    """What to do and why."""
    expected = step.shot is not None and step.advice is None  # then the reason is where the mark is expected
    return [
        *(f"Do: {line}" for line in step.do),
        *([f"Bench: {bench}"] if bench else []),
        *([step.why if expected else f"Why: {step.why}"] if step.why else []),
        *([step.then] if step.then else []),
    ]


def where_lines(stands: Standing) -> list[str]:
    """Where in the job that is, and what probably remains."""
    if stands.visit is not None and not stands.visit.on_the_beam:
        return [
            f"Where: {stands.visit.now or 'between two parts'}; {stands.visit.done} of {stands.visit.of} parts done."
        ]
    names = [name for name, _ in stands.stages]
    place = next((i for i, (_, behind) in enumerate(stands.stages) if not behind), len(names) - 1)
    rounds = f"round {stands.rounds}" if stands.rounds else "nothing adjusted yet"
    pulses = f"{stands.pulses} pulse{'' if stands.pulses == 1 else 's'} so far" if stands.pulses else "no pulse yet"
    lines = [f"Where: stage {place + 1} of {len(names)}, {names[place]}; {rounds}; {pulses}."]
    if left := remaining_words(stands):
        lines.append(f"Probably left: {left}.")
    return lines


def action_words(step: Step) -> str:
    """The action and its figure, as they are said."""
    if step.screw is not None:
        way = "clockwise" if step.screw.turns > 0 else "counterclockwise"
        return f"Mirror {step.screw.mirror}, screw {step.screw.screw}, {way}, {step.figure}."
    action, figure = step.action, step.figure
    between = " " if action.endswith("?") else "; "
    said = f"{action}{between}{figure}" if figure and figure.lower() not in action.lower() else action
    return said if said.endswith("?") else f"{said}."
