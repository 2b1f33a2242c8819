"""One kind of file that a build leaves: where it stands, what it is for, and what renders it."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from enum import Enum

from casewright.entries.built import Built
from casewright.output.left_file import LeftFile
from casewright.stages.site.site_stage import SiteWork
from export.file_paths import named
from export.manifest import FileRole
from parametric.geometry.hand import Hand
from parametric.lists.operations import Operation


class Form(Enum):
    """What a file is to those who get it."""

    TABLE = "a table for spreadsheets"
    PAPER = "a paper to print; the summary page links it"
    CUT_FILE = "a file for the router"
    MODEL = "a model for other programs"
    PAGE = "a page to open"


@dataclass(frozen=True, slots=True, kw_only=True)
class Rendered:
    """The bytes of one file. `name` stands for the `*` of its entry's path.

    The others are told in the manifest, as in `export.manifest.FileEntry`.
    """

    content: bytes
    name: str = ""
    part: str | None = None
    operation: Operation | None = None
    set_name: str | None = None
    hand: Hand | None = None


Renderer = Callable[[Built, tuple["Left", ...]], Iterable[Rendered]]
"""Makes the files of an entry from what was built and the files that entries before it left."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """A kind of file. A `*` in `path` stands for the names of several files of the kind.

    `title` is what people call it, `readers` whom it is for, `holds` what stands in it.
    """

    path: str
    role: FileRole
    form: Form
    title: str
    readers: str
    holds: str
    render: Renderer


@dataclass(frozen=True, slots=True, kw_only=True)
class Left:
    """A file that an entry left; `name` is what stands for the `*` of the entry's path."""

    entry: Entry
    name: str
    file: LeftFile


def left_by(entry: Entry, built: Built, before: tuple[Left, ...]) -> Iterator[Left]:
    """Yield the files of one entry.

    Raises:
        RuntimeError: the typesetter cannot set a paper, which is a bug.
    """
    for made in entry.render(built, before):
        yield Left(
            entry=entry,
            name=made.name,
            file=LeftFile(
                path=named(entry.path, made.name),
                role=entry.role,
                content=made.content,
                part=made.part,
                operation=made.operation,
                set_name=made.set_name,
                hand=made.hand,
            ),
        )


def files(made: Callable[[Built], Iterable[Rendered]]) -> Renderer:
    """Return a renderer of files that link no others."""

    def render(built: Built, before: tuple[Left, ...]) -> Iterable[Rendered]:
        return made(built)

    return render


def papers(made: Callable[[SiteWork], Iterable[Rendered]]) -> Renderer:
    """Return a renderer of papers that need nothing but the work on the site."""
    return files(lambda built: made(built.site))


def table(text: Callable[[Built], str | None]) -> Renderer:
    """Return a renderer of the one table that a job has, or of none where there is no text."""

    def made(built: Built) -> Iterator[Rendered]:
        content = text(built)
        if content is not None:
            yield Rendered(content=content.encode())

    return files(made)
