"""The table of measuring methods is whole: every row reads, remembers, offers itself and refuses as it says."""

import re
from typing import get_args

import pytest
from readings import measured

from coach.errors import InputError
from coach.reading import method as rows
from coach.reading.entries import METHOD, begun, corrected, entries_from, manner_from, method_of, switched
from coach.reading.methods import METHODS, OPTIONS, face_of, methods_for, unit_of
from coach.reading.model import Correction
from coach.shown import IN_MM, Wording

OPENING = rows.Tape(18.0, 18.0)
UNKNOWN = rows.Tape(None, 50.0)
TYPED = {method.key: measured(method.key)[0] for method in METHODS}
by_method = pytest.mark.parametrize("method", METHODS, ids=lambda method: method.key)


def test_the_table_names_the_same_as_its_types() -> None:
    """Every key has its row; no two fields share a name, so that what was typed by one method stays in another."""
    assert [method.key for method in METHODS] == list(get_args(rows.MethodKey))
    assert list(OPTIONS) == list(get_args(rows.OptionKey))
    fields = [field.key for method in METHODS for field in method.fields]
    assert len(fields) == len(set(fields))
    assert not set(fields) & {*OPTIONS, METHOD, "for", "cross_u", "cross_v", "step"}
    assert {key for method in METHODS for key in method.options} == set(OPTIONS)
    assert all(len(option.values) == 2 for option in OPTIONS.values())  # one key switches between them


def test_the_methods_that_fit_a_tape() -> None:
    """Gaps start from the rim, so they need an opening of known size; what is offered can be read there."""
    assert methods_for(OPENING) == METHODS
    offered = methods_for(UNKNOWN)
    assert "gaps" not in {method.key for method in offered}
    assert {"crosshair", "offsets", "clock"} <= {method.key for method in offered}
    for method in METHODS:
        if method in offered:
            assert method.read(TYPED[method.key], UNKNOWN, IN_MM).u == pytest.approx(1.5, abs=0.5)
        else:
            with pytest.raises(InputError):
                method.read(TYPED[method.key], UNKNOWN, IN_MM)


@by_method
def test_it_reads_what_was_typed(method: rows.Method) -> None:
    """Each method tells the same mark, to within three doubts; on the sticky face it lies on the other side."""
    entries = TYPED[method.key]
    reading = method.read(entries, OPENING, IN_MM)
    assert reading.u == pytest.approx(1.5, abs=3 * reading.sd)
    assert reading.v == pytest.approx(-0.5, abs=3 * reading.sd)
    sticky = method.read({**entries, "face": "sticky"}, OPENING, IN_MM)
    assert (sticky.u, sticky.v, sticky.face) == (-reading.u, reading.v, "sticky")
    assert sticky.typed["method"] == method.key


@by_method
def test_a_stored_reading_becomes_its_entries_again(method: rows.Method) -> None:
    """From what is kept with it come the very entries, and from these the very reading; the manner alone holds no
    number."""
    for entries in (TYPED[method.key], {**TYPED[method.key], "face": "sticky"}):
        reading = method.read(entries, OPENING, IN_MM)
        again = entries_from(reading.typed)
        assert again.pop(METHOD) == method.key
        assert method.read(again, OPENING, IN_MM) == reading
        assert {key: text for key, text in entries.items() if text and key in again} == {
            key: text for key, text in again.items() if key in entries
        }
        manner = manner_from(reading.typed)
        assert set(manner) == {METHOD, *(key for key in OPTIONS if key in reading.typed)}
        assert method_of(manner, METHODS) is method


def test_nothing_is_made_up_for_a_method_that_is_none_of_the_table() -> None:
    """A file may hold readings without a method, or one of another coach: no entries, no manner."""
    for typed in ({}, {"right": "1"}, {"method": "rim", "points": "1, 2 mm"}):
        assert entries_from(typed) == manner_from(typed) == {}
    assert method_of({METHOD: "rim"}, METHODS) is METHODS[0]


