"""The report as Markdown, with the drawings as SVG files in a folder that stands beside it."""

import re

from coach.pictures.spoken import spoken
from coach.pictures.svg import svg
from coach.report.page import Answer, Drawing, Report, Section, Table
from coach.shown import Wording
from coach.signs import visible

_SIGNS = re.compile(r"([\\`*_\[\]<>|#~&])")
"""What means something to Markdown within a line (CommonMark 0.31, section 2.4: a backslash escapes each)."""
DRAWINGS = "-drawings"
"""Behind the report's own name: the folder with its drawings."""
_BEGINS = re.compile(r"^(\d+)([.)])(?=\s|$)|^([-+=])")
"""What at the beginning of a line would make a list or a heading of it."""


def markdown(report: Report, stem: str) -> str:
    """The text; drawings are linked as `file_of` names them for this stem."""
    lines = [f"# {plain(report.title)}"]
    lines += [f"**{plain(warning)}**" for warning in report.warnings]
    for section in report.sections:
        lines += _section(section, stem, report.wording)
    return "\n\n".join(lines) + "\n"


def pictures(report: Report, stem: str) -> dict[str, str]:
    """Each drawing's file, from beside the report, and what stands in it."""
    return {
        file_of(each, stem): visible(svg(each.scene, report.wording, each.columns, each.rows, name=each.name))
        for each in report.drawings
    }


def file_of(drawing: Drawing, stem: str) -> str:
    """Where a drawing's file is, from a report of that stem."""
    return f"{stem}{DRAWINGS}/{drawing.name}.svg"


def plain(text: str) -> str:
    """Text that Markdown shows as it is, on one line."""
    line = _SIGNS.sub(r"\\\1", " ".join(visible(text).split()))
    return _BEGINS.sub(lambda found: f"{found[1]}\\{found[2]}" if found[1] else f"\\{found[3]}", line)


def _section(section: Section, stem: str, wording: Wording) -> list[str]:
    lines = [f"## {plain(section.heading)}"]
    lines += [part for each in section.answers for part in _answer(each)]
    lines += [plain(line) for line in section.says]
    for each in section.drawings:
        title, description = spoken(each.scene, wording)
        lines.append(f"![{plain(f'{title}. {description}')}](<{_address(file_of(each, stem))}>)")
        lines.append(f"*{plain(each.caption)}*")
    return lines + [part for table in section.tables if table.rows for part in _table(table)]


def _answer(each: Answer) -> list[str]:
    """The question as a heading of its own, the answer in bold, the rest as paragraphs."""
    return [f"### {plain(each.question)}", f"**{plain(each.answer)}**", *(plain(line) for line in each.says)]


def _address(name: str) -> str:
    """A file's name between angle brackets, where only these and the backslash mean something."""
    return re.sub(r"([\\<>])", r"\\\1", name)


def _table(table: Table) -> list[str]:
    rows = [table.heads, ("---",) * len(table.heads)]
    body = [tuple(plain(cell) for cell in row) for row in table.rows]
    written = "\n".join(f"| {' | '.join(row)} |" for row in (*rows, *body))
    return [f"*{plain(table.caption)}*", written]
