"""Schema of the router's bits, times and hold-down, and what of it does not go together."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Annotated

from pydantic import Field

from casewright.intake.entry import TEXT_PATTERN, Entry, LengthIn
from export.routing.machine_rates import Bit, BitRole, Held, HoldDown, Table, Times
from parametric.geometry.space import SAME_MM
from parametric.stock.lengths import Units, show_length

_PLAIN = Times()
_PLAIN_HOLD = HoldDown()
_DRAWN_FOR_BIT = (BitRole.OUTLINE, BitRole.OPENING)

Seconds = Annotated[float, Field(ge=0, le=3600)]
BitName = Annotated[str, Field(min_length=1, max_length=60, pattern=TEXT_PATTERN)]


class BitEntry(Entry):
    """A bit or drill in the router's rack."""

    diameter: Annotated[float, LengthIn(0.5, 100, "What it cuts.")]
    roles: Annotated[
        list[Annotated[BitRole, Field(strict=False)]],
        Field(min_length=1, description="What it is used for."),
    ]
    feed: Annotated[float, LengthIn(10, 100_000, "How far it cuts in a minute.")]
    plunge: Annotated[float, LengthIn(10, 100_000, "How far it goes down in a minute.")]
    pass_depth: Annotated[
        float | None, LengthIn(0.1, 200, "Most it takes at once; any depth if it is left out.")
    ] = None


class TimesEntry(Entry):
    """What takes time beside cutting, in seconds. All keys may be left out."""

    tool_change_s: Annotated[Seconds, Field(description="To change to another bit.")] = (
        _PLAIN.tool_change_s
    )
    lift_s: Annotated[Seconds, Field(description="To lift the bit after a cut and lower it.")] = (
        _PLAIN.lift_s
    )
    rapid: Annotated[
        float, LengthIn(100, 200_000, "How far the head travels in a minute between cuts.")
    ] = _PLAIN.rapid_mm
    load_s: Annotated[Seconds, Field(description="To lay a sheet on the table.")] = _PLAIN.load_s
    unload_s: Annotated[Seconds, Field(description="To take its parts off and clean.")] = (
        _PLAIN.unload_s
    )
    label_s: Annotated[Seconds, Field(description="To label a part.")] = _PLAIN.label_s
    second_s: Annotated[
        Seconds, Field(description="To lay a part for its second operation, and take it off.")
    ] = _PLAIN.second_s

    def times(self) -> Times:
        """Return the figures in the domain's own type."""
        given = self.model_dump()
        return Times(rapid_mm=given.pop("rapid"), **given)


class HoldDownEntry(Entry):
    """What holds sheets and parts on the table. All keys may be left out."""

    table: Annotated[Table, Field(strict=False, description="What holds the sheet.")] = (
        _PLAIN_HOLD.table
    )
    small_parts: Annotated[
        Held, Field(strict=False, description="What holds the parts of `small_parts`.")
    ] = _PLAIN_HOLD.small_parts
    skin: Annotated[float, LengthIn(0.1, 5, "Left under small parts that a skin holds.")] = (
        _PLAIN_HOLD.skin_mm
    )

    def hold_down(self) -> HoldDown:
        """Return the same in the domain's own type."""
        return HoldDown(table=self.table, small_parts=self.small_parts, skin_mm=self.skin)


def bits_of(entries: Mapping[str, BitEntry]) -> tuple[Bit, ...]:
    """Return the bits in the order of the file."""
    return tuple(
        Bit(
            name=name,
            diameter_mm=entry.diameter,
            roles=tuple(entry.roles),
            feed_mm=entry.feed,
            plunge_mm=entry.plunge,
            pass_depth_mm=entry.pass_depth,
        )
        for name, entry in entries.items()
    )


def misfit_bits(
    entries: Mapping[str, BitEntry], bit_diameter_mm: float, largest_drill_mm: float, units: Units
) -> Iterator[tuple[tuple[str, ...], str, str]]:
    """Yield what bits cannot do: keys below `bits`, what was found, what is allowed."""
    for role in BitRole if entries else ():
        if role is not BitRole.BORE and not any(role in each.roles for each in entries.values()):
            yield (), f"no bit with the role {role}", "at least one for each of what is routed"
    for name, entry in entries.items():
        found = show_length(entry.diameter, units)
        limits = [
            (bit_diameter_mm, "bit_diameter", "for which inside corners and gaps are drawn")
            for role in _DRAWN_FOR_BIT
            if role in entry.roles
        ]
        if BitRole.BORE in entry.roles:
            limits.append((largest_drill_mm, "largest_drill", "since larger holes are routed"))
        for most_mm, key, why in limits:
            if entry.diameter > most_mm + SAME_MM:
                most = show_length(most_mm, units)
                yield (name, "diameter"), found, f"at most {key} ({most}), {why}"
                break
