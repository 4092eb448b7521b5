"""The current step of a session: computed from its events and the advice, never stored."""

from dataclasses import replace

from coach.advice.shots import expected_shot
from coach.advice.silence import dosed
from coach.session.session import Session
from coach.shown import Wording
from coach.steps.about import About
from coach.steps.news import news
from coach.steps.situation import situation
from coach.steps.step import Choice, Step
from coach.steps.table import advised_step, kind_of


def current_step(session: Session, wording: Wording) -> Step:
    """What the person should do now, said as this person wants it said."""
    wording = wording.on(session.machine.frame)
    where = situation(session.effective)
    about = _with_expectation(session, where) if where is not None else _advised(session)
    return _said(about, session, wording)


def _advised(session: Session) -> About:
    """Nothing is open: what the advice says."""
    advice = session.advice()
    return About(key=advised_step(advice), advice=advice, shot=advice.stations[0] if advice.stations else None)


def _with_expectation(session: Session, where: About) -> About:
    """Where a mark is asked for, with where it is expected."""
    if where.shot is None or where.gate is not None:
        return where
    shot = expected_shot(session.belief, where.shot)
    told = where.key == "pulse" and (shot.ms, shot.power, shot.layers) == (None, None, None)
    return replace(where, shot=dosed(session.belief, shot) if told else shot)


def _said(about: About, session: Session, wording: Wording) -> Step:
    kind = kind_of(about.key)
    said = kind.says(about, session, wording)
    offered = [row for row in kind.choices if row.offered(about, session)]
    return Step(
        key=about.key,
        gate=about.gate,
        shot=about.shot,
        screw=about.screw,
        shift=about.shift,
        advice=about.advice,
        title=said.title,
        action=said.action,
        figure=said.figure,
        do=said.do,
        why=said.why,
        then=said.then,
        choices=tuple(Choice(row.key, said.labels.get(row.key, row.label), row.wants) for row in offered),
        news=news(session, wording) if about.advice is not None else (),
    )
