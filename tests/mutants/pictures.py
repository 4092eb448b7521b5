"""Small wrong changes of what pictures show: which way, which side, how far."""

from mutants.mutation import mutation

TRUTH, NEAREST, SVG = (f"pictures/test_{name}.py" for name in ("truth", "nearest", "svg"))
MUTATIONS = (
    mutation("the wedge goes the other way", "coach/pictures/dial.py",
             "return UPRIGHT, math.copysign(min(abs(turns), 1.0), turns) * math.tau",
             "return UPRIGHT, -math.copysign(min(abs(turns), 1.0), turns) * math.tau", TRUTH),
    mutation("the wedge is always a quarter", "coach/pictures/dial.py",
             "math.copysign(min(abs(turns), 1.0), turns) * math.tau", "math.copysign(0.25, turns) * math.tau", TRUTH),
    mutation("mirrors slant the other way", "coach/pictures/folded.py",
             "return -normal[1], normal[0]", "return normal[0], normal[1]", TRUTH),
    mutation("the sticky side keeps the axis' name", "coach/pictures/aperture.py",
             'AXIS = {False: "right", True: "left"}', 'AXIS = {False: "right", True: "right"}', TRUTH),
    mutation("the mark lies below the cross instead of above", "coach/pictures/bed.py",
             "place = (x + scale * u, y - scale * v)", "place = (x + scale * u, y + scale * v)", TRUTH),
    mutation("an arrow to the back points to the front", "coach/pictures/move.py",
             "float(back > 0) - float(back < 0)", "float(back < 0) - float(back > 0)", TRUTH),
    mutation("an arrow up points down", "coach/pictures/move.py",
             "sign = 1.0 if self.scene.up > 0 else -1.0", "sign = -1.0 if self.scene.up > 0 else 1.0", TRUTH),
    mutation("the other colour of a cell is that of the first", "coach/pictures/nearest.py",
             "back[:, mixed] -= share[best] * step", "back[:, mixed] += (1 - share[best]) * step", NEAREST),
    mutation("sixths are taken for their neighbours", "coach/pictures/nearest.py",
             "bits - 1 - (bits > LEFT_HALF)", "bits - 1", NEAREST),
    mutation("the sign that errs most is taken", "coach/pictures/nearest.py",
             "argmax(axis=0)", "argmin(axis=0)", NEAREST),
    mutation("dots lie where the line is not", "coach/pictures/hairs.py",
             "dotted < missed", "dotted > missed", NEAREST),
    mutation("what has no pixels lies on them all the same", "coach/pictures/sheet.py",
             "exact = True", "exact = False", SVG),
    mutation("an arc runs the other way round", "coach/pictures/outlines.py",
             "int(sweep > 0)", "int(sweep < 0)", SVG),
    mutation("a sticky side is told as it looks", "coach/pictures/spoken.py",
             "sign = -1.0 if scene.mirrored else 1.0", "sign = 1.0", SVG),
    mutation("sixths in a multiplexer too", "coach/tui/widgets/terminal.py",
             "if found and named and not inside", "if found and named", NEAREST),
)  # fmt: skip
