"""Figures that come with a choice: which are asked, what stands in the fields, and the entry."""

from collections.abc import Mapping

from coach.session.session import Session
from coach.shown import Wording
from coach.steps.form import Form
from coach.steps.perform import perform
from coach.steps.step import Choice, Step
from coach.steps.wanted import drafted, unit_typed


def form_of(session: Session, step: Step, choice: Choice, wording: Wording) -> Form:
    """What is typed with that choice.  Raises ValueError for one with which nothing is."""
    row = step.kind.choice(choice.key)
    if row is None or row.form is None:
        raise ValueError(f"with {choice.key!r} no figures are typed")
    return row.form(step, session, wording)


def stands(session: Session, choice: Choice, form: Form, wording: Wording) -> dict[str, str]:
    """What stands in the fields at first: what was typed before, else what the form begins with."""
    before = drafted(session, choice, wording, [field.name for field in form.fields if field.length])
    return {field.name: before.get(field.name, field.starts) for field in form.fields}


def enter_figures(
    session: Session, step: Step, choice: Choice, form: Form, typed: Mapping[str, str], wording: Wording
) -> None:
    """Make the entry.  Raises CoachError."""
    kept = {name: text.strip() for name, text in typed.items() if text.strip()}
    perform(session, step, choice.key, figures=form.read(typed), typed={**kept, **unit_typed(wording)})
