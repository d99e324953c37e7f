"""How a parcel is put together: paragraphs, buttons, pictures, and words that others wrote."""

from collections.abc import Callable, Iterable, Mapping
from typing import Any, TypeVar

from bot.wording.buttons import LABEL_LIMIT, Button, laid_out
from bot.wording.measures import Measures
from scheduling.meaning import Contact, Said
from scheduling.ports import Attachment, Parcel

M = TypeVar("M", bound=Said)
Say = Callable[[Any, Measures], Parcel]
Sentences = Mapping[type[Said], Say]

QUOTE_LIMIT = 300


def says(kind: type[M], say: Callable[[M, Measures], Parcel]) -> tuple[type[Said], Say]:
    """``say`` has the sentences for ``kind``."""
    return kind, say


def parcel(
    *paragraphs: str | None,
    buttons: Iterable[Iterable[Button]] = (),
    attachments: Iterable[Attachment] = (),
    chats: Iterable[Contact] = (),
    pin: bool = False,
) -> Parcel:
    """A message of these paragraphs (None and empty ones left out) with rows of buttons; under
    them one for each of ``chats`` who can be written to past us."""
    rows, choices = laid_out(buttons)
    links = {_write_to(one, choices): one.chat for one in chats if one.chat}
    return Parcel(
        text="\n\n".join(paragraph for paragraph in paragraphs if paragraph),
        buttons=(*rows, *((label,) for label in links)),
        choices=choices,
        chats=links,
        attachments=tuple(attachments),
        pin=pin,
    )


def _write_to(contact: Contact, choices: Mapping[str, object]) -> str:
    """The label of a button that opens a chat with them, unlike any other of the message."""
    label = f"Write to {theirs(contact.name) or 'them'}"[:LABEL_LIMIT].rstrip()
    return label if label not in choices else f"{label} yourself"


def joined(*sentences: str | None) -> str:
    """Sentences as one paragraph, those that are None or empty left out."""
    return " ".join(sentence for sentence in sentences if sentence)


def lines(items: Iterable[str]) -> str:
    """A short list, one item a line."""
    return "\n".join(f"– {item}" for item in items)


def theirs(text: str) -> str:
    """Words of a person, shown as they are: they can neither mark up nor break a line."""
    plain = " ".join(text.replace("<", "‹").replace(">", "›").split())
    return plain if len(plain) <= QUOTE_LIMIT else plain[: QUOTE_LIMIT - 1] + "…"


def own_words(own: Iterable[str]) -> str | None:
    """What a builder adds to our own sentences, named as theirs."""
    added = [theirs(line) for line in own]
    return f"Your builder adds:\n{lines(added)}" if added else None


def quoted(text: str) -> str:
    """Words of a person in quotation marks."""
    return f"“{theirs(text)}”"


def bold(text: str) -> str:
    """The one number of a message that matters."""
    return f"<b>{text}</b>"
