"""`share` and `import`: a session's file for somebody else, and somebody else's beside those that are here."""

from argparse import Namespace
from pathlib import Path

from coach.cli.folder import store_of
from coach.cli.out import say
from coach.cli.sheets import write_asked
from coach.files import as_toml
from coach.session.document import read, to_table
from coach.session.kept import now
from coach.sharing.personal import Kind, personal, without
from coach.sharing.taking import Choice, checked, take
from coach.sharing.words import about, machine_words, personal_lines, taken_words
from coach.shown import day_words


def share(arguments: Namespace) -> int:
    """List what is personal; with --to write the copy and print where it is, last."""
    path = store_of(arguments).find_session(arguments.session)
    document = read(path)
    begun = day_words(document.created.astimezone().date())
    say(f"Session: {document.title}, {document.machine.name}, begun {begun} ({path}).")
    asked: dict[Kind, bool] = {"name": arguments.without_names, "note": arguments.without_notes}
    out = tuple(kind for kind, left_out in asked.items() if left_out)
    say("\n".join(personal_lines(personal(document), out)))
    if arguments.to is not None:
        target = Path(arguments.to)
        write_asked(target, as_toml(target, to_table(without(document, *out))), replace=arguments.replace)
        say(str(target))
    return 0


def take_up(arguments: Namespace) -> int:
    """Check a file, tell what is in it, and keep it unless it is here already."""
    store, path = store_of(arguments), Path(arguments.file)
    document = checked(path)
    say("\n".join((*about(document, now()), machine_words(document, store))))
    chosen: dict[Choice, bool] = {"look": arguments.look, "continue": arguments.go_on, "beside": arguments.beside}
    choice: Choice = next((name for name, said in chosen.items() if said), "")
    say("\n".join(taken_words(take(store.folder, path, choice))))
    return 0
