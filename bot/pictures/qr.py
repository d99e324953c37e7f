"""A code to scan, as PNG: dark on light with its quiet zone, so that it reads in dark chats too."""

import io

import segno

SCALE = 12
"""Pixels a module: even a long link is then about 500 px wide, and crisp on any phone."""

QUIET_MODULES = 4
"""The light border that ISO/IEC 18004 asks for around the code."""

LONGEST = 300
"""No link of ours is longer; a denser code would be hard to scan from a screen."""


def draw_qr(content: str) -> bytes:
    """``content`` as PNG. Black on white, not in our colours: scanners want the contrast. Raises
    ValueError for nothing, and for what is too long to be scanned well."""
    if not content or len(content) > LONGEST:
        raise ValueError(f"a code to scan holds 1 to {LONGEST} characters")
    buffer = io.BytesIO()
    code = segno.make(content, error="m", micro=False)
    code.save(buffer, kind="png", scale=SCALE, border=QUIET_MODULES, dark="#000", light="#fff")
    return buffer.getvalue()
