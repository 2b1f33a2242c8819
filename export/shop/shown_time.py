"""Machine time as people read it."""

from __future__ import annotations

from export.routing.machine_rates import SECONDS_PER_MINUTE

_MINUTES_PER_HOUR = 60


def shown_minutes(seconds: float) -> str:
    """Return the time of one sheet or part, to a tenth of a minute.

    >>> shown_minutes(754.0)
    '12.6 min'
    """
    return f"{seconds / SECONDS_PER_MINUTE:.1f} min"


def shown_hours(seconds: float) -> str:
    """Return the time of many, to the minute.

    >>> shown_hours(754.0), shown_hours(7540.0)
    ('13 min', '2 h 06 min')
    """
    hours, minutes = divmod(round(seconds / SECONDS_PER_MINUTE), _MINUTES_PER_HOUR)
    return f"{hours} h {minutes:02d} min" if hours else f"{minutes} min"
