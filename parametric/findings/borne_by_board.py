"""Whether a board bears what is asked of it, by the figures of its material."""

from __future__ import annotations

from parametric.findings.finding import Basis, Finding
from parametric.findings.measure import borne
from parametric.geometry.space import Point
from parametric.stock.amounts import N_MM2, NEWTONS, Words
from parametric.stock.materials import SheetMaterial
from parametric.strength.board_rules import Duration, Strength, most_n_mm2, rule, safety
from parametric.strength.loads import Loads


def stress_borne(
    *,
    code: str,
    where: str,
    what: Words,
    under: Words = "",
    stress_n_mm2: float,
    material: SheetMaterial,
    asked: Strength,
    duration: Duration,
    loads: Loads,
    load: str,
    advice: str,
    method: Words,
    taken: tuple[Words, ...] = (),
    at: Point | None,
) -> Finding:
    """Return whether a stress is allowed by the figure of this name; without it a warning, and a
    fail where no board of the kind would bear it.
    """
    factor = safety(material, duration, loads.climate)
    figure = asked.of(material.strength)
    return borne(
        code=code,
        where=where,
        what=what,
        under=under,
        measured=stress_n_mm2,
        allowed=None if figure is None else figure / factor,
        missing=f"{material.key} has no {asked.value} in its library file",
        unit=N_MM2,
        source=_source(material, load),
        advice=advice,
        basis=Basis(method, (*taken, *rule(material, loads.climate)), factor),
        at=at,
        at_best=most_n_mm2(material, asked) / factor,
    )


def pull_borne(
    *,
    code: str,
    where: str,
    what: Words,
    under: Words = "",
    pull_n: float,
    material: SheetMaterial,
    tested_n: float | None,
    missing: str,
    loads: Loads,
    load: str,
    advice: str,
    method: Words,
    taken: tuple[Words, ...] = (),
    at: Point | None,
) -> Finding:
    """Return whether somebody who sits down may pull so on a screw that a test says holds so much,
    carried over to this screw; None: no test says.
    """
    factor = safety(material, Duration.SHORT, loads.climate)
    return borne(
        code=code,
        where=where,
        what=what,
        under=under,
        measured=pull_n,
        allowed=None if tested_n is None else tested_n / factor,
        missing=missing,
        unit=NEWTONS,
        source=_source(material, load),
        advice=advice,
        basis=Basis(method, (*taken, *rule(material, loads.climate)), factor),
        at=at,
    )


def _source(material: SheetMaterial, load: str) -> str:
    figures = "" if material.strength is None else f"{material.strength.source}; "
    return f"{figures}load: {load}"
