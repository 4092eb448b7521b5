"""Every key of the job, closed: a step, choice or gate that is not named here cannot be built.

The types say which keys there are; `coach.steps.table` says what each of them is, and a test holds one against the
other.  What people read stands in neither.
"""

from typing import Literal

StageName = Literal["Safety", "Check", "Tape", "Marks", "Turns", "Done"]
"""The stages of a visit to the machine, as they are said."""

StepKey = Literal[
    "safety",
    "question",
    "clean",
    "tape",
    "flare",
    "go",
    "pulse",
    "nothing",
    "measure",
    "adjust",
    "screw",
    "move",
    "done",
    "stop",
]
"""The steps of the job."""

GateName = Literal["rules", "eyewear", "fire", "air", "question", "clean", "tape", "flame-out"]
"""What is acknowledged before the coach goes on; the names stand in session files."""

Asked = Literal["every time", "once", "after a flame"]
"""When a gate is asked: every time the program is opened, once in a session, or for each flame."""

ChoiceKey = Literal[
    "acknowledge",
    "arrived",
    "mark",
    "nothing",
    "flare",
    "missed",
    "measured",
    "start",
    "turned",
    "turned-otherwise",
    "shifted",
    "shifted-otherwise",
    "lock",
    "finish",
    "fire",
]
"""What a person can say at a step; "fire" is the practice bench's and stands in no table."""

Wants = Literal["", "reading", "turns", "shift", "mirror", "bench"]
"""What has to come with a choice: nothing, a reading, the turns or the shift really made, a mirror; or the practice
bench has to fire."""

"""Where a part can be moved, in the machine's frame."""

Picture = Literal["none", "bed", "tape", "mount", "path"]
"""What a step is drawn as: nothing, the bed with its stations, the tape, a mount, the beam's path."""

Fact = Literal["gate", "shot", "screw", "shift", "advice"]
"""What a step is about."""

EntryKind = Literal["gate", "arrive", "pulse", "mark", "miss", "plan", "turn", "shift", "lock", "finish"]
"""The entries that choices make, by the kind of their event."""
