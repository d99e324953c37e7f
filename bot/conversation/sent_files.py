"""The content of a file that somebody sent."""

import base64
import binascii

from bot.conversation.foundation import Foundation
from bot.conversation.incoming import INLINE, Incoming


async def content_of(base: Foundation, incoming: Incoming) -> bytes | None:
    """What stands in it; None where it cannot be had."""
    reference = incoming.file or ""
    if reference.startswith(INLINE):
        try:
            return base64.b64decode(reference.removeprefix(INLINE), validate=True)
        except binascii.Error:
            return None
    fetch = base.files.get(incoming.channel)
    return await fetch(reference) if fetch is not None else None
