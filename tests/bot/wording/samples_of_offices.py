"""Meanings of the builder's side: lists, cards, cases, talk and the digest."""

from collections.abc import Iterator
from datetime import date, timedelta
from typing import get_args

from scheduling import meaning as said
from scheduling.choice import (
    About,
    ClientGroup,
    Command,
    CommandName,
    Listing,
    Opening,
    Ordering,
    OrderingFor,
    OrderName,
)
from scheduling.meaning import Meaning
from scheduling.record import Phase
from scheduling.record.standing import NEEDS
from tests.bot.wording.sample_values import EARLY, NOW, SOON, TOMORROW, plan_lines, shown

COUNTS = said.Counts(danger=2, look=5, firing=12, planned=40, curing=20, set_up=3, done=30,
                     burning=14, held=2, on_hold=3, invited=4)  # fmt: skip
CALM = said.Counts(planned=2)


def line(number: int = 1, **known: object) -> said.ClientLine:
    values: dict[str, object] = {
        "oven_id": f"o{number}", "oven": "Rosa", "owner": "Rosa", "place": "Kew",
        "phase": "waiting", "rank": 302, "firing": 2, "aim_c": 150.0, "next_day": TOMORROW,
    }  # fmt: skip
    return said.ClientLine.model_validate(values | known)


def page() -> tuple[said.ClientLine, ...]:
    burning = {"phase": "lit", "top_c": 212.0, "top_at": NOW - timedelta(minutes=14)}
    return (
        line(1, needs="flue_flames", since=NOW - timedelta(minutes=25), rank=2, **burning),
        line(2, needs="undelivered", since=NOW - timedelta(days=2), rank=107, taken_by="Jo"),
        line(3, oven="Meadow <b>oven</b> of the three sisters at the mill", rank=200, **burning),
        line(4, phase="embers", rank=201),
        line(5),
        line(6, phase="firing_day", rank=300),
        line(
            7,
            phase="held",
            rank=301,
            oven="",
            owner="",
            needs="crack",
            since=NOW,
            doubted=True,
            top_c=212.0,
            top_at=NOW - timedelta(hours=22),
            words="it <b>opened",
            phone="+44 1",
            photos=("telegram:a",),
        ),
        line(8, phase="curing", rank=400, firing=None, aim_c=None, next_day=None),
    )


def lists() -> Iterator[Meaning]:
    for group in get_args(ClientGroup):
        asked = Listing(group=group, page=1)
        yield said.RosterShown(counts=COUNTS, asked=asked, lines=page(), pages=3, total=20)
        yield said.RosterShown(counts=CALM, asked=Listing(group=group), own=True)
    yield said.RosterShown(counts=said.Counts())
    yield said.RosterShown(counts=said.Counts(invited=2))
    for asked in (
        Listing(text="ro<b>sa"),
        Listing(needs=("crack", "crack_unsaid")),
        Listing(place="le<i>eds"),
        Listing(day=TOMORROW, group="planned"),
    ):
        yield said.RosterShown(counts=COUNTS, asked=asked, lines=page()[:1], total=1)
        yield said.RosterShown(counts=COUNTS, asked=asked)
    invited = said.OpenInvitation(
        id="i1", opens="oven", made_at=NOW - timedelta(days=3), expires_at=NOW + timedelta(days=27),
        name="Tom <b>Ash", phone="+44 7700 900123",
    )  # fmt: skip
    yield said.RosterShown(
        counts=COUNTS, asked=Listing(group="invited"), invited=(invited,), total=1
    )
    for need in NEEDS:
        yield said.RosterShown(
            counts=said.Counts(look=1), lines=(line(needs=need.value, since=NOW),), total=1
        )
    for phase in Phase:
        yield said.RosterShown(counts=CALM, lines=(line(phase=phase.value),), total=1)
    yield said.WhichClient(text="Rosa", lines=page()[:2], total=2)
    yield said.WhichClient(text="r", lines=page(), total=31)
    yield said.NoClient(text="Rosa")
    yield said.NoClient(any=False)
    yield said.AlertsGathered(lines=page()[:3])
    yield said.AlertsGathered(lines=page()[6:7])
    yield said.Digest(name="Beth", counts=COUNTS, needs=page()[:3], today=page()[5:6],
                      fires_today=7, mine=page()[1:2], mine_total=4)  # fmt: skip
    yield said.Digest(counts=CALM, today=page()[4:5], fires_today=1)
    fires = tuple(
        said.FireShown(
            oven="Rosa", number=2, rank=rank, needs=needs, phase=phase, heard_at=NOW, aim_c=150.0,
            climb_k_h=climb, track=((NOW - timedelta(minutes=20), 131.0), (NOW, 140.0)),
        )
        for rank, needs, phase, climb in (
            (6, "silent", "lit", None), (102, "slipping", "lit", None), (200, None, "lit", 40.0),
            (200, None, "lit", 2.0), (200, None, "lit", -30.0), (200, None, "lit", None),
            (201, None, "embers", None),
        )
    )  # fmt: skip
    yield said.BoardShown(fires=fires, total=len(fires))
    yield said.BoardShown(fires=fires, total=40)
    yield said.BoardShown(fires=(), total=0)
    yield said.OfficeHelp()
    yield said.OfficeHelp(oven="Rosa", own=True, strange=True)


