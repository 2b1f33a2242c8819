"""Schema of what the job says about its kits."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from casewright.intake.catalogue_schema import Pack, PieceMass, Price
from casewright.intake.entry import Entry, LengthIn, Name, Text
from parametric.kit.supplies import Supplies

_PLAIN = Supplies()


def _share(meaning: str) -> object:
    return Field(ge=0, le=100, description=f"{meaning}, in percent of what is needed, rounded up.")


class BoughtEntry(Entry):
    """How an article that no library lists is bought: adhesive in cartridges, glue in bottles."""

    pack: Pack = None
    price: Price = None
    mass_g: PieceMass = None


class KitEntry(Entry):
    """What goes into the kits beyond the parts that the joints name. All keys may be left out."""

    adhesive_bead: Annotated[float, LengthIn(1, 30, "Diameter of a bead of adhesive.")] = (
        _PLAIN.adhesive_bead_mm
    )
    adhesive_set_minutes: Annotated[
        float | None,
        Field(
            gt=0,
            le=20_160,
            description="How long what is glued stays clamped or weighted, in minutes, as the maker"
            " of the adhesive says. Left out: papers say until it has set.",
        ),
    ] = None
    glue_spread: Annotated[
        float,
        Field(ge=20, le=1000, description="Millilitres of shop glue on a square metre of joint."),
    ] = _PLAIN.glue_ml_m2
    glue_bottle: Annotated[
        float, Field(ge=10, le=100_000, description="Millilitres in a bottle of shop glue.")
    ] = _PLAIN.glue_bottle_ml
    shims_per_fixing: Annotated[
        int, Field(ge=0, le=20, description="Shims for each screw through a board into the wall.")
    ] = _PLAIN.shims_per_fixing
    touch_up_per_set: Annotated[int, Field(ge=0, le=20, description="Touch-up for each set.")] = (
        _PLAIN.touch_up_per_set
    )
    spare_screws_percent: Annotated[float, _share("Screws to spare")] = 100 * _PLAIN.spare_screws
    spare_caps_percent: Annotated[float, _share("Caps to spare")] = 100 * _PLAIN.spare_caps
    spare_adhesive_percent: Annotated[float, _share("Adhesive and shop glue to spare")] = (
        100 * _PLAIN.spare_adhesive
    )
    spare_shims_percent: Annotated[float, _share("Shims to spare")] = 100 * _PLAIN.spare_shims
    not_supplied: Annotated[
        tuple[Text, ...],
        Field(strict=False, description="Articles that somebody else brings, by name."),
    ] = ()

    bought: dict[Name, BoughtEntry] = Field(
        default_factory=dict,
        description="Pack and price of what no library lists: adhesive (by the cartridge), glue"
        " (by the bottle), shims, packers, touch-up, anchors of walls.",
    )

    def supplies(self) -> Supplies:
        """Return the figures in the domain's own type."""
        return Supplies(
            adhesive_bead_mm=self.adhesive_bead,
            adhesive_set_minutes=self.adhesive_set_minutes,
            glue_ml_m2=self.glue_spread,
            glue_bottle_ml=self.glue_bottle,
            shims_per_fixing=self.shims_per_fixing,
            touch_up_per_set=self.touch_up_per_set,
            spare_screws=self.spare_screws_percent / 100,
            spare_caps=self.spare_caps_percent / 100,
            spare_adhesive=self.spare_adhesive_percent / 100,
            spare_shims=self.spare_shims_percent / 100,
            not_supplied=self.not_supplied,
        )
