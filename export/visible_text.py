"""Characters that steer a display instead of standing on it, written so that they are seen.

Names and descriptions come from people's files. A control character in one can repaint a terminal,
a direction mark can turn a line round, and two names that differ in a zero-width character look
alike. Wherever a text is shown or listed, such characters stand as `\\u202e`, as in JSON: for
people `visible`, for programs `spelled`, which `restored` undoes.
"""

from __future__ import annotations

import re

# Unicode 15: general categories Cc, Cs, Zl and Zp, Default_Ignorable_Code_Point, the marks round
# interlinear notes, and the two code points that XML 1.0 forbids beside them.
_STEERING = (
    "\x00-\x1f\x7f-\x9f\xad\u034f\u061c\u115f\u1160\u17b4\u17b5\u180b-\u180f\u200b-\u200f"
    "\u2028-\u202e\u2060-\u206f\u3164\ud800-\udfff\ufe00-\ufe0f\ufeff\uffa0\ufff0-\ufffb\ufffe\uffff"
    "\U0001bca0-\U0001bca3\U0001d173-\U0001d17a\U000e0000-\U000e0fff"
)
STEERS = re.compile(f"[{_STEERING}]")
"""One character that is obeyed and not seen."""

_ESCAPE = re.compile(r"\\(?:u([0-9a-f]{4})|U000([0-9a-f]{5}))")
_BACKSLASH = r"\u005c"


def visible(text: str) -> str:
    """Return the text with an escape for each character that would be obeyed and not seen."""
    if text.isascii() and text.isprintable():
        return text  # as most are
    return STEERS.sub(lambda found: _escape(found[0]), text)


def spelled(text: str) -> str:
    """Return the same so that it can be undone: a backslash that would begin what reads as such an
    escape is one itself.
    """
    return visible(_ESCAPE.sub(lambda found: f"{_BACKSLASH}{found[0][1:]}", text))


def restored(text: str) -> str:
    """Return the text that `spelled` was given; escapes of other characters stay as they are, since
    people wrote them.
    """
    return _ESCAPE.sub(lambda found: _meant(found) or found[0], text)


def _escape(character: str) -> str:
    code = ord(character)
    return f"\\u{code:04x}" if code <= 0xFFFF else f"\\U{code:08x}"


def _meant(found: re.Match[str]) -> str:
    """Return the character that an escape stands for; nothing where `spelled` writes none so."""
    character = chr(int(found[1] or found[2], 16))
    return character if character == "\\" or STEERS.match(character) else ""
