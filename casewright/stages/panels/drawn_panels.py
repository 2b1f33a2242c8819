"""Panels that other programs drew, on their way into the cut list."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from casewright.job import Job
from casewright.progress import Progress
from export.tables.panel_table import PanelSource
from parametric.lists.part_catalogue import PartCatalogue, ReadBoard


@dataclass(frozen=True, slots=True)
class ReadPanel:
    """A panel as it was read, how many are cut, and where it is from; its part is not known yet."""

    read: ReadBoard
    quantity: int
    source: PanelSource


def drawn_panels_of(job: Job, progress: Progress) -> tuple[ReadPanel, ...]:
    """Return the panels of the job that other programs drew.

    Raises:
        InputErrors: a solid is no flat panel of a material; all of them are told.
    """
    if not job.panels:
        return ()
    from casewright.stages.panels.panel_stage import read_drawn_panels  # loads the CAD kernel

    return read_drawn_panels(job.panels, job.panel_materials, job.units, progress)


def add_panels(panels: Iterable[ReadPanel], catalogue: PartCatalogue) -> tuple[PanelSource, ...]:
    """Add the panels to the catalogue, and return where each is from."""
    return tuple(
        replace(panel.source, part=catalogue.add_drawn(panel.read, panel.quantity))
        for panel in panels
    )
