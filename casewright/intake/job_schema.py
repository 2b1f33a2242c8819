"""Schema of the job file, and its publication as a JSON Schema."""

from __future__ import annotations

from typing import Annotated, Any

from pydantic import Discriminator, Field, Tag

from casewright.intake.access_schema import AccessEntry
from casewright.intake.catalogue_schema import Shelves
from casewright.intake.construction_schema import ConstructionEntry
from casewright.intake.entry import CURRENCY_PATTERN, Name, Text
from casewright.intake.fitting_schema import FittingEntry
from casewright.intake.kit_schema import KitEntry
from casewright.intake.loads_schema import LoadsEntry
from casewright.intake.machine_schema import MachineEntry
from casewright.intake.set_schema import SetEntry
from parametric.stock.lengths import Units
from parametric.stock.paper import Paper

# Tags of the two ways to give the machine; they turn up in the paths of validation errors.
MACHINE_TAGS = ("machine by file", "machine in place")


def _machine_tag(value: object) -> str:
    return MACHINE_TAGS[1] if isinstance(value, (dict, MachineEntry)) else MACHINE_TAGS[0]


MachineChoice = Annotated[
    Annotated[Text, Tag(MACHINE_TAGS[0])] | Annotated[MachineEntry, Tag(MACHINE_TAGS[1])],
    Discriminator(_machine_tag),
    Field(description="A machine file, relative to this one, or the machine's keys themselves."),
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
    construction: ConstructionEntry
    kit: KitEntry = KitEntry()
    fitting: FittingEntry = FittingEntry()
    loads: LoadsEntry = LoadsEntry()
    access: AccessEntry = AccessEntry()
    sets: Annotated[
        dict[Name, SetEntry], Field(min_length=1, description="Sets of furniture, by name.")
    ]


def job_json_schema() -> dict[str, Any]:
    """Return the JSON Schema (2020-12) of the job file, for editors."""
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        **_closed(JobFile.model_json_schema()),
        "title": "Casewright job file",
    }


def _closed(schema: Any) -> Any:
    """Return the schema with every map of named entries closed to names of another pattern."""
    if isinstance(schema, list):
        return [_closed(item) for item in schema]
    if not isinstance(schema, dict):
        return schema
    closed = {key: _closed(value) for key, value in schema.items()}
    return {**closed, "additionalProperties": False} if "patternProperties" in closed else closed
