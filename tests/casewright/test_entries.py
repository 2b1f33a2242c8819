"""The registry of what a build leaves, held against folders, manifest, summary page and README."""

import re
from dataclasses import replace
from fnmatch import fnmatchcase
from pathlib import Path, PurePosixPath
from typing import cast

import pytest

from casewright.entries.built import Built
from casewright.entries.entry import Entry, Form, Rendered, files, left_by
from casewright.entries.registry import ENTRIES, files_of
from casewright.entries.summary import set_by_set
from casewright.intake.fitting_schema import FittingEntry
from casewright.intake.job_schema import JobFile
from casewright.intake.machine_schema import MachineEntry
from casewright.intake.read_schedule import COLUMNS
from casewright.output.left_file import MANIFEST, LeftFile, listed
from casewright.progress import Listener, Progress
from export.manifest import FileRole, listed_files
from tests.casewright.dxf_to_solid import manifest_of

README = Path(__file__).parents[2] / "README.md"
NOTHING = cast(Built, None)
PICTURES = README.parent / ".pictures"
PERSONS = ("Shop engineer", "CNC operator", "Installer", "Estimator", "Script writer")
LONGEST_TOUR = 120  # lines from the top; nobody reads on who has not seen by then what it does


def note(name: str = "", **changed: object) -> Entry:
    """An entry that leaves one file of its name and says what was there before."""
    entry = Entry(
        path="site/note-*.txt",
        role=FileRole.ROOMS,
        form=Form.PAPER,
        title="note",
        readers="installer",
        holds="a note",
        render=lambda built, before: (
            Rendered(name=name, content=" ".join(each.file.path for each in before).encode()),
        ),
    )
    return replace(entry, **changed)  # type: ignore[arg-type]


def of(path: str) -> list[Entry]:
    return [entry for entry in ENTRIES if fnmatchcase(path, entry.path)]


@pytest.mark.parametrize("fixture", ["ship", "keeper"])
def test_each_file_of_a_folder_is_of_one_entry_and_has_its_role(
    fixture: str, request: pytest.FixtureRequest
) -> None:
    out: Path = request.getfixturevalue(fixture)
    roles = {file["path"]: file["role"] for file in manifest_of(out)["files"]}
    found = {path.relative_to(out).as_posix() for path in out.rglob("*") if path.is_file()}
    assert found - {MANIFEST} == set(roles)
    for path, role in roles.items():
        (entry,) = of(path)
        assert role == entry.role


def test_all_but_what_only_some_jobs_have_is_left(ship: Path) -> None:
    paths = [file["path"] for file in manifest_of(ship)["files"]]
    missing = {entry.path for entry in ENTRIES if not any(entry in of(path) for path in paths)}
    assert missing <= {"shop/edge-bores.csv", "shop/panels.csv"}


def test_each_entry_has_a_path_a_role_and_a_title_of_its_own() -> None:
    for each in ("path", "role", "title"):
        assert len({getattr(entry, each) for entry in ENTRIES}) == len(ENTRIES)


def test_the_readme_tells_what_the_registry_holds() -> None:
    text = README.read_text(encoding="utf-8")
    told = text.partition("## What a build leaves")[2].partition("\n## ")[0]
    rows = re.findall(r"^\| (`.*) \|$", told, re.M)
    *told_entries, manifest = rows
    assert told_entries == [f"`{e.path}` | {e.readers} | {e.holds}" for e in ENTRIES]
    assert manifest.startswith(f"`{MANIFEST}` |")


def sections() -> dict[str, list[str]]:
    """The lines of each section of README by its heading, in order; the title's comes first."""
    found: dict[str, list[str]] = {"": []}
    for line in README.read_text(encoding="utf-8").splitlines():
        if line.startswith("## "):
            found[line.removeprefix("## ")] = []
        else:
            found[list(found)[-1]].append(line)
    return found


def test_the_tour_ends_before_a_reader_does() -> None:
    told = sections()
    assert list(told)[:3] == ["", "Two commands", "A tour"]
    lines = [len(told[""]), *(1 + len(told[name]) for name in list(told)[1:3])]
    assert sum(lines) < LONGEST_TOUR
    assert "![" in "\n".join(told["A tour"])


