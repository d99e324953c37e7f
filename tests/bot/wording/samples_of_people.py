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
        if opens != "member":
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
            phone="" if number % 3 else "+44 7700 900123",
            filled=number % 3,
        )
        for number in range(8)
    )
    yield said.InvitationsShown(open=open_ones, more=4)
    yield said.TeamShown(builder="b", name="Alder & Sons", new=True)
    robin = said.Member(person="p1", name="Robin", you=True)
    members = (robin, said.Member(person="p2", name=""), said.Member(person="p3", name=NASTY))
    log = tuple(
        said.TeamLine.model_validate({"at": NOW, "what": what, "name": name, "by": by})
        for what in ("founded", "asked", "let_in", "refused", "left", "put_out")
        for name, by in (("Robin", NASTY), ("", ""))
    )
    yield said.TeamShown(builder="b", name=NASTY, members=members, clients=12, log=log)
    yield said.TeamShown(builder="b", name="Alder", members=(robin,), clients=1, joined=True)
    yield said.JoinAsked(name=NASTY)
    yield said.JoinAsked(name="")
    yield said.JoinRefused(name="Alder")
    yield said.MemberAsks(person="p1", name="Robin", meant=NASTY)
    yield said.MemberAsks(person="p1", name="")
    yield said.PutOutAsked(person="p1", name=NASTY)
    yield said.LeftTold(what="team", put_out_of="Alder & Sons")
    for mine in (True, False):
        for left, refused in ((False, False), (True, False), (False, True)):
            yield said.MemberTold(name="Robin", by="Bea", left=left, refused=refused, mine=mine)
    yield said.TeamRenamed(name=NASTY)
    yield said.MemberTold(name="Robin")
    yield said.MemberTold(name="", left=True)
    yield said.OtherTeam(name="Alder & Sons")


def phones() -> Iterator[Meaning]:
    number = "+44 7700 900123"
    yield said.PhoneAsked()
    for phone in (number, ""):
        for oven, by in (("", ""), ("", NASTY), (NASTY, "")):
            yield said.PhoneNoted(phone=phone, oven=oven, builder=by)
        yield said.PhoneGiven(phone=phone, by=NASTY)
        yield said.PhoneGiven(phone=phone)
    yield said.PhoneUnclear()
    yield said.PhoneUnclear(whose=True)
    yield said.PhoneUnclear(oven=NASTY)


def finished() -> Iterator[Meaning]:
    for keeps in (None, *Keep):
        yield said.FinishedTold(
            oven=NASTY, place="Kew", firings=5, days=9, peak_c=412.0, soot_clear=True, keeps=keeps
        )
        yield said.FinishedTold(oven="Rosa", firings=1, days=1, keeps=keeps)
    for keeps in Keep:
        yield said.AgreedTold(oven=NASTY, keeps=keeps)
        yield said.CopyKept(keeps=keeps)
        yield said.CopyKept(oven=NASTY, keeps=keeps)


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
