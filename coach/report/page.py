"""What a report holds, whatever it is written as: plain text in sections, tables and drawings; nothing is escaped."""

from dataclasses import dataclass

from coach.pictures.view import Scene
from coach.shown import Wording


@dataclass(frozen=True)
class Table:
    """Rows under headings; the first cell of each row says what the row is about."""

    caption: str
    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


@dataclass(frozen=True)
class Answer:
    """A question that everybody asks first, its answer in a few words, and what there is to say besides."""

    question: str
    answer: str
    says: tuple[str, ...] = ()


@dataclass(frozen=True)
class Drawing:
    """A scene as the screen shows it, with its caption; `name` is its id on the page and part of its file's name."""

    name: str
    caption: str
    scene: Scene
    columns: int = 66
    rows: int = 30
    small: bool = False
    """Whether it stands in one row with the small ones beside it."""


@dataclass(frozen=True)
class Section:
    """One heading with what belongs under it: answers, then sentences, then drawings, then tables."""

    heading: str
    says: tuple[str, ...] = ()
    drawings: tuple[Drawing, ...] = ()
    tables: tuple[Table, ...] = ()
    answers: tuple[Answer, ...] = ()
    appendix: bool = False
    """Whether it is there to be looked things up in: it stands last, and on paper begins a page."""

    @property
    def empty(self) -> bool:
        """Whether there is nothing to be shown."""
        return not (self.answers or self.says or self.drawings or any(table.rows for table in self.tables))


@dataclass(frozen=True)
class Report:
    """One visit, or what there is of it so far."""

    title: str
    warnings: tuple[str, ...]
    """What has to be known before anything else is read: that it is invented, that it is not finished."""
    sections: tuple[Section, ...]
    wording: Wording
    """In which its drawings say lengths, as its texts do."""

    @property
    def drawings(self) -> tuple[Drawing, ...]:
        """All drawings, in the order of the page."""
        return tuple(drawing for section in self.sections for drawing in section.drawings)