def test_the_readme_shows_each_picture_that_is_made_for_it() -> None:
    shown = re.findall(r"!\[[^]]+\]\((\S+)\)", README.read_text(encoding="utf-8"))
    assert {README.parent / picture for picture in shown} == set(PICTURES.iterdir())


def test_each_person_has_a_section_of_the_reference_after_the_tour() -> None:
    told = sections()
    assert [name for name in told if name in PERSONS] == list(PERSONS)
    assert list(told).index("A tour") < list(told).index(PERSONS[0])
    for person in PERSONS:
        opening = " ".join(told[person][1 : told[person].index("", 1)])
        assert re.match("Files: .*Commands?: .*", opening), person


def named(lines: list[str]) -> set[str]:
    """The words that stand as code in these lines."""
    return set(re.findall(r"\w+", " ".join(re.findall("`([^`]+)`", "\n".join(lines)))))


def test_the_keys_that_a_person_touches_are_in_the_reference() -> None:
    """All of the machine file, of what rooms may ask for, of the schedule, and the job's own."""
    told = {person: named(sections()[person]) for person in PERSONS}
    assert told["CNC operator"] >= set(MachineEntry.model_fields)
    assert told["Installer"] >= {*FittingEntry.model_fields, *COLUMNS}
    assert set().union(*told.values()) >= set(JobFile.model_fields)


@pytest.mark.parametrize("fixture", ["ship", "keeper"])
def test_the_summary_page_links_the_papers_set_by_set(
    fixture: str, request: pytest.FixtureRequest
) -> None:
    out: Path = request.getfixturevalue(fixture)
    page = (out / "summary.html").read_text(encoding="utf-8")
    section = page.partition('<section id="papers">')[2].partition("</section>")[0]
    links = re.findall('href="([^"]*)"', section)
    papers = [path for path in links if of(path)[0].form is Form.PAPER]
    assert links == papers
    assert sorted(links) == sorted(
        file["path"] for file in manifest_of(out)["files"] if of(file["path"])[0].form is Form.PAPER
    )
    names = ("rooms", "pick-list", "labels-boxes", "packing", "measuring", "sign-off")
    assert links[-6:] == [f"site/{name}.pdf" for name in names]
    of_sets = [path for path in links if path.startswith(("site/install-", "site/blocking-"))]
    assert links[: -6 - len(of_sets)] + of_sets == links[:-6]  # of the job, then of each set
    sets = [PurePosixPath(path).stem.partition("-")[2] for path in of_sets]
    assert sets == sorted(sets, key=list(dict.fromkeys(sets)).index)


def test_papers_of_a_set_stand_together_and_those_of_the_job_come_last() -> None:
    entries = (note("b"), note("", path="all.pdf"), note("a"), note("b", path="more-*.txt"))
    left = [each for entry in entries for each in left_by(entry, NOTHING, ())]
    assert list(set_by_set(left)) == [
        "site/note-b.txt",
        "more-b.txt",
        "site/note-a.txt",
        "all.pdf",
    ]


def test_one_more_entry_is_one_more_file_with_its_role() -> None:
    first = note("one", role=FileRole.BLOCKING)
    second = note("two", title="another", render=note("two").render)
    left = files_of(NOTHING, Progress(), (first, second))
    assert [(each.path, each.role, each.content) for each in left] == [
        ("site/note-one.txt", FileRole.BLOCKING, b""),
        ("site/note-two.txt", FileRole.ROOMS, b"site/note-one.txt"),
    ]


def test_an_entry_may_leave_nothing_and_is_counted_all_the_same() -> None:
    told: list[object] = []

    class Told(Listener):
        def stage(self, name: str, steps: int) -> None:
            told.append(steps)

        def step(self, what: str) -> None:
            told.append(what)

    none = note(title="none of these", render=files(lambda built: ()))
    assert files_of(NOTHING, Progress(Told()), (none, note("x"))) != ()
    assert told == [2, "none of these", "note"]


def test_a_manifest_lists_the_files_of_a_command_and_no_path_twice() -> None:
    file = LeftFile(path="a/b.csv", role=FileRole.YIELD, content=b"x")
    made = listed((file,))
    assert made[PurePosixPath("a/b.csv")] == b"x"
    assert listed_files(made[PurePosixPath(MANIFEST)]) == {"a/b.csv": file.entry.sha256}
    with pytest.raises(ValueError, match="twice"):
        listed((file, file))
