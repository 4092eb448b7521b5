"""What every entry of a session has."""

from pydantic import BaseModel, ConfigDict

from coach.session.moments import Moment


class Happened(BaseModel):
    """One entry: the only thing a session stores besides the machine."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    id: int
    """Counts up from 1 through the session, undone events included."""
    at: Moment
