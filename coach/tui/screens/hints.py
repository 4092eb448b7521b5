"""What a person can do, said once: the first time that a kind of step or a screen is shown.

One short line each, so that it fits beneath the smallest picture; what was shown is kept with the settings.
"""

from coach.tui.program import Moment

HINTS: dict[Moment, str] = {
    "home": "S opens the settings: colours, mm or inches, signs, keys.",
    "safety": "Enter takes the row with the arrow; U takes the last answer back.",
    "go": "G shows this alone, large, for reading from the machine.",
    "pulse": "Whatever you answer is kept at once; U takes it back.",
    "measure": "Enter opens the measurement; there are several ways to measure.",
    "measuring": "PgDn changes the way to measure, F6 the face of the tape.",
    "adjust": "One screw at a time; R shows all that was entered so far.",
    "screw": "Turned more, less or the other way? Say so: the coach reckons with it.",
    "move": "Moved more or less than told? Say so: the coach reckons with it.",
    "done": "N keeps a note for next time; W writes a report of all of it.",
    "parts-done": "W writes a report of this visit, for the service or for next time.",
    "still-weak": "W writes a report of this visit: the service asks for just that.",
    "review": "Enter on a mark measures it again, U takes the last entry back.",
    "describe": "F12 guesses what you cannot measure; half a description is kept.",
    "upkeep": "Arrows or a digit show what to do; Enter asks whether it is done.",
    "settings": "Left and Right change a value; it is kept at once.",
}
"""When it is shown to what it says; a moment without a hint is none of these."""
