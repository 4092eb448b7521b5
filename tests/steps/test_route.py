"""Which part of a visit comes next: what was found is mended first, cut again, and only then is more looked for."""

from visiting import at

from coach import Session
from coach.practice.demo import demo_machine
from coach.shown import IN_MM
from coach.steps.perform import perform
from coach.steps.route import BEAM_ROOMS, mended, passed_over
from coach.steps.visit import part_rows
from coach.steps.wanted import confirmation
from coach.triage.causes import CHECKS
from coach.triage.stale import SET_BEFORE

SHEET = "ply 6 mm, lot 3"
FAST = {"back-left": 20.0, "back-right": 20.0, "front-left": 20.0, "front-right": 20.0, "centre": 20.0}
SLOW = dict.fromkeys(FAST, 12.0)
SLOPES = {"front_left": 5.0, "front_right": 5.1, "back_left": 5.0, "back_right": 7.4}


def visited(**checks: str) -> Session:
    """What changed, the first cut check and the checks are through, all good but these."""
    session = Session.start(demo_machine())
    session.gate("rules")
    session.begin("what changed")
    session.answer("weak", "everywhere alike")
    session.end("what changed")
    cut(session, "cut check", SLOW)
    session.begin("checks")
    for name in CHECKS:
        session.check(name, checks.get(name, "good"), **(SLOPES if name == "bed" and name in checks else {}))
    session.end("checks")
    return session


def cut(session: Session, part: str, limits: dict[str, float]) -> None:
    session.begin(part)
    for name in (station.name for station in session.machine.stations):
        if name in limits:
            session.cut(name, fastest=limits[name], next=limits[name] * 1.1, material=SHEET)
    session.end(part)


def test_nothing_is_passed_over_before_the_checks_are_through() -> None:
    """Nor where they found nothing: then the optics and the beam come."""
    session = Session.start(demo_machine())
    session.begin("what changed")
    assert passed_over(session) == ()
    assert passed_over(visited()) == ()
    assert at(visited()).part == "clean"


def test_a_bed_that_was_found_is_levelled_and_cut_again_before_any_mark_is_made() -> None:
    """The headline says which part comes, the text that the others are passed over and why."""
    session = visited(bed="bad")
    assert passed_over(session) == ("clean", *BEAM_ROOMS)
    assert at(session).part == "cut again"
    assert "Passed over: clean the optics; beam path" in " ".join(at(session).do)
    assert "beam path" in at(session).why
    session.begin("checks")
    session.check("bed", "good", front_left=5.0, front_right=5.1, back_left=5.0, back_right=5.1)
    while at(session).gate:
        perform(session, at(session), "acknowledge")
    assert (at(session).item, at(session).do[0]) == ("focus", f"Once more. {SET_BEFORE}")
    session.check("focus", "good")
    assert at(session).action == "Mended: bed; cut again"
    session.end("checks")
    assert at(session).part == "cut again"


def test_a_lens_that_was_found_is_cleaned_first() -> None:
    """Cleaning is its mending."""
    assert passed_over(visited(lens="bad")) == BEAM_ROOMS
    assert at(visited(lens="bad")).part == "clean"


def test_a_lens_that_was_found_and_cleaned_is_cut_with_before_any_mark_is_made() -> None:
    """As a bed that was levelled: whether that was all is cheapest seen in a cut.  One with haze left is not mended,
    and of mirrors all have to be clean."""
    session = visited(lens="bad", mirrors="bad")
    session.begin("clean")
    for optic in ("mirror 1", "mirror 2", "lens"):
        session.care(optic, "clean")
    assert mended(session) == ("lens",)
    session.care("lens", "haze")
    assert mended(session) == ()
    for optic in ("mirror 3", "lens"):
        session.care(optic, "clean")
    assert mended(session) == ("mirrors", "lens")
    session.end("clean")
    assert passed_over(session) == BEAM_ROOMS
    assert at(session).part == "cut again"
    assert at(session).why.startswith("Passed over as it stands: beam path, head and pointer.")


