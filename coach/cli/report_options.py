"""What `report` takes."""

from coach.cli.shared_options import Add, add_last


def add_report(add: Add) -> None:
    """Add the action."""
    report = add(
        "report",
        "reporting:report",
        "write a session as one page for somebody who was not there; prints where it is",
        "Without --to the page goes to the folder you are in, and the short text to standard output.",
    )
    add_last(report)
    report.add_argument("--to", metavar="PATH", help="the file to write, or a folder that is there")
    report.add_argument(
        "--format",
        choices=["html", "markdown", "text", "csv", "json"],
        default="html",
        help="one page; Markdown with its drawings beside it; a short text for a message; readings and "
        "adjustments as tables (csv) or for programs (json); without it: html",
    )
    report.add_argument("--replace", action="store_true", help="write over files that are there")
