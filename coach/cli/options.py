"""Which subcommands there are.  `action` names the module and the function that carry one out.

What each takes stands in a room of its own, which is opened where one of its subcommands is given, or all are told.
"""

import argparse
from collections.abc import Callable, Mapping, Sequence
from typing import Any

from coach import __version__
from coach.cli.examples import EXAMPLES
from coach.cli.parser import EXAMPLE, Parser
from coach.cli.shared_options import add_json, add_plain
from coach.steps.cautions import ALWAYS

WITH_VALUE = ("--data", "--answers")
"""Options before the action behind which a word stands that is no action."""


def build_parser(given: Sequence[str] | None = None) -> Parser:
    """A parser for these arguments, which knows no more than they need; without any, the whole parser."""
    # --data may stand before or after the action: behind it, only a value that was typed may count
    before, behind = argparse.ArgumentParser(add_help=False), argparse.ArgumentParser(add_help=False)
    for place, default in ((before, None), (behind, argparse.SUPPRESS)):
        place.add_argument("--data", metavar="DIR", default=default, help="the folder of machines and sessions")
    parser = Parser(
        prog="coach",
        parents=[before],
        description="Takes you through the beam alignment of a gantry CO2 laser cutter. Without an action it opens "
        "the full-screen program. coach ACTION --help tells what an action takes, with an example.",
        epilog=" ".join(caution.text for caution in ALWAYS),
    )
    parser.add_argument("--version", action="version", version=f"alignment-coach {__version__}")
    add_plain(parser, default=False)
    parser.set_defaults(action="screen:start", answers=None)
    needed = None if given is None else needed_by(given)
    if needed != "":
        _Actions(parser.add_subparsers(metavar="ACTION", title="actions"), behind).add_all(needed)
    return parser


def needed_by(given: Sequence[str]) -> str | None:
    """The action that is given, "" where there is none; None where all have to be known, to tell of them."""
    words = iter(given)
    for word in words:
        if word in WITH_VALUE:
            next(words, None)
        elif word in ("-h", "--help", "--") or not word:
            return None
        elif not word.startswith("-"):
            return word
    return ""


class _Actions:
    """Adds the subcommands one by one."""

    def __init__(self, actions: Any, common: argparse.ArgumentParser) -> None:
        self._actions = actions
        self._common = common

    def add_all(self, needed: str | None) -> None:
        """Every room, or the one with the action that is needed; every one where none has it, so that it is told."""
        rooms = self._rooms()
        one = next((names for names in rooms if needed in names), None)
        for names, add in rooms.items():
            if one in (None, names):
                add()

    def _rooms(self) -> Mapping[tuple[str, ...], Callable[[], None]]:
        """The actions of each room, in the order in which they are told, and what adds them."""
        return {
            ("practice", "open"): self._screens,
            ("new-machine", "new-session"): self._machines,
            ("mark", "miss", "nothing"): self._marks,
            ("turn", "shift", "refuse", "mended", "best", "disturbed", "lock"): self._adjusting,
            ("cut", "cuts"): self._cuts,
            ("bed-mark", "nozzle-mark", "pointer", "advise-head", "advise-pointer"): self._below,
            ("undo", "note", "described", "learned"): self._words,
            ("advise", "list", "surroundings", "report", "check"): self._looks,
            ("worksheet",): self._sheets,
            ("share", "import"): self._sharing,
            ("due", "care", "history"): self._upkeep,
        }

    def _add(self, name: str, action: str, text: str, epilog: str = "") -> argparse.ArgumentParser:
        told = "\n".join(filter(None, (epilog, f"{EXAMPLE}{EXAMPLES[name]}")))
        added: argparse.ArgumentParser = self._actions.add_parser(
            name, parents=[self._common], help=text, description=text[:1].upper() + text[1:] + ".", epilog=told
        )
        added.set_defaults(action=action)
        return added

    def _on_session(self, name: str, action: str, text: str, epilog: str = "") -> argparse.ArgumentParser:
        added = self._add(name, action, text, epilog)
        added.add_argument(
            "session", metavar="SESSION", help='a path, the name of a stored session, "last" or "last-practice"'
        )
        return added

    def _screens(self) -> None:
        from coach.cli.screen_options import add_screens

        add_screens(self._add)

    def _machines(self) -> None:
        from coach.cli.machine_options import add_machines

        add_machines(self._add)

    def _marks(self) -> None:
        from coach.cli.mark_options import add_marks

        add_marks(self._on_session)

    def _adjusting(self) -> None:
        from coach.cli.adjusting_options import add_adjusting

        add_adjusting(self._on_session)

    def _cuts(self) -> None:
        from coach.cli.cut_options import add_cuts

        add_cuts(self._on_session)

    def _below(self) -> None:
        from coach.cli.below_options import add_below

        add_below(self._on_session)

    def _sheets(self) -> None:
        from coach.cli.sheet_options import add_sheets

        add_sheets(self._add)

    def _sharing(self) -> None:
        from coach.cli.share_options import add_sharing

        add_sharing(self._add)

    def _upkeep(self) -> None:
        from coach.cli.upkeep_options import add_upkeep

        add_upkeep(self._add)

    def _words(self) -> None:
        self._on_session("undo", "changes:undo", "take the last entry back")
        note = self._on_session("note", "noting:note", "write a note into the session")
        note.add_argument("text", metavar="TEXT", nargs="*", help="what is to be remembered, in your own words")
        described = self._on_session(
            "described",
            "describing:described",
            "take mirror 3, lens and nozzle from the stored machine",
        )
        described.add_argument("--machine", metavar="MACHINE", help="another stored machine than the session's")
        learned = self._on_session("learned", "learning:learned", "what the session taught about the mounts")
        learned.add_argument("--save", action="store_true", help="write it back to the stored machine")

    def _looks(self) -> None:
        add_json(self._on_session("advise", "advising:advise", "what to do next, why, and how sure that is"))
        listed = self._add("list", "listing:list_all", "all machines and sessions, broken files too")
        listed.add_argument(
            "words", metavar="WORD", nargs="*",
            help="only such sessions: part of a name, 2026-03, march, practice, finished, unfinished, broken",
        )  # fmt: skip
        add_json(listed)
        add_json(
            self._add(
                "surroundings", "surroundings:surroundings", "terminal, folders, versions, files; what is wrong"
            )
        )
        from coach.cli.report_options import add_report

        add_report(self._add)
        check = self._add("check", "checking:check", "what is wrong with a machine, session or upkeep file")
        check.add_argument("file", metavar="FILE", help="a path, or the name of a stored machine or session")
        add_json(check)
