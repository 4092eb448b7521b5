"""The one way in which a page is filled: whatever is put in is escaped, and shown as `coach.signs` says."""

from jinja2 import Environment, PackageLoader, StrictUndefined

from coach.signs import visible


def templates_of(package: str) -> Environment:
    """The templates in that package's folder `templates`; a name that nobody gave raises."""
    return Environment(
        loader=PackageLoader(package, "templates"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        finalize=_shown,
        keep_trailing_newline=True,
    )


def _shown(value: object) -> object:
    """Text as it may be shown; what is markup already stays."""
    return visible(value) if isinstance(value, str) and not hasattr(value, "__html__") else value
