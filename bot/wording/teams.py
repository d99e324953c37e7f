"""Sentences about a builder's team: who is of it, who asks to come, who let whom in."""

from bot.wording import buttons
from bot.wording.buttons import Button
from bot.wording.measures import Measures, counted, listed, sentence
from bot.wording.preparing_buttons import import_how, introduce
from bot.wording.speech import Sentences, joined, parcel, quoted, says, theirs
from scheduling.choice import Admitting, PuttingOut
from scheduling.meaning import (
    JoinAsked,
    JoinRefused,
    MemberAsks,
    MemberTold,
    OtherTeam,
    PutOutAsked,
    TeamLine,
    TeamRenamed,
    TeamShown,
)
from scheduling.ports import Parcel


def team(said: TeamShown, m: Measures) -> Parcel:
    """A builder's team."""
    name = quoted(said.name)
    if said.new:
        return parcel(
            f"Welcome. Your clients are told of you as {name}, until you say otherwise.",
            "Each client comes by an invitation of yours: write “/invite”, their name and, if you "
            "have it, their phone number. Whoever works with you comes by “/team” and their name. "
            "You see only your own clients, and no other builder sees them.",
            buttons=[[buttons.invite(), buttons.invite_member()]],
        )
    members = [theirs(one.name) or "somebody" for one in said.members]
    with_you = f"{counted(len(members), 'member')}: {listed(members)}." if members else ""
    return parcel(
        joined(f"You are in the team {name} now." if said.joined else f"Your team is {name}."),
        joined(sentence(with_you), f"You look after {counted(said.clients, 'oven')}."),
        "“/team name” and another name changes what clients call you.",
        _log(said, m),
        buttons=[
            [buttons.invite(), buttons.invite_member()],
            [buttons.invitations(), import_how()],
            [introduce("My name", "own_name"), introduce("My town", "town")],
            *([_put_out(one.name, one.person)] for one in said.members if not one.you),
        ],
    )


def _log(said: TeamShown, m: Measures) -> str | None:
    if not said.log or said.joined:
        return None
    return "\n".join(_line(one, m) for one in said.log)


def _line(one: TeamLine, m: Measures) -> str:
    who, by = theirs(one.name) or "Somebody", theirs(one.by)
    told = {
        "founded": f"{who} began the team",
        "asked": f"{who} asked to come",
        "let_in": f"{who} was let in" + (f" by {by}" if by else ""),
        "refused": f"{who} was not let in" + (f", by {by}" if by else ""),
        "left": f"{who} left",
        "put_out": f"{who} was put out" + (f" by {by}" if by else ""),
    }[one.what]
    return f"– {sentence(m.clock(one.at))}: {told}"


def _put_out(name: str, person: str) -> Button:
    return f"Put {theirs(name) or 'them'} out", PuttingOut(person=person)


def put_out_asked(said: PutOutAsked, _: Measures) -> Parcel:
    """Put them out?"""
    who = theirs(said.name) or "this member"
    return parcel(
        f"Put {who} out of your team? They see none of your clients any more, and what they have "
        "taken is anybody’s again.",
        buttons=[
            [
                ("Yes, put them out", PuttingOut(person=said.person, yes=True)),
                ("No, they stay", PuttingOut(person=said.person, yes=False)),
            ]
        ],
    )


def join_asked(said: JoinAsked, _: Measures) -> Parcel:
    """To who came with a team's code."""
    return parcel(
        f"I have asked {quoted(said.name) if said.name else 'the team'} to let you in, and write "
        "as soon as they have. Until then you see nothing of theirs."
    )


def join_refused(said: JoinRefused, _: Measures) -> Parcel:
    """To the same."""
    name = quoted(said.name) if said.name else "The team"
    return parcel(f"{name} did not let you in. If that is a mistake, ask them for a new code.")


def member_asks(said: MemberAsks, _: Measures) -> Parcel:
    """To the team: let them in?"""
    who = theirs(said.name) or "Somebody"
    other = said.meant and said.meant.casefold() != said.name.casefold()
    meant = f" The code was made for {theirs(said.meant)}." if other else ""
    return parcel(
        f"{who} came with a code of yours and asks to be let into your team.{meant}",
        "Whoever is in it sees all of your clients, with what they write, and can give orders.",
        buttons=[
            [
                ("Let them in", Admitting(person=said.person)),
                ("No", Admitting(person=said.person, yes=False)),
            ]
        ],
    )


def member(said: MemberTold, _: Measures) -> Parcel:
    """To the team: what became of somebody."""
    who, by = theirs(said.name) or "Somebody", theirs(said.by)
    if said.refused:
        return parcel(f"{who} was not let in" + ("." if said.mine or not by else f", by {by}."))
    if said.left and by:
        return parcel(
            f"{who} is out of your team" + ("." if said.mine else f": {by} put them out.")
        )
    if said.left:
        return parcel(f"{who} has left your team.")
    return parcel(
        f"{who} is in your team now."
        if said.mine
        else f"{who} has come to your team" + (f": {by} let them in." if by else ".")
    )


def renamed(said: TeamRenamed, _: Measures) -> Parcel:
    """Another name from now on."""
    return parcel(f"From now on clients are told of you as {quoted(said.name)}.")


def other_team(said: OtherTeam, _: Measures) -> Parcel:
    """Nobody is of two teams."""
    return parcel(
        f"Leave your team first if you want to change: you are in {quoted(said.name)} now. Write "
        "“/leave team”, then open the invitation again."
    )


SENTENCES: Sentences = dict(
    (
        says(TeamShown, team),
        says(TeamRenamed, renamed),
        says(MemberTold, member),
        says(MemberAsks, member_asks),
        says(JoinAsked, join_asked),
        says(JoinRefused, join_refused),
        says(PutOutAsked, put_out_asked),
        says(OtherTeam, other_team),
    )
)
