"""How much may be lifted by hand: the revised NIOSH lifting equation, DHHS (NIOSH) 94-110.

A planning figure for healthy adults. Local rules and the people who lift decide.
"""

from __future__ import annotations

NIOSH = "NIOSH lifting equation, DHHS (NIOSH) 94-110"
LOAD_CONSTANT_KG = 23.0  # 94-110: LC in metric units
REACH_CM = 25.0  # H, for HM = 25 / H
MOST_REACH_CM = 63.0  # beyond it HM = 0
MOST_HEIGHT_CM = 175.0  # V, above it VM = 0
LEAST_TRAVEL_CM = 25.0  # D, below it DM = 1
MOST_TRAVEL_CM = 175.0  # D, above it DM = 0


def recommended_weight_kg(
    *,
    reach_cm: float,
    height_cm: float,
    travel_cm: float,
    frequency_factor: float,
    grip_factor: float,
) -> float:
    """Return RWL = LC x HM x VM x DM x FM x CM, metric, without twisting (AM = 1).

    `reach_cm` is H, `height_cm` is V at the start of the lift, `travel_cm` is D; the two factors
    are FM and CM of the publication's tables. 0 outside the range of the equation.
    """
    outside = (
        reach_cm > MOST_REACH_CM
        or not 0 <= height_cm <= MOST_HEIGHT_CM
        or travel_cm > MOST_TRAVEL_CM
    )
    if outside:
        return 0.0
    reach = REACH_CM / max(reach_cm, REACH_CM)
    height = 1 - 0.003 * abs(height_cm - 75.0)
    travel = 0.82 + 4.5 / max(travel_cm, LEAST_TRAVEL_CM)
    return LOAD_CONSTANT_KG * reach * height * travel * frequency_factor * grip_factor
