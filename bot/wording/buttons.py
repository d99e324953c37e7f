"""Buttons: short labels in plain words, and what each one stands for."""

from collections.abc import Iterable
from datetime import date, datetime
from typing import Literal

from scheduling.choice import (
    Choice,
    Command,
    CommandName,
    Confirm,
    Inviting,
    Restricting,
    Revoking,
    Saying,
)
from scheduling.hazard import Hazard
from scheduling.remark import (
    AllWell,
    Available,
    Crack,
    CrackSize,
    DoorOn,
    FireOut,
    HazardSaid,
    Later,
    Leaving,
    Lit,
    Looked,
    Misheard,
    NotLit,
    Remark,
    Sign,
    SomethingWrong,
    Stoked,
    Unavailable,
)

LABEL_LIMIT = 30

Button = tuple[str, Choice]

SignName = Literal[
    "too_big", "back", "wood_out", "only_embers", "soot_clear", "soot_black", "yes",
    "no",
]  # fmt: skip


def laid_out(
    rows: Iterable[Iterable[Button]],
) -> tuple[tuple[tuple[str, ...], ...], dict[str, Choice]]:
    """Rows of labels, and what each label stands for. Labels are cut to what a phone shows, and
    two that would read alike are numbered, since a label is how a press is known."""
    choices: dict[str, Choice] = {}
    shown: list[tuple[str, ...]] = []
    for row in rows:
        labels: list[str] = []
        for wanted, choice in row:
            label = _unlike(_short(wanted), choices)
            choices[label] = choice
            labels.append(label)
        if labels:
            shown.append(tuple(labels))
    return tuple(shown), choices


def _short(label: str) -> str:
    plain = " ".join(label.split()) or "…"
    return plain if len(plain) <= LABEL_LIMIT else plain[: LABEL_LIMIT - 1].rstrip() + "…"


def _unlike(label: str, taken: dict[str, Choice]) -> str:
    if label not in taken:
        return label
    number = 2
    while (numbered := f"{label[: LABEL_LIMIT - 4]} {number}") in taken:
        number += 1
    return numbered


def say(label: str, *remarks: Remark) -> Button:
    """A button that says what could as well have been typed."""
    return label, Saying(remarks=remarks)


def sign(label: str, kind: SignName) -> Button:
    """A button for one of the signs."""
    return say(label, Sign(kind=kind))


def command(label: str, name: CommandName, rest: str = "") -> Button:
    """A button for a command of ours."""
    return label, Command(name=name, rest=rest)


def confirm(label: str, proposal: str, *, yes: bool) -> Button:
    """A button that answers a proposal."""
    return label, Confirm(proposal=proposal, yes=yes)


def lit() -> Button:
    """The fire burns."""
    return say("Lit", Lit())


def not_yet() -> Button:
    """It does not, so far."""
    return say("Not yet", NotLit())


def fire_burning() -> Button:
    """A fire burns that nobody told of."""
    return say("A fire is burning", Lit())


def no_fire() -> Button:
    """None does."""
    return say("There is no fire", NotLit())


def fed(count: int | None) -> Button:
    """The wood that was asked for is on."""
    return say("Done, it’s on", Stoked(pieces=count))


def wood_out() -> Button:
    """There is no more wood."""
    return sign("Out of wood", "wood_out")


def only_embers_there() -> Button:
    """No wood lies in there that could still burn."""
    return sign("No wood left, only embers", "only_embers")


def fire_out() -> Button:
    """No flame is left."""
    return say("Fire is out", FireOut())


def only_embers() -> Button:
    """No flame is left, and embers are."""
    return say("Only embers now", FireOut())


def door_on() -> Button:
    """The door stands in the mouth."""
    return say("Door is on", DoorOn())


def still_flames() -> Button:
    """Ask about the door again later."""
    return say("Still flames", Later(minutes=20.0))


def ten_minutes() -> Button:
    """The owner needs a little longer."""
    return say("In ten minutes", Later(minutes=10.0))


def leaving() -> Button:
    """The owner has to leave the fire."""
    return say("I must leave", Leaving())


def back() -> Button:
    """The owner is back at the fire."""
    return sign("I’m back", "back")


def hazard(label: str, what: Hazard) -> Button:
    """Somebody tells of a hazard."""
    return say(label, HazardSaid(hazard=what))


def looked(label: str, what: Hazard, since: datetime, *, sound: bool) -> Button:
    """A hazard was looked at: the one that was told at ``since``, and no later one."""
    return say(label, Looked(hazard=what, sound=sound, since=since))


def misheard(what: Hazard, since: datetime) -> Button:
    """Nothing of the kind was told."""
    return say("No, you misread me", Misheard(hazard=what, since=since))


def all_well(since: datetime | None = None) -> Button:
    """Nothing is wrong with what was said at ``since``."""
    return say("All is well", AllWell(since=since))


def something_wrong() -> Button:
    """Something is wrong."""
    return say("Something is wrong", SomethingWrong())


def take_back() -> Button:
    """The last thing said was wrong."""
    return command("Take that back", CommandName.UNDO)


def what_now() -> Button:
    """What to do at this moment."""
    return command("What now?", CommandName.NOW)


def show_plan() -> Button:
    """The plan."""
    return command("Show the plan", CommandName.PLAN)


def show_days() -> Button:
    """The days, with a file for a calendar."""
    return command("Days for my calendar", CommandName.DAYS)


def settings() -> Button:
    """What is known of the oven, to be corrected."""
    return command("Change an answer", CommandName.SETTINGS)


def not_today(day: date) -> Button:
    """Nobody can tend a fire today, which is ``day``."""
    return say("Can’t today", Unavailable(first=day, last=day))


def fire_ban(day: date) -> Button:
    """A local restriction holds on that day."""
    return "There is a fire ban", Restricting(first=day, last=day)


def wanted(label: str, day: date) -> Button:
    """A firing is wanted on that day."""
    return say(label, Available(first=day))


def crack_sizes() -> tuple[Button, Button]:
    """How a crack is described."""
    return (
        say("A hairline", Crack(size=CrackSize.HAIRLINE)),
        say("Open, or growing", Crack(size=CrackSize.OPEN)),
    )


def at_the_fire() -> Button:
    """Somebody else has come to the fire."""
    return sign("I’m at the fire", "back")


def back_calm() -> Button:
    """Somebody is at the fire and nothing worries them."""
    return sign("I’m here, it burns calmly", "back")


def too_big() -> Button:
    """The fire looks too big."""
    return sign("It looks too big", "too_big")


def invite() -> Button:
    """An invitation for a client."""
    return "Invite a client", Inviting(opens="oven")


def invite_member() -> Button:
    """An invitation for somebody who works with the builder."""
    return "Invite a team member", Inviting(opens="member")


def invite_second() -> Button:
    """An invitation for a second person at the fire."""
    return "Make an invitation", Inviting(opens="second")


def invitations() -> Button:
    """Those that are open."""
    return command("Open invitations", CommandName.INVITATIONS)


def revoke(label: str, invitation: str) -> Button:
    """An invitation is to open nothing any more."""
    return label, Revoking(invitation=invitation)
