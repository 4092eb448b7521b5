"""The trade's words, in plain ones."""

GLOSSARY: tuple[tuple[str, str], ...] = (
    ("station", "a place of the head where a mark is made"),
    ("pulse", "one short firing"),
    ("mark", "what a pulse leaves on the tape: a scorch or a hole"),
    ("aperture", "the round opening that the tape covers"),
    ("imprint", "the aperture's rim, pressed into the tape"),
    (
        "offset",
        "how far the mark's centre lies from the aperture's centre, right and up as seen facing the beam's side",
    ),
    ("leg 1", "the beam's way from mirror 1 to mirror 2; it grows as the gantry comes to the front"),
    ("leg 2", "the beam's way from mirror 2 to the head; it grows as the head moves away from mirror 2"),
    ("mount", "the plate that holds a mirror, on three points"),
    ("focal length", "how far below the lens it gathers the beam to its smallest spot, the focus"),
    ("nozzle", "the tip with a hole under the lens, through which beam and air come out"),
    ("turn", "a screw's rotation; clockwise is plus, as seen facing the screw head"),
    ("shift", "moving a part sideways without tilting it"),
    ("cut check", "short lines cut at rising speeds, station by station: the fastest that falls through tells"),
    ("baseline", "what this machine once cut when it was well: what later cut checks stand beside"),
    ("round", "turns or a shift, and the marks after them"),
    ("spread", "how far the stations' offsets lie apart: the largest distance from their mean"),
    ("centre", "the mean of the stations' offsets"),
    ("lean", "how far the beam stands off the upright below the head; a cut's edge leans as much"),
    ("lens tube", "what holds the lens in the head, with the nozzle under it"),
    ("card", "plain paper or board on the bed, or before an opening, that a pulse marks"),
    ("combiner", "the plate that joins the pointer's light to the beam"),
)
