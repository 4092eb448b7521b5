"""Which practice bench stands behind a session: light enough for lists."""

from typing import Annotated

from pydantic import BaseModel, ConfigDict, Field


class Practice(BaseModel):
    """The practice bench behind a session: which kind of trouble, and the seed that hides it."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    kind: str = "plain"
    seed: Annotated[int, Field(ge=0)] = 1
