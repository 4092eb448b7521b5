"""The gaps from head to bed at the corners: a level frame, as the head travels, and the bed that hangs below it.

Seen from the front and above.  The corner with the smallest gap, where the bed is highest, touches the frame; every
other one hangs below it by what its gap is larger, all drawn so many times too large.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from coach.pictures import shapes
from coach.pictures.labels import Anchor
from coach.pictures.palette import Role
from coach.pictures.raster import Raster
from coach.pictures.view import snap
from coach.shown import Wording
from coach.triage.bed import spread
from coach.triage.figures import CORNERS

LEAST = (30, 8)
"""Columns and rows from which there is anything to see."""
NARROW = 36
"""Columns below which a corner's words need half of the row."""
WORDY = 14
"""Rows from which every corner has its name."""
GAUGED = 12
"""Rows from which a gauge shows the gaps' difference beside what is harmless."""
NARROWER = 0.78
"""The back edge is drawn so much shorter than the front one: it is farther away."""
HANGS = 0.34
"""The lowest corner hangs below the frame by so much of the picture's part, where the gaps differ by enough …"""
PLENTY = 2.5
"""… which is so many times what is harmless."""
HARMLESS = 0.5
"""mm; taken where nobody said what is harmless, for the drawing's size alone."""
SAME = 0.005
"""mm; gaps that differ by less are alike."""
NOT_YET = "not measured yet"
Point = tuple[float, float]


@dataclass(frozen=True)
class BedGapsScene:
    """A travel of `width` × `depth` mm and its gaps in mm, by corner ("front_left"); a corner may be missing."""

    width: float
    depth: float
    gaps: Mapping[str, float]
    harmless: float | None = None
    """mm that gaps may differ by: half the depth of focus; None where the lens is not known."""
    asked: str = ""
    """The corner that is measured now."""

    @property
    def spread(self) -> float | None:
        """Largest less smallest gap, mm."""
        return spread(self.gaps)

    def hangs(self, corner: str) -> float:
        """How far below the highest corner that is known, mm."""
        return self.gaps[corner] - min(self.gaps.values())

    def rank(self, corner: str) -> str:
        """ "lowest", "highest" or ""; nothing is either before all are known, or where they are alike."""
        apart = self.spread
        if apart is None or apart < SAME or len(self.gaps) < len(CORNERS):
            return ""
        hangs = self.hangs(corner)
        return "lowest" if apart - hangs < SAME else "highest" if hangs < SAME else ""

    def draw(self, raster: Raster, wording: Wording) -> None:
        """Paint the scene; nothing where it would be too small to be read."""
        if raster.columns >= LEAST[0] and raster.rows >= LEAST[1]:
            _Drawing(self, raster, wording).run()


def verdict(scene: BedGapsScene, wording: Wording) -> tuple[str, ...]:
    """What the gaps say, in shorter and shorter words."""
    apart, limit = scene.spread, scene.harmless
    if len(scene.gaps) < len(CORNERS) or apart is None:
        left = len(CORNERS) - len(scene.gaps)
        return f"{left} of {len(CORNERS)} corners {NOT_YET}", f"{left} of {len(CORNERS)} {NOT_YET}"
    differ = f"gaps differ by {wording.length(apart, 2)}"
    if limit is None:
        return (differ,)
    most = wording.length(limit, 2)
    if apart > limit:
        return (
            f"! {differ}: more than {most}, half the depth of focus", f"! {differ}: more than {most}",
            f"! {wording.amount(apart, 2)} > {most}",
        )  # fmt: skip
    return (
        f"✓ {differ}: within {most}, half the depth of focus", f"✓ {differ}: within {most}",
        f"✓ {wording.amount(apart, 2)} < {most}",
    )  # fmt: skip


