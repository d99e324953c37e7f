"""Pictures and papers of a conversation driven by hand, kept in a folder."""

import asyncio
from pathlib import Path

import structlog

from bot.channels.painter import PHOTO, Gather, Painter, as_it_is, gathered_and_drawn
from scheduling.ports import Attachment

_log = structlog.get_logger(__name__)


class Folder:
    """Draws each attachment into a folder, numbered in the order in which they were sent."""

    def __init__(self, folder: Path, painter: Painter, gather: Gather = as_it_is) -> None:
        self._folder = folder
        self._painter = painter
        self._gather = gather
        self._count = 0

    async def keep(self, attachment: Attachment) -> str:
        """Draw and write it; returns the file's name. What cannot be drawn is logged."""
        if attachment.kind == PHOTO:
            return attachment.name
        self._count += 1
        name = f"{self._count:04d}-{Path(attachment.name).name}"
        try:
            drawn = await gathered_and_drawn(self._painter, self._gather, attachment)
            self._folder.mkdir(parents=True, exist_ok=True)
            await asyncio.to_thread((self._folder / name).write_bytes, drawn.content)
        except Exception:  # noqa: BLE001 - a fault in a picture must not stop the words
            _log.exception("not drawn", kind=attachment.kind)
        return name
