"""Every key of a job's files reaches the field that is named after it, and no other.

Each key gets a number of its own, so that two keys that change places are noticed.
"""

from collections.abc import Callable
from dataclasses import fields
from functools import partial
from itertools import count
from pathlib import Path
from typing import Any

import pytest
from ruamel.yaml import YAML

from casewright.intake import catalogue_schema as shelf
from casewright.intake import to_domain
from casewright.intake.entry import Entry
from casewright.intake.read_construction import ROLES
from casewright.intake.read_job import read_job
from casewright.intake.read_sets import _set_sizes, _unit
from casewright.intake.set_schema import (
    HOLDS_UNITS,
    AlongWallEntry,
    AnyUnitEntry,
    HungEntry,
    SetEntry,
    StandingFreeEntry,
    TieEntry,
    _unit_entry,
)
from casewright.intake.tolerance_schema import ToleranceEntry
from casewright.job import EdgeTrim, Job, OffcutSize, Saw, SmallParts
from parametric.findings.access import Access
from parametric.kit.supplies import Supplies
from parametric.rooms.fitting import Fitting
from parametric.stock.hardware import (
    AngleSection,
    CapHardware,
    LegHardware,
    Screw,
    WallPlateHardware,
)
from parametric.stock.materials import (
    BarMaterial,
    BoardStrength,
    EdgeBand,
    PulledHead,
    PulledScrew,
    StockSheet,
)
from parametric.stock.origin import Origin
from parametric.stock.tolerances import CutTolerances, SettingOut, Tolerance
from parametric.strength.loads import Loads
from parametric.units.family import AnyFamily
from parametric.units.known_units import KNOWN_UNITS
from tests.casewright.intake_folder import CONFIGS, KEEPER, JobFolder

TOLERANCE = Tolerance(plus_minus_mm=0.25, source="the mill")
SAID = ToleranceEntry.model_construct(plus_minus=0.25, source="the mill")


def numbered(kind: type[Entry], **others: Any) -> Any:
    """An entry, not validated, whose keys have the numbers 1, 2, ... but for the others."""
    numbers = count(1.0)
    return kind.model_construct(**{key: next(numbers) for key in kind.model_fields} | others)


def same_names(found: object, entry: Entry) -> set[str]:
    """Return the keys that have a field of their name, after looking that it has their value."""
    names = {field.name: field.name.removesuffix("_mm") for field in fields(found)}  # type: ignore[arg-type]
    names = {name: key.removesuffix("_deg") for name, key in names.items()}
    shared = {name: key for name, key in names.items() if key in type(entry).model_fields}
    assert {name: getattr(found, name) for name in shared} == {
        name: getattr(entry, key) for name, key in shared.items()
    }
    return set(shared.values())


def named(kind: type[Any], **told: object) -> Callable[..., Any]:
    return lambda key, entry: to_domain.in_domain(kind, entry, key=key, **told)


ORIGIN = Origin(file="library.yaml", line=1, key_path="boards.its name")
SCREW = to_domain.in_domain(Screw, numbered(shelf.ScrewEntry), key="in its holes")
BUYING = {"pack", "roll", "price", "mass_g"}  # test_purchase.py looks where these go
LIBRARY: list[tuple[type[Entry], Callable[..., Any]]] = [
    (shelf.BarEntry, named(BarMaterial, stock_origin=ORIGIN)),
    (shelf.ScrewEntry, named(Screw)),
    (shelf.LegEntry, named(LegHardware, screw=SCREW)),
    (shelf.CapEntry, named(CapHardware)),
]


@pytest.mark.parametrize(("kind", "convert"), LIBRARY)
def test_the_keys_of_a_library(kind: type[Entry], convert: Callable[..., Any]) -> None:
    others = {"screw": SCREW} if "screw" in kind.model_fields else {}
    entry = numbered(kind, **others)
    found = convert("its name", entry)
    assert found.key == "its name"
    assert same_names(found, entry) == set(kind.model_fields) - BUYING


