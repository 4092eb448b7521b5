"""Mutations of what is below mirror 3: optics, belief, advice, pointer."""

from mutants.mutation import mutation

MUTATIONS = (
    # -- optics
    mutation("mirror 3's rise shifts the beam the other way", "coach/optics/below.py",
             "slope_y, -side_sign(side) * ROOT2", "slope_y, side_sign(side) * ROOT2",
             "optics/test_below.py"),
    mutation("one reading decides the height it takes", "coach/optics/below.py",
             "return ROOT2 * sd / math.tan", "return sd / math.tan",
             "optics/test_below.py"),
    mutation("a combiner moves the beam by its whole thickness", "coach/optics/lens.py",
             "thickness * math.sin(i) * (1.0 - math.cos(i) /", "thickness * math.sin(i) * (1.0 - 0.0 * math.cos(i) /",
             "optics/test_below.py"),
    # -- belief
    mutation("the head's bracket is taken for the lens's tube", "coach/head/belief.py",
             "return -side_sign(layout.machine.path.side) * up", "return side_sign(layout.machine.path.side) * up",
             "head/test_head_advice.py"),
    mutation("a lens that was out lies as before", "coach/head/belief.py",
             "if found.lens and not belief.lens_in:", "if False:",
             "head/test_head_belief.py"),
    mutation("every reading is right", "coach/head/marks.py",
             "spread = mark.sd if sd == mark.sd else float(np.hypot(mark.sd, sd))", "spread = mark.sd",
             "head/test_head_belief.py"),
    mutation("heights too near each other are taken", "coach/head/belief.py",
             "if other and apart < least and not repeated:", "if False:",
             "head/test_head_belief.py"),
    mutation("work on mirror 3 moves the beam before it", "coach/session/replay.py",
             'case Shift(part="lens") | Lock(mirror=3):', 'case Shift(part="lens"):',
             "session/test_head_entries.py"),
    # -- advice
    mutation("a drive that nobody knows is taken for pushing", "coach/head/decide.py",
             "return bool(belief.layout.screws) and less >= belief.tuning.adjusting.unsettled", "return False",
             "head/test_head_advice.py"),
    mutation("good without a mark at the nozzle", "coach/head/decide.py",
             "return nozzle and belief.two_heights(lens=True)", "return belief.two_heights(lens=True)",
             "head/test_head_advice.py"),
    mutation("what is not seen is named", "coach/head/outlook.py",
             ">= TOLD]", ">= 0.0]",
             "head/test_head_belief.py"),
    mutation("the pointer is moved farther off", "coach/head/pointer.py",
             "0.0 - spot.right, 0.0 - spot.back", "spot.right, spot.back",
             "head/test_pointer.py"),
)  # fmt: skip
