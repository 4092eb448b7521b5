"""`python -m coach` and the `coach` command."""

import sys


def main() -> int:
    """The shell command; returns its exit status."""
    try:
        from coach.cli.main import main as act
    except KeyboardInterrupt:  # before anything could hear it; the shells' status for it
        return 130
    return act(sys.argv[1:])


if __name__ == "__main__":
    sys.exit(main())
