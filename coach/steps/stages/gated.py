"""Steps that ask gates: what they say is the gate's."""

from collections.abc import Mapping

from coach.session.session import Session
from coach.shown import Wording
from coach.steps import deeds
from coach.steps.about import About
from coach.steps.cautions import Caution
from coach.steps.keys import Fact, GateName, StepKey
from coach.steps.kind import ChoiceKind, Gate, Maker, Said, StepKind

ACKNOWLEDGE = ChoiceKind(key="acknowledge", label="Confirmed", does=deeds.acknowledge, makes="gate")


def gate_step(
    key: StepKey,
    title: str,
    cautions: tuple[Caution, ...],
    gates: tuple[Gate, ...],
    *,
    more: tuple[ChoiceKind, ...] = (),
    about: tuple[Fact, ...] = (),
) -> StepKind:
    """The step that asks these gates, one after the other, with `more` to say besides the acknowledgement."""
    return StepKind(
        key=key,
        says=_saying(title, {gate.name: gate for gate in gates}),
        own_cautions=cautions,
        choices=(ACKNOWLEDGE, *more),
        about=("gate", *about),
        gates=gates,
        danger_begins=True,
    )


def _saying(title: str, gates: Mapping[GateName, Gate]) -> Maker:
    def says(about: About, session: Session, wording: Wording) -> Said:
        assert about.gate is not None
        gate = gates[about.gate]
        return Said(title, gate.title, "", (gate.text,), labels={"acknowledge": gate.confirm})

    return says
