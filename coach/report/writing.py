"""A report as files: which ones each form has, where they go, and that none is written over unasked."""

import os
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import count, islice
from pathlib import Path
from typing import Literal, get_args

from coach.errors import InputError, Taken
from coach.files import write_text
from coach.report.markdown import DRAWINGS
from coach.session.session import Session

MOST = 10_000
"""So many reports of one name lie in no folder."""
Form = Literal["html", "markdown", "text", "csv", "json"]


@dataclass(frozen=True)
class FormKind:
    """What a form is called, for lists, and how its files' names end."""

    label: str
    ending: str


FORMS: dict[Form, FormKind] = {
    "html": FormKind("One page, to be shown, printed or sent", ".html"),
    "text": FormKind("Short text for a message to the service", ".txt"),
    "markdown": FormKind("Markdown, with its drawings in a folder beside it", ".md"),
    "csv": FormKind("Readings and adjustments as tables (CSV)", ".csv"),
    "json": FormKind("Readings and adjustments for programs (JSON)", ".json"),
}


def checked_form(name: str) -> Form:
    """The form of that name.  Raises InputError."""
    for form in get_args(Form):
        if form == name:
            return form  # type: ignore[no-any-return]
    raise InputError(f"There is no report as {name!r}", expected=f"one of {', '.join(FORMS)}", example="html")


def target_of(asked: str, stem: str, form: Form, folder: Path) -> Path:
    """The report's own file: as asked, or named after the session in `folder`, or in the folder that was asked for.

    Raises InputError where its folder is not there.
    """
    name = f"{stem}-report{FORMS[form].ending}"
    target = folder / Path(os.path.expanduser(asked)) if asked else folder / name
    try:
        target = target / name if target.is_dir() else target
        there = target.parent.is_dir()
    except (OSError, ValueError):  # too long, or with a character that no file name has
        there = False
    if not there:
        raise InputError(f"There is no folder {str(target.parent)!r}", expected="a folder that is there")
    return target


def files_of(session: Session, form: Form, target: Path, folder: Path) -> dict[Path, str]:
    """Every file of the report with its text, the report's own first.

    `folder` is the data folder: the pages say what all its visits to that machine say together.
    """
    from coach.report.data_files import csv_files, json_text
    from coach.report.html import html
    from coach.report.markdown import markdown, pictures
    from coach.report.of_session import report_of
    from coach.report.over_time import over_time
    from coach.report.text import message

    match form:
        case "text":
            return {target: message(session)}
        case "html":
            return {target: html(report_of(session, history=over_time(folder, session)))}
        case "markdown":
            told = report_of(session, history=over_time(folder, session))
            beside = {target.parent / name: text for name, text in pictures(told, target.stem).items()}
            return {target: markdown(told, target.stem), **beside}
        case "csv":
            return {_of_table(target, name): text for name, text in csv_files(session).items()}
        case "json":
            return {target: json_text(session)}


def taken(files: Sequence[Path] | dict[Path, str]) -> Path | None:
    """The first of these that is there already."""
    return next((path for path in files if os.path.lexists(path)), None)


def write_files(files: dict[Path, str], *, replace: bool = False) -> None:
    """Write all of them.  Raises Taken, before any is written, where one may not be replaced; Unwritable."""
    there = None if replace else taken(files)
    if there is not None:
        raise Taken(there)
    for path, text in files.items():
        write_text(path, text)


def free_target(target: Path, form: Form) -> Path:
    """The same name, with the first number behind it that is free where something of that name is there."""
    numbered = (target.with_name(f"{target.stem}-{number}{target.suffix}") for number in count(2))
    return next(path for path in (target, *islice(numbered, MOST)) if taken(_names(path, form)) is None)


def _names(target: Path, form: Form) -> list[Path]:
    """What a report of that form makes in its folder."""
    from coach.report.data import COLUMNS

    if form == "csv":
        return [_of_table(target, name) for name in COLUMNS]
    drawings = [target.with_name(f"{target.stem}{DRAWINGS}")] if form == "markdown" else []
    return [target, *drawings]


def _of_table(target: Path, name: str) -> Path:
    return target.with_name(f"{target.stem}-{name}{target.suffix}")
