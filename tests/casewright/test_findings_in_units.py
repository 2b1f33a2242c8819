"""What a person reads of the findings of a job: its units, no false digits, both hands as one."""

import csv
import re
from dataclasses import replace
from io import StringIO

import pytest

from casewright import Session
from casewright.progress import Progress
from casewright.stages.sets.fast_findings import fast_findings
from casewright.stages.sets.set_memory import SetMemory
from export.summary.checks_table import checks_table
from export.tables.findings_table import findings_csv
from parametric.findings.finding import Finding
from parametric.findings.telling import ToldFinding, told_findings
from parametric.stock.lengths import Units
from tests.outside.built_demo import CONFIGS

DEMOS = ("avalanche-centre", "field-station", "keepers-room", "survey-ship")
METRIC = re.compile(r"[0-9] ?(mm|N|kg|N/mm2|N/m2|kg/m3)\b")
INCHES = re.compile(r'[0-9]"|\b(lbf|lb|psi)\b')
MINUS_ZERO = re.compile(r"(?<![0-9A-Za-z])-0(?![0-9]|\.[0-9]*[1-9])")
LEFT_OVER = re.compile(r"\bwanted\b|\bat (least|most) [0-9]")
FALSE_DIGITS = (
    # More than a tenth of a millimetre, a tenth without need, more than three digits that count.
    re.compile(r"(?<![0-9.])(?!0\.0)[0-9]+\.[0-9]{2,} mm\b"),
    re.compile(r"[0-9]\.[0-9]*0 (mm|N|kg|lb|lbf|psi)\b"),
    re.compile(r"[1-9][0-9]*\.[0-9]+ (rooms?|screws?|joints?|parts?|tasks?|sheets?)\b"),
)
NUMBER = re.compile(r"(?<![0-9./])([0-9.]+) (?:N|lbf|psi|N/mm2)\b")


@pytest.fixture(scope="module", params=DEMOS)
def found(request: pytest.FixtureRequest) -> tuple[Units, tuple[Finding, ...]]:
    """All findings of a job that need no solids."""
    job = Session.from_file(CONFIGS / f"{request.param}.yaml").job
    return job.units, fast_findings(job, Progress(), SetMemory(job))


def texts(told: ToldFinding) -> list[str]:
    """What is made from amounts; sources cite what others print, in their units."""
    basis = () if told.basis is None else (told.basis.method, *told.basis.assumptions)
    made = (told.message, told.advice, told.shown, told.shown_limit, *basis)
    return [text for text in made if not text.startswith("load: ")]


@pytest.mark.parametrize("units", Units)
def test_every_finding_reads_in_the_units_of_the_job(
    found: tuple[Units, tuple[Finding, ...]], units: Units
) -> None:
    """In the job's own units, and as a job in the others would tell the same."""
    told = told_findings(found[1], units)
    strange = METRIC if units is Units.INCH else INCHES
    for finding in told:
        for text in texts(finding):
            assert not strange.search(text), (finding.code, text)
            assert not MINUS_ZERO.search(text), (finding.code, text)


@pytest.mark.parametrize("units", Units)
def test_no_finding_shows_a_false_digit(
    found: tuple[Units, tuple[Finding, ...]], units: Units
) -> None:
    for finding in told_findings(found[1], units):
        for text in texts(finding):
            for pattern in FALSE_DIGITS:
                assert not pattern.search(text), (finding.code, text)
            for number in NUMBER.findall(text):
                digits = number.replace(".", "").strip("0")
                assert len(digits) <= 3, (finding.code, text)
            assert not LEFT_OVER.search(text) or finding.code == "stock-on-hand", text


def test_what_is_the_same_in_both_hands_is_one_row_and_counted_once(
    found: tuple[Units, tuple[Finding, ...]],
) -> None:
    units, findings = found
    told = told_findings(findings, units)
    hands = {
        name: {hand for hand in ("right", "left") if f"{name}, {hand} hand" in wheres}
        for wheres in [{finding.where.partition(":")[0] for finding in findings}]
        for name in {where.partition(",")[0] for where in wheres if where.endswith(" hand")}
    }
    assert hands
    for name, used in hands.items():
        both = [each for each in told if each.where.startswith(f"{name}, both hands")]
        assert bool(both) == (len(used) == 2)
    rows = list(csv.DictReader(StringIO(findings_csv(told))))
    assert len(rows) == len(told) <= len(findings)
    assert [row["finding"] for row in rows] == [each.message for each in told]
    assert [row["unit"] for row in rows] == [each.unit for each in told]
    page = checks_table(told)
    assert sum(map(int, re.findall(r'<td class="number">([0-9]+)</td>', page))) == len(told)


def test_a_place_in_one_hand_alone_names_that_hand(
    found: tuple[Units, tuple[Finding, ...]],
) -> None:
    units, findings = found
    of_hand = [each for each in findings if ", left hand" in each.where]
    if not of_hand:
        return
    told = told_findings(of_hand, units)
    assert all(", left hand" in each.where for each in told)
    worse = replace(of_hand[0], message="worse")
    mirrored = replace(of_hand[0], where=of_hand[0].where.replace("left hand", "right hand"))
    assert [each.where for each in told_findings([mirrored, worse], units)] == [
        mirrored.where,
        worse.where,
    ]
