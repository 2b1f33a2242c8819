"""Faults of the job file and its libraries: where they are, what was found, what is allowed."""

from pathlib import Path

import pytest

from casewright.errors import InputErrors
from casewright.intake.read_job import read_job
from tests.casewright.intake_folder import CENTRE, KEEPER, JobFolder, place
from tests.row import row_of

KEEPER_FILE = f"{KEEPER}.yaml"
HARDWARE = "hardware-metric.yaml"


@pytest.fixture
def folder(tmp_path: Path) -> JobFolder:
    return JobFolder(tmp_path)


def test_a_fault_reads_as_one_line_with_file_line_key_found_and_allowed(folder: JobFolder) -> None:
    line = folder.replace(f"{CENTRE}.yaml", "deck_width: 55", "deck_width: 60 inn")
    assert str(folder.fault(CENTRE)) == (
        f"{folder.path(CENTRE).as_posix()}.yaml:{line}: sets.full.head_wall.bed.deck_width: "
        "found '60 inn'; allowed: a length such as 13 1/4 in, 13-1/4\", 13.25 in, 336.5 mm"
    )


# What is replaced in the keeper's job, by what, the fault's key path, what it found, and a part of
# what it says is allowed.
FAULTS = [
    ("leg_inset: 120", "leg_insert: 120", "sets.keeper.head_wall.bed.leg_insert", "an unknown key",
     "nearest: leg_inset"),
    ("cleat: spruce-cleat", "cleat: spruce-cleet", "construction.cleat",
     "no such name, 'spruce-cleet'", "nearest: spruce-cleat"),
    ("band: ash-band", "band: 7", "construction.band", "7", "a text"),
    ("units: mm", "units: cm", "units", "'cm'", "'inch' or 'mm'"),
    ("currency: EUR", "currency: Euro", "currency", "'Euro'", "three capital letters"),
    ("base_height: 340", "base_height: 34", "sets.keeper.base_height", "34",
     "from 200 mm to 700 mm"),
    ("base_height: 340", "base_height: true", "sets.keeper.base_height", "true",
     "a length such as"),
    ("base_height: 340", "base_height: .nan", "sets.keeper.base_height",
     "a number out of all bounds", "a length such as"),
    ("base_height: 340", "base_height: -340", "sets.keeper.base_height", "-340", "not negative"),
    ("base_height: 340", "base_height:", "sets.keeper.base_height", "nothing", "a length such as"),
    ("base_height: 340", "base_height: 13 1/4", "sets.keeper.base_height", "'13 1/4'",
     "13 1/4 in"),
    ("    ties:\n", "    ties: [1]\n    corner:\n", "sets.keeper.corner", "an unknown key",
     "one of base_height, butt_gap"),
    ("  keeper:\n", "  Keeper:\n", "sets.Keeper", "the name 'Keeper'", "small letters"),
    ("machine: router-metric.yaml", "machine: routr.yaml", "machine", "'routr.yaml', no such file",
     "a text file"),
    ("machine: router-metric.yaml", "machine: 3", "machine", "3", "a text"),
    ("- hardware-metric.yaml", "- hardware-metric.yaml\n  - .", "libraries.2", "'.', a folder",
     "a text file"),
    ("schedule: keepers-room-rooms.csv", 'schedule: "a\\0b"', "schedule", "'a\\x00b'",
     "a text on one line"),
    ("libraries:", "libraries: all\nlibrary:", "library", "an unknown key", "libraries"),
    ("job: Skarvholm", "job: !art Skarvholm", "job", "the tag '!art'", "plain"),
    # Half of a character that UTF-16 writes as two: no file can hold it.
    ("job: Skarvholm Light, keeper's room", r'job: "\uD800"', "job", r"'\ud800'",
     "a text of characters that can be written"),
    ("housing_depth: 9", "housing_depth: 19", "construction.housing_depth", "grooves of 19.5 mm",
     "less than the thickness of carcass (19 mm)"),
]  # fmt: skip


