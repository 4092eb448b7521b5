"""What closed screens drew is forgotten."""

from textual._styles_cache import StylesCache


def forget_drawn() -> None:
    """Let go of widgets that are gone, with all that they drew.

    Textual (8.2) remembers two colours for each of the last 1,024 widgets that were drawn, and by that the widgets'
    pictures as well: some 20 MB in a long evening.  What still stands is remembered anew when it is drawn.
    """
    StylesCache.get_inner_outer.cache_clear()
