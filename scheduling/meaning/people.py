"""Meanings about people: invitations, teams, and what is left behind when somebody goes."""

from typing import Literal

from pydantic import AwareDatetime, BaseModel, ConfigDict

from scheduling.choice import Keep
from scheduling.meaning.base import Contact, Said

Opening = Literal["oven", "second", "member"]


class InvitationMade(Said):
    """A new invitation, with its code: said once, and blotted out once it has been sent.

    ``link`` opens the chat where the channel has such links; ``builder`` is the inviting
    builder's name.
    """

    kind: Literal["invitation_made"] = "invitation_made"
    invitation: str
    opens: Opening
    code: str
    expires_at: AwareDatetime
    name: str = ""
    phone: str = ""
    builder: str = ""
    link: str | None = None
    filled: int = 0
    """How many answers the builder has filled in of the oven it opens."""
    renewed: bool = False
    """It takes the place of a code that opens nothing any more."""


class OpenInvitation(Said):
    """One line of a list of invitations."""

    id: str
    opens: Opening
    made_at: AwareDatetime
    expires_at: AwareDatetime
    name: str = ""
    phone: str = ""
    filled: int = 0


class InvitationsShown(Said):
    """All open invitations that this person may revoke; ``more`` are not shown."""

    kind: Literal["invitations_shown"] = "invitations_shown"
    open: tuple[OpenInvitation, ...] = ()
    more: int = 0
    builder: bool = False
    """They are of a builder's team, and invite clients."""


class InvitationRevoked(Said):
    """It opens nothing any more."""

    kind: Literal["invitation_revoked"] = "invitation_revoked"
    opens: Opening
    name: str = ""


class InvitationYours(Said):
    """They opened an invitation that is theirs to pass on; it is still good."""

    kind: Literal["invitation_yours"] = "invitation_yours"


class InvitationUsed(Said):
    """To who may have made it: somebody came by it."""

    kind: Literal["invitation_used"] = "invitation_used"
    opens: Literal["oven", "second"]
    name: str = ""


class PhoneAsked(Said):
    """To an owner whose builder may want to ring them: on what number? Not said where it is
    known."""

    kind: Literal["phone_asked"] = "phone_asked"
    builder: str = ""


class PhoneNoted(Said):
    """A number is kept; "" for none any more. With ``oven`` it is said to the builder, of that
    client; else to whose it is, and ``builder`` is who can ring them."""

    kind: Literal["phone_noted"] = "phone_noted"
    phone: str
    oven: str = ""
    builder: str = ""


class PhoneGiven(Said):
    """To an owner: ``by`` of their builder's team has given this number as theirs; "" for taken
    out."""

    kind: Literal["phone_given"] = "phone_given"
    phone: str
    by: str = ""


class PhoneUnclear(Said):
    """A number that nobody could ring: without its country, or (``whose``) of nobody in
    particular. ``oven`` is the client whose it is."""

    kind: Literal["phone_unclear"] = "phone_unclear"
    oven: str = ""
    whose: bool = False


class Member(BaseModel):
    """One of a team; ``you`` is its reader."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    person: str
    name: str
    you: bool = False


class TeamLine(BaseModel):
    """A line of a team's journal, by the names; ``by`` is whose word it was, if another's."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    at: AwareDatetime
    what: Literal["founded", "asked", "let_in", "refused", "left", "put_out"]
    name: str = ""
    by: str = ""


class TeamShown(Said):
    """A builder's team, with the end of its journal. ``new``: it was founded just now; ``joined``:
    they came to it."""

    kind: Literal["team_shown"] = "team_shown"
    builder: str
    name: str
    members: tuple[Member, ...] = ()
    clients: int = 0
    log: tuple[TeamLine, ...] = ()
    new: bool = False
    joined: bool = False


class TeamRenamed(Said):
    """The team bears another name, which clients are told from now on."""

    kind: Literal["team_renamed"] = "team_renamed"
    name: str


class MemberTold(Said):
    """To a team: somebody was let in ``by`` whom, was ``refused``, has ``left`` or, ``by`` a word,
    was put out; ``mine``: its reader's own."""

    kind: Literal["member_told"] = "member_told"
    name: str
    by: str = ""
    left: bool = False
    refused: bool = False
    mine: bool = False


class MemberAsks(Said):
    """To a team: somebody came with a code of theirs, made for who is ``meant``. Let them in?"""

    kind: Literal["member_asks"] = "member_asks"
    person: str
    name: str
    meant: str = ""


