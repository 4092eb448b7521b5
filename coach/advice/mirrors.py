"""Before "done": are mirrors 1 and 2 well inside their own faces?  A mark there only where the belief is not sure.

The beam meets both faces at 45°: across its way a face of diameter D is (D/2)·cos 45° wide to either side and D/2
high.  What passes beside an edge that far from its middle is ½·erfc(√2(a − d)/w) = Φ(−2(a − d)/w) (Gaussian knife
edge: Siegman, Lasers).  The own opening is taken to stand in the middle of its mirror.
"""

import math
from dataclasses import dataclass
from statistics import NormalDist

import numpy as np

from coach.advice.advice import Advice
from coach.advice.facts import Outlook
from coach.advice.outlook import LIGHT
from coach.advice.reasons import MirrorAtEdge, MirrorUnsure
from coach.advice.shots import Candidate, Spot, candidates, nearest_corner
from coach.belief.belief import Belief
from coach.belief.chances import all_within
from coach.belief.kalman import Array
from coach.machine import Target
from coach.optics.gaussian import beam_radius
from coach.optics.legs import leg_lengths

COS45 = math.sqrt(0.5)
_PHI = NormalDist()


@dataclass(frozen=True, eq=False)
class Face:
    """How a mirror's face is hit, with the gantry at every place that matters."""

    mirror: int
    spots: tuple[Spot, ...]
    halves: Array
    """Half its width and half its height across the beam, (2,) in mm."""
    doubts: Array
    """How well these are known, (2,) in mm."""
    radii: Array
    """The beam's 1/e² radius at every spot, mm."""

    @classmethod
    def of(cls, belief: Belief, mirror: int) -> "Face":
        """The face of mirror 1, which does not move, or of mirror 2 at both ends of the gantry's travel."""
        machine, beam = belief.layout.machine, belief.tuning.beam
        x, back = nearest_corner(belief)
        target: Target = "mirror 1" if mirror == 1 else "mirror 2"
        spots = [Spot(target, x, back, target)]
        if mirror == 2:
            spots.append(Spot("mirror 2, gantry at the front", x, 0.0, target))
        legs = [leg_lengths(machine, spot.x, spot.y)[0] if mirror == 2 else 0.0 for spot in spots]
        across = np.array([COS45, 1.0]) / 2
        doubt = 0.0 if machine.path.measured(mirror, machine.guessed) else belief.tuning.prior.guessed_mirror
        radii = np.array([beam_radius(leg, beam.waist, m2=beam.m2) for leg in legs])
        return cls(mirror, tuple(spots), machine.path.diameter(mirror) * across, doubt * across, radii)

    def matrices(self, belief: Belief) -> Array:
        """H of a mark at every spot, shape (spots, 2, n)."""
        return np.stack([belief.layout.measurement_matrix(s.x, s.y, s.target) for s in self.spots])

    def room(self, belief: Belief) -> Array:
        """How far off its middle, each axis, it is still well hit at every spot, shape (spots, 2) in mm.

        So far that no more than the allowed share passes beside one edge; a mirror that is too small for that cannot
        be hit better than within the tolerance.
        """
        margin = _PHI.inv_cdf(1 - belief.tuning.deciding.beside_a_mirror) * self.radii / 2
        return np.maximum(self.halves - margin[:, None], belief.layout.machine.tolerance)

    def well_hit(self, belief: Belief) -> float:
        """Probability that it is well hit at every spot: within the ellipse whose half axes are its `room`."""
        mixture, room = belief.settled.mixture, self.room(belief).ravel()
        kept = mixture.subset(belief.settled.weights > LIGHT)
        marks = kept.project(self.matrices(belief).reshape(-1, belief.layout.size))
        size = np.tile(self.doubts, len(self.spots)) / room
        scale, doubt = np.outer(room, room), np.outer(size, size) * np.tile(np.eye(2), (len(self.spots),) * 2)
        chances = [
            all_within(mean / room, cov / scale + doubt, 1.0) for mean, cov in zip(marks.mean, marks.cov, strict=True)
        ]
        return min(1.0, float(marks.weights @ np.array(chances)))

    def as_hit(self, belief: Belief) -> MirrorAtEdge:
        """Where it is hit and what passes beside its edges, at the spot where that is most; expectations.

        E[Φ(2(d − a)/w)] for d ~ N(m, s²) is Φ((m − a)/√(w²/4 + s²)).
        """
        mean, cov = belief.settled.mixture.project(self.matrices(belief).reshape(-1, belief.layout.size)).moments
        means, variances = mean.reshape(-1, 2), np.diag(cov).reshape(-1, 2)
        spread = np.sqrt(self.radii[:, None] ** 2 / 4 + variances + self.doubts**2)
        beside = [
            sum(_PHI.cdf((sign * m - a) / s) for m, a, s in zip(at, self.halves, sd, strict=True) for sign in (1, -1))
            for at, sd in zip(means, spread, strict=True)
        ]
        worst = int(np.argmax(beside))
        u, v = (float(value) for value in means[worst])
        return MirrorAtEdge(self.mirror, belief.layout.machine.path.side, u, v, min(1.0, beside[worst]))