TOLERATED: list[tuple[type[Entry], Callable[..., Any], str]] = [
    (shelf.BandEntry, named(EdgeBand), "thickness_tolerance"),
    (
        shelf.AngleEntry,
        named(AngleSection, stock_origin=ORIGIN),
        "leg_tolerance",
    ),
    (
        shelf.WallPlateEntry,
        named(WallPlateHardware, screw=SCREW),
        "thickness_tolerance",
    ),
    (
        shelf.MaterialEntry,
        partial(to_domain.sheet_material, origin=lambda *_: ORIGIN),
        "thickness_tolerance",
    ),
]


@pytest.mark.parametrize(("kind", "convert", "tolerance"), TOLERATED)
def test_the_keys_of_what_has_tolerances(
    kind: type[Entry], convert: Callable[..., Any], tolerance: str
) -> None:
    others: dict[str, Any] = {"screw": SCREW} if "screw" in kind.model_fields else {}
    sheet, pulled = numbered(shelf.StockEntry), numbered(shelf.PulledScrewEntry)
    strength = numbered(
        shelf.StrengthEntry, screw_face=pulled, head_pull=numbered(shelf.PulledHeadEntry)
    )
    if kind is shelf.MaterialEntry:
        others |= {"stock": {"a sheet": sheet}, "strength": strength}
    found = convert("its name", numbered(kind, **others, **{tolerance: SAID}))
    assert getattr(found, tolerance) == TOLERANCE
    stated = {tolerance: TOLERANCE}
    if kind is shelf.MaterialEntry:
        (stock,), borne = found.stock, found.strength
        assert isinstance(stock, StockSheet) and isinstance(borne, BoardStrength)
        assert stock.key == "a sheet"
        assert same_names(stock, sheet) == set(shelf.StockEntry.model_fields)
        tests = {"screw_face", "head_pull"}
        assert same_names(borne, strength) == set(shelf.StrengthEntry.model_fields) - tests
        assert borne.screw == PulledScrew(pull_n=1.0, diameter_mm=2.0, bite_mm=3.0)
        assert borne.head == PulledHead(pull_n=1.0, diameter_mm=2.0, board_mm=3.0)
        stated |= {"stock": found.stock, "strength": found.strength}
    assert same_names(found, numbered(kind, **others | stated)) == set(kind.model_fields) - BUYING


@pytest.mark.parametrize("family", KNOWN_UNITS.values(), ids=lambda family: family.name)
@pytest.mark.parametrize("place", [AlongWallEntry, StandingFreeEntry])
def test_the_keys_of_a_unit(family: AnyFamily, place: type[AnyUnitEntry]) -> None:
    kind = _unit_entry(family, place)
    entry = numbered(kind, family=family.name, construction=None)
    found = _unit("its name", entry, ())
    assert (found.name, found.family, found.built_from) == ("its name", family.name, ())
    places = {"from_head_wall", "from_side_wall"} if place is StandingFreeEntry else {"gap"}
    assert same_names(found, entry) == {"family", "base_height", *places}
    others = {"family", "base_height", "construction", *places}
    assert same_names(found.sizes, entry) == set(kind.model_fields) - others


