"""Square codes (ISO/IEC 18004), read by OpenCV, which shares nothing with what writes them."""

import re
from typing import Any

import cv2
import numpy as np

_READER: Any = cv2.QRCodeDetectorAruco()
_STEP = re.compile(r"M(\d+) (\d+)|H(\d+)V(\d+)")

_LOOKS = (1.0, 0.8, 0.6, 0.5)
"""A scanner looks at a code again and again, from here and there; so does this reader."""

Picture = np.ndarray[Any, Any]


def codes_in(picture: Picture) -> tuple[str, ...]:
    """The texts of all codes that are seen in a picture."""
    seen, texts, *_ = _READER.detectAndDecodeMulti(np.ascontiguousarray(picture))
    return tuple(filter(None, texts)) if seen else ()


def code_in(picture: Picture) -> str:
    """The text of the one code in a picture; nothing if it is not read."""
    for scale in _LOOKS:
        seen = cv2.resize(picture, None, fx=scale, fy=scale, interpolation=cv2.INTER_AREA)
        text = str(_READER.detectAndDecode(np.ascontiguousarray(seen))[0])
        if text:
            return text
    return ""


def code_of(svg: str) -> str:
    """The text of a code that is drawn as SVG; nothing if it is not read."""
    return code_in(np.kron(modules_of(svg), np.ones((6, 6), np.uint8)))


def modules_of(svg: str) -> Picture:
    """The modules of a code that is drawn as SVG, row by row with its quiet zone: dark ones 0.

    By the rule of odd and even (SVG 2, `fill-rule`, from memory): dark is what has an odd number of
    upright sides beside it.
    """
    (side,) = re.findall(r'viewBox="0 0 (\d+) \1"', svg)
    assert 'fill-rule="evenodd"' in svg
    found = np.full((int(side), int(side)), 255, np.uint8)
    x, y = 0, 0
    for start_x, start_y, across, down in _STEP.findall(svg):
        if start_x:
            x, y = int(start_x), int(start_y)
            continue
        x, low, high = int(across), *sorted((y, int(down)))
        found[low:high, x:] ^= 255
        y = high if y == low else low
    return found
