"""Mutations of a machine's history: who drifts, what came between, when the tolerance is left."""

from mutants.mutation import mutation

HISTORY, FIT, KEPT = "history/test_history.py", "history/test_fit.py", "history/test_kept_visits.py"

MUTATIONS = (
    mutation("mirror 2 is taken to carry leg 1", "coach/history/beam.py", "[-1, 1, 0, 0]", "[1, 1, 0, 0]", HISTORY),
    mutation("marks made once count as made twice", "coach/history/series.py",
             "if k + 1 < count and after.same:", "if False:", FIT),
    mutation("a bump is drift", "coach/history/series.py", "return moved or any(", "return any(", HISTORY),
    mutation("a new mirror keeps its past", "coach/history/series.py",
             "return moved or any(", "return moved and any(", HISTORY),
    mutation("two visits are enough", "coach/tuning/drifting.py", "fewest: int = 3", "fewest: int = 2", HISTORY),
    mutation("practice is a visit", "coach/session/store.py",
             "each.content.machine.name == machine and each.content.practice is None",
             "each.content.machine.name == machine", HISTORY),
    mutation("a kept visit ends when it began", "coach/history/kept.py",
             'ended=datetime.fromisoformat(told["ended"])', 'ended=datetime.fromisoformat(told["begun"])', KEPT),
    mutation("a kept visit left what it found", "coach/history/kept.py",
             'left=_state(told["left"])', 'left=_state(told["found"])', KEPT),
    mutation("a visit to come counts", "coach/history/of_machine.py",
             "if visit.begun <= now + AHEAD", "if visit.begun is not None", HISTORY),
    mutation("another beam path is compared", "coach/history/series.py",
             "return paths[0] == paths[1]", "return bool(paths)", HISTORY),
    mutation("a mirror's tilt is the beam's", "coach/history/found.py", "np.array([2.0, ROOT2])", "1.0", HISTORY),
)  # fmt: skip