def test_the_keys_of_a_set() -> None:
    units: dict[str, dict[str, Any]] = {}
    for number, key in enumerate(HOLDS_UNITS, start=1):
        place = StandingFreeEntry if key == "free" else AlongWallEntry
        kind = _unit_entry(KNOWN_UNITS["platform-bed"], place)
        units[key] = {f"bed {number}": numbered(kind, family="platform-bed", construction=None)}
    tie, panel = numbered(TieEntry, through=("a", "b")), numbered(HungEntry, over=("a",))
    named = {"ties": {"a tie": tie}, "hung": {"a panel": panel}, "construction": None}
    entry = numbered(SetEntry, **units, **named)
    found = _set_sizes("suite", entry, (), lambda keys: (("role", keys),))
    assert (found.base_height_mm, found.butt_gap_mm) == (entry.base_height, entry.butt_gap)
    (only_tie,), (only_panel,) = found.ties, found.hung
    assert (only_tie.name, only_tie.through) == ("a tie", ("a", "b"))
    assert same_names(only_tie.sizes, tie) == {"from_wall", "bearing"}
    assert (only_panel.name, only_panel.over) == ("a panel", ("a",))
    assert same_names(only_panel.sizes, panel) == {"height", "gap", "plates"}
    assert [(run.wall.value, run.units[0].name) for run in found.runs] == [
        ("head wall", "bed 1"),
        ("side wall", "bed 2"),
        ("foot wall", "bed 3"),
        ("far wall", "bed 4"),
    ]
    assert [run.away_mm for run in found.runs] == [0, 0, entry.room_depth, entry.room_width]
    (free,) = found.free
    assert (free.name, free.built_from) == ("bed 5", (("role", ("free", "bed 5")),))


def written(folder: Path, name: str, change: Callable[[dict[str, Any]], None]) -> None:
    """Change a YAML file of the folder as a program would."""
    yaml = YAML(typ="safe")
    yaml.sort_base_mapping_type_on_output = False
    content = yaml.load((folder / name).read_text(encoding="utf-8"))
    change(content)
    with (folder / name).open("w", encoding="utf-8") as stream:
        yaml.dump(content, stream)


def changed_job(folder: JobFolder, change: Callable[[dict[str, Any]], None]) -> Job:
    written(folder.folder, f"{KEEPER}.yaml", change)
    return read_job(folder.path(f"{KEEPER}.yaml"))


def test_each_role_of_a_construction(tmp_path: Path) -> None:
    """Every role gets an entry of its own, by the name of the role."""
    shelves = {
        shelf.MaterialEntry: "materials",
        shelf.BandEntry: "bands",
        shelf.BarEntry: "bars",
        shelf.ScrewEntry: "screws",
        shelf.AngleEntry: "angles",
        shelf.LegEntry: "legs",
        shelf.WallPlateEntry: "wall_plates",
        shelf.CapEntry: "caps",
    }
    library: dict[str, Any] = {}
    for name in ("materials-metric", "hardware-metric"):
        library |= YAML(typ="safe").load((CONFIGS / f"{name}.yaml").read_text(encoding="utf-8"))

    def own(job: dict[str, Any]) -> None:
        given = dict(job["construction"])
        for role, kind in ROLES.items():
            # A role that is left out is that of rails.
            entry = library[shelves[kind]][given.get(role, given["screw_wall"])]
            job.setdefault(shelves[kind], {})[role] = entry
            job["construction"][role] = role

    made_of = changed_job(JobFolder(tmp_path), own).construction
    assert {role: getattr(made_of, role).key for role in ROLES} == {role: role for role in ROLES}
    lengths = made_of.angle_clearance_mm, made_of.housing_depth_mm, made_of.housing_clearance_mm
    assert lengths == (1.5, 9.0, 0.45)


