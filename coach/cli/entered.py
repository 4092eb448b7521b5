"""What every entry by the shell says once it is made."""

from coach.cli.out import say
from coach.session.kept import Kept


def entered(session: Kept, text: str) -> None:
    """Say what was entered, and in which session: "last" may be another than was meant."""
    bench, path = session.practice, session.path
    kind = f"practice session (kind {bench.kind}, seed {bench.seed})" if bench else "session"
    say(f"{text}\nIn {kind} {path.stem}." if path else text)
