"""Meanings of a builder's list, of one client's card, and of what the team does about them."""

from datetime import date
from typing import Literal

from pydantic import AwareDatetime, BaseModel, ConfigDict

from scheduling.choice import About, Choice, Listing, Ordering, OrderingFor
from scheduling.meaning.base import Contact, FiringShown, PlanLine, ReadingShown, Said
from scheduling.meaning.people import OpenInvitation


class ClientLine(BaseModel):
    """A client in one line. ``phase``, ``needs`` and ``rank`` as in ``scheduling.record``.

    ``top_c`` is the crown by its last reading, ``doubted`` where that is not believed, and
    ``top_at`` when; ``aim_c`` and ``firing`` are of the fire that burns, else of the next.
    ``taken_by`` is the name of who has the case. ``phone`` is where somebody at the oven can be
    rung; ``words`` and ``photos`` are what they wrote and showed of the need.
    """

    model_config = ConfigDict(frozen=True, extra="forbid")

    oven_id: str
    oven: str
    owner: str = ""
    place: str = ""
    phase: str = "set_up"
    rank: int = 500
    needs: str | None = None
    since: AwareDatetime | None = None
    firing: int | None = None
    aim_c: float | None = None
    top_c: float | None = None
    top_at: AwareDatetime | None = None
    doubted: bool = False
    next_day: date | None = None
    taken_by: str = ""
    phone: str = ""
    words: str = ""
    photos: tuple[str, ...] = ()


class Counts(BaseModel):
    """How many clients there are in each group, each in one. ``burning`` and ``on_hold`` are of all
    ovens, those that need somebody among them; ``invited`` are those who have not come yet."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    danger: int = 0
    look: int = 0
    firing: int = 0
    planned: int = 0
    held: int = 0
    """Of those that are planned, the ones on hold."""
    curing: int = 0
    set_up: int = 0
    done: int = 0
    burning: int = 0
    on_hold: int = 0
    invited: int = 0

    @property
    def needs(self) -> int:
        """Those that need somebody."""
        return self.danger + self.look

    @property
    def all(self) -> int:
        """Every client."""
        return self.needs + self.firing + self.planned + self.curing + self.set_up + self.done

    @property
    def to_come(self) -> int:
        """Those whose fires are laid."""
        return self.planned - self.held


class RosterShown(Said):
    """A builder's list of clients: the page of it that was ``asked`` for.

    ``total`` is of what was asked for; ``invited`` are those of it who have not come yet. ``own``
    if they have an oven of their own besides.
    """

    kind: Literal["roster_shown"] = "roster_shown"
    counts: Counts
    lines: tuple[ClientLine, ...] = ()
    invited: tuple[OpenInvitation, ...] = ()
    asked: Listing = Listing()
    pages: int = 1
    total: int = 0
    own: bool = False


class WhichClient(Said):
    """Several clients are called so: which? ``wanted`` is what was typed for them."""

    kind: Literal["which_client"] = "which_client"
    text: str
    lines: tuple[ClientLine, ...]
    total: int


class NoClient(Said):
    """Nobody is called so. ``any`` is False where there are no clients at all."""

    kind: Literal["no_client"] = "no_client"
    text: str = ""
    any: bool = True


class JournalLine(BaseModel):
    """An entry of the journal as a card shows it: its kind, who did it, a number, their words."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    seq: int
    at: AwareDatetime
    what: str
    who: str = ""
    value: float | None = None
    day: date | None = None
    last: date | None = None
    text: str = ""
    name: str = ""
    """What was seen, advised or needed, in the word of its entry."""


