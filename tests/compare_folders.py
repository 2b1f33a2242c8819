"""Two output folders by what they mean, not by their bytes: what differs, in lines.

    python -m tests.compare_folders BEFORE AFTER

Drawings are equal if they hold the same cuts, in whatever order and from whichever point a contour
starts; models if each product has its volume and its middle in the same places; papers and pages if
their words are the same but for the revision. All else is compared as text.
"""

import json
import re
import sys
from collections import Counter
from collections.abc import Callable, Iterator
from pathlib import Path

import cadquery as cq
import ezdxf
import pypdfium2
import trimesh
from ezdxf.entities import DXFEntity, LWPolyline

DIGITS = 3  # of a millimetre
Meaning = Counter[object] | str


def drawing(path: Path) -> Meaning:
    """Every entity by layer and geometry."""
    return Counter(_entity(each) for each in ezdxf.readfile(path).modelspace())


def _entity(entity: DXFEntity) -> object:
    kind, layer = entity.dxftype(), entity.dxf.layer
    if isinstance(entity, LWPolyline):
        corners = [
            (round(x, DIGITS), round(y, DIGITS), round(bulge, 6))
            for x, y, bulge in entity.get_points("xyb")
        ]
        # From its least corner, and the way round that comes first.
        turns = (corners, _reversed(corners))
        return kind, layer, entity.closed, min(_from_least(each) for each in turns)
    values = {
        key: tuple(round(each, DIGITS) + 0.0 for each in value)
        if hasattr(value, "xyz")
        else round(value, DIGITS)
        if isinstance(value, float)
        else value
        for key, value in entity.dxfattribs().items()
        if key not in ("handle", "owner")
    }
    return kind, tuple(sorted((key, str(value)) for key, value in values.items()))


def _reversed(corners: list[tuple[float, float, float]]) -> list[tuple[float, float, float]]:
    back = corners[::-1]
    bulges = [-bulge for _, _, bulge in back[1:] + back[:1]]
    return [(x, y, bulge) for (x, y, _), bulge in zip(back, bulges, strict=True)]


def _from_least(corners: list[tuple[float, float, float]]) -> tuple[object, ...]:
    least = corners.index(min(corners))
    return tuple(corners[least:] + corners[:least])


def step(path: Path) -> Meaning:
    """Every solid by volume and middle."""
    solids = cq.importers.importStep(str(path)).solids().vals()
    return Counter(
        (round(solid.Volume()), *(round(each, 2) + 0.0 for each in solid.Center().toTuple()))
        for solid in solids
    )


def glb(path: Path) -> Meaning:
    """How many faces stand in the scene, their area, and what bounds them: round faces are cut into
    triangles from wherever their seam lies.
    """
    scene = trimesh.load(path, process=False)
    meshes = scene.dump()
    area_dm2 = round(100 * sum(float(mesh.area) for mesh in meshes))
    return Counter(
        [(len(meshes), area_dm2, *(round(float(e), 3) + 0.0 for e in scene.bounds.ravel()))]
    )


def paper(path: Path) -> Meaning:
    """The words of a PDF, whatever their places."""
    document = pypdfium2.PdfDocument(path)
    text = " ".join(page.get_textpage().get_text_range() for page in document)
    return Counter(re.sub(r"revision [0-9a-f]{8}", "revision", text).split())


def page(path: Path) -> Meaning:
    """The words of a page, its pictures left out."""
    text = re.sub(r"<svg.*?</svg>", "", path.read_text(), flags=re.DOTALL)
    return re.sub(r"[0-9a-f]{64}", "hash", text)


def manifest(path: Path) -> Meaning:
    """All but what depends on the bytes of the files."""
    found = json.loads(path.read_text())
    return re.sub(r'"(sha256|seal|bytes)": ("[^"]*"|\d+)', "", json.dumps(found, indent=1))


READERS: dict[str, Callable[[Path], Meaning]] = {
    ".dxf": drawing,
    ".step": step,
    ".glb": glb,
    ".pdf": paper,
    ".html": page,
    ".json": manifest,
}


def differences(before: Path, after: Path) -> Iterator[str]:
    """Yield a line for each file that is in one folder alone or means something else."""
    names = [
        {path.relative_to(folder).as_posix() for path in folder.rglob("*") if path.is_file()}
        for folder in (before, after)
    ]
    yield from (f"{name}: gone" for name in sorted(names[0] - names[1]))
    yield from (f"{name}: new" for name in sorted(names[1] - names[0]))
    for name in sorted(names[0] & names[1]):
        one, other = before / name, after / name
        if one.read_bytes() == other.read_bytes():
            continue
        read = READERS.get(one.suffix, Path.read_text)
        was, is_now = read(one), read(other)
        if was != is_now:
            yield f"{name}: {_what(was, is_now)}"


def _what(was: Meaning, is_now: Meaning) -> str:
    if isinstance(was, Counter) and isinstance(is_now, Counter):
        gone, new = was - is_now, is_now - was
        first = [str(next(iter(each)))[:150] for each in (gone, new) if each]
        return f"{gone.total()} gone, {new.total()} new: {'; '.join(first)}"
    lines = [str(each).splitlines() for each in (was, is_now)]
    changed = sum((Counter(lines[0]) - Counter(lines[1])).values())
    return f"{changed} of {len(lines[0])} lines differ"


def main() -> None:
    found = list(differences(Path(sys.argv[1]), Path(sys.argv[2])))
    print("\n".join(found) or "they mean the same")
    sys.exit(bool(found))


if __name__ == "__main__":
    main()
