"""Every file that a build leaves. A new one has its entry beside this module, with those of its
readers.

The table of README.md is this table (a test holds them together), the summary page links the papers
of it, and the manifest has its roles.
"""

from __future__ import annotations

from collections.abc import Sequence

from casewright.entries import tables
from casewright.entries.built import Built
from casewright.entries.engineering_entries import ENGINEERING
from casewright.entries.entry import Entry, Form, Left, left_by, table
from casewright.entries.list_books import lists_workbook
from casewright.entries.shop_entries import SHOP
from casewright.entries.site_entries import SITE
from casewright.entries.summary import summary
from casewright.output.left_file import LeftFile
from casewright.progress import Progress
from export.manifest import FileRole

ENTRIES: tuple[Entry, ...] = (
    Entry(
        path="findings.csv",
        role=FileRole.FINDINGS,
        form=Form.TABLE,
        title="findings",
        readers="engineer",
        holds="every check: measured, limit, source, advice; for strength also method, "
        "assumptions, factor of safety and the place in the room; then what is `not checked`",
        render=table(tables.findings),
    ),
    *SHOP,
    *SITE,
    Entry(
        path="shop/lists.xlsx",
        role=FileRole.LISTS_WORKBOOK,
        form=Form.TABLE,
        title="lists as a workbook",
        readers="shop, store, estimator",
        holds="cut list, cleats and angles with their holes, pieces, places, hardware, kits,"
        " purchase and offcuts, a sheet each, in millimetres and as people read them",
        render=lists_workbook,  # after the lists that it holds
    ),
    *ENGINEERING,
    Entry(
        path="summary.html",
        role=FileRole.SUMMARY,
        form=Form.PAGE,
        title="summary",
        readers="everyone",
        holds="whether the job is safe to cut, sheets and prices; findings, sets to turn, sheet "
        "maps to zoom, search by part or room, yield, cut list, links to all papers; opens offline",
        render=summary,  # last: it links what stands above
    ),
)


def files_of(
    built: Built, progress: Progress, entries: Sequence[Entry] = ENTRIES
) -> tuple[LeftFile, ...]:
    """Return the files of all entries, in their order.

    Raises:
        RuntimeError: the typesetter cannot set a paper, which is a bug.
    """
    progress.stage("lists and papers", len(entries))
    left: tuple[Left, ...] = ()
    for entry in entries:
        left += tuple(left_by(entry, built, left))
        progress.step(entry.title)
    return tuple(each.file for each in left)