class JoinAsked(Said):
    """To who came with a team's code: the team has been asked."""

    kind: Literal["join_asked"] = "join_asked"
    name: str


class JoinRefused(Said):
    """To the same: the team did not let them in."""

    kind: Literal["join_refused"] = "join_refused"
    name: str


class PutOutAsked(Said):
    """Put this member out of the team?"""

    kind: Literal["put_out_asked"] = "put_out_asked"
    person: str
    name: str


class CopyKept(Said):
    """To a builder: what they keep of an oven that has gone, with its paper."""

    kind: Literal["copy_kept"] = "copy_kept"
    oven: str = ""
    keeps: Keep


class AgreedTold(Said):
    """To a builder: what the owner of a finished oven lets them keep."""

    kind: Literal["agreed_told"] = "agreed_told"
    oven: str = ""
    keeps: Keep


class FinishedTold(Said):
    """To a builder: a break-in is done. ``keeps`` is what its owner lets them keep; None while
    they are being asked. ``soot_clear`` if somebody has seen the bare wall."""

    kind: Literal["finished_told"] = "finished_told"
    oven: str = ""
    place: str = ""
    firings: int
    days: int
    peak_c: float | None = None
    soot_clear: bool = False
    keeps: Keep | None = None
    contacts: tuple[Contact, ...] = ()


class OtherTeam(Said):
    """They are of another builder's team already, and cannot be of two."""

    kind: Literal["other_team"] = "other_team"
    name: str


class MoveAsked(Said):
    """Another builder invites somebody who has an oven: move it, begin another, or neither?

    ``now`` is the name of who looks after it, None for nobody.
    """

    kind: Literal["move_asked"] = "move_asked"
    invitation: str
    oven: str
    oven_name: str = ""
    to: str = ""
    now: str | None = None
    keeps: Keep | None = None
    """What the builder they leave will keep; None while nothing is agreed: then nothing."""


class MoveLeft(Said):
    """They keep things as they are; the invitation is still good."""

    kind: Literal["move_left"] = "move_left"


class LookedAfterTold(Said):
    """Another ``builder`` looks after the oven from now on (None: nobody). With ``oven``, its
    name, it is said to that builder's team."""

    kind: Literal["looked_after_told"] = "looked_after_told"
    builder: str | None
    oven: str | None = None


class OvenGone(Said):
    """To a builder: an oven's people have left, or ``moved`` on; what may be kept of it."""

    kind: Literal["oven_gone"] = "oven_gone"
    oven: str = ""
    keeps: Keep | None = None
    moved: bool = False


class KeepAsked(Said):
    """Once, at the end: what may your builder keep and see? Unsaid for ``days``, it is nothing."""

    kind: Literal["keep_asked"] = "keep_asked"
    days: int


class KeepNoted(Said):
    """What they may keep is noted; ``ended``: it holds from now on."""

    kind: Literal["keep_noted"] = "keep_noted"
    keeps: Keep
    ended: bool = False


class LeaveAsked(Said):
    """Leave an oven, or a team? ``last``: nobody stays; ``builder``: a builder looks after it;
    ``clients``: so many would be looked after by nobody."""

    kind: Literal["leave_asked"] = "leave_asked"
    what: Literal["oven", "team"]
    which: str
    name: str = ""
    last: bool = False
    builder: bool = False
    keeps: Keep | None = None
    clients: int = 0


class StillBurning(Said):
    """The last who tends a lit fire cannot go before it is out."""

    kind: Literal["still_burning"] = "still_burning"


class LeftTold(Said):
    """They have left; ``keeps`` is what the builder keeps; ``erased``: the record is gone."""

    kind: Literal["left_told"] = "left_told"
    what: Literal["oven", "team"]
    keeps: Keep | None = None
    erased: bool = False
    put_out_of: str | None = None
    """The team that has put them out; None where they went themselves."""


class EraseAsked(Said):
    """Erase everything for good? ``alone`` ovens go with them, ``shared`` ones stay with others,
    ``kept`` ones stay with a builder without them. Backups forget after ``backup_days``, None
    where none are made by us."""

    kind: Literal["erase_asked"] = "erase_asked"
    alone: int = 0
    shared: int = 0
    kept: int = 0
    team_clients: int = 0
    """Clients of a team whose last member they are."""
    backup_days: int | None = None


class AllStays(Said):
    """Nothing was left, nothing erased."""

    kind: Literal["all_stays"] = "all_stays"


class Erased(Said):
    """The last words to somebody: all is erased."""

    kind: Literal["erased"] = "erased"
    backup_days: int | None = None
