"""`cut` and `cuts`: what fell through at a station, and what a whole cut check says.

With --json, one object: `stations` name to {low, high} in mm/s, `low` null where no line fell through, `high` null
where all did; then, once three stations were cut, what `Session.cuts` says (docs/guide.md): `uniformity`, `pattern`,
`place`, `also`, `beyond`, `left`, `change`, `worst`, `again`, `not_compared`; intervals as [low, value, high], null
where there is none; `word` "yes", "nearly", "no" or "not known"; `before` the change against the first check of this
session, null where there is none.
"""

from argparse import Namespace
from typing import Any

from coach.cli.entered import entered
from coach.cli.folder import store_of
from coach.cli.out import complain, number, say, say_json
from coach.cli.where import session_of
from coach.cutting.check import Comparison, CutCheck, Interval
from coach.cutting.limits import FEWEST
from coach.errors import InputError, Unreadable
from coach.session.baselines import path_of
from coach.session.cut_checks import cut_runs
from coach.session.good_cuts import compare, keep_first_good, not_good, replace_baseline
from coach.session.session import Session
from coach.shown import IN_MM
from coach.steps.check_up import check_up_sentence
from coach.steps.cut_baseline import replaced_words, untaken_words
from coach.steps.cut_deeds import NEW_BASELINE
from coach.steps.entries import entry_words
from coach.steps.stages.cut_words import headline, told, word
from coach.steps.visit_progress import part_now
from coach.units import parse_number


def cut(arguments: Namespace) -> int:
    """Enter the fastest line that fell through at a station, and the next, which did not."""
    session = session_of(arguments)
    try:
        compare(session, store_of(arguments).folder)
    except Unreadable as error:  # what was cut just now is entered all the same
        complain(untaken_words(error))
    fastest, next_ = _number(arguments.fastest, "the fastest"), _number(arguments.next, "the next speed")
    power = _number(arguments.power, "the power")
    session.cut(
        arguments.station,
        fastest=fastest,
        next=next_,
        material=arguments.material,
        power=power,
        anew=arguments.anew,
        warm=arguments.warm,
    )
    if arguments.json:
        say_json(_as_json(session))
    else:
        entered(session, f"{entry_words(session.effective[-1], IN_MM)}.")
    return 0


def cuts(arguments: Namespace) -> int:
    """Say what the newest cut check says; with --keep, the first good one becomes the machine's baseline."""
    session = session_of(arguments)
    if arguments.keep:
        _keep(session, arguments)
    if arguments.new_baseline is not None:
        old = replace_baseline(session, store_of(arguments).folder, arguments.new_baseline)
        session.item(part_now(session.effective) or "cut check", NEW_BASELINE, True, old.why)
        if not arguments.json:
            say(replaced_words(old))
    if arguments.json:
        say_json(_as_json(session))
        return 0
    check, before = session.cuts(), _before(session)
    action, figure = headline(check, before)
    both = filter(None, (check_up_sentence(session, check),))
    say(
        "\n".join(
            (f"{action}; {figure}.", *both, *told(session, check, before, len(cut_runs(session.effective)) - 1))
        )
    )
    return 0


def _keep(session: Session, arguments: Namespace) -> None:
    """Raises InputError where there is nothing to keep, or a baseline is there."""
    session.cuts()
    folder, reason = store_of(arguments).folder, not_good(session)
    if reason:
        raise InputError(f"Nothing was kept: {reason}", expected="a good check, cut after the beam's path was done")
    if keep_first_good(session, folder) is None:
        where = path_of(folder, session.machine.name)
        raise InputError(f"Nothing was kept: a baseline of this sheet is in {where}", expected="another sheet")


def _before(session: Session) -> Comparison | str | None:
    return session.cut_beside(-1, 0) if len(cut_runs(session.effective)) > 1 else None


def _as_json(session: Session) -> dict[str, Any]:
    run = cut_runs(session.effective)[-1:]
    limits = {name: limit for each in run for name, limit in each.limits.items()}
    stations = {
        name: {"low": number(limit.low) if limit.low else None, "high": number(limit.high)}
        for name, limit in limits.items()
    }
    read = _read(session.cuts(), _before(session)) if len(limits) >= FEWEST else {}
    return {"stations": stations, **read}


def _read(check: CutCheck, before: Comparison | str | None) -> dict[str, Any]:
    return {
        "uniformity": _interval(check.uniformity),
        "pattern": check.pattern,
        "place": check.place,
        "opposite": list(check.opposite),
        "also": list(check.also),
        "beyond": check.beyond,
        "left": {name: _interval(left) for name, left in check.left.items()},
        "change": _interval(check.change),
        "worst": _interval(check.worst),
        "again": check.again,
        "word": word(check),
        "not_compared": check.not_compared,
        "fading": _interval(check.fading.ratio) if check.fading else None,
        "fades": check.fading.fades if check.fading else "",
        "before": _interval(before.change) if isinstance(before, Comparison) else None,
    }


def _interval(interval: Interval | None) -> list[float | None] | None:
    return None if interval is None else [number(value) for value in interval]


def _number(text: str | None, what: str) -> float | None:
    return None if text is None else parse_number(text, what)
