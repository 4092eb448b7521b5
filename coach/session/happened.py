"""What every entry of a session has."""

from datetime import datetime

from pydantic import BaseModel, ConfigDict


class Happened(BaseModel):
    """One entry: the only thing a session stores besides the machine."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    id: int
    """Counts up from 1 through the session, undone events included."""
    at: datetime
