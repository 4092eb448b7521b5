"""What a machine once cut: taken up where a visit begins or comes to a cut check, kept once a check ends well."""

from pathlib import Path

from coach.errors import CoachError
from coach.session.baselines import Replaced, path_of
from coach.session.good_cuts import compare, keep_first_good, replace_baseline
from coach.session.session import Session
from coach.shown import day_words
from coach.steps.cut_deeds import NEW_BASELINE
from coach.steps.step import Step


def take_up(folder: Path, session: Session) -> str:
    """Take what the machine once cut into the visit, where it has none yet; the sentence to say, "" if none.

    A file that cannot be read is told, and left as it is: the visit goes on without it.
    """
    if not session.is_visit:
        return ""
    try:
        taken = compare(session, folder)
    except CoachError as error:
        return untaken_words(error)
    kept = [event.cuts for event in session.effective if event.kind == "baseline" and event.cuts is not None]
    if not taken or not kept:
        return ""
    sheets = "; ".join(f"{each.material}, {day_words(each.on)}" for each in kept)
    return f"Cuts of this machine that are kept to be compared with: {sheets}."


def untaken_words(error: CoachError) -> str:
    """That the cuts of this visit stand beside none of before, and why."""
    return f"What this machine once cut could not be taken up: {error}"


def after_choice(folder: Path, session: Session, step: Step, choice: str) -> str:
    """What is taken up or kept once that choice was made, in one sentence; "" where nothing is."""
    if choice in ("begin-part", "other-part"):
        return take_up(folder, session)
    if (step.key, choice) == ("cut-result", "end-part"):
        return _keep(folder, session)
    if choice == "new-baseline":
        return _replace(folder, session)
    return ""


def _replace(folder: Path, session: Session) -> str:
    """The check takes the baseline's place, for the reason that was just entered."""
    why = next(e.why for e in reversed(session.effective) if e.kind == "item" and e.name == NEW_BASELINE)
    try:
        old = replace_baseline(session, folder, why)
    except CoachError as error:
        return f"The baseline could not be replaced: {error}"
    return replaced_words(old)


def replaced_words(old: Replaced) -> str:
    """What was replaced, and that nothing of it is lost."""
    return (
        f"From now on {old.material} is compared with this check. The baseline of {day_words(old.on)} stays in the "
        f"record: {old.why}."
    )


def _keep(folder: Path, session: Session) -> str:
    """Keep a first good check; nothing that is there is replaced."""
    try:
        kept = keep_first_good(session, folder)
    except CoachError as error:
        return f"This check could not be kept as a baseline: {error}"
    if kept is None:
        return ""
    where = path_of(folder, session.machine.name)
    return f"Kept as this machine's baseline for {kept.material}, in {where}: later visits are compared with it."
