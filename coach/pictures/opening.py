"""The opening with its tape, and the sizes that are told of it."""

from dataclasses import dataclass

from coach.pictures.aperture import ApertureScene
from coach.pictures.labels import Anchor
from coach.pictures.palette import Role
from coach.pictures.raster import Raster
from coach.shown import Wording


@dataclass(frozen=True)
class OpeningScene:
    """The tape on the opening, with the sizes in its corners; the one that is asked about stands out."""

    aperture: ApertureScene
    notes: tuple[tuple[str, ...], tuple[str, ...], tuple[str, ...]]
    """Each in shorter and shorter wordings."""
    asked: int
    """Which of the notes is asked about; −1 for none."""

    def draw(self, raster: Raster, wording: Wording) -> None:
        """Paint the scene."""
        self.aperture.draw(raster, wording)
        if raster.rows < 8:
            return
        left: Anchor = "left"
        right: Anchor = "right"
        corners = [(0.0, 0, left), (raster.width, 0, right), (raster.width, raster.rows - 1, right)]
        for number, (wordings, corner) in enumerate(zip(self.notes, corners, strict=True)):
            asked = number == self.asked
            spare = [(0.0, 1, left), (raster.width, 1, right), (raster.width, raster.rows - 2, right)]
            raster.label(wordings, [corner, *spare], Role.FOCUS if asked else Role.TEXT, bold=asked)
