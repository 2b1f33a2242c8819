"""What all schema classes share: strictness, lengths with a range, names of entries."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from typing import Annotated, Any

from pydantic import BaseModel, ConfigDict, Field, GetCoreSchemaHandler, GetJsonSchemaHandler
from pydantic_core import PydanticCustomError, core_schema

from casewright.intake.document import shown
from parametric.stock.lengths import (
    LENGTH_EXAMPLES,
    LENGTH_PATTERN,
    LengthError,
    Sign,
    Units,
    exact_length,
    show_length,
)

# Type of the validation errors whose context says what was found and what is allowed.
LOCATED_ERROR = "located"

LONGEST_NAME = 60  # characters; papers keep room for so many
# Names end up in file names, also on file systems that do not tell capitals.
NAME_PATTERN = f"^[a-z0-9][a-z0-9_-]{{0,{LONGEST_NAME - 1}}}$"
# Neither control characters nor line ends, those of Unicode included.
TEXT_PATTERN = r"^[^\x00-\x1f\x7f-\x9f\u2028\u2029]*$"
CURRENCY_PATTERN = "^[A-Z]{3}$"

# What a person calls a unit; part names begin with it.
UNIT_NAME_PATTERN = f"^[a-z0-9](?:[a-z0-9 _-]{{0,{LONGEST_NAME - 2}}}[a-z0-9])?$"

_AT_MOST = f", at most {LONGEST_NAME} characters"
# Each pattern in words, for faults.
PATTERNS = {
    UNIT_NAME_PATTERN: f"small letters, digits, spaces between them, - and _{_AT_MOST}",
    NAME_PATTERN: f"small letters, digits, - and _{_AT_MOST}",
    TEXT_PATTERN: "a text on one line",
    CURRENCY_PATTERN: "three capital letters, such as USD",
}

Name = Annotated[str, Field(pattern=NAME_PATTERN, description=f"{PATTERNS[NAME_PATTERN]}.")]

Text = Annotated[str, Field(min_length=1, max_length=200, pattern=TEXT_PATTERN)]


class Entry(BaseModel):
    """Root of the schema classes: no unknown keys, no silent conversions."""

    model_config = ConfigDict(strict=True, extra="forbid", frozen=True, allow_inf_nan=False)


@dataclass(frozen=True, slots=True)
class LengthIn:
    """Annotation of a length field: read into millimetres, refused outside a wide range.

    The units of bare numbers come from the validation context, see `length_context`.
    """

    least_mm: float
    most_mm: float
    meaning: str

    def __get_pydantic_core_schema__(
        self, source: Any, handler: GetCoreSchemaHandler
    ) -> core_schema.CoreSchema:
        """Return the schema of a value that `_read` reads."""
        return core_schema.with_info_plain_validator_function(self._read)

    def __get_pydantic_json_schema__(
        self, schema: core_schema.CoreSchema, handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        """Return the published schema: a number, or a text of the length pattern."""
        return {
            "anyOf": [
                {"type": "number"},
                {"type": "string", "pattern": LENGTH_PATTERN},
            ],
            "description": f"{self.meaning} A length {self.range_in(Units.MM)}.",
            "examples": LENGTH_EXAMPLES.split(", "),
        }

    def range_in(self, units: Units | None) -> str:
        """Return the range in words."""
        mm = f"from {show_length(self.least_mm, Units.MM)} to {show_length(self.most_mm, Units.MM)}"
        if units is not Units.INCH:
            return mm
        least, most = show_length(self.least_mm, units), show_length(self.most_mm, units)
        return f"{mm} (about {least} to {most})"

    def read(self, value: object, units: Units | None) -> float:
        """Return the length of `read_exact` as a float.

        Raises:
            LengthError: no length, or one outside the range.
        """
        return float(self.read_exact(value, units))

    def read_exact(self, value: object, units: Units | None) -> Fraction:
        """Return the length in millimetres; without `units` its form is checked, not its range.

        Raises:
            LengthError: no length, or one outside the range.
        """
        if isinstance(value, bool) or not isinstance(value, (str, int, float)):
            raise LengthError(found=shown(value), allowed=f"a length such as {LENGTH_EXAMPLES}")
        sign = Sign.NOT_NEGATIVE if self.least_mm >= 0 else Sign.ANY
        length_mm = exact_length(value, units or Units.INCH, sign)
        inside = _as_told(self.least_mm) <= length_mm <= _as_told(self.most_mm)
        if units is not None and not inside:
            raise LengthError(found=shown(value), allowed=f"a length {self.range_in(units)}")
        return length_mm

    def _read(self, value: object, info: core_schema.ValidationInfo) -> float:
        try:
            return self.read(value, _units_of(info))
        except LengthError as problem:
            raise PydanticCustomError(
                LOCATED_ERROR,
                "found {found}; allowed: {allowed}",
                {"found": problem.found, "allowed": problem.allowed},
            ) from None


@cache
def _as_told(limit_mm: float) -> Fraction:
    """Return a limit as faults tell it: the float 0.1 is a little more than a tenth."""
    return Fraction(repr(limit_mm))


def length_context(units: Units | None) -> Mapping[str, Units | None]:
    """Return the validation context of a file whose bare numbers count in `units`."""
    return {"units": units}


def _units_of(info: core_schema.ValidationInfo) -> Units | None:
    units = info.context["units"] if info.context else None
    return units if isinstance(units, Units) else None
