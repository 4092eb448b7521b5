"""The three tones of a headline: what is to do, the good end, and that it must not go on like this."""

from types import SimpleNamespace

import pytest
from textual.theme import Theme

from coach.pictures.palette import Role
from coach.tui.themes import OWN
from coach.tui.widgets.picture import pick_palette

PLAIN = ("black", "red", "green", "yellow", "blue", "magenta", "cyan", "white")
SIXTEEN = [f"ansi_{name}" for name in PLAIN] + [f"ansi_bright_{name}" for name in PLAIN]


@pytest.mark.parametrize("theme", OWN, ids=lambda theme: theme.name)
def test_each_tone_has_a_colour_of_its_own(theme: Theme) -> None:
    """To do, good and stop are never drawn alike; the words differ too, for who sees no colours."""
    assert len({theme.accent, theme.primary, theme.error}) == 3
    assert None not in (theme.accent, theme.primary, theme.error)


@pytest.mark.parametrize("theme", OWN, ids=lambda theme: theme.name)
def test_pictures_have_the_headlines_colours(theme: Theme) -> None:
    """What is meant now, and what is good, has one colour in pictures and headlines of a theme; a mark another."""
    inks = pick_palette(SimpleNamespace(current_theme=theme)).inks

    def colour(role: Role) -> str:
        return SIXTEEN[inks[role].ansi] if theme.ansi else "#{:02X}{:02X}{:02X}".format(*inks[role].rgb)

    assert (colour(Role.FOCUS), colour(Role.DONE)) == (theme.accent, theme.primary)
    assert colour(Role.MARK) not in (theme.accent, theme.primary)
    assert len({colour(role) for role in (Role.MARK, Role.FOCUS, Role.TOLERANCE)}) == 3