def journal() -> tuple[said.JournalLine, ...]:
    at = NOW - timedelta(hours=1)
    return (
        said.JournalLine(seq=1, at=at, what="measured", value=212.0, who="Rosa"),
        said.JournalLine(seq=2, at=at, what="wood_put_on", value=3.0, who="Rosa"),
        said.JournalLine(seq=3, at=at, what="seen", name="popping", who="Rosa"),
        said.JournalLine(seq=4, at=at, what="alerted", name="popping"),
        said.JournalLine(seq=5, at=at, what="door_moved", name="on"),
        said.JournalLine(seq=6, at=at, what="reached", name="no"),
        said.JournalLine(seq=7, at=at, what="noted", text="smells <i>damp</i>", who="Rosa"),
    )


def card() -> Iterator[Meaning]:
    orders = (
        said.JournalLine(seq=8, at=NOW, what="held", who="Beth"),
        said.JournalLine(seq=9, at=NOW, what="capped", value=250.0, who="Beth"),
        said.JournalLine(seq=10, at=NOW, what="capped"),
        said.JournalLine(seq=11, at=NOW, what="forbidden", day=TOMORROW, last=date(2026, 6, 9)),
        said.JournalLine(seq=12, at=NOW, what="moved", day=TOMORROW, who="Beth"),
    )
    notes = (said.JournalLine(seq=13, at=NOW, what="jotted", text="thin <b>arch", who="Beth"),)
    fire = shown(ended=False, of=EARLY)
    for part in ("card", "plan", "picture", "journal", "orders"):
        yield said.ClientShown(
            line=page()[0], part=part, needs=(("flue_flames", NOW), ("slipping", NOW)),
            readings=fire.readings, firing=fire, plan=plan_lines(), journal=journal(),
            orders=orders, notes=notes, held=True, cap_c=250.0, mine=True,
        )  # fmt: skip
        yield said.ClientShown(line=line(phase="curing"), part=part, ready_on=date(2026, 6, 20))
    yield said.ClientShown(
        line=page()[1], needs=(("crack", NOW),), talking=True, own=True, words="a <b>line"
    )
    yield said.ClientShown(
        line=line(),
        make_up=(
            (About.CONSTRUCTION, "cast-dense"),
            (About.SIZE, "800"),
            (About.THICKNESS, "90"),
            (About.WET_WORK, "2026-04-02"),
        ),
        assumed=((About.SHELTER, "part"),),
        model="Garden <b>80",
    )
    yield said.ClientShown(line=line(phase="done"), firing=shown(), readings=shown().readings)


def orders() -> tuple[said.JournalLine, ...]:
    return (
        said.JournalLine(seq=8, at=NOW, what="held"),
        said.JournalLine(seq=9, at=NOW, what="capped", value=250.0),
        said.JournalLine(seq=10, at=NOW, what="capped"),
        said.JournalLine(seq=11, at=NOW, what="forbidden", day=TOMORROW, last=date(2026, 6, 9)),
        said.JournalLine(seq=12, at=NOW, what="forbidden", day=TOMORROW, last=TOMORROW),
        said.JournalLine(seq=13, at=NOW, what="moved", day=TOMORROW),
        said.JournalLine(seq=14, at=NOW, what="repeat_ordered", value=150.0),
        said.JournalLine(seq=15, at=NOW, what="limits_set"),
        said.JournalLine(seq=16, at=NOW, what="released"),
    )


def asked_about_words() -> Iterator[Meaning]:
    hold = Ordering(name=OrderName.HOLD)
    for choice, about in (
        (hold, ""),
        (OrderingFor(order=hold, ovens=("o2",)), "Max"),
        (Opening(oven="o2"), "Max"),
        (Opening(part="plan"), ""),
        (Listing(), ""),
        (Command(name=CommandName.HELP), ""),
    ):
        yield said.OrderOrWords(oven="Rosa", text="ho<i>ld", choice=choice, about=about)
    yield said.OrderOrWords(oven="Rosa", text="", photo="telegram:abc", choice=Opening(oven="o2"),
                            about="Max")  # fmt: skip


