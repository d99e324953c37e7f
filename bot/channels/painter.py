"""Pictures and papers, drawn when they are sent: what is stored is only what to draw."""

import asyncio
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Protocol

from scheduling.ports import Attachment


class Painter(Protocol):
    """Draws an attachment."""

    def __call__(self, kind: str, data: Mapping[str, object]) -> bytes:
        """The file's content. Raises ValueError for a kind or data that it does not know."""
        ...


class SentFiles(Protocol):
    """Where pictures and files that people sent can be had again."""

    async def __call__(self, reference: str, /) -> bytes | None:
        """The content, or None where it cannot be had."""
        ...


async def no_files(_reference: str) -> bytes | None:
    """The ``SentFiles`` of a channel that keeps none."""
    return None


class Gather(Protocol):
    """Fetches what a drawing needs beyond what its message carries."""

    async def __call__(self, attachment: Attachment) -> Attachment:
        """The attachment with all that its painter needs. Raises ValueError where it is gone."""
        ...


async def as_it_is(attachment: Attachment) -> Attachment:
    """The ``Gather`` where every message carries all that is drawn."""
    return attachment


PHOTO = "photo"
"""Kind of an attachment that hands on a picture somebody sent: data["photo"] is its reference."""


@dataclass(frozen=True, slots=True)
class DrawnFile:
    """An attachment with its content, or with the reference of a picture to hand on."""

    name: str
    content: bytes
    alt: str
    reference: str | None = None

    @property
    def caption(self) -> str:
        """What stands under it where its message has said something else: whose a picture is that
        was handed on."""
        return self.alt if self.reference is not None else ""

    @property
    def is_picture(self) -> bool:
        """A PNG or JPEG, by its first bytes; or a picture handed on."""
        return self.reference is not None or self.content.startswith(
            (b"\x89PNG\r\n\x1a\n", b"\xff\xd8\xff")
        )


def draw(painter: Painter, attachment: Attachment) -> DrawnFile:
    """Draw one attachment. Raises what the painter raises, and ValueError for an empty file."""
    if attachment.kind == PHOTO:
        reference = str(attachment.data.get("photo", ""))
        return DrawnFile(attachment.name, b"", attachment.alt, reference)
    content = painter(attachment.kind, attachment.data)
    if not content:
        raise ValueError(f"the {attachment.kind} came out empty")
    return DrawnFile(attachment.name, content, attachment.alt)


async def gathered_and_drawn(painter: Painter, gather: Gather, attachment: Attachment) -> DrawnFile:
    """Gather, then draw off the event loop. Raises what either raises."""
    return await asyncio.to_thread(draw, painter, await gather(attachment))
