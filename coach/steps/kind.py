"""What the table says of a step, of the gates that it asks, and of each of its choices."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field

from coach.session.session import Session
from coach.shown import Wording
from coach.steps.about import About
from coach.steps.cautions import Caution, with_always
from coach.steps.deeds import Deed
from coach.steps.form import Form
from coach.steps.keys import Asked, ChoiceKey, EntryKind, Fact, GateName, Picture, StageName, StepKey, Tone, Wants


@dataclass(frozen=True)
class Gate:
    """One thing to be true before going on."""

    name: GateName
    title: str
    """Large, a few words."""
    text: str
    confirm: str
    """What the person says with one key."""
    asked: Asked = "every time"


@dataclass(frozen=True)
class Option:
    """One of several answers that a choice stands for, each of them a row of its own."""

    value: str
    """What is entered."""
    label: str


@dataclass(frozen=True, kw_only=True)
class ChoiceKind:
    """Something the person can say at a step, and what comes of it."""

    key: ChoiceKey
    label: str
    does: Deed
    makes: EntryKind
    """The one entry that it makes."""
    wants: Wants = ""
    read_back: str = ""
    """The sentence read back before it counts, where one key in passing must not make the entry.

    It knows {station}, {part}, {worst}, the worst offset with what it costs, and {head}, how the head stands.
    """
    offered: Callable[[About, Session], bool] = lambda about, session: True
    """Whether it can be said here and now."""
    options: Callable[[About, Session], tuple[Option, ...]] | None = None
    """The answers that it stands for, where it wants an option."""
    form: Callable[[About, Session, Wording], Form] | None = None
    """What is typed, where it wants figures."""

    def __post_init__(self) -> None:
        if (self.options is None) == (self.wants == "option") or (self.form is None) == (self.wants == "figures"):
            raise ValueError(f"choice {self.key!r} wants {self.wants!r}: options and form do not go with it")


@dataclass(frozen=True)
class Said:
    """What a step says."""

    title: str
    action: str
    """What to do now, a few words, for the large type."""
    figure: str
    """The figure that belongs to the action: a station, an amount."""
    do: tuple[str, ...]
    """What to do, in short lines."""
    why: str = ""
    then: str = ""
    """What comes after it, said where there is room."""
    labels: Mapping[ChoiceKey, str] = field(default_factory=dict)
    """Choices that are called otherwise than in the table."""
    first: ChoiceKey | None = None
    """The choice that comes first, where that hangs on what it says; None: in the table's order."""
    tone: Tone | None = None
    """How the headline is meant, where that hangs on what it says; None: as the table has it for the step."""


Maker = Callable[[About, Session, Wording], Said]
"""Makes a step's words from what it is about, what is believed, and how the person wants amounts said."""


@dataclass(frozen=True, kw_only=True)
class StepKind:
    """One step of the job."""

    key: StepKey
    says: Maker
    own_cautions: tuple[Caution, ...]
    """Most important first; the ones that are always shown are no business of the table."""
    choices: tuple[ChoiceKind, ...]
    tone: Tone = "do"
    picture: Picture = "none"
    about: tuple[Fact, ...] = ()
    """What it cannot be built without."""
    gates: tuple[Gate, ...] = ()
    """What it asks, in this order."""
    fires: bool = False
    """Whether a pulse is made here."""
    danger_begins: bool = False
    """Whether another danger begins here than at the step before: the three that always stand are said whole then."""
    why_was_said: bool = False
    """Whether its reason was given at the step before, or stands in its text: the help alone has it if need be."""

    @property
    def cautions(self) -> tuple[Caution, ...]:
        """The step's own, then the ones that are always shown."""
        return with_always(self.own_cautions)

    def choice(self, key: str) -> ChoiceKind | None:
        """What the table says of a choice; None where it is none of this step's."""
        return next((choice for choice in self.choices if choice.key == key), None)


@dataclass(frozen=True)
class Stage:
    """A part of the visit, and its steps in the order of the job."""

    name: StageName
    steps: tuple[StepKind, ...]
