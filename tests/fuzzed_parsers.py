"""Every parser of the coach, with what people give to it: files, numbers, readings, answers, arguments, names."""

import zlib
from collections.abc import Callable
from datetime import date
from functools import partial
from pathlib import Path

import tomli_w
from fuzzing import FILE_CHANGES, KEPT_WHOLE, Parser, from_file, quiet_shell
from machines import make_machine
from readings import measured

from coach import Machine, MachineLog, Session, settings
from coach.cutting.sheet import checked_sheet
from coach.describing import drafts, pulsing, typed
from coach.describing.description import Description
from coach.describing.moving import typed_moves
from coach.describing.questions import questions
from coach.describing.slips import weighed
from coach.errors import CoachError, InputError
from coach.paths import data_folder
from coach.plain import talk
from coach.reading.clock import parse_clock
from coach.reading.entries import entries_from
from coach.reading.method import Tape
from coach.reading.methods import METHODS
from coach.session import baselines, document
from coach.session.store import Store, slug
from coach.shown import IN_MM, Unit
from coach.steps.current import current_step
from coach.steps.dosing import read_dose
from coach.threads import pitch_of_thread
from coach.units import parse_length, parse_number, parse_turns
from coach.upkeep import document as logs
from coach.upkeep.typed import typed_day, typed_hours, typed_interval

GAP = "\x1f"
"""Between the words of what is several texts at once (Unicode's unit separator)."""
TAPES = (Tape(18.0, 18.0), Tape(None, 50.0))
AMOUNTS = ("1.5", "1,5", "+2", "-0,4", "−3", "0", ".5", "600", "40")
LENGTHS = (*AMOUNTS, "1,5 mm", "23.6 in", "3/8 in", '1 1/4"', "1½ in", "2 cm", "-1/8″")
TURNS = ("1/8", "⅛", "-1/4", "0,125", "45°", "7 min", "1/8 ccw", "cw 1/16", "1/8 turn", "90 deg", "1 turn clockwise")
POINTS = ("A pivot -20 -20; B screw 20 -20; C screw -20 20", "p 0 0\ns 40 0\ns 0 1,5 in", "s 1 1; s 2 2; p 3 1")
STATIONS = ("back-left 20 380; middle 300 200; front-right 580 20", "a 1 in 1 in; b 20 in 1 in; c 20 in 12 in")
MOVES = ("mirror 2 right 4; head up 0 back 3; tube no", "tube up 2 back 1/8 in", "head unknown")
SHEETS = ("ply 6 mm, lot 3", "acrylic 3,2 mm batch: A", "PVC 2 mm", "birch 1/8")
DAYS = ("2026-03-01", "today", "yesterday", "20260301", "2026-W09-7")
COMMANDS = (
    "new-machine\x1fShed\x1f--width\x1f600\x1f--depth\x1f400\x1f--side\x1fleft\x1f--moves\x1ftube no",
    "mark\x1flast\x1fmiddle\x1f--u\x1f1.5\x1f--v\x1f-0,4\x1f--sd\x1f0.2\x1f--face\x1fsticky",
    "turn\x1flast\x1f1\x1fB=-1/8\x1fC=45deg", "shift\x1flast\x1ftube\x1f--up\x1f-2", "note\x1flast\x1fsmoke",
    "practice\x1f--kind\x1ffine\x1f--seed\x1f3", "cut\x1flast\x1fmiddle\x1f--fastest\x1f18\x1f--next\x1f20",
    "list\x1f--json\x1f--data\x1f/tmp/x", "advise\x1flast", "--version", "report\x1flast", "check\x1fx.toml",
)  # fmt: skip
ANSWERS = ("1", "2", "yes", "No", "No, back", "again", "help", "quit", "undo", "note smoke")
OPTIONS = talk.numbered((("right", "Yes, keep it"), ("again", "No, back"), ("other", "Not here, back to the list")))


def typed_parsers(folder: Path) -> dict[str, Parser]:
    """What is typed: quick to read."""
    readers = {f"reading by {method.key}": _reading(method.key) for method in METHODS}
    return {
        "number": Parser(AMOUNTS, parse_number),
        "length": Parser(LENGTHS, lambda text: [parse_length(text, unit).mm for unit in _UNITS]),
        "turn": Parser(TURNS, parse_turns),
        "clock": Parser(("3", "3 o'clock", "2:30", "2.5", "2½", "12 1/2"), parse_clock),
        **readers,
        "points": Parser(POINTS, lambda text: [place for p in typed.points(text, "in") for place in (p.x, p.y)]),
        "stations": Parser(STATIONS, lambda text: [place for s in typed.stations(text) for place in (s.x, s.y)]),
        "moves": Parser(MOVES, typed_moves),
        "name": Parser(("Shed laser", "Œuvre №5", "x"), typed.name),
        "thread": Parser(("M4", "M3x0.5", "5-40", "1/4-80", "0.7"), _thread),
        "pulse": Parser(("70", "70 ms", "12 %", "0,5"), lambda text: [pulsing.kept(key, text) for key in _PULSE]),
        "dose": Parser(("70\x1f12\x1f2", "0,07 s\x1f12 %\x1f1"), _dose),
        "sheet": Parser(SHEETS, lambda text: checked_sheet(text).thickness),
        "upkeep": Parser(("131,5", "new 0", "14", *DAYS), _upkeep),
        "answer": Parser(ANSWERS, lambda text: talk._chosen(text, OPTIONS, "1, 2 or 3")),
        "file name": Parser(
            ("Shed laser", "../..", "/etc/passwd", "~/x", "~root", ".", "con", "a.toml"), _name(folder)
        ),
    }


