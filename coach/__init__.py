"""The alignment coach: from marks on tape to the right screw of a gantry CO2 laser cutter.

The public Python interface is `Machine` and `Session`; see docs/guide.md.  Both are imported on
first use, so that `coach --version` stays quick.
"""

from typing import TYPE_CHECKING, Any

__version__ = "0.1.0"
__all__ = ["Machine", "Session", "__version__"]

if TYPE_CHECKING:
    from coach.machine import Machine
    from coach.session.session import Session


def __getattr__(name: str) -> Any:
    if name == "Machine":
        from coach.machine import Machine

        return Machine
    if name == "Session":
        from coach.session.session import Session

        return Session
    raise AttributeError(f"module 'coach' has no attribute {name!r}")
