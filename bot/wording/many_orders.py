"""Sentences about whom an order is for: one of several, or many at once."""

from bot.wording import office_buttons
from bot.wording.buttons import Button
from bot.wording.clients import button_name, client_name, numbered
from bot.wording.measures import Measures, counted, listed, sentence
from bot.wording.orders import standing
from bot.wording.speech import Sentences, bold, joined, lines, parcel, quoted, says, theirs
from scheduling.choice import Ordering, OrderingFor, OrderName
from scheduling.meaning import OrderedMany, OrderForMany, WhoIsMeant
from scheduling.ports import Parcel

NAMED = 8
"""So many are named; of more the count is told."""


def ordered(order: Ordering, m: Measures) -> str:
    """What an order says, before it holds."""
    match order.name:
        case OrderName.HOLD:
            return "all fires on hold"
        case OrderName.RELEASE:
            return "fires allowed again"
        case OrderName.CAP if order.value is not None:
            return f"no fire above {m.degrees(order.value)}"
        case OrderName.CAP:
            return "the cap lifted"
        case OrderName.REPEAT:
            return "the last fire once more, no higher than before"
        case OrderName.MOVE if order.first is not None:
            return f"no fire before {m.dated(order.first)}"
        case OrderName.FORBID if order.first is not None:
            return f"no fire {m.on_span(order.first, order.last)}"
        case OrderName.TAKE_BACK if order.first is not None:
            return f"fires allowed {m.on_day(order.first)}"
        case OrderName.TAKE_BACK:
            return "the order taken back"
        case OrderName.CLOSE:
            return "looked at, and closed"
        case _:
            return "the order"


def who_is_meant(said: WhoIsMeant, m: Measures) -> Parcel:
    """Which client? Nothing is done before that is said."""
    lead = {
        "named": f"{quoted(said.text)}: for whom?",
        "replied": f"{quoted(said.text)}: whom is that about? The message you answered leaves it "
        "open.",
        "open": f"{quoted(said.text)}: for whom? {_open_for_long(said)}",
    }[said.why]
    more = said.total - len(said.lines)
    return parcel(
        joined(lead, "Nothing is changed yet."),
        numbered(said.lines, m),
        f"And {more} more: type more of the name." if more > 0 else None,
        _order_line(said, m),
        buttons=_meant_rows(said),
    )


def _open_for_long(said: WhoIsMeant) -> str:
    name = client_name(said.lines[0])
    if len(said.lines) > 1:
        return f"The card of {name} lies open, but others were told of since."
    return f"The card of {name} has lain open for a while."


def _order_line(said: WhoIsMeant, m: Measures) -> str | None:
    if said.order is None:
        return "A tap opens the card; then say it again."
    return f"A tap gives the order: {bold(ordered(said.order, m))}."


def _meant_rows(said: WhoIsMeant) -> list[list[Button]]:
    rows: list[list[Button]] = []
    for number, line in enumerate(said.lines, 1):
        if said.order is None:
            button = office_buttons.client(button_name(number, line), line.oven_id)
        else:
            meant = OrderingFor(order=said.order, ovens=(line.oven_id,))
            button = office_buttons.give_for(f"For {button_name(number, line)}", meant)
        rows.append([button])
    if said.opens:
        rows.append([office_buttons.client("Open the card", said.opens)])
    rows.append([office_buttons.clients("For none of them")])
    return rows


def _what(said: OrderForMany | OrderedMany, m: Measures) -> str:
    if said.undoes is not None:
        return f"Taking back “{ordered(said.undoes, m)}”"
    return sentence(ordered(said.order, m))


def order_for_many(said: OrderForMany, m: Measures) -> Parcel:
    """Whom it is for, and whether it is meant: asked once."""
    count = len(said.ovens)
    named = numbered(said.lines[:NAMED], m)
    more = count - len(said.lines[:NAMED])
    return parcel(
        joined(
            f"{_what(said, m)} for {bold(counted(count, 'client'))}: shall I?",
            f"The reason for all: {quoted(said.order.why)}." if said.order.why else None,
            f"{sentence(counted(said.burning, 'fire'))} of theirs "
            f"{'burns' if said.burning == 1 else 'burn'} now."
            if said.burning
            else None,
            "Nothing is changed yet.",
        ),
        named,
        f"And {more} more." if more > 0 else None,
        _left_out(said),
        "This makes plans less gentle. If you are sure, type “confirmed” with your reason; the "
        "record of each will name you."
        if said.sure
        else None,
        buttons=_many_rows(said, count),
    )


def _left_out(said: OrderForMany) -> str | None:
    if not said.left_out:
        return None
    return f"For {counted(said.left_out, 'client')} more it would change nothing."


def _many_rows(said: OrderForMany, count: int) -> list[list[Button]]:
    rows: list[list[Button]] = []
    if not said.sure:
        meant = OrderingFor(order=said.order, ovens=said.ovens, together=said.together)
        rows.append([office_buttons.give_for(f"Yes, for all {count}", meant)])
    if said.only is not None:
        only = OrderingFor(order=said.order, ovens=(said.only.oven_id,))
        rows.append([office_buttons.give_for(f"Only for {client_name(said.only)}", only)])
    if said.talking:
        rows.append([office_buttons.say_it(said.text)])
    return [*rows, [office_buttons.clients("For none of them")]]


def ordered_many(said: OrderedMany, m: Measures) -> Parcel:
    """What became of it."""
    clients = counted(said.done, "client")
    if said.done:
        done = "That is done" if said.undoes is not None else "That holds"
        told = f"{_what(said, m)} for {bold(clients)}. {done}, and their owners are told."
    else:
        told = "Nothing had to be changed for any of them."
    return parcel(
        told,
        _named("For them it changed nothing", said.unchanged),
        _named("A fault kept it from these; order it for each", said.failed),
        "Still standing there:\n"
        + lines(
            f"{theirs(one.oven)}: {listed([standing(line, m) for line in one.orders])}"
            for one in said.stays[:NAMED]
        )
        if said.stays
        else None,
        f"And at {len(said.stays) - NAMED} more." if len(said.stays) > NAMED else None,
        "Open a client again before the next order for one.",
        buttons=[
            [office_buttons.give_for(f"Take it back for all {said.done}", said.undo)]
            if said.undo is not None and said.done
            else [],
            [office_buttons.clients("All clients")],
        ],
    )


def _named(lead: str, names: tuple[str, ...]) -> str | None:
    if not names:
        return None
    shown = [theirs(one) for one in names[:NAMED]]
    more = len(names) - len(shown)
    return f"{lead}: {listed([*shown, f'{more} more'] if more else shown)}."


SENTENCES: Sentences = dict(
    (
        says(WhoIsMeant, who_is_meant),
        says(OrderForMany, order_for_many),
        says(OrderedMany, ordered_many),
    )
)
