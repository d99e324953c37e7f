"""Sentences about who looks after an oven, about leaving, and about what is left behind."""

from bot.wording import buttons
from bot.wording.buttons import Button
from bot.wording.measures import Measures, counted
from bot.wording.speech import Sentences, bold, joined, lines, parcel, quoted, says, theirs
from scheduling.choice import Accepting, Agreeing, Erasing, Keep, Leaving
from scheduling.meaning import (
    AllStays,
    EraseAsked,
    Erased,
    KeepAsked,
    KeepNoted,
    LeaveAsked,
    LeftTold,
    LookedAfterTold,
    MoveAsked,
    MoveLeft,
    OvenGone,
    StillBurning,
)
from scheduling.ports import Parcel

KEEPS = {
    Keep.NAMED: "the whole record with your name, your words and your photos",
    Keep.NAMELESS: "only the figures, without your name, words, photos or place",
    Keep.NOTHING: "nothing",
}
"""What a builder keeps, as its owner is told."""

KEEP_LABELS = {
    Keep.NAMED: "All, with my name",
    Keep.NAMELESS: "Figures without me",
    Keep.NOTHING: "Nothing",
}

DELETE = "If I have sent you a paper of it, please delete that."

DEED = "Erase me for good"


def move_asked(said: MoveAsked, _: Measures) -> Parcel:
    """Another builder invites: move the oven, begin another, or neither?"""
    to = theirs(said.to) or "a builder"
    oven = quoted(said.oven_name) if said.oven_name else "your oven"
    if said.now is None:
        leaves = f"Nobody else looks after {oven} now; {to} would follow it from here on."
    else:
        keeps = KEEPS[said.keeps or Keep.NOTHING]
        unsaid = ", as nothing else was agreed" if said.keeps is None else ""
        leaves = (
            f"{oven[:1].upper() + oven[1:]} would move with its whole record, your words and "
            f"photos with it. {theirs(said.now) or 'Your builder'} no longer sees it and keeps "
            f"{keeps}{unsaid}."
        )
    choice = {"invitation": said.invitation, "oven": said.oven}
    return parcel(
        f"May {to} look after {oven}? Nothing changes until you tap.",
        leaves,
        buttons=[
            [("Yes, they may", Accepting.model_validate(choice | {"how": "move"}))],
            [("It is for another oven", Accepting.model_validate(choice | {"how": "new"}))],
            [("No, leave all as it is", Accepting.model_validate(choice | {"how": "no"}))],
        ],
    )


def move_left(_: MoveLeft, __: Measures) -> Parcel:
    """All stays."""
    return parcel("All stays as it is. The invitation is still good, should you think again.")


def looked_after(said: LookedAfterTold, _: Measures) -> Parcel:
    """Another looks after it, or nobody."""
    if said.oven is not None:
        oven = quoted(said.oven) if said.oven else "An oven"
        return parcel(f"{oven} has come to you, with its whole record. Its owner moved it here.")
    if said.builder is None:
        return parcel(
            "No builder looks on at your oven any more: what goes wrong I tell to you alone now.",
            "I go on with you as before. If something worries you, ask somebody of the trade.",
        )
    name = theirs(said.builder) or "Your new builder"
    return parcel(
        f"{name} looks after your oven from now on, and is told at once if something is wrong."
    )


def oven_gone(said: OvenGone, _: Measures) -> Parcel:
    """To a builder: an oven's people have gone."""
    oven = quoted(said.oven) if said.oven else "An oven"
    what = (
        "has moved on and is no longer yours to look after"
        if said.moved
        else ("is tended by nobody any more, and I ask nothing about it from now on")
    )
    kept = {
        Keep.NAMED: "Its record stays with you, as its owner agreed.",
        Keep.NAMELESS: "Its figures stay with you without the owner, as they agreed.",
        Keep.NOTHING: f"Nothing of it stays with you, as its owner decided. {DELETE}",
        None: f"Nothing of it stays with you: its owner agreed to nothing. {DELETE}",
    }[said.keeps]
    return parcel(f"{oven} {what}. {kept}")


def keep_asked(said: KeepAsked, _: Measures) -> Parcel:
    """Once, at the end."""
    return parcel(
        "What may your builder keep of your oven’s record, now that its last fire is out? Tap "
        "what you like; all three are fine.",
        lines(
            (
                "All, with your name: they can look after your oven as before, learn from it, and "
                "help if something turns up.",
                "Figures without you: temperatures, wood and weather, to learn from. They no "
                "longer see your oven.",
                "Nothing: they no longer see your oven, and keep nothing of it.",
            )
        ),
        f"If you say nothing for {said.days} days, I take it as “nothing”. Your own record stays "
        "yours in any case.",
        buttons=_keep_buttons(),
    )


def _keep_buttons() -> list[list[Button]]:
    return [[(label, Agreeing(keeps=keeps))] for keeps, label in KEEP_LABELS.items()]


def keep_noted(said: KeepNoted, _: Measures) -> Parcel:
    """Noted."""
    when = "From now on" if said.ended else "Once you part,"
    return parcel(f"Noted, thank you. {when} your builder keeps {KEEPS[said.keeps]}.")


