"""Mutations of what is heard on the screen, and of the band of cautions."""

from mutants.mutation import mutation

HASTE, BAND = "coach/tui/haste.py", "coach/tui/screens/band.py"
SMALL = "tui/test_app_places.py::test_every_size_at_every_kind_of_step"

MUTATIONS = (
    mutation("a key is done once it was handed on", HASTE,
             "            self._follow(2)\n", "            self._follow(0)\n",
             "tui/test_haste.py", "tui/test_typing_storm.py"),
    mutation("what is asked anew counts as standing there at once", HASTE,
             "        self._stands = math.inf\n", "        self._stands = 0.0\n",
             "tui/test_haste.py", "tui/test_typing_storm.py"),
    mutation("a key that closed a screen is heard by the one beneath too", HASTE,
             "self._pressed_on is not (self.screen if self.screen_stack else None):", "False:",
             "tui/test_haste.py"),
    mutation("a click of before the screen stood there is taken", HASTE,
             "self._down_dropped = event.time <= self._stands", "self._down_dropped = False",
             "tui/test_haste.py"),
    mutation("signal words are not said", BAND,
             'return f"{SIGN}{JOINED}{caution.signal}{2 * JOINED}{text}"', "return text",
             SMALL),
    mutation("the last of the three goes without its signal word", BAND,
             "caution.brief if caution.signal == before.signal else", "caution.brief if True else",
             SMALL),
    mutation("of a step's own cautions only the first is said", BAND,
             "rest = (*own[len(first) :], *(ALWAYS", "rest = (*own[:1], *(ALWAYS",
             "tui/test_steps_golden.py"),
    mutation("the smallest screens drop the step's own caution", BAND,
             "for caution in own for row in", "for caution in own[:0] for row in",
             SMALL),
    mutation("danger is written on the ground of a notice", "coach/tui/themes.py",
             '"DANGER": ("#FFFFFF", "#C8102E")', '"DANGER": ("#FFFFFF", "#00529B")',
             "tui/test_svg_golden.py"),
    mutation("the beam is a notice", "coach/steps/cautions.py",
             '    "DANGER",\n    "Hands clear', '    "NOTICE",\n    "Hands clear',
             "test_docs.py::test_every_caution_is_told_with_its_source"),
)  # fmt: skip
