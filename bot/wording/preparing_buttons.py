"""Buttons of a builder's beginnings: make-ups, models, invitations, names and the week."""

from datetime import date

from bot.wording.buttons import Button, command
from scheduling.choice import (
    About,
    Calendaring,
    CommandName,
    Filling,
    Importing,
    Introducing,
    Preparing,
    Renewing,
)
from scheduling.meaning.introducing import Introduction


def make_up(label: str, oven: str = "", invitation: str = "") -> Button:
    """What an oven is made of; without an id that of the one a message was about."""
    return label, Preparing(oven=oven, invitation=invitation)


def ask(label: str, about: About, oven: str = "", invitation: str = "") -> Button:
    """One question about it."""
    return label, Preparing(about=about, oven=oven, invitation=invitation)


def models(oven: str = "", invitation: str = "") -> Button:
    """The builder's own models, to fill it in from one."""
    return "From a model of mine", Preparing(models=True, oven=oven, invitation=invitation)


def fill(
    label: str,
    answers: tuple[tuple[About, str], ...],
    oven: str = "",
    invitation: str = "",
    model: str = "",
) -> Button:
    """Answers, and all that a model answers besides."""
    return label, Filling(answers=answers, model=model, oven=oven, invitation=invitation)


def renew(invitation: str) -> Button:
    """Another code for an open invitation."""
    return "A new code to pass on", Renewing(invitation=invitation)


def import_them(label: str, text: str) -> Button:
    """What was shown as a dry run is meant."""
    return label, Importing(text=text)


def import_how() -> Button:
    """Bring clients along in a file."""
    return command("Many clients at once", CommandName.IMPORT)


def introduce(label: str, what: Introduction, value: str = "", *, first: bool = False) -> Button:
    """Say who or where they are, or leave it."""
    return label, Introducing(what=what, value=value, first=first)


def week(label: str = "The week ahead", first: date | None = None) -> Button:
    """The fires of all clients."""
    return label, Calendaring(first=first)


def calendar_file() -> Button:
    """All fires to come, as a file."""
    return "For my calendar", Calendaring(what="file")


def calendar_address(label: str) -> Button:
    """An address that a calendar subscribes to."""
    return label, Calendaring(what="address")


def calendar_revoke() -> Button:
    """The address opens nothing any more."""
    return "Take the address back", Calendaring(what="revoke")