@pytest.mark.parametrize(("old", "new", "key_path", "found", "allowed"), FAULTS)
def test_a_fault_of_the_job_file_is_located(
    folder: JobFolder,
    old: str,
    new: str,
    key_path: str,
    found: str,
    allowed: str,
) -> None:
    folder.replace(KEEPER_FILE, old, new)
    text = folder.path(KEEPER_FILE).read_text(encoding="utf-8")
    matching = [fault for fault in folder.faults(KEEPER) if fault.key_path == key_path]
    assert [fault.found for fault in matching][:1] == [found]
    assert allowed in matching[0].allowed
    key = key_path.rsplit(".", maxsplit=1)[-1]
    line = text.splitlines()[matching[0].line - 1]
    assert f"{key}:" in line or line.strip().startswith("- ")


def test_a_missing_key_is_placed_at_the_map_that_lacks_it(folder: JobFolder) -> None:
    folder.replace(KEEPER_FILE, "      overhang: 60", "")
    text = folder.path(KEEPER_FILE).read_text(encoding="utf-8")
    line = text.splitlines().index("      bench:") + 1
    fault = folder.fault(KEEPER)
    assert place(fault) == (KEEPER_FILE, line, "sets.keeper.head_wall.bench.overhang")
    assert fault.found == "nothing"
    assert "from 0 mm to 600 mm" in fault.allowed


def test_all_faults_of_all_files_are_told_at_once_in_order(folder: JobFolder) -> None:
    lines = [
        folder.replace(KEEPER_FILE, "housing_clearance: 0.45", "housing_clearance: much"),
        folder.replace(KEEPER_FILE, "deck_depth: 600", "deck_dept: 600"),
        folder.replace(KEEPER_FILE, "height: 220", "height: []"),
    ]
    hardware_lines = [
        folder.replace(HARDWARE, "root_diameter: 2.5", "root_diameter: 4.5"),
        folder.replace(HARDWARE, "lip: 9", "lip: 90"),
    ]
    machine_line = folder.replace("router-metric.yaml", "gap: 12", "gap: 8")
    room_line = folder.replace("keepers-room-rooms.csv", "keeper,keeper,left", "k,keper,lift")
    bench_line = folder.path(KEEPER_FILE).read_text().splitlines().index("      bench:") + 1
    assert [place(fault) for fault in folder.faults(KEEPER)] == [
        (KEEPER_FILE, lines[0], "construction.housing_clearance"),
        (KEEPER_FILE, bench_line, "sets.keeper.head_wall.bench.deck_depth"),
        (KEEPER_FILE, lines[1], "sets.keeper.head_wall.bench.deck_dept"),
        (KEEPER_FILE, lines[2], "sets.keeper.head_wall.bedside table.height"),
        (HARDWARE, hardware_lines[0], "screws.4-0x30.root_diameter"),
        (HARDWARE, hardware_lines[1], "wall_plates.folded-plate.lip"),
        ("keepers-room-rooms.csv", room_line, "set"),
        ("keepers-room-rooms.csv", room_line, "hand"),
        ("router-metric.yaml", machine_line, "gap"),
    ]


def test_a_key_twice_is_told_with_both_lines(folder: JobFolder) -> None:
    line = folder.replace(KEEPER_FILE, "    butt_gap: 2", "    base_height: 350\n    butt_gap: 2")
    fault = folder.fault(KEEPER)
    assert place(fault) == (KEEPER_FILE, line, "sets.keeper.base_height")
    assert fault.found == f"a second time (first in line {line - 1})"


def test_a_name_in_two_libraries_is_told_with_both_places(folder: JobFolder) -> None:
    folder.path("more.yaml").write_text(
        "units: mm\nbands:\n  ash-band: {description: x, thickness: 2, density_kg_m3: 900}\n"
    )
    folder.replace(KEEPER_FILE, "- hardware-metric.yaml", "- hardware-metric.yaml\n  - more.yaml")
    fault = folder.fault(KEEPER)
    assert place(fault) == ("more.yaml", 3, "bands.ash-band")
    assert "materials-metric.yaml:" in fault.found


def test_an_entry_of_the_job_takes_the_place_of_a_library_entry(folder: JobFolder) -> None:
    band = "bands:\n  ash-band: {description: x, thickness: 2, density_kg_m3: 900}\n"
    folder.replace(KEEPER_FILE, "\nconstruction:", f"\n{band}\nconstruction:")
    assert read_job(folder.path(KEEPER_FILE)).construction.band.thickness_mm == 2


