"""What each subcommand takes.  `action` names the module and the function that carry it out."""

import argparse
from typing import Any

from coach import __version__
from coach.cli.below_options import add_below
from coach.cli.machine_options import add_head, add_mount
from coach.cli.parser import Parser
from coach.cli.report_options import add_report
from coach.cli.share_options import add_sharing
from coach.cli.sheet_options import add_made, add_sheets
from coach.cli.upkeep_options import add_upkeep
from coach.frame import ZEROS
from coach.practice.kinds import KINDS
from coach.practice.visit_kinds import CAUSES
from coach.reading.method import OPENING
from coach.reading.methods import METHODS, OPTIONS
from coach.steps.cautions import ALWAYS

MOST_SEED = 999_999_999
MIRRORS = ("1", "2", "3")
SHAPES = ("round", "crescent", "cut", "double")
LENGTHS = "Lengths: 600, 23,6 in or 3/8 in; a comma or a point marks decimals."


def build_parser() -> Parser:
    """The whole parser."""
    # --data may stand before or after the action: behind it, only a value that was typed may count
    before, behind = argparse.ArgumentParser(add_help=False), argparse.ArgumentParser(add_help=False)
    for place, default in ((before, None), (behind, argparse.SUPPRESS)):
        place.add_argument("--data", metavar="DIR", default=default, help="the folder of machines and sessions")
    parser = Parser(
        prog="coach",
        parents=[before],
        description="Takes you through the beam alignment of a gantry CO2 laser cutter. Without an action it opens "
        "the full-screen program.",
        epilog=" ".join(caution.text for caution in ALWAYS),
    )
    parser.add_argument("--version", action="version", version=f"alignment-coach {__version__}")
    _add_plain(parser, default=False)
    parser.set_defaults(action="screen:start", answers=None)
    actions = parser.add_subparsers(metavar="ACTION", title="actions")
    _Actions(actions, behind).add_all()
    return parser


