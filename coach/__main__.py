"""`python -m coach` and the `coach` command."""

import sys


def main() -> int:
    """The shell command; returns its exit status."""
    from coach.cli.main import main as act

    return act(sys.argv[1:])


if __name__ == "__main__":
    sys.exit(main())