def heavier_parsers(folder: Path) -> dict[str, Parser]:
    """Shell arguments, answers about a machine, and files with everything that may stand in them."""
    return {
        "argument": Parser(COMMANDS, lambda text: quiet_shell()(text.split(GAP))),
        "machine's answer": Parser((*LENGTHS, *POINTS, *STATIONS, *MOVES, "M4", "left", "own", "yes"), _answer),
        **file_parsers(folder),
    }


def file_parsers(folder: Path) -> dict[str, Parser]:
    """Files of every kind, small ones with many kinds of entries."""
    texts = {
        "machine": tomli_w.dumps(make_machine().to_table()),
        "session": _session_text(folder),
        "log": _log_text(folder),
        "settings": 'look = "day"\nunit = "inch"\ncrosshair_steps = [0.1, 0.5, 2.0]\ncell_aspect = 2.0\n'
        'hints = true\nhints_seen = ["home"]\nturns = "degrees"\nsigns = "ascii"\n[keys]\nundo = ["z", "f12"]\n',
        "draft": 'schema = 1\nat = "bed.width"\nentry = "60"\n[answers]\nname = "Shed"\n"bed.width" = "600"\n'
        '"mounts.1.own" = "A pivot 0 0; B screw 9 0; C screw 0 9"\n"path.side" = "left"\n',
        "baselines": 'schema = 1\nmachine = "Shed laser"\n[[currents]]\non = 2026-03-01\ncurrent = 11.5\n',
    }
    everything = tuple(texts.values())
    kept = baselines.path_of(folder, "Shed laser")

    def file(kind: str, read: Callable[[Path], object], path: Path | None = None, changes=FILE_CHANGES) -> Parser:
        parse = from_file(read, path or folder / "x.toml")
        return Parser((*[texts[kind]] * 3 * len(texts), *everything), parse, changes)

    return {
        "machine file": file("machine", Machine.load),
        "session file": file("session", document.read),
        "session replayed": file("session", _replayed, changes=KEPT_WHOLE),
        "log file": file("log", logs.read),
        "settings file": file("settings", lambda path: settings.load(path.parent), folder / settings.FILE),
        "draft file": file("draft", lambda path: questions(drafts.read(path).description)),
        "baselines file": file("baselines", lambda _: baselines.load(folder, "Shed laser"), kept),
    }


_UNITS: tuple[Unit, Unit] = ("mm", "in")
_PULSE = (pulsing.MS, pulsing.POWER)
_TODAY = date(2026, 3, 1)


def _reading(key: str) -> Parser:
    method = next(method for method in METHODS if method.key == key)
    asked = tuple(measured(key)[0])

    def parse(text: str) -> object:
        entries = {name: value for name, value in zip(asked, text.split(GAP), strict=False) if value}
        last: InputError | None = None
        for tape in TAPES:
            try:
                found = method.read(entries, tape, IN_MM)
            except InputError as error:
                last = error
            else:
                entries_from(found.typed)
                assert found.sd > 0
                return [found.u, found.v, found.sd]
        assert last is not None
        raise last

    return Parser(tuple(GAP.join(each.values()) for each in measured(key)), parse)


def _thread(text: str) -> object:
    try:
        return pitch_of_thread(text)
    except InputError:
        return typed.screw(text, "in").get("pitch")


def _dose(text: str) -> object:
    ms, power, layers, *_ = (*text.split(GAP), "", "", "")
    return [*read_dose({"ms": ms, "power": power, "layers": layers}).values()]


def _upkeep(text: str) -> object:
    hours: object = None
    for read in (typed_hours, partial(typed_day, today=_TODAY), lambda words: typed_interval(words, words)):
        try:
            hours = read(text)
        except CoachError:
            if read is not typed_hours and hours is None:
                raise
    return hours


def _name(folder: Path) -> object:
    store = Store(folder / "store")

    def parse(text: str) -> None:
        assert slug(text).strip(".") == slug(text)
        assert not set(slug(text)) & set("/\\. ~\x00")
        assert store.machine_path(text).parent == store.machines_folder
        data_folder(text or "x")

    return parse


def _answer(text: str) -> object:
    key = _KEYS[zlib.crc32(text.encode("utf-8", "replace")) % len(_KEYS)]
    return weighed(Description(), key, text, "mm")


_KEYS = tuple(question.key for question in questions(Description()))


def _session_text(folder: Path) -> str:
    """A session with many kinds of entries."""
    session = Session.start(make_machine(), practice=document.Practice(kind="fine", seed=3))
    session.gate("eyes")
    session.answer("since", "suddenly")
    session.check("water", "good")
    session.care("lens", "clean")
    session.mark("middle", u=1.0, v=0.5, width=3.0, typed={"method": "offsets", "across": "1"})
    session.turn(1, {"B": 0.125})
    session.miss("middle")
    session.shift("tube", up=1.0)
    session.lock(1)
    session.refuse("head")
    session.disturbed("mirror 2")
    session.cut("middle", fastest=18.0, next=20.0, material="ply 6 mm, lot 3", power=60.0)
    session.bed_mark(1.0, 0.5)
    session.note("smoke")
    session.undo()
    session.keep_draft({"way": "gaps", "left": "6,2"})
    path = folder / "session.toml"
    session.save(path)
    return path.read_text(encoding="utf-8")


def _replayed(path: Path) -> object:
    """What a session's file comes to: belief, advice, and the step that is shown."""
    session = Session.load(path)
    assert current_step(session, IN_MM).key
    return session.advice().kind


def _log_text(folder: Path) -> str:
    log = MachineLog.open("Shed laser", folder)
    log.done("lens")
    log.count(131.5)
    log.undo()
    (path,) = (folder / "upkeep").glob("*.toml")
    return path.read_text(encoding="utf-8")