@by_method
def test_nothing_typed_is_refused(method: rows.Method) -> None:
    """With a sentence, and the first field is where to go."""
    with pytest.raises(InputError):
        method.read({}, OPENING, IN_MM)
    assert method.faulty_field({}, "mm") == next((field.key for field in method.fields), None)
    assert method.is_filled({}) is not bool(method.fields)
    assert method.is_filled(TYPED[method.key])
    entries = {key: text or "1" for key, text in TYPED[method.key].items()}
    assert method.faulty_field(entries, unit_of(entries)) is None


@by_method
def test_a_field_refuses_by_its_kind(method: rows.Method) -> None:
    """A size cannot be negative, an offset can, an hour is one of twelve; each takes the characters it needs."""
    for field in method.fields:
        assert set("13") <= set(field.allowed)
        refused = {"size": "-1", "offset": "up", "hour": "13"}[field.kind]
        with pytest.raises(InputError):
            field.check(refused, "mm")
        entries = {**TYPED[method.key], field.key: refused}
        assert method.faulty_field(entries, unit_of(entries)) == field.key
        field.check({"size": "0", "offset": "-1", "hour": "12:30"}[field.kind], "mm")


def test_every_option_switches_there_and_back() -> None:
    """Two values each; the cross stays on its spot of the tape when the face is changed, and is not moved by that."""
    for key in OPTIONS:
        other = switched({}, key)
        assert other[key] == OPTIONS[key].values[1].key
        assert switched(other, key)[key] == OPTIONS[key].values[0].key
    cross = TYPED["crosshair"]
    assert switched(cross, "face")["cross_u"] == "-1.5"
    assert switched(switched(cross, "face"), "face") == {**cross, "face": "outer"}
    assert "cross_u" not in switched({}, "face")


@pytest.mark.parametrize("correction", get_args(Correction))
def test_every_correction_changes_what_is_read(correction: Correction) -> None:
    """Taken as an answer it makes another reading of the same numbers."""
    gaps = METHODS[1]
    reading = gaps.read(TYPED["gaps"], OPENING, IN_MM)
    wide = {**TYPED["gaps"], "left": "10.5", "right": "7.4", "top": "9.4", "bottom": "8.5"}
    fine = {**TYPED["gaps"], "left": "0.34", "right": "0.22", "top": "0.29", "bottom": "0.26"}
    entries = {"to the centre": wide, "in inches": fine, "in mm": {**fine, "unit": "in"}}.get(
        correction, TYPED["gaps"]
    )
    changed = gaps.read(corrected(entries, correction), OPENING, IN_MM)
    assert changed != gaps.read(entries, OPENING, IN_MM)
    if correction in ("in inches", "in mm"):
        assert changed.typed["unit"] == {"in inches": "in", "in mm": "mm"}[correction]
        return
    assert changed.u == pytest.approx(-reading.u if correction == "other face" else reading.u, abs=0.1)


def test_a_measurement_that_begins_says_its_unit() -> None:
    """What is not said yet is; what is said stays."""
    assert begun({}, "in") == {"unit": "in", "step": "0.5"}
    assert begun({"unit": "mm", "step": "2"}, "in", (0.1, 0.2, 0.3)) == {"unit": "mm", "step": "2"}
    assert face_of({}) == "outer"


def test_questions_and_notes_are_said_in_the_unit_that_is_handed_in() -> None:
    """The same reading, in mm and in inches (1 in = 25.4 mm): no length is left in the other unit."""
    gaps = METHODS[1]
    reading = gaps.read({**TYPED["gaps"], "left": "10.5"}, OPENING, IN_MM)
    assert reading.questions
    for wording, other in ((Wording("mm"), r"\d in\b"), (Wording("in"), r"\d mm\b")):
        said = (*reading.notes(wording), *(question.sentence(wording) for question in reading.questions))
        assert len(said) >= 2
        assert not any(re.search(other, sentence) for sentence in said)
        assert any(f" {wording.unit}" in sentence for sentence in said)