class _Actions:
    """Adds the subcommands one by one."""

    def __init__(self, actions: Any, common: argparse.ArgumentParser) -> None:
        self._actions = actions
        self._common = common

    def add_all(self) -> None:
        self._screens()
        self._machine()
        self._mark()
        self._adjustments()
        self._cuts()
        add_below(self._on_session)
        self._words()
        self._looks()
        add_sheets(self._add)
        add_sharing(self._add)
        add_upkeep(self._add)

    def _add(self, name: str, action: str, text: str, epilog: str = "") -> argparse.ArgumentParser:
        added: argparse.ArgumentParser = self._actions.add_parser(
            name, parents=[self._common], help=text, description=text[:1].upper() + text[1:] + ".", epilog=epilog
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
        practice = self._add("practice", "screen:practice", "practise on the built-in demo machine")
        practice.add_argument(
            "--seed", type=_seed, help="which hidden trouble, from 0; left out, a new one each time"
        )
        kind = practice.add_mutually_exclusive_group()
        kind.add_argument("--kind", choices=list(KINDS), default="plain", help="what kind of trouble (plain)")
        kind.add_argument(
            "--visit", nargs="?", const="", choices=["", *CAUSES], metavar="WHAT",
            help=f"a whole visit, from the complaint to closing up; of what is wrong: {', '.join(CAUSES)} (any)",
        )  # fmt: skip
        _add_plain(practice)
        opened = self._add("open", "screen:open_session", "open a stored session in the full-screen program")
        opened.add_argument("session", metavar="SESSION", nargs="?", default="last", help="left out, the last")
        _add_plain(opened)

    def _machine(self) -> None:
        new = self._add(
            "new-machine",
            "machines:new_machine",
            "describe a machine; what is not given is guessed and noted as guessed",
            LENGTHS,
        )
        new.add_argument("name", metavar="NAME")
        new.add_argument("--width", required=True, help="the head's travel from left to right")
        new.add_argument("--depth", required=True, help="the head's travel from front to back")
        new.add_argument("--side", required=True, choices=["left", "right"], help="where mirrors 1 and 2 stand")
        new.add_argument("--zero", choices=ZEROS, help="in which corner the controller reads X 0, Y 0 (front-left)")
        new.add_argument("--mirror1-gap", help="mirror 1 to mirror 2, gantry at the very back (150 mm)")
        new.add_argument("--mirror2-gap", help="mirror 2 to the head, head at mirror 2's end (120 mm)")
        new.add_argument("--mirror1", help="diameter of mirror 1 (25 mm)")
        new.add_argument("--mirror2", help="diameter of mirror 2 (25 mm)")
        new.add_argument(
            "--moves", metavar="PARTS", help='what can be moved, each way: "mirror 2 right 4; tube no" (not known)'
        )
        new.add_argument("--aperture", help="diameter of the opening at the head's entrance (18 mm)")
        new.add_argument("--tape-radius", help="how far out a mark can be read (2 mm beyond the opening's rim)")
        new.add_argument("--tape-wide", help="how far out a mark can be read on your wide card (30 mm)")
        new.add_argument("--tolerance", help="how far off the middle is still good (1 mm)")
        add_head(new)
        new.add_argument("--keep", action="store_true", help="keep a size that is questioned")
        _add_unit(new)
        mounts = new.add_argument_group(
            "mounts", "For all mirrors; with 1, 2 or 3 behind the name, as in --points2, for that mirror alone."
        )
        for mirror in ("", *MIRRORS):
            add_mount(mounts, mirror)
        session = self._add("new-session", "changes:new_session", "begin a session; prints its file")
        session.add_argument("machine", metavar="MACHINE", help="the name of a stored machine, or a path")
        session.add_argument("--title", default="", help="what to call the session")
        add_made(session)
        session.add_argument(
            "--check-up", action="store_true", help="a mark at each station, nothing turned, and a cut check"
        )

    def _mark(self) -> None:
        mark = self._on_session("mark", "marking:mark", "enter a measured mark, in one of four ways", LENGTHS)
        _add_place(mark)
        _add_unit(mark)
        mark.add_argument("--face", choices=["outer", "sticky"], default="outer", help="which face was looked at")
        mark.add_argument("--sd", help="the reading's doubt (one standard deviation)")
        mark.add_argument("--keep", action="store_true", help="keep a reading that is questioned, with a wider doubt")
        mark.add_argument("--looked-twice", action="store_true", help="keep it in full: looked twice, it is so")
        offset = mark.add_argument_group("the mark's centre from the opening's centre")
        offset.add_argument("--u", help="to the right")
        offset.add_argument("--v", help="up")
        offset.add_argument("--width", help="the mark's diameter, where it was measured by itself")
        offset.add_argument("--shape", choices=SHAPES, default="round", help="whether it is whole (round)")
        _add_methods(mark)
        _add_dose(mark)
        miss = self._on_session("miss", "marking:miss", "enter a pulse whose mark is certainly off the tape")
        nothing = self._on_session("nothing", "marking:nothing", "enter a pulse that left nothing, nobody knows why")
        for left_none in (miss, nothing):
            _add_place(left_none)
            _add_unit(left_none)
            _add_dose(left_none)

    def _adjustments(self) -> None:
        turn = self._on_session(
            "turn", "changes:turn", "enter turns of one mirror's screws", "B=-1/8  C=0,0625  B=45deg  'B=1/8 ccw'"
        )
        turn.add_argument("mirror", metavar="MIRROR", type=_mirror, help="1, 2 or 3")
        turn.add_argument("screws", metavar="SCREW=TURNS", nargs="+", help="clockwise positive")
        shift = self._on_session("shift", "changes:shift", "enter that a part was moved sideways", LENGTHS)
        shift.add_argument("part", metavar="PART", help='"mirror 2", head, "mirror 1", tube or lens')
        for way, text in (("up", "down"), ("right", "to the left"), ("back", "to the front")):
            shift.add_argument(f"--{way}", help=f"negative {text}")
        shift.add_argument("--keep", action="store_true", help="keep a move farther than the part was said to go")
        _add_unit(shift)
        self._hindrances()
        lock = self._on_session("lock", "changes:lock", "enter that a mirror's lock nuts were tightened")
        lock.add_argument("mirror", metavar="MIRROR", type=_mirror, help="1, 2 or 3")

    def _hindrances(self) -> None:
        refuse = self._on_session("refuse", "hindrances:refuse", "enter that a part cannot be moved")
        refuse.add_argument("part", metavar="PART", help='"mirror 2", head, "mirror 1", tube or lens')
        refuse.add_argument("--axis", choices=["up", "right", "back"], help="only that way (any)")
        refuse.add_argument("--take-back", action="store_true", help="it can be moved after all")
        for name, text in (("mended", "what it named was seen to"), ("best", "align to the best that can be had")):
            after = self._on_session(name, f"hindrances:{name}", f"after a stop: {text}")
            after.add_argument("--head", action="store_true", help="a stop about mirror 3, lens and nozzle")
        disturbed = self._on_session("disturbed", "hindrances:disturbed", "enter that a part was out, or was bumped")
        disturbed.add_argument("part", metavar="PART", help='"mirror 1" (2, 3), tube, lens, head or machine')

    def _cuts(self) -> None:
        cut = self._on_session(
            "cut", "cutting:cut", "enter which lines fell through at a station", "--fastest 18 --next 20"
        )
        cut.add_argument("station", metavar="STATION", help="one of the machine's stations")
        cut.add_argument("--fastest", help="the fastest line that fell through, mm/s; left out, none did")
        cut.add_argument("--next", help="the next line, which did not, mm/s; left out, all did")
        cut.add_argument("--material", help='with thickness and batch: "ply 6 mm, lot 3" (as before)')
        cut.add_argument("--power", help="the power that was set, in per cent (as before)")
        cut.add_argument("--anew", action="store_true", help="a further cut check begins")
        cut.add_argument(
            "--warm", action="store_true", help="that station once more, at once, while the tube is warm"
        )
        _add_json(cut)
        cuts = self._on_session("cuts", "cutting:cuts", "how it cuts: how evenly, and whether as it did")
        cuts.add_argument("--keep", action="store_true", help="keep the first good check as the machine's baseline")
        cuts.add_argument(
            "--new-baseline",
            metavar="WHY",
            help="put this check in the baseline's place; the old one stays on record",
        )
        _add_json(cuts)

    def _words(self) -> None:
        self._on_session("undo", "changes:undo", "take the last entry back")
        note = self._on_session("note", "changes:note", "write a note into the session")
        note.add_argument("text", metavar="TEXT", nargs="+")
        described = self._on_session(
            "described", "describing:described", "take mirror 3, lens and nozzle over from the stored machine"
        )
        described.add_argument("--machine", metavar="MACHINE", help="another stored machine than the session's")
        learned = self._on_session("learned", "learning:learned", "what the session taught about the mounts")
        learned.add_argument("--save", action="store_true", help="write it back to the stored machine")

    def _looks(self) -> None:
        _add_json(self._on_session("advise", "advising:advise", "what to do next, why, and how sure that is"))
        listed = self._add("list", "listing:list_all", "all machines and sessions, broken files too")
        listed.add_argument(
            "words", metavar="WORD", nargs="*",
            help="only such sessions: part of a name, 2026-03, march, practice, finished, unfinished, broken",
        )  # fmt: skip
        _add_json(listed)
        _add_json(
            self._add(
                "surroundings", "surroundings:surroundings", "terminal, folders, versions, files; what is wrong"
            )
        )
        add_report(self._add)
        check = self._add("check", "checking:check", "whether a machine or session file is valid, and what is not")
        check.add_argument("file", metavar="FILE", help="a path, or the name of a stored machine or session")
        _add_json(check)


def _add_plain(parser: argparse.ArgumentParser, default: object = argparse.SUPPRESS) -> None:
    parser.add_argument(
        "--plain",
        action="store_true",
        default=default,
        help="as question-and-answer lines, without a full screen: for screen readers, ssh and scripts",
    )
    parser.add_argument(
        "--answers", metavar="FILE", default=argparse.SUPPRESS, help="with --plain: the answers, one a line"
    )


def _add_unit(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--unit", choices=["mm", "in"], default="mm", help="of lengths typed without one (mm)")


def _add_json(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--json", action="store_true", help="as JSON, and nothing else, on standard output")


def _add_place(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("station", metavar="STATION", help="a station, or any name together with --x and --y")
    parser.add_argument("--x", help="the head's place, as the controller counts it")
    parser.add_argument("--y", help="the head's place, as the controller counts it")
    targets = ["head", "mirror 2", "mirror 1"]
    parser.add_argument("--target", choices=targets, help="whose opening carried the tape (head)")


def _add_dose(parser: argparse.ArgumentParser) -> None:
    dose = parser.add_argument_group("the pulse, as far as it is known")
    dose.add_argument("--ms", help="how long it was, in ms: 70, or with its unit: 0,07 s")
    dose.add_argument("--power", help="the power that was set, in per cent: 12")
    dose.add_argument("--layers", help="layers of tape, where they were not as many as always")
    add_made(dose)


def _add_methods(parser: argparse.ArgumentParser) -> None:
    """The options of every way to measure that the shell offers, as the table of methods has it."""
    added: set[str] = set()
    for method in (method for method in METHODS if method.shell is not None):
        group = parser.add_argument_group(method.shell.heading if method.shell else "")
        for field in method.fields:
            group.add_argument(*field.flags, dest=field.argument, help=field.shell_help)
        if method.own_option is not None and method.own_option not in added:
            option = OPTIONS[method.own_option]
            group.add_argument(f"--{option.key}", choices=[v.in_shell for v in option.values], help=option.shell_help)
        if method.needs_opening and OPENING not in added:
            group.add_argument(f"--{OPENING}", help="its diameter, where the machine's profile has none (mirror 2)")
        added |= set(method.shell_extras)


def _seed(text: str) -> int:
    if not (text.isascii() and text.isdigit()) or int(text[:20]) > MOST_SEED:
        raise argparse.ArgumentTypeError(f"{text[:40]!r} is not a whole number from 0 to {MOST_SEED}")
    return int(text)


def _mirror(text: str) -> int:
    plain = text.lower().removeprefix("mirror").strip()
    if plain not in MIRRORS:
        raise argparse.ArgumentTypeError(f"there is no mirror {text[:40]!r}; expected 1, 2 or 3")
    return int(plain)
