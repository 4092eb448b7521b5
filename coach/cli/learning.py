"""`learned`: what a session taught about the mounts and the parts that move, and keeping it with the machine."""

from argparse import Namespace
from collections.abc import Mapping

from coach.cli.folder import store_of
from coach.cli.out import say
from coach.cli.where import session_of
from coach.errors import InputError
from coach.history.taught import mount_lines
from coach.machine import Machine, Mount
from coach.session.session import Session
from coach.session.store import Store
from coach.steps.reach import cannot, cannot_words, lens_fixed, with_refusals


def learned(arguments: Namespace) -> int:
    """Say what was learned; with --save write it to the stored machine of the same name."""
    session = session_of(arguments)
    taught = session.learned()
    news = [
        mount
        for mount, before in zip(taught.mounts, session.machine.mounts, strict=True)
        if mount.learned != before.learned
    ]
    fixed = cannot_words(cannot(session), lens=lens_fixed(session))
    if not news and not fixed:
        say("Nothing was learned yet: no screw was turned in this session.")
        return 0
    lines = [line for mount in news for line in mount_lines(mount)]
    lines += [f"{fixed[:1].upper()}{fixed[1:]}."] if fixed else []
    if arguments.save:
        lines.append(f"Kept in {_save(store_of(arguments), session, taught, news)}.")
    else:
        lines.append("Not kept; --save writes it to the stored machine.")
    say("\n".join(lines))
    return 0


def _save(store: Store, session: Session, taught: Machine, news: list[Mount]) -> str:
    """Write the lessons into the stored profile, and nothing else of it.  Raises InputError, FileError."""
    if session.practice is not None:
        raise InputError(
            "This is a practice session: what it taught is true of no machine", expected="a real session"
        )
    if not store.machine_path(taught.name).exists():
        return str(store.save_machine(with_refusals(taught, session)))
    lessons: dict[int, Mount] = {mount.mirror: mount for mount in news}
    return str(store.change_machine(taught.name, lambda stored: _with(stored, lessons, session)).path)


def _with(stored: Machine, lessons: Mapping[int, Mount], session: Session) -> Machine:
    """The profile with these lessons.  Raises InputError where its mounts are others."""
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
    return with_refusals(stored.model_copy(update={"mounts": mounts}), session)