class _Drawing:
    def __init__(self, scene: BedGapsScene, raster: Raster, wording: Wording) -> None:
        self.scene, self.raster, self.grid, self.wording = scene, raster, raster.grid, wording
        self.wordy, aspect = raster.rows >= WORDY, raster.aspect
        beside = 2 if self.wordy else 1
        self.below = (
            1 + (1 if raster.rows >= GAUGED else 0) + (1 if raster.rows >= GAUGED and self.factor_said else 0)
        )
        top, bottom = beside * aspect + 1.0, (raster.rows - self.below - beside) * aspect - 2.0
        limit = scene.harmless or HARMLESS
        self.drop = HANGS * (bottom - top) / max(scene.spread or 0.0, PLENTY * limit)
        """Column widths per mm of gap."""
        tall = (bottom - top) * (1 - HANGS)
        wide = raster.width - 6.0
        back = min(tall, 0.6 * scene.depth / scene.width * wide)  # no plan: depth is seen slantwise
        middle, y0 = raster.width / 2, top + (tall - back) / 2
        self.frame: dict[str, Point] = {
            "back_left": (middle - NARROWER * wide / 2, y0), "back_right": (middle + NARROWER * wide / 2, y0),
            "front_left": (middle - wide / 2, y0 + back), "front_right": (middle + wide / 2, y0 + back),
        }  # fmt: skip
        self.frame = {corner: snap(raster, *place) for corner, place in self.frame.items()}
        self.across = wide / scene.width

    @property
    def factor_said(self) -> bool:
        """Whether anything hangs, so that by how much too far is to be said."""
        return (self.scene.spread or 0.0) >= SAME

    def bed(self, corner: str) -> Point:
        x, y = self.frame[corner]
        return x, y + self.drop * self.scene.hangs(corner)

    def run(self) -> None:
        self.surface()
        self.level()
        for corner in sorted(self.scene.gaps, key=self.scene.hangs):
            self.post(corner)
        for corner in CORNERS:
            self.words(corner)
        self.told()

    def sides(self) -> list[tuple[str, str]]:
        round_it = ("back_left", "back_right", "front_right", "front_left")
        return list(zip(round_it, (*round_it[1:], round_it[0]), strict=True))

    def surface(self) -> None:
        """The bed, as far as its corners are known."""
        raster, known = self.raster, self.scene.gaps
        if len(known) == len(CORNERS):
            raster.paint(shapes.polygon(self.grid, [self.bed(corner) for corner, _ in self.sides()]), Role.SURFACE)
        for one, other in self.sides():
            if one in known and other in known:
                edge = shapes.line(self.grid, *self.bed(one), *self.bed(other), max(1.2, raster.hair))
                raster.paint(edge, Role.METAL)

    def level(self) -> None:
        """The frame in which the head travels: a pen's line, stronger where there is no edge of the bed yet."""
        raster, known = self.raster, self.scene.gaps
        for one, other in self.sides():
            ends = (*self.frame[one], *self.frame[other])
            raster.hairline(*ends, Role.FRAME)
            if not (one in known and other in known):
                raster.paint(shapes.line(self.grid, *ends, raster.hair), Role.FRAME)

    def ink(self, corner: str) -> Role:
        scene = self.scene
        if corner == scene.asked:
            return Role.FOCUS
        if corner not in scene.gaps:
            return Role.QUIET
        if scene.harmless is None:
            return Role.TODO
        return Role.MARK if scene.hangs(corner) > scene.harmless else Role.DONE

    def post(self, corner: str) -> None:
        """From the frame down to the bed, where there is anything between the two."""
        raster, (x, y), (_, end) = self.raster, self.frame[corner], self.bed(corner)
        role = self.ink(corner)
        if end - y > 0.6:
            raster.paint(shapes.bar(self.grid, x - 0.7, y, x + 0.7, end), role)
        raster.paint(shapes.disc(self.grid, x, end, 1.3), role)
        raster.keep_free(x - 1.3, y - 0.5, x + 1.3, end + 1.0)

    def words(self, corner: str) -> None:
        """Above the back corners, below the front ones: the name, the gap, and whether it is lowest or highest."""
        raster, scene, role = self.raster, self.scene, self.ink(corner)
        depth, side = corner.split("_")
        (x, y), known = self.frame[corner], corner in scene.gaps
        end = self.bed(corner)[1] if known else y
        anchor: Anchor = "left" if side == "left" else "right"
        more = 2 if raster.columns >= NARROW else raster.width  # to the picture's edge: two of them side by side
        column = max(x - more, 0) if side == "left" else min(x + more, raster.columns)
        rank, now = scene.rank(corner), corner == scene.asked
        figure = self.wording.length(scene.gaps[corner]) if known else "measure now" if now else "not yet"
        told = f"{figure} {rank}" if rank else figure
        name = f"{'▶ ' if now else ''}{depth} {side}"
        rows = [name, told] if self.wordy else [told]
        first = int((y - 1.4) // raster.aspect) - len(rows)
        if depth == "front":
            low = max(end + 1.3, self.edge_below(corner, max(map(len, rows))) + 0.6)
            first = min(int(low // raster.aspect) + 1, raster.rows - self.below - len(rows))
        for number, text in enumerate(rows):
            loud = bool(rank) or now
            ink = role if number or not self.wordy or now else Role.TEXT
            raster.label(text, [(column, first + number, anchor)], ink, bold=loud)

    def edge_below(self, corner: str, columns: int) -> float:
        """How far down the bed's front edge comes, or the frame's, so many columns from that corner."""
        other = "front_right" if corner == "front_left" else "front_left"
        known = self.scene.gaps
        (x, y), (x1, y1) = (self.bed(each) if {corner, other} <= set(known) else self.frame[each]
                            for each in (corner, other))  # fmt: skip
        return y + (y1 - y) * min(columns / abs(x1 - x), 1.0)

    def told(self) -> None:
        """Below: by how much the gaps differ, a gauge of it, and how many times too large heights are drawn."""
        raster, scene = self.raster, self.scene
        row, apart, limit = raster.rows - 1, scene.spread or 0.0, scene.harmless
        whole = len(scene.gaps) == len(CORNERS)
        bad = whole and limit is not None and apart > limit
        role = Role.MARK if bad else Role.DONE if whole and limit is not None else Role.TEXT
        middle, texts = raster.width / 2, verdict(scene, self.wording)
        times = f"{float(f'{self.drop / self.across:.2g}'):.0f}"
        if self.below < 2:
            if self.factor_said:
                texts = (*(f"{text} · heights {times}×" for text in texts), *texts)
            raster.label(texts, [(middle, row, "center")], role, bold=whole)
            return
        raster.label(texts, [(middle, row, "center")], role, bold=whole)
        if self.factor_said:
            drawn = f"heights drawn {times} times as large"
            said = (f"seen from the front and above; {drawn}", drawn, f"heights {times}×")
            raster.label(said, [(middle, row - self.below + 1, "center")], Role.QUIET)
        if whole and limit is not None:
            self.gauge(row - 1, apart, limit, role)

    def gauge(self, row: int, apart: float, limit: float, role: Role) -> None:
        """A bar as long as the gaps' difference, and a stroke where it ends to be harmless."""
        raster, aspect = self.raster, self.raster.aspect
        long = raster.width - 4
        scale = long / (1.15 * max(apart, 2 * limit))
        x0, y = 2.0, (row + 0.5) * aspect
        raster.hairline(x0, y, x0 + long, y, Role.FRAME)
        if apart >= SAME:
            raster.paint(
                shapes.bar(self.grid, x0, row * aspect + 0.25, x0 + apart * scale, (row + 1) * aspect - 0.25), role
            )
        x = x0 + limit * scale
        raster.paint(shapes.bar(self.grid, x - 0.5, row * aspect, x + 0.5, (row + 1) * aspect), Role.TOLERANCE)
        raster.keep_free(0, row * aspect, raster.width, (row + 1) * aspect)
