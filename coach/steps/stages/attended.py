"""What has to be true before anything is cut: asked whenever the program is opened, and after it was unplugged."""

from coach.steps.cautions import ATTENDED, COVERS, MATERIAL
from coach.steps.kind import Gate, Stage
from coach.steps.stages.gated import gate_step

_ATTENDED = Gate(
    "attended",
    "Lid shut, you stay",
    "Lens and nozzle in, all tape and cards off. Lid and every cover shut while it cuts. Water "
    "flows, air assist and extraction are on. "
    "The sheet is known: never PVC or anything with chlorine. A CO2 extinguisher and a damp cloth are within reach, "
    "you know where the emergency stop is, and you stay beside the machine until the last cut is cold.",
    "Shut, air on, I stay beside it",
    "before cutting",
)

ATTENDED_CUTS = Stage(
    "Attended", (gate_step("attended", "Before it cuts", (ATTENDED, MATERIAL, COVERS), (_ATTENDED,)),)
)
