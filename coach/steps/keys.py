"""Every key of the job, closed: a step, choice or gate that is not named here cannot be built.

The types say which keys there are; `coach.steps.table` says what each of them is, and a test holds one against the
other.  What people read stands in neither.
"""

from typing import Literal

StageName = Literal[
    "Check",
    "Safety",
    "Tape",
    "Marks",
    "Turns",
    "Done",
    "Next",
    "Switch",
    "List",
    "Attended",
    "Questions",
    "Checks",
    "Cleaning",
    "Cuts",
    "Below",
    "Head",
    "Pointer",
]
"""The stages of a part of the visit, as they are said."""

StepKey = Literal[
    "rules",
    "question",
    "clean",
    "safety",
    "tape",
    "flare",
    "go",
    "go-mirror",
    "pulse",
    "nothing",
    "nothing-mirror",
    "elsewhere",
    "measure",
    "adjust",
    "adjust-part",
    "adjust-tube",
    "screw",
    "move",
    "unplug",
    "move-tube",
    "done",
    "stop",
    "next-part",
    "parts-done",
    "still-weak",
    "check-up",
    "switch-off",
    "switch-on",
    "key-out",
    "close-item",
    "interlock-test",
    "attended",
    "ask",
    "suspects",
    "check",
    "verdict",
    "level-bed",
    "halt",
    "clean-optic",
    "halt-optic",
    "cut-sheet",
    "cut-station",
    "cut-result",
    "head-unknown",
    "bed-card",
    "nozzle-tape",
    "head-pulse",
    "head-nothing",
    "bed-mark",
    "nozzle-mark",
    "head-adjust",
    "head-turn",
    "head-shift",
    "head-done",
    "head-stop",
    "pointer-card",
    "pointer-spot",
    "pointer-turn",
    "pointer-done",
    "pointer-beam",
]
"""The steps of the job."""

GateName = Literal[
    "rules",
    "question",
    "clean",
    "eyewear",
    "firing",
    "fire",
    "air",
    "tape",
    "flame-out",
    "tube-off",
    "isolated",
    "powered",
    "key-out",
    "attended",
]
"""What is acknowledged before the coach goes on; the names stand in session files."""

Asked = Literal[
    "every time", "before the beam", "once", "after a flame", "before the tube", "at a switch", "before cutting"
]
"""When a gate is asked: every time the program is opened; then, and again once the machine was unplugged; once in a
session; for each flame; each time that the tube is to be moved; where a part of the visit needs the machine off, or
on again; before anything is cut, as before the beam."""

ChoiceKey = Literal[
    "acknowledge",
    "arrived",
    "mark",
    "not-whole",
    "double",
    "mount",
    "nothing",
    "flare",
    "missed",
    "set-otherwise",
    "measured",
    "start",
    "turned",
    "turned-half",
    "turned-twice",
    "turned-back",
    "turned-otherwise",
    "shifted",
    "shifted-half",
    "shifted-twice",
    "shifted-back",
    "shifted-otherwise",
    "refuse",
    "lock",
    "mended",
    "best",
    "finish",
    "begin-part",
    "skip-part",
    "other-part",
    "end-part",
    "item-done",
    "item-open",
    "none-turned",
    "answer",
    "enough",
    "part-again",
    "check-figures",
    "checked",
    "check-again",
    "level-bed",
    "cared",
    "comes-out",
    "none-here",
    "lens-broken",
    "renewed",
    "sheet-known",
    "sheet-other",
    "cut-through",
    "cut-figures",
    "cut-enough",
    "cut-left-out",
    "describe-head",
    "undescribed",
    "ready",
    "nothing-through",
    "whole",
    "cut-by-rim",
    "lock-three",
    "spot",
    "on-mark",
    "no-pointer",
    "combiner",
    "to-beam",
    "align",
    "new-baseline",
    "once-warm",
    "fire",
]
"""What a person can say at a step; "fire" is the practice bench's and stands in no table."""

Wants = Literal[
    "", "reading", "turns", "shift", "mirror", "dose", "why", "part", "option", "figures", "machine", "bench"
]
"""What has to come with a choice: nothing, a reading, the turns or the shift really made, a mirror, the
dose really set, a reason, a part of the visit, one of several answers, typed figures, what is described of the
head; or the practice bench has to fire."""

Picture = Literal["none", "bed", "tape", "mount", "path", "check", "optics", "cuts", "head", "below"]
"""What a step is drawn as: nothing, the bed with its stations, the tape, a mount, the beam's path; what a check
measures, the optics, how fast it cuts at each station; the head from two sides, the tape or card of a pulse there."""

Tone = Literal["do", "good", "stop"]
"""How a headline is meant: something to do, the good end, or that it must not go on like this."""

Fact = Literal["gate", "shot", "screw", "shift", "advice", "part", "item", "head", "pointer", "below"]
"""What a step is about."""

EntryKind = Literal[
    "gate", "arrive", "pulse", "mark", "miss", "plan", "turn", "shift", "refused", "lock", "mended", "best", "finish",
    "begin", "skip", "end", "item", "answer", "check", "care", "sheet", "cut",
    "head_pulse", "bed_mark", "nozzle_mark", "pointer", "disturbed", "described",
]  # fmt: skip
"""The entries that choices make, by the kind of their event."""
