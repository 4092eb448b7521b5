"""What a terminal can show of a picture."""

from enum import Enum


class RasterMode(Enum):
    """What the terminal can show."""

    SMOOTH = "smooth"
    """Many colours: antialiased half blocks."""
    ANSI = "ansi"
    """Sixteen colours: hard half blocks in named colours."""
    GLYPH = "glyph"
    """No colour: each part has its own glyph."""
    ASCII = "ascii"
    """No colour and no Unicode."""
