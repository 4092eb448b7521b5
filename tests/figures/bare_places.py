"""Surroundings as bare as this machine can make them, for `first_hour.py`: each with how to call a program in it."""

import os
import shutil
import subprocess
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path

NOBODY, DAEMON = 4242, 65534
"""A user's number that passwd does not know; one that it knows, whose home is nowhere."""
SCREENS = {"TERM": "xterm-256color"}
SHARE = Path(".local", "share", "alignment-coach")
ASCII = {"LC_ALL": "POSIX", "PYTHONCOERCECLOCALE": "0", "PYTHONUTF8": "0"}
READ_ONLY = 'mount -t tmpfs -o ro,size=64k none "$0" && exec "$@"'
CONTAINER = 'mount --rbind /usr "$0/usr" && mount --bind "{0}" "$0{0}" && exec /usr/sbin/chroot "$0" "$@"'
"""As `sh` takes them, the first word after it the folder that is mounted on or in."""


@dataclass(frozen=True)
class Place:
    """Where the coach is called, and what can be there."""

    name: str
    told: str
    """What is bare there."""
    around: Mapping[str, str] = field(default_factory=dict)
    """All of the environment but PATH."""
    before: tuple[str, ...] = ()
    """What stands before the call."""
    data: Path | None = None
    """Where, seen from here, its data comes to lie; None: it cannot be kept there, and that is to be said."""
    screens: bool = True
    """Whether the terminal says that it knows screens; if not, that is to be said."""
    impossible: str = ""
    """Why this machine cannot make it."""


def places(folder: Path) -> Iterator[Place]:
    """All of them, with homes made in that folder, in which the coach lies too."""
    (folder / "homes").mkdir()
    yield from _of_environments(folder)
    yield from _of_users(folder)
    yield from _mounted(folder)


def _home(folder: Path, name: str, mode: int = 0o777) -> Path:
    made = folder / "homes" / name
    made.mkdir()
    made.chmod(mode)
    return made


def _of_environments(folder: Path) -> Iterator[Place]:
    for name, told, more, screens in (
        ("nothing set", "PATH, HOME and TERM alone; no LANG", SCREENS, True),
        ("ASCII alone", "the POSIX locale, and Python kept from leaving it", SCREENS | ASCII, True),
        ("no TERM", "a terminal that says nothing of itself", {}, False),
        ("TERM dumb", "a terminal that knows no screens", {"TERM": "dumb"}, False),
        ("TERM unheard of", "a kind of terminal of which there is no description", {"TERM": "unheard-of"}, True),
    ):
        home = _home(folder, name.replace(" ", "-"))
        yield Place(name, told, {"HOME": str(home)} | more, data=home / SHARE, screens=screens)


def _of_users(folder: Path) -> Iterator[Place]:
    cannot = "" if os.getuid() == 0 and shutil.which("setpriv") else "needs root and setpriv"
    nameless, daemon = (("setpriv", f"--reuid={number}", f"--regid={number}", "--clear-groups")
                        for number in (NOBODY, DAEMON))  # fmt: skip
    own, chosen = _home(folder, "own"), _home(folder, "chosen")
    locked, barred = _home(folder, "locked", 0o755), _home(folder, "barred", 0o700)
    for name, told, more, user, data in (
        ("user without a name", "a number that passwd does not know", {"HOME": str(own)}, nameless, own / SHARE),
        ("no HOME, no name", "that user, HOME not set", {}, nameless, None),
        ("no HOME, a folder named", "that user, ALIGNMENT_COACH_DATA set", {"ALIGNMENT_COACH_DATA": str(chosen)},
         nameless, chosen),
        ("HOME is read-only to the user", "it belongs to somebody else", {"HOME": str(locked)}, nameless, None),
        ("HOME may not be looked into", "as after `su` without `-`", {"HOME": str(barred)}, nameless, None),
        ("home that is not there", "as of daemons: passwd names it, HOME not set", {}, daemon, None),
    ):  # fmt: skip
        yield Place(name, told, SCREENS | more, user, data, impossible=cannot)


def _mounted(folder: Path) -> Iterator[Place]:
    apart = ("unshare", "-m") if os.getuid() == 0 else ("unshare", "-Urm")
    able = shutil.which("unshare") and subprocess.run([*apart, "true"], stderr=subprocess.DEVNULL).returncode == 0
    cannot = "" if able else "no mounts of one's own here"
    fixed = _home(folder, "fixed")
    yield Place("HOME on a read-only disk", "a file system that is only read", SCREENS | {"HOME": str(fixed)},
                (*apart, "sh", "-c", READ_ONLY, str(fixed)), impossible=cannot)  # fmt: skip
    inside = folder / "container"
    for name in ("usr", "home", str(folder).lstrip("/")):
        (inside / name).mkdir(parents=True)
    for name in ("bin", "lib", "lib64"):
        (inside / name).symlink_to(Path("usr", name))
    yield Place("bare container", "chroot with /usr and a home: no /etc, /proc, /tmp", SCREENS | {"HOME": "/home"},
                (*apart, "sh", "-c", CONTAINER.format(folder), str(inside)), inside / "home" / SHARE,
                impossible=cannot)  # fmt: skip
