"""Small wrong changes that the tests must notice; see `__main__` for how they are tried."""

from mutants import (
    describing,
    doses,
    engine,
    ground,
    head,
    history,
    job,
    paper,
    pictures,
    screen,
    steps,
    upkeep,
    visit,
)
from mutants.mutation import Mutation


def all_mutations() -> tuple[Mutation, ...]:
    """All of them, floor by floor."""
    return (
        *ground.MUTATIONS,
        *engine.MUTATIONS,
        *doses.MUTATIONS,
        *head.MUTATIONS,
        *describing.MUTATIONS,
        *job.MUTATIONS,
        *pictures.MUTATIONS,
        *steps.MUTATIONS,
        *visit.MUTATIONS,
        *history.MUTATIONS,
        *upkeep.MUTATIONS,
        *paper.MUTATIONS,
        *screen.MUTATIONS,
    )
