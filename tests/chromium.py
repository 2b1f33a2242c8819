"""Debian's Chromium, asked what it makes of a page; without network, in a folder of its own."""

from __future__ import annotations

import json
import re
import shutil
import subprocess
from html import unescape
from pathlib import Path

import pytest
from PIL import Image

CHROMIUM = shutil.which("chromium")

needs_chromium = pytest.mark.skipif(CHROMIUM is None, reason="there is no Chromium here")

_BEFORE = """<script>
const heard = [];
addEventListener("error", (event) => heard.push(event.message));
addEventListener("unhandledrejection", (event) => heard.push(String(event.reason)));
console.error = console.warn = (...words) => heard.push(words.join(" "));
</script>
"""

_AFTER = """<script>
const press = (place, key, more = {}) => place.dispatchEvent(
  new KeyboardEvent("keydown", { key, bubbles: true, cancelable: true, ...more }));
setTimeout(() => {
  let said;
  try { said = (() => { %s })(); } catch (error) { heard.push(String(error)); }
  const place = document.createElement("pre");
  place.id = "what-the-test-saw";
  place.textContent = JSON.stringify({ said, heard });
  document.body.append(place);
}, 200);
</script>
"""


def seen_in_chromium(html: str, folder: Path, act: str, width: int = 1280) -> dict[str, object]:
    """Return what the statements `act` return within the page, once it has run, as `said`, and the
    errors that it and they gave, as `heard`.
    """
    shown = _run(html, folder, act, width, "--dump-dom")
    found = re.search(r'<pre id="what-the-test-saw">(.*?)</pre>', shown, re.DOTALL)
    assert found, shown[-2000:]
    told: dict[str, object] = json.loads(unescape(found[1]))
    return told


def painted_in_chromium(html: str, folder: Path, act: str) -> list[tuple[int, tuple[int, ...]]]:
    """Return the colours of the page once the statements have run, each with its pixels."""
    shot = folder / "page.png"
    _run(html, folder, act, 1280, f"--screenshot={shot}")
    with Image.open(shot) as picture:
        colours = picture.convert("RGB").getcolors(picture.width * picture.height)
    return [(count, colour) for count, colour in colours or () if isinstance(colour, tuple)]


def _run(html: str, folder: Path, act: str, width: int, way: str) -> str:
    """Return what Chromium prints of the page, after it has done what `way` says."""
    assert CHROMIUM is not None
    acted = html.replace("<head>", f"<head>{_BEFORE}", 1)
    head, body_end, tail = acted.rpartition("</body>")
    page = folder / "page.html"
    page.write_text(f"{head}{_AFTER % act}{body_end}{tail}", encoding="utf-8")
    done = subprocess.run(
        [
            CHROMIUM,
            "--headless",
            "--no-sandbox",
            "--disable-gpu",
            "--host-resolver-rules=MAP * ~NOTFOUND",
            "--virtual-time-budget=8000",
            f"--user-data-dir={folder / 'profile'}",
            f"--window-size={width},1000",
            way,
            page.as_uri(),
        ],
        capture_output=True,
        text=True,
        timeout=120,
        check=True,
    )
    return done.stdout
