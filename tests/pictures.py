"""Makes the pictures of README.md from a build of the demo jobs: `python -m tests.pictures`.

Needs Chromium to turn SVG into PNG; DXF pages are drawn by ezdxf's own drawing add-on, so that they
show what a stranger's reader makes of the files.
"""

import re
import subprocess
import sys
import tempfile
from pathlib import Path

import ezdxf
import pypdfium2
from ezdxf.addons.drawing import Frontend, RenderContext, layout, svg
from ezdxf.addons.drawing.config import BackgroundPolicy, ColorPolicy, Configuration
from PIL import ImageOps

from casewright.intake.read_job import read_job
from casewright.output.folder import write_folder
from casewright.pipeline import build
from casewright.stages.models.model_stage import set_pictures
from casewright.stages.sets.check_stage import check

ROOT = Path(__file__).parents[1]
PICTURES = ROOT / ".pictures"
DEMO = ROOT / "configs" / "avalanche-centre.yaml"


def main() -> None:
    """Write all pictures."""
    PICTURES.mkdir(exist_ok=True)
    job = read_job(DEMO)
    with tempfile.TemporaryDirectory() as folder:
        out = Path(folder) / "out"
        write_folder(out, build(job).files)
        sheets = sorted((out / "shop" / "sheets" / "oak-one-face").glob("*.dxf"))
        fullest = max(sheets, key=lambda path: path.stat().st_size)
        png(dxf_svg(fullest), PICTURES / "sheet.png", 1100)
        handed = out / "shop" / "parts" / "P003.dxf"
        png(dxf_svg(handed), PICTURES / "part.png", 900)
        shop = out / "shop"
        page_png(shop / "operator-oak-one-face.pdf", "Sheet 1 of", PICTURES / "operator.png")
        page_png(shop / "labels" / "oak-one-face.pdf", "run 1 of", PICTURES / "labels.png", 0)
        drawings = out / "engineering" / "part-drawings.pdf"
        page_png(drawings, "P003 bench side panel", PICTURES / "drawing.png")
        whole = out / "engineering" / "set-queen-right.pdf"
        page_png(whole, "sections at the steel angle", PICTURES / "section.png")
        page_png(whole, "bench, taken apart", PICTURES / "apart.png")
        site = out / "site"
        page_png(
            site / "install-queen-left.pdf",
            "Drive the screws of the steel angle",
            PICTURES / "step.png",
        )
        page_png(site / "blocking-queen-left.pdf", "Blocking:", PICTURES / "blocking.png")
    for each in check(job).sets:
        if each.used.sizes.name == "queen":
            shown = set_pictures(each, job.units).pictures
            png(shown[0].svg, PICTURES / f"queen-{each.used.hand}.png", 700)
            if each.used.hand == "right":
                png(shown[2].svg, PICTURES / "queen-front.png", 900)


def words_of(page: pypdfium2.PdfPage) -> str:
    """Return the text of a page in one line."""
    return " ".join(page.get_textpage().get_text_range().split())


def page_png(path: Path, title: str, picture: Path, at: int = -1) -> None:
    """Write a page of a PDF that has the title as PNG, the last one of these if it is not said
    which, its lower white left out.
    """
    pages = [page for page in pypdfium2.PdfDocument(path) if title in words_of(page)]
    drawn = pages[at].render(scale=1.6).to_pil()
    ink = ImageOps.invert(drawn.convert("L")).crop((0, 0, drawn.width, drawn.height * 9 // 10))
    box = ink.getbbox() or (0, 0, drawn.width, drawn.height)
    drawn.crop((0, 0, drawn.width, box[3] + box[1])).convert("L").save(picture, optimize=True)


def dxf_svg(path: Path) -> str:
    """Return the DXF's model space as SVG, black on white."""
    document = ezdxf.readfile(path)
    backend = svg.SVGBackend()
    config = Configuration(
        background_policy=BackgroundPolicy.WHITE,
        color_policy=ColorPolicy.BLACK,
        min_lineweight=25,
    )
    Frontend(RenderContext(document), backend, config=config).draw_layout(document.modelspace())
    return str(
        backend.get_string(layout.Page(0, 0, layout.Units.mm, margins=layout.Margins.all(8)))
    )


def png(markup: str, path: Path, width: int) -> None:
    """Write the SVG as PNG, `width` pixels wide."""
    box = re.search(r'viewBox="([-\d. ]+)"', markup)
    if box is None:
        sys.exit(f"no viewBox in the picture for {path}")
    _, _, w, h = map(float, box[1].split())
    height = round(width * h / w)
    sized = re.sub(r"<svg [^>]*>", lambda m: sized_tag(m[0], width, height), markup, count=1)
    page = f"<!doctype html><body style='margin:0;background:#fff;overflow:hidden'>{sized}"
    with tempfile.TemporaryDirectory() as folder:
        (Path(folder) / "page.html").write_text(page)
        subprocess.run(
            [
                "chromium",
                "--headless",
                "--no-sandbox",
                "--disable-gpu",
                "--hide-scrollbars",
                f"--screenshot={path}",
                f"--window-size={width},{height}",
                f"file://{folder}/page.html",
            ],
            check=True,
            capture_output=True,
        )


def sized_tag(tag: str, width: int, height: int) -> str:
    """Return the opening tag with its size in pixels."""
    bare = re.sub(r'\s(width|height)="[^"]*"', "", tag)
    return bare[:-1] + f' width="{width}" height="{height}" style="display:block">'


if __name__ == "__main__":
    main()