class ClientShown(Said):
    """One client's card. ``part`` tells which of it is shown in full.

    ``needs`` are all that stand open, the most pressing first, with since when. ``orders`` hold
    now, the last of them last; ``notes`` are the builder's. ``talking``: this reader's words go to
    the owner. ``mine``: this reader has the case. ``words`` are the owner's own of what is most
    pressing, ``contacts`` how whoever tends the oven is reached past us.
    """

    kind: Literal["client_shown"] = "client_shown"
    line: ClientLine
    part: Literal["card", "plan", "picture", "journal", "orders"] = "card"
    needs: tuple[tuple[str, AwareDatetime], ...] = ()
    words: str = ""
    contacts: tuple[Contact, ...] = ()
    readings: tuple[ReadingShown, ...] = ()
    firing: FiringShown | None = None
    plan: tuple[PlanLine, ...] = ()
    ready_on: date | None = None
    journal: tuple[JournalLine, ...] = ()
    orders: tuple[JournalLine, ...] = ()
    notes: tuple[JournalLine, ...] = ()
    held: bool = False
    cap_c: float | None = None
    mine: bool = False
    talking: bool = False
    own: bool = False
    learnt: tuple[int, int, int] | None = None
    """From how many finished ovens of its model it has learnt, and between how many fires nine of
    ten of such take; None for nothing."""
    make_up: tuple[tuple[About, str], ...] = ()
    """What has been said of the oven."""
    assumed: tuple[tuple[About, str], ...] = ()
    """What its plan goes by where nobody has said: as its construction usually has it."""
    model: str = ""


class FireShown(BaseModel):
    """A fire on the board. ``track`` are believed readings of the crown, oldest first."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    oven: str
    number: int
    rank: int
    needs: str | None = None
    phase: str
    heard_at: AwareDatetime
    aim_c: float
    climb_k_h: float | None = None
    track: tuple[tuple[AwareDatetime, float], ...] = ()


BOARD_HOLDS = 18
"""Fires that one picture can show and still be read on a phone (own choice)."""


class BoardShown(Said):
    """All fires that burn now, at most ``BOARD_HOLDS`` of them; ``total`` of all."""

    kind: Literal["board_shown"] = "board_shown"
    fires: tuple[FireShown, ...]
    total: int


class OfficeHelp(Said):
    """What a builder can type and press. ``oven`` is the client whose card lies open; ``own`` if
    they have an oven of their own besides; ``strange`` if they typed what could not be read."""

    kind: Literal["office_help"] = "office_help"
    oven: str = ""
    own: bool = False
    strange: bool = False


class OrderUnclear(Said):
    """An order that could not be read. ``why``: ``nobody_open`` (which client?), ``no_number``,
    ``no_day``, ``which_day``, ``nothing_to_confirm``, ``no_order`` (none holds),
    ``two_numbers``, ``unit``, ``no_text`` (a note without words), ``edited``, ``no_message`` (a
    reply to nothing of ours), ``day_for_all`` (a hold of one day), ``who`` (``text`` is nobody
    here), ``names`` (of whom several are called so), ``one_by_one`` (not for many),
    ``nobody_meant`` (no client is such), ``none_for_many`` (no order for many to take back)."""

    kind: Literal["order_unclear"] = "order_unclear"
    why: str
    oven: str = ""
    text: str = ""


class WhoIsMeant(Said):
    """Whom is it about? Asked before anything is done: of each line a button gives it the order, or
    without ``order`` opens the card. ``why``: ``named`` (several are called so, or others are named
    as well), ``replied`` (the message that it answers tells of several, or of another), ``open``
    (the card, the first line, has lain open for long, or others were told of since)."""

    kind: Literal["who_is_meant"] = "who_is_meant"
    text: str
    lines: tuple[ClientLine, ...]
    total: int
    why: Literal["named", "replied", "open"]
    order: Ordering | None = None
    opens: str = ""
    """A client whose name is all that was typed: their card may be meant."""


class OrderForMany(Said):
    """An order for many ovens, to be confirmed once: ``lines`` are the first of ``ovens``.

    ``sure``: it makes plans less gentle, and wants the word. ``undoes`` is what it takes back.
    ``left_out`` are those for whom it
    changes nothing. ``only`` is the client whose card lay open; ``talking`` the name of whom the
    words may have been for.
    """

    kind: Literal["order_for_many"] = "order_for_many"
    order: Ordering
    undoes: Ordering | None = None
    ovens: tuple[str, ...]
    together: str
    lines: tuple[ClientLine, ...]
    burning: int = 0
    left_out: int = 0
    sure: bool = False
    only: ClientLine | None = None
    talking: str = ""
    text: str = ""


class Stays(BaseModel):
    """What still stands at an oven once an order was taken back."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    oven: str
    orders: tuple[JournalLine, ...]


