"""Readings and adjustments as files for other programs: CSV, one table a file, and one JSON file of all tables."""

import csv
import io
import json

from coach.report.data import COLUMNS, Value, document, tables
from coach.session.session import Session
from coach.signs import visible

FORMULA = ("=", "+", "-", "@", "＝", "＋", "－", "＠")
"""A text that begins so would be computed by spreadsheets (OWASP, CSV injection); full-width ones as well."""
SHOWN_AS_TEXT = "'"
"""What is put before such a text: spreadsheets then show it as it was typed."""


def csv_files(session: Session) -> dict[str, str]:
    """Table to its file's text (RFC 4180: a head line, CRLF, quotes where they are needed)."""
    return {name: _csv(COLUMNS[name], rows) for name, rows in tables(session).items()}


def json_text(session: Session) -> str:
    """One object, as schema/report-data.schema.json describes it."""
    return json.dumps(document(session), ensure_ascii=False, indent=1, default=str) + "\n"


def _csv(columns: tuple[str, ...], rows: list[dict[str, Value]]) -> str:
    written = io.StringIO()
    writer = csv.writer(written)
    writer.writerow(columns)
    writer.writerows([_cell(row[column]) for column in columns] for row in rows)
    return written.getvalue()


def _cell(value: Value) -> str:
    """Numbers as numbers; texts so that nothing computes or obeys them."""
    match value:
        case None:
            return ""
        case bool():
            return "yes" if value else "no"
        case str():
            text = " ".join(visible(value).split())
            return f"{SHOWN_AS_TEXT}{text}" if text.startswith(FORMULA) else text
        case _:
            return repr(value)
