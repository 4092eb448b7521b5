"""`history`: what a machine's visits say together, any two of them compared, and what is kept of its mounts."""

from argparse import Namespace

from coach.cli.folder import store_of
from coach.cli.history_json import history_json
from coach.cli.out import say, say_json
from coach.errors import InputError
from coach.history.beside import beside, beside_lines, worst_words
from coach.history.of_machine import History
from coach.history.stored import stored_history
from coach.history.taught import forget, machine_lines
from coach.history.words import happening_words, history_lines, visit_words
from coach.session.kept import now
from coach.session.store import Store
from coach.shown import IN_MM

MOST_LISTED = 30
"""So many of the newest visits are listed."""


def history(arguments: Namespace) -> int:
    """Tell it; with --compare two visits, with --forget drop what is kept of a mount."""
    store = store_of(arguments)
    name = arguments.machine or _only(store)
    if arguments.forget is not None:
        if arguments.compare or arguments.json:
            raise InputError("More than one thing is asked for", expected="--forget alone")
        change = forget(store, name, int(arguments.forget))
        say(f"Forgotten: what was learned of mirror {arguments.forget}'s mount. Changed: {change.path}")
        return 0
    told = stored_history(store.folder, name, now())
    if arguments.compare:
        one, other = (told.visit(key) for key in arguments.compare)
        say("\n".join(beside_lines(beside(one, other, IN_MM))))
    elif arguments.json:
        say_json(history_json(told))
    else:
        say("\n".join(_lines(store, told)))
    return 0


def _only(store: Store) -> str:
    """The one machine there is.  Raises InputError where there are none, or several."""
    names = [found.content.name for found in store.machines() if found.content]
    if len(names) != 1:
        have = f"one of: {', '.join(map(repr, names))}" if names else "a machine, described by coach new-machine"
        raise InputError("No machine is named" if names else "No machine is stored yet", expected=have)
    return names[0]


def _lines(store: Store, told: History) -> list[str]:
    count = told.older + len(told.visits)
    lines = [f"{told.machine}: {count} visit{'' if count == 1 else 's'}."]
    lines += history_lines(told, IN_MM)
    more = count - MOST_LISTED
    lines += [f"The newest {MOST_LISTED} of them:"] if more > 0 else []
    for number, visit in told.numbered[-MOST_LISTED:]:
        lines.append(f"  {visit_words(number, visit, worst_words(visit, IN_MM))}")
    lines += [f"  {happening_words(each)}" for each in told.happened]
    lines += [f"Left out: {problem}" for problem in told.problems]
    kept = next((found.content for found in store.machines() if found.content and found.content.name == told.machine),
                None)  # fmt: skip
    return lines + (list(machine_lines(kept)) if kept is not None else [])
