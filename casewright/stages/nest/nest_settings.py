"""What a person may ask of the nests of a build."""

from __future__ import annotations

from dataclasses import dataclass, field

from nesting.question.settings import Effort, Preference


@dataclass(frozen=True, slots=True, kw_only=True)
class NestSettings:
    """How hard the build's nests try, and what fewer layouts may cost.

    With `extra_seconds` the nests that are not proven best are searched further for so long
    altogether; a clock then decides, and the same job may get other sheets another time.
    """

    effort: Effort = Effort.NORMAL
    preference: Preference = field(default_factory=Preference)
    seed: int = 1
    extra_seconds: float = 0.0
