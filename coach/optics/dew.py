"""When water settles on a cold tube: the dew point by Magnus' formula.

    T_d = b·γ / (a − γ),   γ = ln(RH) + a·T / (b + T)        a = 17.62, b = 243.12 °C over water, −45 to 60 °C

Coefficients: WMO-No. 8, Guide to Instruments and Methods of Observation, annex 4.B (memory).
"""

import math

from coach.errors import OutOfReach

A, B = 17.62, 243.12
COLDEST, WARMEST = -45.0, 60.0
"""°C, where the coefficients hold."""


def dew_point(air: float, humidity: float) -> float:
    """°C at which air of that temperature (°C) and relative humidity (per cent) lets its water fall.

    Raises OutOfReach outside −45 to 60 °C, or for a humidity that is not more than 0 and at most 100.
    """
    if not COLDEST <= air <= WARMEST:
        raise OutOfReach(f"Air of {air:g} °C", expected=f"{COLDEST:g} to {WARMEST:g} °C", example="22")
    if not 0 < humidity <= 100:
        raise OutOfReach(
            f"A humidity of {humidity:g} %", expected="more than 0 and at most 100 per cent", example="55"
        )
    gamma = math.log(humidity / 100) + A * air / (B + air)
    return B * gamma / (A - gamma)
