"""The report as one HTML page that needs nothing else: no network, no script, its drawings inside.

The page is a template of Jinja2, which escapes whatever is put into it; only the drawings go in as they are, made by
an XML library that escapes too.
"""

from xml.etree import ElementTree as ET

from coach.pictures.inks import NAMESPACE, style
from coach.pictures.palette import DARK
from coach.pictures.svg import drawing
from coach.report.filled import templates_of
from coach.report.page import Drawing, Report
from coach.shown import Wording
from coach.signs import visible

TEMPLATE = "page.html.jinja"


def html(report: Report) -> str:
    """The whole page."""
    dark = f"@media screen and {style(DARK).removeprefix('@media ')}"
    drawn = {each.name: _inline(each, report.wording) for each in report.drawings}
    return templates_of("coach.report").get_template(TEMPLATE).render(report=report, drawn=drawn, dark=dark)


def _inline(each: Drawing, wording: Wording) -> str:
    """The drawing's element; within a page it needs no namespace, and the page's style has its dark colours."""
    root = drawing(each.scene, wording, each.columns, each.rows, name=each.name, dark=None)
    text = visible(ET.tostring(root, encoding="unicode"))
    return text.replace(f' xmlns="{NAMESPACE}"', "", 1)
