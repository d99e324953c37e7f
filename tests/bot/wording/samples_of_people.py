"""Sample meanings of invitations, teams and partings."""

from collections.abc import Iterator
from datetime import timedelta

from scheduling import meaning as said
from scheduling.choice import Keep
from scheduling.meaning import Meaning
from tests.bot.wording.sample_values import NOW

LATER = NOW + timedelta(days=30)
CODE = "kL3x_9aQmZt2vBnW81cD"
NASTY = "<b>Robin</b>  & “sons”"


def inviting() -> Iterator[Meaning]:
    for opens in ("oven", "second", "member"):
        for name, link in (("", None), (NASTY, f"https://t.me/our_bot?start={CODE}")):
            yield said.InvitationMade.model_validate(
                {
                    "invitation": "i1",
                    "opens": opens,
                    "code": CODE,
                    "expires_at": LATER,
                    "name": name,
                    "builder": name and "Alder & Sons",
                    "link": link,
                    "filled": 6 if name else 0,
                    "renewed": bool(name),
                }
            )
        yield said.InvitationRevoked.model_validate({"opens": opens, "name": NASTY})
        yield said.InvitationUsed.model_validate({"opens": opens, "name": NASTY})
    yield said.InvitationRevoked(opens="oven")
    yield said.InvitationUsed(opens="second")
    yield said.InvitationYours()
    yield said.InvitationsShown()
    yield said.InvitationsShown(builder=True)
    open_ones = tuple(
        said.OpenInvitation(
            id=f"i{number}",
            opens="member" if number == 3 else "oven",
            made_at=NOW - timedelta(days=number),
            expires_at=LATER,
            name="" if number % 2 else "Robin of the long lane behind the chapel",
            filled=number % 3,
        )
        for number in range(8)
    )
    yield said.InvitationsShown(open=open_ones, more=4)
    yield said.TeamShown(builder="b", name="Alder & Sons", new=True)
    yield said.TeamShown(builder="b", name=NASTY, members=("Robin", "", NASTY), clients=12)
    yield said.TeamShown(builder="b", name="Alder", members=("Robin",), clients=1, joined=True)
    yield said.TeamRenamed(name=NASTY)
    yield said.MemberTold(name="Robin")
    yield said.MemberTold(name="", left=True)
    yield said.OtherTeam(name="Alder & Sons")


def parting() -> Iterator[Meaning]:
    for keeps in (None, *Keep):
        yield said.MoveAsked(
            invitation="i1", oven="o1", oven_name="Meadow oven", to="Elm", now="Alder", keeps=keeps
        )
        yield said.OvenGone(oven="Meadow oven", keeps=keeps, moved=True)
        yield said.OvenGone(keeps=keeps)
        yield said.LeftTold(what="oven", keeps=keeps)
        yield said.LeaveAsked(what="oven", which="o1", last=True, builder=True, keeps=keeps)
    yield said.MoveAsked(invitation="i1", oven="o1", now=None)
    yield said.MoveAsked(invitation="i1", oven="o1", now="", to=NASTY)
    yield said.MoveLeft()
    yield said.LookedAfterTold(builder=None)
    yield said.LookedAfterTold(builder="Elm")
    yield said.LookedAfterTold(builder="", oven="Meadow oven")
    yield said.LookedAfterTold(builder="Elm", oven="")
    yield said.KeepAsked(days=30)
    for keeps in Keep:
        yield said.KeepNoted(keeps=keeps)
        yield said.KeepNoted(keeps=keeps, ended=True)
    yield said.LeaveAsked(what="oven", which="o1", name=NASTY)
    yield said.LeaveAsked(what="oven", which="o1", last=True)
    yield said.LeaveAsked(what="team", which="b", name="Alder & Sons")
    yield said.LeaveAsked(what="team", which="b", last=True, clients=3)
    yield said.StillBurning()
    yield said.LeftTold(what="oven", erased=True)
    yield said.LeftTold(what="team")
    yield said.EraseAsked()
    yield said.EraseAsked(alone=1, shared=2, kept=1, team_clients=200, backup_days=7)
    yield said.AllStays()
    yield said.Erased()
    yield said.Erased(backup_days=7)
