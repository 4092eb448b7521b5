"""Mutations of doses, of what left nothing, and of what is looked at before "done"."""

from mutants.mutation import mutation

MUTATIONS = (
    # -- the ladder
    mutation("after a flame the dose stays", "coach/advice/ladder.py",
             "return begin / doses.step if pulses and", "return begin if pulses and",
             "advice/test_ladder.py"),
    mutation("after nothing the dose stays", "coach/advice/ladder.py",
             "if last is None else last * doses.step", "if last is None else last",
             "advice/test_ladder.py"),
    mutation("what marked is forgotten for the next pulse", "coach/advice/ladder.py",
             "begin = base or machine.pulse.ms or doses.ms", "begin = machine.pulse.ms or doses.ms",
             "advice/test_ladder.py"),
    mutation("a button that is held by hand is given a time", "coach/advice/ladder.py",
             "by_hand = machine.pulse.timed is False", "by_hand = False",
             "advice/test_ladder.py"),
    mutation("a slow finger's power is raised to the most", "coach/advice/ladder.py",
             "most = min(100.0, doses.longest", "most = max(100.0, doses.longest",
             "advice/test_ladder.py"),
    mutation("steps made at another place go on here", "coach/belief/pulses.py",
             'if pulsed.came_to != "nothing" or not pulsed.at(at):', 'if pulsed.came_to != "nothing":',
             "advice/test_ladder.py", "belief/test_silence.py"),
    # -- three rivals of nothing
    mutation("what marked says nothing of the threshold", "coach/belief/pulses.py",
             '        if pulsed.came_to == "mark":\n            known =', "        if False:\n            known =",
             "belief/test_silence.py"),
    mutation("a dead laser silences each place by itself", "coach/belief/pulses.py",
             "Silence(dead / so_far, weak / so_far)", "Silence(dead, weak)",
             "belief/test_silence.py"),
    mutation("a laser that marked is as doubtful as before", "coach/belief/pulses.py",
             "(doses.not_firing if marked else doses.not_firing_first)", "doses.not_firing_first",
             "belief/test_silence.py"),
    mutation("once more is advised where it may miss", "coach/advice/silence.py",
             "if here.safe and not strongest:", "if not strongest:",
             "advice/test_ladder.py"),
    # -- mirrors before "done"
    mutation("how surely a mirror is well hit forgets the doubt about the beam", "coach/advice/mirrors.py",
             "all_within(mean / room, cov / scale + doubt, 1.0)", "all_within(mean / room, doubt, 1.0)",
             "advice/test_mirrors.py"),
    mutation("a beam on a mirror is as thin as a line", "coach/advice/mirrors.py",
             "beside_a_mirror) * self.radii / 2", "beside_a_mirror) * 0.0 * self.radii",
             "advice/test_mirrors.py"),
    mutation("a mirror that is left as it is stops the job for ever", "coach/advice/mirrors.py",
             '    if "edge" in belief.accepted:\n        return None\n', "",
             "advice/test_mirrors.py"),
)  # fmt: skip
