"""What `share` and `import` take."""

from coach.cli.shared_options import Add, add_file, add_last


def add_sharing(add: Add) -> None:
    """Add both actions."""
    share = add(
        "share",
        "sharing:share",
        "list what is personal in a session, and write a copy to give away",
        "Without --to it only lists.",
    )
    add_last(share)
    add_file(share)
    share.add_argument("--without-names", action="store_true", help="title, machine, places and screws are renamed")
    share.add_argument("--without-notes", action="store_true", help="notes, reasons and what is half typed stay here")
    taken = add(
        "import",
        "sharing:take_up",
        "check a session's file from elsewhere, tell what is in it, and keep it beside those that are here",
        "Nothing is ever written over or mixed: of two copies that went different ways both are kept.",
    )
    taken.add_argument("file", metavar="FILE", help="its path")
    how = taken.add_mutually_exclusive_group()
    how.add_argument("--look", action="store_true", help="only tell what is in it")
    how.add_argument("--continue", dest="go_on", action="store_true", help="let a copy that goes further go on here")
    how.add_argument("--beside", action="store_true", help="keep a copy that goes further as one of its own")
