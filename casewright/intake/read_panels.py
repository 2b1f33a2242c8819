"""The table of panels that other programs drew: a STEP file and a quantity in each row.

Columns `file` (relative to the table; `rack.step#2` is the second solid of that file) and
`quantity`; `name`, `material` (a key of the libraries; without it the thickness tells), `grain`
(length, width or none) and `show_face` may be left out.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from pathlib import Path

from casewright.errors import Fault
from casewright.intake.csv_table import Columns, CsvFile, Row, read_rows
from casewright.intake.document import Blame, shown
from casewright.intake.nearest import one_of
from casewright.job import DrawnPanel, GoodFace, PanelGrain
from parametric.geometry.space import Direction

FILE, QUANTITY, NAME = "file", "quantity", "name"
MATERIAL, GRAIN, SHOW_FACE = "material", "grain", "show_face"
COLUMNS = Columns(
    needed=(FILE, QUANTITY),
    optional=(NAME, MATERIAL, GRAIN, SHOW_FACE),
    texts=(FILE, NAME, MATERIAL, GRAIN, SHOW_FACE),
    known_as={SHOW_FACE: ("show face",)},
)
MOST_COPIES = 100_000
LONGEST_NAME = 80
WAYS = {
    "x+": Direction.X_PLUS,
    "x-": Direction.X_MINUS,
    "y+": Direction.Y_PLUS,
    "y-": Direction.Y_MINUS,
    "z+": Direction.Z_PLUS,
    "z-": Direction.Z_MINUS,
}
"""How a good face is told by the way it looks in its file."""
_SOLID = re.compile(r"(.+)#([1-9][0-9]{0,3})")
_WHOLE = re.compile(r"[0-9]{1,6}")


def read_panels(
    path: Path, materials: Iterable[str], faults: list[Fault], blame: Blame | None = None
) -> tuple[DrawnPanel, ...]:
    """Return the rows of the table, after adding its faults; rows with quantity 0 are left out.

    `materials` are the keys that a row may name.
    """
    file, known = CsvFile(path, faults), tuple(materials)
    found = []
    for row in read_rows(file, COLUMNS, blame):
        if file.given_up:
            break
        panel = _panel(file, row, known)
        if panel is not None and panel.quantity:
            found.append(panel)
    return tuple(found)


def face_word(face: GoodFace | Direction) -> str:
    """Return the word by which a table tells a good face."""
    if isinstance(face, GoodFace):
        return face.value
    return next(word for word, way in WAYS.items() if way is face)


def _panel(file: CsvFile, row: Row, materials: tuple[str, ...]) -> DrawnPanel | None:
    """Return the panel of a row, None after telling its faults."""
    before, cells = len(file.faults), row.cells
    named, solid = cells[FILE], None
    if match := _SOLID.fullmatch(named):
        named, solid = match[1], int(match[2])
    if not named or not named.isprintable():
        _fault(file, row, FILE, "the name of a STEP file, relative to this one")
    if not _WHOLE.fullmatch(cells[QUANTITY]) or int(cells[QUANTITY]) > MOST_COPIES:
        _fault(file, row, QUANTITY, f"a whole number from 0 to {MOST_COPIES}")
    name = cells[NAME] or Path(named).stem
    if not name.isprintable() or len(name) > LONGEST_NAME:
        _fault(
            file, row, NAME, f"a name of at most {LONGEST_NAME} characters on one line, or blank"
        )
    if cells[MATERIAL] and cells[MATERIAL] not in materials:
        _fault(file, row, MATERIAL, one_of(materials, cells[MATERIAL], what="materials"))
    grain = cells[GRAIN].casefold() or PanelGrain.LENGTH
    if grain not in tuple(PanelGrain):
        _fault(file, row, GRAIN, one_of(PanelGrain, grain, what="words"))
    face = cells[SHOW_FACE].casefold() or GoodFace.MACHINED
    if face not in (*GoodFace, *WAYS):
        _fault(file, row, SHOW_FACE, one_of((*GoodFace, *WAYS), face, what="words"))
    if len(file.faults) > before:
        return None
    return DrawnPanel(
        table=file.path,
        line=row.line,
        file=file.path.parent / named,
        solid=solid,
        name=name,
        quantity=int(cells[QUANTITY]),
        material=cells[MATERIAL],
        grain=PanelGrain(grain),
        good_face=WAYS[face] if face in WAYS else GoodFace(face),
    )


def _fault(file: CsvFile, row: Row, column: str, allowed: str) -> None:
    text = row.cells[column]
    file.fault(row.line, row.named.get(column, column), shown(text) if text else "nothing", allowed)
