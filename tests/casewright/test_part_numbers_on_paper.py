"""Real numbers on the papers: every piece of a demo job that is delivered has one."""

import pypdfium2

from casewright.intake.read_job import read_job
from casewright.stages.models.piece_stage import pieces_of
from casewright.stages.sets.check_stage import check
from casewright.stages.site.site_stage import SiteSet, work_for
from parametric.joints.delivered import delivered
from parametric.stock.paper import Paper
from tests.casewright.build_fixtures import CONFIGS
from tests.casewright.site_example import KIT, papers_of, steps_by_unit


def test_every_piece_of_a_demo_job_is_on_its_sheets_by_number() -> None:
    job = read_job(CONFIGS / "keepers-room.yaml")
    sets = check(job)
    each = sets.sets[0]
    assembly = each.model.room_set.assembly
    numbers = pieces_of(sets).marks((each.used.sizes.name, each.used.hand))
    assert set(numbers) == {piece.main.name for piece in delivered(assembly)}
    site = SiteSet(model=each.model, numbers=numbers, steps=steps_by_unit(each.model), kit=KIT)
    rooms = [r for r in job.rooms if (r.set_name, r.hand) == site.key]
    files = papers_of(work_for(job.name, [site], rooms, (), job.units, Paper.A4))
    (install,) = (content for path, content in files.items() if "install" in path)
    words = " ".join(
        page.get_textpage().get_text_range() for page in pypdfium2.PdfDocument(install)
    )
    joined = " ".join(words.split())
    assert all(number in joined for number in numbers.values())
