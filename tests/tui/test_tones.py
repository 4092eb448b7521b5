"""The three tones of a headline: what is to do, the good end, and that it must not go on like this."""

import pytest
from textual.theme import Theme

from coach.tui.themes import OWN


@pytest.mark.parametrize("theme", OWN, ids=lambda theme: theme.name)
def test_each_tone_has_a_colour_of_its_own(theme: Theme) -> None:
    """To do, good and stop are never drawn alike; the words differ too, for who sees no colours."""
    assert len({theme.accent, theme.primary, theme.error}) == 3
    assert None not in (theme.accent, theme.primary, theme.error)
