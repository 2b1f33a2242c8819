"""Schema of the job file, and its publication as a JSON Schema."""

from __future__ import annotations

from typing import Annotated, Any

from pydantic import Discriminator, Field, Tag

from casewright.intake.access_schema import AccessEntry
from casewright.intake.catalogue_schema import Shelves
from casewright.intake.construction_schema import ConstructionEntry
from casewright.intake.delivery_schema import DeliveryEntry
from casewright.intake.entry import CURRENCY_PATTERN, Name, Text
from casewright.intake.fitting_schema import FittingEntry
from casewright.intake.hours_schema import HoursEntry
from casewright.intake.kit_schema import KitEntry
from casewright.intake.label_schema import LabelsEntry
from casewright.intake.likes import LIKE
from casewright.intake.loads_schema import LoadsEntry
from casewright.intake.machine_schema import MachineEntry
from casewright.intake.rates_schema import RatesEntry
from casewright.intake.set_schema import SetEntry
from casewright.intake.walls_schema import WallsEntry
from casewright.job import CartFor, CutInOrderOf
from parametric.stock.lengths import Units
from parametric.stock.paper import Paper

# Tags of the two ways to give machine and rates; they turn up in the paths of validation errors.
MACHINE_TAGS = ("machine by file", "machine in place")
RATES_TAGS = ("rates by file", "rates in place")
TAGS = {"machine": MACHINE_TAGS, "rates": RATES_TAGS}


_DEFS, _CHANGED = "#/$defs/", "Changed"
_LIKE = "The set that this one is like; what stands beside it is what differs, null takes it away."


def _machine_tag(value: object) -> str:
    return MACHINE_TAGS[1] if isinstance(value, (dict, MachineEntry)) else MACHINE_TAGS[0]


MachineChoice = Annotated[
    Annotated[Text, Tag(MACHINE_TAGS[0])] | Annotated[MachineEntry, Tag(MACHINE_TAGS[1])],
    Discriminator(_machine_tag),
    Field(description="A machine file, relative to this one, or the machine's keys themselves."),
]


def _rates_tag(value: object) -> str:
    return RATES_TAGS[1] if isinstance(value, (dict, RatesEntry)) else RATES_TAGS[0]


RatesChoice = Annotated[
    Annotated[Text, Tag(RATES_TAGS[0])] | Annotated[RatesEntry, Tag(RATES_TAGS[1])],
    Discriminator(_rates_tag),
    Field(description="A file of rates, relative to this one, or the rates themselves."),
]


class JobFile(Shelves):
    """A job of fixed room furniture. Bare numbers count in its `units`, heights from the floor."""

    job: Annotated[Text, Field(description="What the job is called.")]
    units: Annotated[
        Units,
        Field(strict=False, description="What bare numbers count, and how lengths are shown."),
    ]
    currency: Annotated[
        str,
        Field(pattern=CURRENCY_PATTERN, description="Of all prices; three letters (ISO 4217)."),
    ]
    paper: Annotated[
        Paper | None,
        Field(
            default=None,
            strict=False,
            description="Paper of the site papers; letter with inches, A4 with millimetres.",
        ),
    ]
    libraries: Annotated[
        list[Text],
        Field(default_factory=list, description="Library files, relative to this file."),
    ]
    machine: MachineChoice
    schedule: Annotated[Text, Field(description="Room schedule (CSV), relative to this file.")]
    panels: Annotated[
        Text | None,
        Field(
            default=None,
            description="Table of flat panels that other programs drew (CSV or XLSX), relative to "
            "this file.",
        ),
    ]
    construction: ConstructionEntry
    kit: KitEntry = KitEntry()
    hours: HoursEntry = HoursEntry()
    rates: RatesChoice = RatesEntry()
    fitting: FittingEntry = FittingEntry()
    loads: LoadsEntry = LoadsEntry()
    walls: WallsEntry = WallsEntry()
    access: AccessEntry = AccessEntry()
    delivery: DeliveryEntry = DeliveryEntry()
    sorting: Annotated[
        CartFor | None,
        Field(
            default=None,
            strict=False,
            description="What a cart beside the router is for. Default: a floor, where the schedule"
            " names any, else a room.",
        ),
    ]
    cart_holds_kg: Annotated[
        float | None,
        Field(default=None, ge=20, le=5000, description="What a cart beside the router holds."),
    ]
    cut_in_order_of: Annotated[
        CutInOrderOf,
        Field(
            default=CutInOrderOf.LAYOUTS,
            strict=False,
            description="In which order sheets are cut: all runs of a layout one after the other,"
            " or sheet by sheet so that rooms get whole one after the other.",
        ),
    ]
    formaldehyde: Annotated[
        Text | None,
        Field(
            default=None,
            description="The formaldehyde class that is asked of boards where the job is, such as"
            " TSCA Title VI; boards of another one, or of none, are a warning.",
        ),
    ]
    labels: LabelsEntry = LabelsEntry()
    sets: Annotated[
        dict[Name, SetEntry], Field(min_length=1, description="Sets of furniture, by name.")
    ]


