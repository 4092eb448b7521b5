"""The alignment coach: from marks on tape to the right screw of a gantry CO2 laser cutter.

The public Python interface is `Machine`, `Session` and `MachineLog`; see docs/guide.md.  All are imported on
first use, so that `coach --version` stays quick.
"""

from typing import TYPE_CHECKING, Any

__version__ = "0.1.0"
__all__ = ["Machine", "MachineLog", "Session", "__version__"]

if TYPE_CHECKING:
    from coach.machine import Machine
    from coach.session.session import Session
    from coach.upkeep.log import MachineLog


def __getattr__(name: str) -> Any:
    if name == "Machine":
        from coach.machine import Machine

        return Machine
    if name == "Session":
        from coach.session.session import Session

        return Session
    if name == "MachineLog":
        from coach.upkeep.log import MachineLog

        return MachineLog
    raise AttributeError(f"module 'coach' has no attribute {name!r}")
