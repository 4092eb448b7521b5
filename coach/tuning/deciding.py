"""From where on the coach decides.  Chosen on practice machines (docs/benchmark.md), within what design allows."""

from dataclasses import dataclass


@dataclass(frozen=True)
class Deciding:
    """Done, stop, once more."""

    done: float = 0.93
    """Probability of every station within tolerance from which the coach says "done" at once …"""
    done_at_least: float = 0.90
    """… and below which it never does; between the two only when nothing is expected to make it surer."""
    well_hit: float = 0.99
    """Probability of mirrors 1 and 2 being well hit below which a mark there comes before "done"."""
    beside_a_mirror: float = 0.05
    """Share of the beam that may pass beside an edge of a mirror that is well hit: a tube wanders as much."""
    marks_at_a_mirror: int = 2
    """Pulses at a mirror's own opening before it is called badly hit: one may be misread."""
    doubted: float = 0.30
    """Probability of a wrong reading in the round from which a mark is asked for again."""
    suspected: float = 0.5
    """Probability of a yaw or a loose part from which every station is marked before anything is adjusted again."""
    repeats_before_blame: int = 2
    """Marks made again before a yaw or a loose part is named."""
    cause_sure: float = 0.95
    """How sure the cause of a stop must be."""
    repeats_apart: float = 3.0
    """Standard deviations by which two marks at one place must lie apart to speak of a loose part."""
    yaw_matters: float = 0.4
    """Share of the tolerance that the yaw alone must take at some station to be a reason to stop."""
    most_rounds: int = 12
    """Rounds of adjusting after which the screws have had their chance."""
    shift_at_once: float = 1.5
    """A move follows an adjustment at once when the mean offset is this many times its doubt."""
    perhaps_in: float = 0.75
    """Probability of every station within tolerance from which only what makes it likelier is worth doing."""
    perhaps_at_best: float = 0.3
    """The same once a fault was taken as it is: what stands then is an end that can be lived with."""
    early_rounds: int = 6
    """Rounds in which everything that brings the end nearer is worth doing: each one teaches what the screws do."""
    rounds_before_coarse: int = 3
    """Rounds before anyone is told that the screws are too coarse: one bad turn of the hands says nothing of them."""
    enough_marks: int = 3
    """Marks of a round from which one may adjust again before every station has one …"""
    surely_out: float = 0.05
    """… while every station within tolerance is less likely than this."""
    as_it_was: float = 0.9545
    """Probability with which a check-up of an unmoved machine says "as it was": two deviations of one number."""


@dataclass(frozen=True)
class Shooting:
    """Where the next mark may be made, and when one more is worth it."""

    off_target: float = 0.008
    """Probability of leaving the target above which a pulse is not advised."""
    edge_margin: float = 0.3
    """mm inside the target's readable edge where a mark should still land."""
    most_at_one_station: int = 4
    """Marks at one station in one round; more would tell little."""
    most_extra: int = 6
    """Marks beyond one for each station in one round; then an adjustment is the quicker way to be sure."""
    close_call: float = 0.02
    """p·(1 − p) of being beyond the tolerance below which a station needs no further mark."""
    open_call: float = 0.25
    """Probability of all within tolerance below which nobody needs a further mark to know that it is not so."""
    clear_by: float = 1.5
    """Deviations by which every station must clear the tolerance to count as proven by coming marks."""


@dataclass(frozen=True)
class Adjusting:
    """Which turns and shifts are made."""

    finest_turn: float = 1 / 60
    """Turns: the finest step a careful hand can make on purpose, a tick of a clock's face."""
    coarse_turn: float = 1 / 30
    """Turns: the step of larger turns, whose execution doubt is larger than the rounding …"""
    coarse_from: float = 0.25
    """… from here on."""
    most_turned: float = 1.0
    """Turns of one screw at once."""
    off_target: float = 0.02
    """Probability that an adjustment may carry for any station's next mark to leave the tape."""
    unsettled: float = 0.10
    """A drive is unsettled while the less likely way round has at least this probability."""
    without_probing: float = 0.7
    """Chance of ending within tolerance without such a mirror from which its drive need not be found out."""
    probe_moves: float = 3.0
    """mm: how far a probe should move the farthest mark, well above the doubt of a reading."""
    shift_step: float = 0.1
    """mm, what a ruler or a feeler gauge can do."""
    unknown_reach: float = 3.0
    """mm each way that a part is taken to go where nobody said how far; the tube is then taken not to move."""
    least_move: float = 0.5
    """mm: no part is moved for less."""
    worth_a_try: float = 0.15
    """Probability of ending within tolerance from which adjusting beats giving up: a mark shows if it fails …"""
    gain: float = 0.05
    """… or by which it must be likelier than as things stand …"""
    smaller: float = 0.9
    """… or it shrinks the worst offset to this share of itself."""
    least_gain: float = 0.5
    """Minutes by which an adjustment must be expected to bring the end nearer, else it is not advised."""


@dataclass(frozen=True)
class Costs:
    """What each way on is likely to cost, in minutes at the machine, and what usually remains until "done"."""

    pulse: float = 1.5
    """A pulse with tape, walk and measuring."""
    reach: float = 1.0
    """Reaching a mirror's screws …"""
    screw: float = 0.5
    """… and each screw that is turned."""
    move: float = 5.0
    """Moving mirror 1 or 2 in its slot or the head in its bracket."""
    tube: float = 20.0
    """Moving the tube, with a lethal supply beside it."""
    again: float = 4.0
    """More for a part that was moved in this session before: it should not be needed."""
    failed: float = 25.0
    """What it takes to adjust again where an adjustment was not enough …"""
    failed_more: float = 0.5
    """… so many times more with every round that was not enough before …"""
    farther: float = 15.0
    """… and so much more for each factor e of worst offset over tolerance …"""
    close: float = 0.6
    """… down to this share of the tolerance."""
    nearer: float = 40.0
    """Minutes of hands that one mm is worth by which the end comes nearer, where nothing is likely to be enough."""
    rounds_after_failure: float = 3.5
    """Rounds of adjusting, moves counted, that a machine out of tolerance takes from there, on average."""
    marks_between: float = 1.4
    """Marks between two rounds of adjusting."""
    marks_extra: float = 0.3
    """Marks beyond one at each station when the last round is confirmed."""