def test_what_a_job_says_besides(tmp_path: Path) -> None:
    said = {"plus_minus": 0.25, "source": "the mill"}
    other = {"plus_minus": 0.75, "source": "the mill"}

    def say(job: dict[str, Any]) -> None:
        job["kit"] = {
            "adhesive_bead": 7,
            "shims_per_fixing": 3,
            "touch_up_per_set": 4,
            "spare_screws_percent": 11,
            "spare_caps_percent": 12,
            "spare_adhesive_percent": 13,
            "spare_shims_percent": 14,
            "not_supplied": ["shims"],
        }
        job["fitting"] = {
            "least_gap": 4,
            "tight_gap": 7,
            "most_filler": 51,
            "most_scribe": 21,
            "most_levelling": 16,
            "stud_width": 39,
            "stud_edge": 9,
            "least_bite": 26,
            "setting_out": {"place": said, "level": other},
        }
        job["loads"] = {
            "seat_n": 1500,
            "spread_n_m2": 3000,
            "lasting": 0.5,
            "panel_n": 460,
            "blocking_gravity": 0.5,
            "lining": 12.5,
        }
        job["access"] = {
            "door": {"width": 800, "height": 2000},
            "lift": {"width": 1100, "depth": 1400, "height": 2100},
            "corner": {"from_width": 1200, "into_width": 1300},
        }

    job = changed_job(JobFolder(tmp_path), say)
    assert job.supplies == Supplies(
        adhesive_bead_mm=7.0,
        shims_per_fixing=3,
        touch_up_per_set=4,
        spare_screws=0.11,
        spare_caps=0.12,
        spare_adhesive=0.13,
        spare_shims=0.14,
        not_supplied=("shims",),
    )
    assert job.fitting == Fitting(
        least_gap_mm=4.0,
        tight_gap_mm=7.0,
        most_filler_mm=51.0,
        most_scribe_mm=21.0,
        most_levelling_mm=16.0,
        stud_width_mm=39.0,
        stud_edge_mm=9.0,
        least_bite_mm=26.0,
        setting_out=SettingOut(
            place=TOLERANCE, level=Tolerance(plus_minus_mm=0.75, source="the mill")
        ),
    )
    assert job.loads == Loads(
        seat_n=1500.0,
        spread_n_m2=3000.0,
        lasting=0.5,
        panel_n=460.0,
        blocking_gravity=0.5,
        lining_mm=12.5,
    )
    assert job.access == Access(
        door_mm=(800.0, 2000.0), lift_mm=(1100.0, 1400.0, 2100.0), corner_mm=(1200.0, 1300.0)
    )


def test_what_a_machine_file_says(tmp_path: Path) -> None:
    folder = JobFolder(tmp_path)

    def say(machine: dict[str, Any]) -> None:
        machine |= {
            "sheet_trim": 11,
            "gap": 13,
            "bit_diameter": 12,
            "pre_mill": 0.7,
            "largest_drill": 15,
            "bed": {"length": 3101, "width": 2151},
            "saw": {"kerf": 3.3, "end_trim": 5.5, "reusable": 301},
            "edge_trim": {"left": 21, "right": 22, "bottom": 23, "top": 24},
            "offcut": {"length": 601, "width": 201},
            "small_parts": {"area_cm2": 501, "aspect": 9, "rim_side": 251, "rim": 41},
            "tolerances": {
                key: {"plus_minus": value, "source": "the mill"}
                for key, value in (("size", 0.1), ("groove", 0.2), ("position", 0.3))
            },
        }

    written(tmp_path, "router-metric.yaml", say)
    job = read_job(folder.path(f"{KEEPER}.yaml"))
    machine, routing = job.machine, job.routing
    assert (machine.sheet_trim_mm, machine.gap_mm, machine.largest_drill_mm) == (11, 13, 15)
    assert (routing.bit_diameter_mm, routing.pre_mill_mm) == (12, 0.7)
    assert machine.bed_mm == (3101, 2151)
    assert machine.saw == Saw(kerf_mm=3.3, end_trim_mm=5.5, reusable_mm=301)
    assert machine.edge_trim == EdgeTrim(left_mm=21, right_mm=22, bottom_mm=23, top_mm=24)
    assert machine.offcut == OffcutSize(length_mm=601, width_mm=201)
    assert machine.small_parts == SmallParts(area_cm2=501, aspect=9, rim_side_mm=251, rim_mm=41)
    off = (Tolerance(plus_minus_mm=value, source="the mill") for value in (0.1, 0.2, 0.3))
    size, groove, position = off
    assert routing.tolerances == CutTolerances(size=size, groove=groove, position=position)
