"""Square codes (ISO/IEC 18004) for papers and labels."""

from __future__ import annotations

import io

import segno


def code_svg(text: str) -> str:
    """Return the text as a square code, error correction level M."""
    made = io.BytesIO()
    code = segno.make(text, error="m", micro=False)
    code.save(made, kind="svg", xmldecl=False, omitsize=True, border=4)
    return made.getvalue().decode()