def leave_asked(said: LeaveAsked, _: Measures) -> Parcel:
    """Leave an oven, or a team?"""
    name = quoted(said.name) if said.name else None
    stay: Button = ("Stay", Leaving(what=said.what, which=said.which, yes=False))
    if said.what == "team":
        clients = (
            f"You are its last member: {counted(said.clients, 'oven')} would be looked after by "
            "nobody, and their owners are told so."
            if said.last and said.clients
            else None
        )
        return parcel(
            f"Leave the team{f' {name}' if name else ''}? You would no longer see its clients.",
            clients,
            buttons=[[("Leave the team", Leaving(what="team", which=said.which)), stay]],
        )
    if not said.last:
        return parcel(
            f"Leave {name or 'this oven'}? Whoever tends it with you stays, and is told. Its "
            "record stays with them.",
            buttons=[[("Leave", Leaving(what="oven", which=said.which)), stay]],
        )
    if not said.builder:
        return parcel(
            f"Leave {name or 'your oven'}? Nobody else tends it, so its record is erased with "
            "that. It cannot be undone.",
            buttons=[
                [("Leave and erase its record", Leaving(what="oven", which=said.which))],
                [stay],
            ],
        )
    return parcel(
        f"Leave {name or 'your oven'}? Nobody else tends it. Your builder is told, and keeps what "
        "you tap here:",
        lines(
            f"{KEEP_LABELS[keeps]}: {told}."
            for keeps, told in (KEEPS | {Keep.NOTHING: "the record is erased"}).items()
        ),
        f"You said before: {KEEP_LABELS[said.keeps].lower()}." if said.keeps else None,
        "What goes is gone for good.",
        buttons=[
            *(
                [(label, Leaving(what="oven", which=said.which, keeps=keeps))]
                for keeps, label in KEEP_LABELS.items()
            ),
            [stay],
        ],
    )


def still_burning(_: StillBurning, __: Measures) -> Parcel:
    """Not before the fire is out."""
    return parcel(
        "First the fire has to be out: nobody else tends it. Add nothing, and tell me when no "
        "flame is left and the door is on. Then ask again.",
        buttons=[[buttons.fire_out(), buttons.what_now()]],
    )


def left(said: LeftTold, _: Measures) -> Parcel:
    """They have left."""
    if said.what == "team":
        if said.put_out_of is not None:
            name = quoted(said.put_out_of) if said.put_out_of else "the team"
            return parcel(f"You are no longer in {name}, and see its clients no longer.")
        return parcel("You have left the team, and see its clients no longer.")
    if said.erased:
        return parcel("You have left, and the record of the oven is erased.")
    kept = f"Your builder keeps {KEEPS[said.keeps]}." if said.keeps is not None else None
    return parcel(
        joined("You have left: I write to you about this oven no more.", kept),
        "“/erase” takes out whatever else I know of you.",
    )


def erase_asked(said: EraseAsked, _: Measures) -> Parcel:
    """Erase everything for good?"""
    items = ["your name, your chat’s address and all you ever wrote or sent here"]
    if said.alone:
        items.append(f"{counted(said.alone, 'oven')} that nobody else tends, with the whole record")
    if said.shared:
        items.append(
            f"your part in {counted(said.shared, 'oven')}: the figures stay with those who tend it"
        )
    if said.kept:
        items.append(
            f"you from {counted(said.kept, 'record')} that your builder keeps, as you agreed: "
            "figures alone stay"
        )
    team = (
        f"You are the last of your team: {counted(said.team_clients, 'oven')} would be looked "
        "after by nobody."
        if said.team_clients
        else None
    )
    return parcel(
        f"Erase you for good? {bold('This cannot be undone')}, by me or by anybody. What goes:",
        lines(items),
        team,
        _backups(said.backup_days),
        f"If you mean it, tap “{DEED}”. The button is good for a day.",
        buttons=[
            [(DEED, Erasing(yes=True))],
            [("Keep everything", Erasing(yes=False))],
        ],
    )


def _backups(days: int | None) -> str:
    if days is None:
        return (
            "I make no backups by myself. Whoever runs this bot may have made copies; ask them. If "
            "one is ever put back, I take you out of it again."
        )
    return (
        f"Backups are kept for about {days} days, and still hold it until then. If one is ever put "
        "back, I take you out of it again."
    )


def all_stays(_: AllStays, __: Measures) -> Parcel:
    """Nothing was left, nothing erased."""
    return parcel("All stays as it is.")


def erased(said: Erased, _: Measures) -> Parcel:
    """The last words."""
    return parcel(
        "It is done: you are erased. This message is the last I know of you, and in a few minutes "
        "I forget it too.",
        joined(
            "What stands in this chat on your own phone is yours to delete.",
            f"Backups lose you within about {said.backup_days} days." if said.backup_days else None,
        ),
        "Good fires to you.",
    )


SENTENCES: Sentences = dict(
    (
        says(MoveAsked, move_asked),
        says(MoveLeft, move_left),
        says(LookedAfterTold, looked_after),
        says(OvenGone, oven_gone),
        says(KeepAsked, keep_asked),
        says(KeepNoted, keep_noted),
        says(LeaveAsked, leave_asked),
        says(StillBurning, still_burning),
        says(LeftTold, left),
        says(EraseAsked, erase_asked),
        says(AllStays, all_stays),
        says(Erased, erased),
    )
)