def faces(belief: Belief) -> tuple[Face, Face]:
    """Both faces."""
    return Face.of(belief, 1), Face.of(belief, 2)


def doubtful(belief: Belief) -> tuple[Face, ...]:
    """The mirrors of which it is not sure that they are well hit."""
    return tuple(face for face in faces(belief) if face.well_hit(belief) < belief.tuning.deciding.well_hit)


def before_done(belief: Belief, now: Outlook) -> Advice | None:
    """A mark at a mirror that may be hit badly; a stop where it is; None where nothing stands against "done"."""
    if "edge" in belief.accepted:
        return None
    unsure = doubtful(belief)
    open_ = tuple(face for face in unsure if _pulsed(belief, face) < belief.tuning.deciding.marks_at_a_mirror)
    shot = _telling(belief, open_)
    if shot is not None:
        face = next(face for face in unsure if shot.shot.target in (spot.target for spot in face.spots))
        reason = MirrorUnsure(face.mirror, face.well_hit(belief), bool(_pulsed(belief, face)), shot.shot)
        return Advice("shoot", reason, now, stations=(shot.shot,))
    if not unsure:
        return None
    worst = max((face.as_hit(belief) for face in unsure), key=lambda hit: hit.lost)
    return Advice("stop", worst, now, cause="edge", reachable=now.worst)


def left_at_edge(belief: Belief) -> tuple[MirrorAtEdge, ...]:
    """Mirrors that were found badly hit, and that the person leaves so."""
    if "edge" not in belief.accepted:
        return ()
    return tuple(face.as_hit(belief) for face in doubtful(belief))


def _pulsed(belief: Belief, face: Face) -> int:
    """Pulses on its own tape since the last adjustment."""
    return sum(sighting.target == face.spots[0].target for sighting in belief.round_sightings)


def _telling(belief: Belief, unsure: tuple[Face, ...]) -> Candidate | None:
    """The mark at one of these mirrors that tells most of all of them, on tape, or else on a wide card."""
    for wide in (False, True):
        found = [
            (_told(belief, unsure, face.matrices(belief)[index], wide), one)
            for face in unsure
            for index, one in enumerate(_candidates(belief, face, wide))
            if one.safe
        ]
        if found:
            return max(found, key=lambda pair: pair[0])[1]
    return None


def _candidates(belief: Belief, face: Face, wide: bool) -> list[Candidate]:
    return candidates(belief, [Spot(spot.name, spot.x, spot.y, spot.target, wide) for spot in face.spots])


def _told(belief: Belief, unsure: tuple[Face, ...], matrix: Array, wide: bool) -> float:
    """By how much a mark shrinks the variance of where these mirrors are hit, in shares of their room."""
    cov = belief.settled.mixture.moments.cov
    sd = belief.tuning.readings.wide_sd if wide else belief.reading_sd
    gain = np.linalg.solve(matrix @ cov @ matrix.T + sd**2 * np.eye(2), matrix @ cov)
    drop = cov @ matrix.T @ gain
    rows = np.concatenate([face.matrices(belief) / face.room(belief)[:, :, None] for face in unsure])
    return float(np.einsum("sin,nm,sim->", rows, drop, rows))
