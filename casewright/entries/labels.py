"""The labels, as PDF for their stock."""

from __future__ import annotations

from collections.abc import Iterator

from casewright.entries.built import Built
from casewright.entries.entry import Rendered
from casewright.stages.labels.label_content import box_labels
from casewright.stages.labels.label_stage import label_paper
from casewright.stages.site.site_stage import SiteWork


def of_parts(built: Built) -> Iterator[Rendered]:
    """Yield for each material the labels of its sheets, parts and offcuts, in the order of work."""
    for name, content in built.labels.materials:
        yield Rendered(name=name, content=content)


def of_bars(built: Built) -> Iterator[Rendered]:
    """Yield the labels of what is cut from bars; nothing without any."""
    if built.labels.bars is not None:
        yield Rendered(content=built.labels.bars)


def of_boxes(site: SiteWork) -> Iterator[Rendered]:
    """Yield the labels of the rooms' boxes; nothing without any."""
    labels = tuple(box_labels(site))
    if labels:
        yield Rendered(content=label_paper(site.job, site.box_labels, site.paper, labels))
