"""How a probability is said."""


def percent(chance: float) -> str:
    """A probability without false certainty."""
    if chance > 0.99:
        return "more than 99 %"
    return "less than 1 %" if chance < 0.01 else f"{100 * chance:.0f} %"
