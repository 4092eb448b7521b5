"""What offsets cost, in a few words."""


def cost_words(lost: float, lean: float) -> str:
    """A fraction of the beam that is lost and degrees of lean: "< 0.1 % power, 0.6° lean"."""
    percent = 100 * lost
    return f"{'< 0.1' if percent < 0.1 else f'{percent:.1f}'} % power, {lean:.1f}° lean"