def test_a_bare_number_counts_in_the_units_of_its_own_file(folder: JobFolder) -> None:
    folder.replace("materials-metric.yaml", "units: mm", "units: inch")
    folder.replace("materials-metric.yaml", "    thickness: 1\n", "    thickness: 0.04\n")
    faults = folder.faults(KEEPER)
    assert all(Path(fault.file).name == "materials-metric.yaml" for fault in faults)
    assert "bands.ash-band.thickness" not in {fault.key_path for fault in faults}
    assert "materials.ash-one-face.thickness" in {fault.key_path for fault in faults}


@pytest.mark.parametrize("units", ["units: cm\n", ""])
def test_without_units_no_bare_number_is_blamed(folder: JobFolder, units: str) -> None:
    folder.replace(KEEPER_FILE, "units: mm\n", units)
    assert folder.fault(KEEPER).key_path == "units"


@pytest.mark.parametrize(
    ("entry", "found"),
    [("hardware.yaml", "'hardware.yaml', no such file"), ("7", "7"), ("''", "''")],
)
def test_names_are_not_missed_while_a_library_is(folder: JobFolder, entry: str, found: str) -> None:
    line = folder.replace(KEEPER_FILE, "- hardware-metric.yaml", f"- {entry}")
    fault = folder.fault(KEEPER)
    assert place(fault) == (KEEPER_FILE, line, "libraries.1")
    assert fault.found == found


def test_names_are_not_missed_while_a_library_is_no_yaml(folder: JobFolder) -> None:
    folder.path(HARDWARE).write_text("screws: [", encoding="utf-8")
    assert place(folder.fault(KEEPER)) == (HARDWARE, 1, "")


def test_names_are_not_missed_while_libraries_are_no_list(folder: JobFolder) -> None:
    listed = "libraries:\n  - materials-metric.yaml\n  - hardware-metric.yaml\n"
    folder.replace(KEEPER_FILE, listed, "libraries: materials-metric.yaml\n")
    assert folder.fault(KEEPER).key_path == "libraries"


def test_an_empty_map_is_called_so(folder: JobFolder) -> None:
    line = folder.replace(KEEPER_FILE, "base_height: 340", "base_height: {}")
    fault = folder.fault(KEEPER)
    assert place(fault) == (KEEPER_FILE, line, "sets.keeper.base_height")
    assert fault.found == "an empty map"


def test_a_screw_that_the_library_lacks_is_placed_at_the_leg_that_names_it(
    folder: JobFolder,
) -> None:
    line = folder.replace(HARDWARE, "screw: 5-0x16", "screw: 5-0x61")
    fault = folder.fault(KEEPER)
    assert place(fault) == (HARDWARE, line, "legs.tube-leg.screw")
    assert "nearest: 5-0x16" in fault.allowed


@pytest.mark.parametrize(
    ("content", "line", "found"),
    [
        (b"", 1, "an empty file"),
        (b"# nothing yet\n", 1, "an empty file"),
        (b"- a\n- b\n", 1, "a list"),
        (b"only words\n", 1, "'only words'"),
        (b"job: x\nunits: [mm\n", 3, "'<stream end>' in place of ',' or ']'"),
        (b"job: x\n\tunits: mm\n", 2, "\\t"),
        (b"job: caf\xe9\n", 1, "the byte 0xe9, which is not UTF-8"),
        (b"\xef\xbb\xbfjob: x\nunits: \xff\n", 2, "the byte 0xff, which is not UTF-8"),
        (b"job: x\nunits: \x01\n", 2, "the character"),
        (b"job: x\n---\njob: y\n", 2, "another document"),
        (b"a: &a [*a]\n", 1, "an alias of what it stands in"),
        (b"[" * 3000, 1, "lists or maps nested too deep"),
        (b"? [a]\n: 1\n", 1, "a list as a key"),
        (b"job: " + b"9" * 5000 + b"\n", 1, "'9999"),
    ],
)
def test_a_file_that_is_no_map_is_told_with_its_line(
    tmp_path: Path, content: bytes, line: int, found: str
) -> None:
    path = tmp_path / "job.yaml"
    path.write_bytes(content)
    with pytest.raises(InputErrors) as caught:
        read_job(path)
    assert any(found in fault.found and fault.line == line for fault in caught.value.faults)
    for fault in caught.value.faults:
        assert not fault.found.startswith(("found", "but", "expected"))


