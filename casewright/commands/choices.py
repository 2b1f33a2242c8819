"""Words that a person may choose from on the command line."""

from __future__ import annotations

from enum import StrEnum


class UnitChoice(StrEnum):
    """What bare numbers count."""

    INCH = "inch"
    MM = "mm"


class EffortChoice(StrEnum):
    """How much work a nest may cost; names as in `nesting.question.settings.Effort`."""

    QUICK = "quick"
    NORMAL = "normal"
    THOROUGH = "thorough"


class StagesChoice(StrEnum):
    """How often the direction of cuts may change on a saw."""

    TWO = "2"
    THREE = "3"
    ANY = "any"


class HandChoice(StrEnum):
    """The hands of a set; names as in `parametric.geometry.hand.Hand`."""

    RIGHT = "right"
    LEFT = "left"
