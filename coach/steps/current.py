"""The current step of a session: computed from its events and the advice, never stored."""

from coach.session.session import Session
from coach.shown import Wording
from coach.steps.about import About
from coach.steps.kind import ChoiceKind, Said
from coach.steps.news import news
from coach.steps.step import Choice, Step
from coach.steps.table import kind_of
from coach.steps.visit import whereabouts


def current_step(session: Session, wording: Wording) -> Step:
    """What the person should do now, said as this person wants it said."""
    wording = wording.on(session.machine.frame)
    return _said(whereabouts(session), session, wording)


def _said(about: About, session: Session, wording: Wording) -> Step:
    kind = kind_of(about.key)
    said = kind.says(about, session, wording)
    offered = [row for row in kind.choices if row.offered(about, session)]
    offered.sort(key=lambda row: said.first not in (None, row.key))
    return Step(
        key=about.key,
        gate=about.gate,
        shot=about.shot,
        screw=about.screw,
        shift=about.shift,
        advice=about.advice,
        head=about.head,
        pointer=about.pointer,
        below=about.below,
        part=about.part,
        item=about.item,
        more=about.more,
        title=said.title,
        action=said.action,
        figure=said.figure,
        do=said.do,
        why=said.why,
        then=said.then,
        tone=said.tone or kind.tone,
        choices=tuple(choice for row in offered for choice in _choices(row, about, session, said)),
        news=news(session, wording) if about.advice is not None else (),
    )


def _choices(row: ChoiceKind, about: About, session: Session, said: Said) -> tuple[Choice, ...]:
    """What one row of the table offers: itself, or each of the answers that it stands for."""
    if row.options is None:
        return (Choice(row.key, said.labels.get(row.key, row.label), row.wants),)
    return tuple(Choice(row.key, each.label, row.wants, each.value) for each in row.options(about, session))