def job_json_schema() -> dict[str, Any]:
    """Return the JSON Schema (2020-12) of the job file, for editors."""
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        **_closed(_with_likes(JobFile.model_json_schema())),
        "title": "Casewright job file",
    }


def _with_likes(schema: dict[str, Any]) -> dict[str, Any]:
    """Return the schema in which a set may also say what it is like, and then only what differs."""
    defs = schema["$defs"]
    whole = f"{_DEFS}{SetEntry.__name__}"
    changed: dict[str, Any] = {}
    _change(whole, defs, changed)
    like = changed[f"{SetEntry.__name__}{_CHANGED}"]
    like["properties"] = {LIKE: {"type": "string", "description": _LIKE}, **like["properties"]}
    like["required"] = [LIKE]
    sets = {**schema["properties"]["sets"]}
    (pattern,) = sets["patternProperties"]
    either = [{"$ref": whole}, {"$ref": f"{whole}{_CHANGED}"}]
    sets["patternProperties"] = {pattern: {"anyOf": either}}
    properties = {**schema["properties"], "sets": sets}
    return {**schema, "$defs": {**defs, **changed}, "properties": properties}


def _change(ref: str, defs: dict[str, Any], changed: dict[str, Any]) -> str:
    """Return the reference of what may stand in place of a map where only what differs is said, and
    add it to what is `changed`, with all that it refers to.
    """
    name = ref.removeprefix(_DEFS)
    if f"{name}{_CHANGED}" not in changed:
        entry = {key: value for key, value in defs[name].items() if key != "required"}
        changed[f"{name}{_CHANGED}"] = entry
        for key, value in entry.get("properties", {}).items():
            either = [_changed(value, defs, changed), {"type": "null"}]
            entry["properties"] = {**entry["properties"], key: {"anyOf": either}}
    return f"{ref}{_CHANGED}"


def _changed(value: Any, defs: dict[str, Any], changed: dict[str, Any]) -> Any:
    if isinstance(value, list):
        return [_changed(item, defs, changed) for item in value]
    if not isinstance(value, dict):
        return value
    if "$ref" in value:
        return {"$ref": _change(value["$ref"], defs, changed)}
    # Without its family a unit may be any of them.
    kept = {key: item for key, item in value.items() if key != "discriminator"}
    kept = {"anyOf" if key == "oneOf" else key: item for key, item in kept.items()}
    whole = {key: _changed(item, defs, changed) for key, item in kept.items()}
    if "patternProperties" in whole:
        named = whole["patternProperties"].items()
        whole["patternProperties"] = {
            name: {"anyOf": [item, {"type": "null"}]} for name, item in named
        }
    return whole


def _closed(schema: Any) -> Any:
    """Return the schema with every map of named entries closed to names of another pattern."""
    if isinstance(schema, list):
        return [_closed(item) for item in schema]
    if not isinstance(schema, dict):
        return schema
    closed = {key: _closed(value) for key, value in schema.items()}
    return {**closed, "additionalProperties": False} if "patternProperties" in closed else closed
