"""What each wall screw of a part bears, as the checks of strength found it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from math import isinf

from parametric.findings.finding import Finding
from parametric.joints.assembly import Assembly
from parametric.joints.joints import Hung
from parametric.shapes.members import Cleat, WallPlate
from parametric.stock.amounts import Words, force, joined

_OUT, _DOWN, _BOTH = " out", " down", " down and out"
NOT_WORKED_OUT = "not worked out"
KEEPS = "only keeps the box in place"


def screw_loads(where: str, assembly: Assembly, findings: Iterable[Finding]) -> Mapping[str, Words]:
    """Return in words the highest load on one screw, by the part that it goes through.

    `where` is the place of the set in its findings. The screws of a hung panel only keep it on its
    plates: nobody works out what they bear.
    """
    found: dict[tuple[str, str], float] = {}
    for each in findings:
        key = each.code, each.where.removeprefix(f"{where}: ")
        found[key] = max(found.get(key, 0.0), each.measured)
    hung = {
        plate: joint.panel
        for joint in assembly.joints
        if isinstance(joint, Hung)
        for plate in joint.plates
    }
    told: dict[str, Words] = {}
    for name, joints in assembly.wall_fixings().items():
        part = assembly.part(name)
        if not any(joint.carries for joint in joints):
            told[name] = KEEPS
            continue
        if isinstance(part, WallPlate):
            keys = {("plate-load", hung.get(name, "")): _BOTH}
        else:
            keys = {("wall-pull", part.unit): _OUT}
        if isinstance(part, Cleat):
            keys["wall-cleat", name] = _DOWN
        loads: list[Words] = [
            "nothing keeps it in place" if isinf(found[key]) else (force(found[key]), way)
            for key, way in keys.items()
            if key in found
        ]
        is_panel = name in hung.values()
        told[name] = joined(", ", loads) if loads and not is_panel else NOT_WORKED_OUT
    return told
