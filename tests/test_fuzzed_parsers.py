"""Every parser under a few hundred inputs of `python tests/figures/fuzz.py`: read, or refused in one sentence."""

from pathlib import Path

import pytest
from fuzzed_parsers import heavier_parsers, typed_parsers
from fuzzing import Parser, fuzzed, inputs_for
from hypothesis import given, settings
from hypothesis import strategies as st

from coach.errors import InputError

QUICK, HEAVY, SEED = 150, 25, 20_261_126
SLOW = {"session replayed": 4, "reading by gaps": 20}


TYPED = typed_parsers(Path("nowhere"))


def test_each_parser_reads_or_refuses_what_hands_may_write(tmp_path: Path) -> None:
    """Numbers finite, a complaint of a sentence, the file named and left alone; some of it is read, some refused."""
    quick, heavy = typed_parsers(tmp_path), heavier_parsers(tmp_path)
    for name, parser in (quick | heavy).items():
        number = SLOW.get(name, QUICK if name in quick else HEAVY)
        count = fuzzed(parser, inputs_for(parser, number, SEED))
        assert count.failures == (), name
        assert count.inputs == number
        assert count.read > 0, name


@settings(max_examples=25, deadline=None)
@given(st.text(max_size=60))
def test_any_text_at_all(text: str) -> None:
    """Unicode as hypothesis draws it, to whatever a person types into."""
    for name, parser in TYPED.items():
        assert fuzzed(parser, [text]).failures == (), name


@pytest.mark.parametrize("text", ["boom", "nan", "long"])
def test_what_does_not_hold_is_seen(text: str) -> None:
    """An exception that is no sentence, a number that is none, a complaint without end."""

    def parse(given: str) -> object:
        if given == "boom":
            raise KeyError(given)
        if given == "nan":
            return [1.0, float("nan")]
        raise InputError("x" * 100_000)

    assert len(fuzzed(Parser((text,), parse), [text]).failures) == 1