def for_many() -> Iterator[Meaning]:
    def order(name: OrderName, **known: object) -> Ordering:
        return Ordering.model_validate({"name": name} | known)

    two_days = {"first": TOMORROW, "last": date(2026, 6, 9)}
    for one in (
        order(OrderName.HOLD, why="sto<b>rm"),
        order(OrderName.RELEASE),
        order(OrderName.CAP, value=200.0),
        order(OrderName.CAP),
        order(OrderName.REPEAT),
        order(OrderName.MOVE, first=TOMORROW),
        order(OrderName.FORBID, **two_days),
        order(OrderName.TAKE_BACK, first=TOMORROW),
        order(OrderName.TAKE_BACK, field="batch"),
        order(OrderName.CLOSE, field="crack"),
    ):
        for why in ("named", "replied", "open"):
            yield said.WhoIsMeant(
                text="ho<i>ld", lines=page()[:2], total=2, why=why, order=one, opens="o1"
            )
        yield said.OrderForMany(
            order=one, ovens=tuple(f"o{n}" for n in range(20)), together="batch", lines=page(),
            burning=3, left_out=4, sure=one.name is OrderName.RELEASE, only=line(),
        )  # fmt: skip
        back = OrderingFor(
            order=order(OrderName.TAKE_BACK, field="b"), ovens=("o1",), together="c", undoes=one
        )
        yield said.OrderForMany(
            order=back.order, undoes=one, ovens=("o1", "o2"), together="c", lines=page()[:2],
            sure=True,
        )  # fmt: skip
        yield said.OrderedMany(order=back.order, undoes=one, done=2)
        yield said.OrderedMany(order=one, done=20, undo=back, unchanged=("Max", "I<b>vy"))
        yield said.OrderedMany(
            order=one, done=0, failed=tuple(f"Client {n}" for n in range(12)),
            stays=tuple(said.Stays(oven=f"Client {n}", orders=orders()[:2]) for n in range(9)),
        )  # fmt: skip
    yield said.WhoIsMeant(text="take it", lines=page()[:1], total=1, why="open")
    yield said.OrderForMany(
        order=order(OrderName.HOLD), ovens=("o1",), together="batch", lines=page()[:1], burning=1,
        talking="Rosa", text="hold all",
    )  # fmt: skip


def stepping_in() -> Iterator[Meaning]:
    for what in ("taken", "handed_back", "closed", "held", "none", "over"):
        for mine in (True, False):
            yield said.CaseTold(
                what=what, oven="Rosa", by="Jo", mine=mine, since=NOW, needs="crack"
            )
            yield said.CaseTold(what=what, oven="Rosa", mine=mine)
    for is_shown in (True, False):
        yield said.JottedTold(oven="Rosa", shown=is_shown)
    for what in ("open", "passed", "over", "taken", "none"):
        yield said.TalkTold(what=what, oven="Rosa", by="Jo")
    yield said.BuilderSays(name="Jo <b>arch", text="look at the <i>young</i> joint")
    yield said.BuilderSays(name="", text="", photo="telegram:abc")
    yield said.BuilderSays(name="Jo", text="all is well", note=True)
    yield said.BuilderLeft(name="Jo")
    yield said.OwnerSays(oven="Rosa", text="it is <i>young</i>")
    yield said.OwnerSays(oven="Rosa", text="", photo="telegram:abc")
    yield from asked_about_words()
    for why in (
        "nobody_open", "no_number", "two_numbers", "unit", "no_day", "which_day",
        "nothing_to_confirm", "no_order", "no_text", "edited", "no_trouble", "no_message",
        "day_for_all", "who", "names", "one_by_one", "nobody_meant", "none_for_many",
    ):  # fmt: skip
        yield said.OrderUnclear(why=why, oven="Rosa", text="max<b>i")
    yield said.OrderUnclear(why="no_day")
    for confirmed in (True, False):
        yield said.OrderTaken(what="cap", oven="Rosa", cap_c=250.0, confirmed=confirmed)
    yield said.OrderTaken(what="forbid", oven="Rosa", first=TOMORROW, last=date(2026, 6, 9))
    yield said.OrderTaken(what="move", oven="Rosa", first=TOMORROW)
    yield said.OrderTaken(what="hold", oven="Rosa", lit=True)
    yield said.OrderLessGentle(what="cap", oven="Rosa", from_value=200.0, to_value=250.0)
    for undone in orders():
        for day in (None, TOMORROW):
            back = {"what": "take_back", "undone": undone, "day": day}
            yield said.OrderLessGentle(oven="Rosa", **back)
            yield said.OrderTaken(oven="Rosa", stays=orders()[:3], seq=14, **back)
            yield said.OrderTaken(oven="Rosa", confirmed=True, **back)
            yield said.OrderLessGentle(oven="Rosa", stays=orders(), **back)
            told = back | {"what": "taken_back", "by": "beth"}
            yield said.OrderTold(stays=orders(), **told)
            yield said.OrderTold(**told)
    yield said.OrderTold(what="released", by="beth", stays=orders()[:1])
    yield said.OrderRefused(what="hold", why="held_already")
    yield said.Alert(needs="silent", since=SOON - timedelta(hours=1), oven="Rosa", again=2)