def test_once_it_was_cut_again_in_vain_the_rest_is_looked_at() -> None:
    """No part is passed over for ever: the optics, then the beam."""
    session = visited(bed="bad")
    session._add("baseline", cuts=session.kept_cuts().model_copy(update={"stations": _kept(FAST)}))
    cut(session, "cut again", SLOW)
    assert session.cuts().again == "no"
    assert passed_over(session) == ()
    assert at(session).part == "clean"
    session.begin("clean")
    session.care("lens", "clean")
    session.end("clean")
    assert at(session).part == "beam path"
    for part in ("beam path", "head", "pointer"):
        session.skip(part, "not now")
    assert at(session).part == "cut again"  # what it cut before the lens was cleaned says nothing of it now


def test_where_it_cuts_as_it_did_only_closing_up_is_left() -> None:
    """Then the visit is through, and says which parts nothing spoke for."""
    session = visited(bed="bad")
    session._add("baseline", cuts=session.kept_cuts().model_copy(update={"stations": _kept(FAST)}))
    cut(session, "cut again", FAST)
    assert session.cuts().again == "yes"
    assert at(session).part == "close up"
    assert at(session).why.startswith("It cuts as it did: nothing speaks for cleaning, beam path, head and pointer.")
    session.skip("close up", "not now")
    assert at(session).key == "parts-done"
    assert at(session).action == "No part left to do"


def test_a_visit_that_ends_with_weak_cuts_does_not_end_as_if_all_were_well() -> None:
    """Through with every part and slower than it was: the headline says so, in another tone than the good end's, and
    the first answer leads back to the checks."""
    session = visited()
    session._add("baseline", cuts=session.kept_cuts().model_copy(update={"stations": _kept(FAST)}))
    cut(session, "cut again", SLOW)
    while (step := at(session)).key == "next-part":
        session.skip(step.part, "the service sees to it")
    assert (step.key, step.action, step.tone) == ("still-weak", "Cuts still weak", "do")
    perform(session, step, "begin-part")
    assert dict(part_rows(session))["checks"].endswith("now")


def test_where_only_the_service_is_left_that_comes_first() -> None:
    """A needle that was seen twice to stand elsewhere, and weak cuts: closing comes first and says for whom."""
    session = visited()
    session._add("baseline", cuts=session.kept_cuts().model_copy(update={"stations": _kept(FAST)}))
    for _ in range(2):
        session.check("supply", "bad")
    cut(session, "cut again", SLOW)
    while (step := at(session)).key == "next-part":
        session.skip(step.part, "the service sees to it")
    first = step.choices[0]
    assert (step.key, step.action, first.key) == ("still-weak", "Service: supply", "finish")
    assert first.label == "Close: the supply is for the service"
    assert "Back to the checks" in [choice.label for choice in step.choices]
    assert [choice.key for choice in step.choices].count("finish") == 1
    asked = confirmation(session, step, first, IN_MM)  # below "Close …?": nothing is closed yet
    assert "is closed" not in asked
    session.check("bed", "bad")  # something that its owner can mend
    assert at(session).choices[0].key == "begin-part"


def test_an_edge_that_leans_leads_to_the_head_however_well_it_cuts() -> None:
    """A cut can fall through as ever and still not be upright."""
    session = visited(bed="bad")
    session._add("baseline", cuts=session.kept_cuts().model_copy(update={"stations": _kept(FAST)}))
    session.answer("edge", "leaning")
    cut(session, "cut again", FAST)
    assert "head" not in passed_over(session)
    assert at(session).part == "head"


def _kept(limits: dict[str, float]) -> tuple[object, ...]:
    from coach.session.visit_events import KeptLimit

    return tuple(KeptLimit(name=name, fastest=low, next=1.1 * low) for name, low in limits.items())
