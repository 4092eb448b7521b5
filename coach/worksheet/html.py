"""A sheet as one HTML page that needs nothing else: no network, no script; all that is drawn is sized in mm."""

from coach.report.filled import templates_of
from coach.worksheet.sheet import Sheet

TEMPLATE = "sheet.html.jinja"
SCALE = 100
"""mm, the line by which a printer is checked."""


def html(sheet: Sheet) -> str:
    """The whole page."""
    return templates_of("coach.worksheet").get_template(TEMPLATE).render(sheet=sheet, scale=SCALE)
