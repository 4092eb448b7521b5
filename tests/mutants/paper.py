"""Mutations of what is on paper or comes from elsewhere: worksheets, typing one in, copies of a visit."""

from mutants.mutation import mutation

SHEET, TYPED, MADE = "worksheet/test_sheet.py", "worksheet/test_typed_in.py", "worksheet/test_made.py"
SHARING = "sharing/test_sharing.py"

MUTATIONS = (
    mutation("marks on one side alone are thought of", "coach/worksheet/blanks.py",
             "product((1, -1), repeat=count - 1)", "product((1,), repeat=count - 1)", SHEET),
    mutation("a circle is as wide as its radius", "coach/worksheet/sheet.py",
             "Drawn(across(machine, shot) / 2,", "Drawn(across(machine, shot) / 4,", SHEET),
    mutation("right at the head is the other way", "coach/worksheet/sheet.py",
             '"front" if machine.path.side == "left"', '"front" if machine.path.side == "right"', SHEET),
    mutation("a drawing is squeezed onto the paper", "coach/worksheet/sheet.py",
             "return 2 * self.half <= WIDEST", "return True", SHEET),
    mutation("a mark may be of tomorrow", "coach/session/checks.py",
             "if when.date() > now.date():", "if False:", MADE),
    mutation("a mark may be from before what was turned", "coach/worksheet/made.py",
             "if adjusted and day <", "if False and adjusted and day <", MADE),
    mutation("what is typed in is of today", "coach/worksheet/typed_in.py", "at=pulse.at,", "", TYPED),
    mutation("a tape from before a turn counts on", "coach/worksheet/typed_in.py",
             "for event in counting[last + 1 :]", "for event in counting", TYPED),
    mutation("what was left empty is asked again", "coach/worksheet/typed_in.py",
             "**dose, **empty}", "**dose}", TYPED),
    mutation("undo goes on before the sheet", "coach/worksheet/typed_in.py",
             "if not isinstance(newest, Mark | Miss | Pulse | Amend):", "if newest is None:", TYPED),
    mutation("the way to a station tells its name", "coach/sharing/personal.py",
             "{self._stations.get(station, station)}", "{station}", SHARING),
    mutation("a reason is no note", "coach/sharing/personal.py", '("text", "why")', '("text",)', SHARING),
    mutation("copies agree one entry further", "coach/sharing/copies.py",
             "mine.events[common - 1].id if common else 0", "mine.events[common - 1].id + 1", SHARING),
    mutation("names of two copies are mixed", "coach/sharing/taking.py", "if not how.word_for_word:", "if False:",
             SHARING),
    mutation("a longer copy is taken unasked", "coach/sharing/taking.py",
             'if choice != "continue":', 'if choice == "look":', SHARING),
)  # fmt: skip
