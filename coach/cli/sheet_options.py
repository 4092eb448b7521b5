"""What `worksheet` takes."""

from coach.cli.shared_options import Add, add_file


def add_sheets(add: Add) -> None:
    """Add the action."""
    sheet = add(
        "worksheet",
        "sheets:worksheet",
        "write a page to print and take to the machine: blanks in true scale for the tapes; prints where it is",
        "Without --to the page goes to the folder you are in.",
    )
    sheet.add_argument("machine", metavar="MACHINE", help="the name of a stored machine, or a path")
    add_file(sheet)
    sheet.add_argument("--unit", choices=["mm", "in"], default="mm", help="in which lengths are written down (mm)")
