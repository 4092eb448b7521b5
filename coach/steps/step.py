"""What the person sees at one moment, without any screen, so that any front end can show it."""

from dataclasses import dataclass

from coach.advice.advice import Left
from coach.steps.about import About
from coach.steps.cautions import Caution
from coach.steps.keys import ChoiceKey, Tone, Wants
from coach.steps.kind import StepKind
from coach.steps.pace import TimeLeft
from coach.steps.table import kind_of
from coach.steps.visit_standing import VisitStanding


@dataclass(frozen=True)
class Choice:
    """Something the person can say now."""

    key: ChoiceKey
    """What `perform` is called with."""
    label: str
    wants: Wants = ""
    """What must come with it."""
    option: str = ""
    """Which of the answers that its row stands for."""

    @property
    def id(self) -> str:
        """Tells it from all others of its step."""
        return f"{self.key} {self.option}" if self.option else self.key


@dataclass(frozen=True)
class Standing:
    """How far the job is."""

    pulses: int
    rounds: int
    worst: float
    """mm, expected largest station offset."""
    chance: float
    """Probability that every station is within tolerance."""
    left: Left
    """Pulses and rounds that probably remain."""
    stages: tuple[tuple[str, bool], ...]
    """The way through the job: names of the stages, and whether each is behind us; the first that is not is now."""
    time: TimeLeft | None = None
    """What remains at this person's own pace; None while nobody can tell."""
    locks: tuple[int, ...] = ()
    """Mirrors whose lock nuts are still to be tightened."""
    visit: VisitStanding | None = None
    """Where in the visit; None where the session is about the beam's path alone."""


@dataclass(frozen=True, kw_only=True)
class Step(About):
    """One step of the job, in words.

    Raises ValueError for a key that stands in no table, for a choice that the table does not know at this step, and
    where a fact is missing that the step is about: a step that nobody could show or answer is not built.
    """

    title: str
    action: str
    """What to do now, a few words, for the large type."""
    figure: str
    """The figure that belongs to the action: a station, an amount."""
    do: tuple[str, ...]
    """What to do, in short lines."""
    why: str
    then: str
    """What comes after it, said where there is room."""
    choices: tuple[Choice, ...]
    tone: Tone = "do"
    """How the headline is meant."""
    news: tuple[str, ...] = ()
    """What the last mark taught: expected against seen, and lessons about the screws."""

    def __post_init__(self) -> None:
        kind = kind_of(self.key)
        for choice in self.choices:
            row = kind.choice(choice.key)
            if row is None or row.wants != choice.wants:
                raise ValueError(f"step {self.key!r} has no choice {choice.key!r} that wants {choice.wants!r}")
        for fact in kind.about:
            if getattr(self, fact) is None:
                raise ValueError(f"step {self.key!r} is about a {fact}, and none is given")

    @property
    def kind(self) -> StepKind:
        """What the table says of this step."""
        return kind_of(self.key)

    @property
    def cautions(self) -> tuple[Caution, ...]:
        """The step's own, most important first, then the ones that are always shown."""
        return self.kind.cautions

    @property
    def measures(self) -> bool:
        """Whether a mark is measured here."""
        return any(choice.wants == "reading" for choice in self.choices)