def test_aliases_cannot_blow_up_a_small_file(tmp_path: Path) -> None:
    lines = ["a0: &a0 [x, x, x, x, x, x, x, x, x, x]"]
    lines += [f"a{i}: &a{i} [{', '.join([f'*a{i - 1}'] * 10)}]" for i in range(1, 12)]
    path = tmp_path / "job.yaml"
    path.write_text("\n".join(lines))
    with pytest.raises(InputErrors) as caught:
        read_job(path)
    assert any(fault.found == "more than 20000 values" for fault in caught.value.faults)


def test_a_job_file_that_is_not_there_is_told(tmp_path: Path) -> None:
    with pytest.raises(InputErrors) as caught:
        read_job(tmp_path / "none.yaml")
    (fault,) = caught.value.faults
    assert place(fault) == ("none.yaml", 1, "")
    assert fault.found == "no such file"


def test_an_anchor_may_be_used_again(folder: JobFolder) -> None:
    folder.replace(KEEPER_FILE, "      bench:\n", "      bench: &bench\n")
    folder.replace(
        KEEPER_FILE,
        "\nsets:\n",
        "\nsets:\n  spare: {base_height: 340, butt_gap: 2, head_wall: {bed: "
        "{family: platform-bed, deck_width: 820, deck_length: 1920, wall_clearance: 15, "
        "side_overhang: 120, foot_overhang: 300, leg_inset: 120, corner_radius: 40}}}\n",
    )
    with folder.path(KEEPER_FILE).open("a") as file:
        file.write("  other: {base_height: 340, butt_gap: 2, head_wall: {bench: *bench}}\n")
    sets = {sizes.name: sizes for sizes in read_job(folder.path(KEEPER_FILE)).sets}
    assert row_of(sets["other"]).bench == row_of(sets["keeper"]).bench
    assert row_of(sets["spare"]).bench is None


@pytest.mark.parametrize(
    ("section", "key_path", "allowed"),
    [
        ("loads: {seat_n: 800}", "loads.seat_n", "1112"),
        ("loads: {spread_n_m2: 1000}", "loads.spread_n_m2", "2394"),
        ("loads: {panel_n: 0}", "loads.panel_n", "450"),
        ("loads: {blocking_gravity: 0.8}", "loads.blocking_gravity", "0.73"),
        ("loads: {bench_n: 1200}", "loads.bench_n", "seat_n"),
        ("access: {door: {width: 800}}", "access.door.height", ""),
        ("access: {lift: {width: 1, depth: 2000, height: 2100}}", "access.lift.width", "500"),
    ],
)
def test_loads_may_be_raised_not_lowered_and_the_way_in_must_make_sense(
    folder: JobFolder, section: str, key_path: str, allowed: str
) -> None:
    folder.replace(KEEPER_FILE, "\nloads:\n  blocking", "\n# blocking")
    line = folder.replace(KEEPER_FILE, "\nconstruction:", f"\n{section}\nconstruction:")
    fault = folder.fault(KEEPER)
    assert fault.key_path == key_path
    assert abs(fault.line - line) <= 1
    assert allowed in fault.allowed


def test_the_strength_of_a_board_needs_its_source(folder: JobFolder) -> None:
    folder.replace("materials-metric.yaml", '      source: "EN 312', '      # "EN 312')
    fault = folder.fault(KEEPER)
    assert fault.key_path == "materials.raw-particleboard.strength.source"


@pytest.mark.parametrize(
    ("key", "slip"), [("bending_n_mm2", 150), ("internal_bond_n_mm2", 5), ("in_plane_n_mm2", 200)]
)
def test_a_strength_beyond_any_board_is_a_slip_of_a_digit(
    folder: JobFolder, key: str, slip: float
) -> None:
    path = folder.path("materials-metric.yaml")
    first = next(line for line in path.read_text().splitlines() if line.strip().startswith(key))
    line = folder.replace("materials-metric.yaml", first, f"      {key}: {slip}")
    fault = folder.fault(KEEPER)
    assert fault.key_path.endswith(f".strength.{key}")
    assert fault.line == line
    assert str(slip) in fault.found
