"""Meanings about people: invitations, teams, and what is left behind when somebody goes."""

from typing import Literal

from pydantic import AwareDatetime

from scheduling.choice import Keep
from scheduling.meaning.base import Said

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
    opens: Opening
    name: str = ""


class TeamShown(Said):
    """A builder's team. ``new``: it was founded just now; ``joined``: they came to it."""

    kind: Literal["team_shown"] = "team_shown"
    builder: str
    name: str
    members: tuple[str, ...] = ()
    clients: int = 0
    new: bool = False
    joined: bool = False


class TeamRenamed(Said):
    """The team bears another name, which clients are told from now on."""

    kind: Literal["team_renamed"] = "team_renamed"
    name: str


class MemberTold(Said):
    """To the others of a team: somebody came, or left."""

    kind: Literal["member_told"] = "member_told"
    name: str
    left: bool = False


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
