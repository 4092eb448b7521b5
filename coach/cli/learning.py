"""`learned`: what the turns and marks of a session taught about the mounts, and keeping it with the machine."""

from argparse import Namespace

import numpy as np

from coach.advice.words import percent
from coach.belief.layout import PER_SCREW
from coach.cli.out import say
from coach.cli.where import session_of, store_of
from coach.errors import InputError
from coach.machine import Machine, Mount
from coach.session.session import Session
from coach.session.store import Store


def learned(arguments: Namespace) -> int:
    """Say what was learned; with --save write it to the stored machine of the same name."""
    session = session_of(arguments)
    taught = session.learned()
    news = [
        mount
        for mount, before in zip(taught.mounts, session.machine.mounts, strict=True)
        if mount.learned != before.learned
    ]
    if not news:
        say("Nothing was learned yet: no screw was turned in this session.")
        return 0
    if arguments.save:
        path = _save(store_of(arguments), session, taught, news)
        say(f"{_lines(news)}\nKept in {path}.")
    else:
        say(f"{_lines(news)}\nNot kept; --save writes it to the stored machine.")
    return 0


def _lines(mounts: list[Mount]) -> str:
    return "\n".join(line for mount in mounts for line in _mount_lines(mount))


def _mount_lines(mount: Mount) -> list[str]:
    """The likelier drive, and the beam's answer to one clockwise turn of each screw."""
    facts = mount.learned
    assert facts is not None
    way = "pushes" if facts.push >= 0.5 else "pulls"
    chance = percent(max(facts.push, 1 - facts.push))
    lines = [f"Mirror {mount.mirror}: a clockwise turn {way} the plate, with {chance} probability."]
    doubts = np.sqrt(np.diag(np.array(facts.cov)))
    for index, screw in enumerate(mount.screws):
        u, v = facts.mean[PER_SCREW * index : PER_SCREW * index + 2]
        doubt = float(doubts[PER_SCREW * index : PER_SCREW * index + 2].max())
        answer = f"beam {u:+.1f} mrad to the right, {v:+.1f} mrad up, doubt {doubt:.1f} mrad"
        lines.append(f"  screw {screw.name}, one turn: {answer}")
    return lines


def _save(store: Store, session: Session, taught: Machine, news: list[Mount]) -> str:
    """Write the lessons into the stored profile, and nothing else of it.  Raises InputError, FileError."""
    if session.practice is not None:
        raise InputError(
            "This is a practice session: what it taught is true of no machine", expected="a real session"
        )
    if not store.machine_path(taught.name).exists():
        return str(store.save_machine(taught))
    stored = store.find_machine(taught.name)
    lessons = {mount.mirror: mount for mount in news}
    for mount in stored.mounts:
        lesson = lessons.get(mount.mirror)
        if lesson and (mount.points, mount.pitch, mount.drive) != (lesson.points, lesson.pitch, lesson.drive):
            raise InputError(
                f"Mirror {mount.mirror}'s mount in the stored machine is not the one of this session any more",
                expected="the same points, pitch and drive; nothing was saved",
            )
    mounts = tuple(
        mount.model_copy(update={"learned": lessons[mount.mirror].learned}) if mount.mirror in lessons else mount
        for mount in stored.mounts
    )
    return str(store.save_machine(stored.model_copy(update={"mounts": mounts}), replace=True))
