"""What each answer speaks for (+) and against (−), one sentence each; what is not in it says nothing.

All of it common practice.  There are no probabilities: nobody has counted them.
"""

from coach.triage.causes import Cause

Row = tuple[tuple[Cause, str], ...]

FOR: dict[tuple[str, str], Row] = {
    ("weak", "everywhere alike"): (
        ("tube", "A tired tube is weak at every place alike."),
        ("lens", "A dirty lens takes its share at every place."),
        ("mirrors", "Dirty mirrors take their share at every place."),
        ("focus", "A gauge that is wrong is wrong at every place."),
        ("material", "A harder sheet is hard at every place."),
        ("supply", "Less current is less light at every place."),
        ("cooling", "Warm water weakens the tube at every place."),
    ),
    ("weak", "toward one corner"): (
        ("alignment", "A beam that leans goes farther off with every bit of its way."),
        ("bed", "A bed out of level is out of focus at one corner."),
    ),
    ("weak", "along one axis"): (
        ("alignment", "One leg of the beam grows along that axis."),
        ("bed", "A bed that slopes along one axis goes out of focus along it."),
        ("rail", "A rail that is dirty or bent tilts what rides on it."),
    ),
    ("weak", "at one place"): (
        ("rail", "A dent or dirt on a rail tilts the beam there and nowhere else."),
        ("bed", "A sag, or a slat that stands too high or low, is out of focus there."),
    ),
    ("weak", "on and off"): (
        ("supply", "A supply that fails comes and goes."),
        ("alignment", "A loose mirror sends the beam elsewhere from cut to cut."),
        ("tube", "A tube near its end flickers."),
    ),
    ("since", "suddenly"): (
        ("alignment", "A knock or a loosened screw shows from one cut to the next."),
        ("lens", "A lens cracks or burns in a moment."),
        ("focus", "A gauge or a head that slipped shows at once."),
        ("supply", "A supply fails from one day to the next."),
    ),
    ("since", "slowly, over weeks"): (
        ("lens", "A lens gathers dirt over weeks."),
        ("mirrors", "Mirrors gather dirt over weeks."),
        ("tube", "A tube tires over months."),
        ("extraction", "Filter and hose fill over weeks."),
    ),
    ("since", "always"): (
        ("focus", "Where it never cut well the gauge was never right."),
        ("bed", "Where it never cut well the bed was never level."),
        ("alignment", "Where it never cut well nobody may have aligned it."),
    ),
    ("fades", "yes"): (
        ("cooling", "Water that warms weakens the tube within minutes."),
        ("lens", "A dirty lens warms, and its focus moves."),
        ("tube", "A tired tube fades as it warms."),
    ),
    ("edge", "leaning"): (
        ("alignment", "A beam beside the lens's middle leans by a degree and more for every mm."),
        ("lens", "A lens that sits crooked or off its place tilts the beam."),
    ),
    ("edge", "double lines"): (
        ("lens", "A cracked or loose lens makes two spots of one."),
        ("alignment", "A beam on an edge is split or cut off."),
        ("rail", "Play in belts or wheels draws a line twice."),
    ),
    ("moved", "moved"): (
        ("alignment", "A frame that stands otherwise carries its mirrors otherwise."),
        ("bed", "A frame that stands otherwise carries its bed otherwise."),
    ),
    ("moved", "bumped"): (
        ("alignment", "A knock moves a mirror before anything else."),
        ("rail", "A knock bends a rail or loosens a wheel."),
        ("focus", "A knock at the head moves lens or gauge."),
    ),
    ("changed", "tube"): (
        ("alignment", "A tube that was out sends its beam a little elsewhere."),
        ("supply", "A new tube may want another setting."),
    ),
    ("changed", "mirror"): (
        ("alignment", "A mirror that was out is never back exactly."),
        ("mirrors", "A mirror that was handled may be touched or scratched."),
    ),
    ("changed", "lens"): (
        ("lens", "A lens that was out may sit the wrong way round or loose."),
        ("focus", "Another lens, or another seat, has its focus elsewhere."),
    ),
    ("changed", "head"): (
        ("focus", "A head that was off carries its gauge and lens elsewhere."),
        ("alignment", "A head that was off carries its opening elsewhere."),
    ),
    ("material", "new"): (("material", "Another batch cuts otherwise: glue, moisture, thickness."),),
}
"""Question and answer to the causes that it speaks for."""

AGAINST: dict[tuple[str, str], Row] = {
    ("weak", "everywhere alike"): (
        ("alignment", "A beam that is out loses more where its way is longer."),
        ("bed", "A bed out of level is in focus somewhere."),
        ("rail", "A rail's fault shows where it is."),
    ),
    ("weak", "toward one corner"): (
        ("lens", "A dirty lens weakens every place, somewhat more near the tube, where the beam is narrow."),
        *(
            (cause, "It would be weak everywhere, not at one corner.")
            for cause in ("tube", "supply", "material", "cooling", "focus")
        ),
    ),
    ("weak", "along one axis"): tuple(
        (cause, "It would be weak everywhere, not along one axis.")
        for cause in ("tube", "supply", "material", "cooling", "lens", "focus")
    ),
    ("weak", "at one place"): (
        *((cause, "It would be weak everywhere, not at one place.")
          for cause in ("tube", "supply", "material", "cooling", "lens", "focus")),
        ("alignment", "A beam that is out gets worse along its whole way, not at one place."),
    ),
    ("weak", "on and off"): (
        ("bed", "A bed does not come and go."),
        ("focus", "A gauge does not come and go."),
        ("mirrors", "Dirt does not come and go."),
    ),
    ("since", "suddenly"): (("tube", "A tube tires over months, seldom in a day."),),
    ("since", "slowly, over weeks"): (("supply", "A supply fails at once or on and off, seldom slowly."),),
    ("fades", "yes"): (
        ("alignment", "A beam does not go out and come back with the warmth of minutes."),
        ("bed", "A bed does not move with the warmth of minutes."),
        ("focus", "A gauge is as wrong cold as warm."),
        ("material", "A sheet is as hard cold as warm."),
    ),
    ("fades", "no"): (("cooling", "Too little cooling shows after minutes, not at once."),),
    ("edge", "leaning"): tuple(
        (cause, "Less light does not make an edge lean.") for cause in ("tube", "supply", "material", "cooling")
    ),
    ("moved", "no"): (("alignment", "Nobody moved or bumped it."),),
    ("changed", "nothing"): (("alignment", "No part of the beam's way was out."),),
    ("changed", "tube"): (("tube", "It is new."),),
    ("material", "the same"): (("material", "The same sheet cut before."),),
}  # fmt: skip
"""Question and answer to the causes that it speaks against."""
