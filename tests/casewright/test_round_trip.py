"""Every part's DXF, extruded, is the solid in the STEP file under a proper motion; its mirror image
is not. Read with ezdxf and the CAD kernel's STEP reader, through the manifest.
"""

import csv
from pathlib import Path

import pytest

from tests.casewright.dxf_to_solid import best_difference, manifest_of, solid_from_dxf
from tests.casewright.step_names import solids_by_name
from tests.solid_assertions import mirrored

MOST_MM3 = 0.1


def cut_list(out: Path) -> list[dict[str, str]]:
    with (out / "shop" / "cutlist.csv").open(newline="") as stream:
        return list(csv.DictReader(stream))


def models(out: Path) -> list[Path]:
    return [out / f["path"] for f in manifest_of(out)["files"] if f["role"] == "solids"]


@pytest.mark.parametrize("demo", ["ship", "centre", "keeper", "station"])
def test_every_part_of_every_set(demo: str, request: pytest.FixtureRequest) -> None:
    out: Path = request.getfixturevalue(demo)
    manifest = manifest_of(out)
    thickness = {row["part"]: float(row["thickness_mm"]) for row in cut_list(out)}
    made = {n: solid_from_dxf(out, manifest, n, t) for n, t in thickness.items()}
    met = set()
    for model in models(out):
        for name, solids in solids_by_name(model).items():
            if name in made:
                met.add(name)
                # Of parts that stand several times in a set one is compared; the kernel takes long.
                off = best_difference(made[name], solids[0], MOST_MM3)
                assert off < MOST_MM3, (model.name, name)
    assert met == set(made)


def test_a_mirrored_part_fails(ship: Path) -> None:
    """Handed parts without bands only: a symmetric part is its own mirror image, and a banded one
    may be handed by its band alone, which DXF does not show.
    """
    manifest = manifest_of(ship)
    handed = [row for row in cut_list(ship) if row["hand"] != "either" and not row["bands"]]
    assert handed
    right = next(path for path in models(ship) if path.stem.endswith("right"))
    left = next(path for path in models(ship) if path.stem.endswith("left"))
    checked = 0
    for model in (right, left):
        solids = solids_by_name(model)
        for row in handed:
            for solid in solids.get(row["part"], []):
                made = solid_from_dxf(ship, manifest, row["part"], float(row["thickness_mm"]))
                assert best_difference(mirrored(made), solid) > 100.0, row["part"]
                checked += 1
    assert checked >= 4


def test_symmetric_parts_serve_both_hands(ship: Path) -> None:
    rows = {row["part"]: row["hand"] for row in cut_list(ship)}
    for hand in ("right", "left"):
        for path in (p for p in models(ship) if p.stem.endswith(hand)):
            other = {"right": "left", "left": "right"}[hand]
            names = set(solids_by_name(path)) & set(rows)
            assert all(rows[name] in (hand, "either") for name in names)
            assert other not in {rows[name] for name in names}
