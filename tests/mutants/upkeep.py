"""Mutations of upkeep: what is due, hours of use, what a visit did."""

from mutants.mutation import mutation

LOG, VISITED, MOVED = "upkeep/test_log.py", "upkeep/test_visited.py", "steps/test_moved.py"

MUTATIONS = (
    mutation("due a day late", "coach/upkeep/standing.py", "days_over >= 0", "days_over > 0", LOG),
    mutation("by use nothing is ever due", "coach/upkeep/standing.py",
             "hours_over is not None and hours_over >= 0", "False", LOG),
    mutation("what comes later counts today", "coach/upkeep/standing.py",
             "if each.on <= today and", "if", LOG, VISITED),
    mutation("hours may run backwards", "coach/upkeep/use.py", "if then.hours < first.hours:", "if False:", LOG),
    mutation("a day has any number of hours", "coach/upkeep/use.py",
             "if then.hours - first.hours > room:", "if False:", LOG),
    mutation("a new counter goes back", "coach/upkeep/use.py",
             "if last is None or reading.anew else", "if last is None else", LOG),
    mutation("what was used later on the day is lost", "coach/upkeep/use.py",
             "if reading.entry == entry:", "if False:", LOG),
    mutation("something can be done tomorrow", "coach/upkeep/use.py", "if on > today:", "if False:", LOG),
    mutation("what another program entered is lost", "coach/upkeep/log.py",
             "            self._doc = document.read(self._path)\n", "            document.read(self._path)\n", LOG),
    mutation("a check-up's marks may be older than the last turn", "coach/session/found_and_left.py",
             "return _at_head(events[begin + 1 :])", "return _at_head(events)", VISITED, MOVED),
    mutation("one doubt stands for both readings", "coach/steps/moved.py",
             "math.hypot(old.sd, new.sd)", "new.sd", MOVED),
    mutation("every station has its own two deviations", "coach/steps/moved.py",
             "** (1 / (len(pairs) + 1))", "** 1.0", MOVED),
    mutation("one bad reading is a machine that moved", "coach/steps/moved.py",
             'return "one mark" if alone', 'return "one mark" if False and alone', MOVED),
    mutation("what was found is what was left", "coach/session/found_and_left.py",
             "return _at_head(events[:end])",
             "return _at_head(events)", MOVED),
    mutation("a movement of all alike is lost", "coach/steps/moved.py",
             'return "moved" if together.stands_out else "as it was"', 'return "as it was"', MOVED),
    mutation("a practice machine's deeds count", "coach/upkeep/visited.py",
             "as_summary(facts[SUMMARY.name])).practice is None", "as_summary(facts[SUMMARY.name])).title", VISITED),
    mutation("three optics are all", "coach/upkeep/visited.py",
             "if len(times) == len(whole):", "if len(times) >= 3:", VISITED),
)  # fmt: skip
