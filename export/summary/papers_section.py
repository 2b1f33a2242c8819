"""The section of the summary page that links the papers, those of one folder together."""

from __future__ import annotations

from collections.abc import Iterable
from urllib.parse import quote

from export.markup_text import in_markup
from export.summary.markup import section, subheading

# In the order of the work; papers of any other folder come last.
_WHOSE = {"engineering": "For the engineer", "shop": "For the shop", "site": "For the site"}


def papers_section(papers: Iterable[str]) -> str:
    """Return links to the papers; nothing if there are none."""
    folders: dict[str, list[str]] = {folder: [] for folder in _WHOSE}
    for path in papers:
        folders.setdefault(path.partition("/")[0] if "/" in path else "", []).append(path)
    if not any(folders.values()):
        return ""
    markup = (
        f"{subheading(_WHOSE.get(folder, folder or 'For everyone'))}"
        f'<ul class="papers">\n{"".join(_link(path) for path in paths)}</ul>\n'
        for folder, paths in folders.items()
        if paths
    )
    return section("papers", "Papers", markup)


def _link(path: str) -> str:
    return f'<li><a href="{in_markup(quote(path))}">{in_markup(path)}</a></li>\n'