class OrderedMany(Said):
    """What became of an order for many. ``done`` hold it; ``unchanged`` are those of whom it would
    have changed nothing, or only for the worse; ``failed`` could not be reached by a fault.
    ``stays`` of taking back; ``undo`` takes it back for all of them."""

    kind: Literal["ordered_many"] = "ordered_many"
    order: Ordering
    undoes: Ordering | None = None
    done: int
    unchanged: tuple[str, ...] = ()
    failed: tuple[str, ...] = ()
    stays: tuple[Stays, ...] = ()
    undo: OrderingFor | None = None


class OrderOrWords(Said):
    """Somebody typed what may be for the bot in a talk, or for an owner in a reply: is it for the
    owner, or is ``choice`` meant? ``about`` is whom that is about, where it is somebody else."""

    kind: Literal["order_or_words"] = "order_or_words"
    oven: str
    text: str
    choice: Choice
    about: str = ""
    photo: str | None = None
    talking: bool = True


class AlertsGathered(Said):
    """Several clients need somebody now: told together."""

    kind: Literal["alerts_gathered"] = "alerts_gathered"
    lines: tuple[ClientLine, ...]


class CaseTold(Said):
    """What became of a case. ``what``: ``taken``, ``handed_back``, ``closed``, ``held`` (somebody
    else has it), ``none`` (nothing is wrong), ``over`` (nothing is wrong any more). ``mine`` if
    its reader did it. ``contacts`` are how whoever tends the oven is reached past us."""

    kind: Literal["case_told"] = "case_told"
    what: Literal["taken", "handed_back", "closed", "held", "none", "over"]
    oven: str
    by: str = ""
    mine: bool = False
    since: AwareDatetime | None = None
    needs: str | None = None
    contacts: tuple[Contact, ...] = ()


class Digest(Said):
    """The morning's digest: who needs the team, whose fire is due today, what is still burning."""

    kind: Literal["digest"] = "digest"
    name: str = ""
    counts: Counts
    needs: tuple[ClientLine, ...] = ()
    today: tuple[ClientLine, ...] = ()
    fires_today: int = 0
    mine: tuple[ClientLine, ...] = ()
    mine_total: int = 0


class JottedTold(Said):
    """The note is kept; ``shown`` if the owner was shown it."""

    kind: Literal["jotted_told"] = "jotted_told"
    oven: str
    shown: bool = False


class TalkTold(Said):
    """To the builder: the talk is ``open``, ``passed`` on, ``over``, or ``taken`` by another of
    the team (``by``)."""

    kind: Literal["talk_told"] = "talk_told"
    what: Literal["open", "passed", "over", "taken", "none"]
    oven: str
    owner: str = ""
    by: str = ""


class BuilderSays(Said):
    """To the owner: what somebody on the builder's side says. ``first`` in a talk; a note that is
    shown (``note``) asks for no answer."""

    kind: Literal["builder_says"] = "builder_says"
    name: str
    text: str
    photo: str | None = None
    note: bool = False


class BuilderLeft(Said):
    """To the owner: the talk is over, and this chat is with the bot alone again."""

    kind: Literal["builder_left"] = "builder_left"
    name: str


class OwnerSays(Said):
    """To the builder in a talk: what somebody at the oven says."""

    kind: Literal["owner_says"] = "owner_says"
    oven: str
    text: str
    photo: str | None = None
