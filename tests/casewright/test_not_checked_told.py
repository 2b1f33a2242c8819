"""What no check looks at stands in the findings table and on the summary of every built demo."""

import csv
import html
import re
from pathlib import Path

import pytest

from casewright.intake.read_job import read_job
from casewright.stages.sets.used_sets import placed, used_sets
from parametric.findings.not_checked import not_checked
from parametric.findings.telling import told_findings
from tests.casewright.build_fixtures import CONFIGS, outcome_of
from tests.casewright.dxf_to_solid import manifest_of

pytestmark = pytest.mark.parametrize(
    ("fixture", "demo"), [("ship", "survey-ship"), ("keeper", "keepers-room")]
)


def test_it_is_in_all_that_tells_findings(
    fixture: str, demo: str, request: pytest.FixtureRequest
) -> None:
    out: Path = request.getfixturevalue(fixture)
    job = read_job(CONFIGS / f"{demo}.yaml")
    lines = not_checked(placed(job, used) for used in used_sets(job))
    assert len(lines) > 5
    assert outcome_of(demo).not_checked == lines

    with (out / "findings.csv").open(newline="") as stream:
        rows = list(csv.DictReader(stream))
    found = rows[: -len(lines)]
    assert {row["result"] for row in found} <= {"ok", "warn", "fail"}
    assert [
        (row["result"], row["where"], row["finding"], row["check"], row["measured"])
        for row in rows[-len(lines) :]
    ] == [("not checked", line.where, f"{line.what}: {line.why}", "", "") for line in lines]

    page = (out / "summary.html").read_text(encoding="utf-8")
    strength = page.partition('<section id="strength">')[2].partition("</section>")[0]
    table = strength.partition("<h3>Not checked</h3>")[2]
    cells = [html.unescape(cell) for cell in re.findall(r"<td[^>]*>(.*?)</td>", table)]
    assert cells == [cell for line in lines for cell in (line.what, line.where, line.why)]


def test_it_counts_neither_as_a_warning_nor_as_a_failure(
    fixture: str, demo: str, request: pytest.FixtureRequest
) -> None:
    out: Path = request.getfixturevalue(fixture)
    with (out / "findings.csv").open(newline="") as stream:
        results = [row["result"] for row in csv.DictReader(stream)]
    counts = manifest_of(out)["findings"]
    assert counts == {each: results.count(each) for each in ("ok", "warn", "fail")}
    units = read_job(CONFIGS / f"{demo}.yaml").units
    told = told_findings(outcome_of(demo).findings, units)
    assert sum(counts.values()) == len(told) < len(results)
