"""The line that says where the job stands."""

from textual.content import Content
from textual.widgets import Static

from coach.steps.pace import minutes_briefly, minutes_words
from coach.steps.step import Standing

ROOMY = 100
"""Columns from which things stand further apart."""


class WhereLine(Static):
    """One line: the stages of the job with a sign each, and the counts."""

    def say(self, standing: Standing, practice: bool) -> None:
        """Show where the job stands: as much as fits, with room between where there is some."""
        roomy, room = self.app.size.width >= ROOMY, self.app.size.width - 2
        spaces = ("  ", " ") if roomy else (" ",)
        wordings = self._counts(standing) if roomy else self._counts(standing)[-1:]
        lines = [self._line(standing, counts, space, practice) for counts in wordings for space in spaces]
        self.update(next((line for line in lines if line.cell_length <= room), lines[-1]))

    @staticmethod
    def _line(standing: Standing, counts: str, space: str, practice: bool) -> Content:
        parts: list[str | tuple[str, str]] = []
        now = True
        for name, behind in _stages(standing):
            if behind or not now:
                parts.append(f"{'✓' if behind else '·'} {name}{space}")
            else:
                parts += [(f"▶ {name}", "bold reverse"), space]
                now = False
        if standing.visit is None or standing.visit.on_the_beam:
            parts.append(f"│{space}{counts}")
        if practice:
            parts += [space, ("PRACTICE", "bold")]
        return Content.assemble(*parts)

    @staticmethod
    def _counts(standing: Standing) -> tuple[str, ...]:
        """Rounds, pulses, what is left of them and how long that takes, in shorter and shorter wordings."""
        counts = f"round {standing.rounds}, pulse {standing.pulses}"
        if standing.left.pulses < 1:
            return (counts,)
        of_all = f"{counts} of about {standing.pulses + standing.left.pulses:.0f}"
        if standing.time is None:
            return of_all, counts
        whole, left = minutes_words(standing.time), minutes_briefly(standing.time)
        fewest = f"pulse {standing.pulses}, {left}"
        return f"{of_all}, {whole}", f"{of_all}, {left}", f"{counts}, {left}", fewest, of_all, counts


def _stages(standing: Standing) -> tuple[tuple[str, bool], ...]:
    """Names, and whether each is behind: the stages of the beam's path, or the parts of a visit in short."""
    visit = standing.visit
    if visit is None:
        return standing.stages
    return (f"{visit.done} of {visit.of} parts", True), (visit.now or "Visit", False)
