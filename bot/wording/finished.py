"""Sentences to a builder about a break-in that is done, and what stays theirs of it."""

from bot.wording import office_buttons
from bot.wording.attached import record_paper
from bot.wording.clients import phones
from bot.wording.measures import Measures, counted
from bot.wording.parting import KEEPS
from bot.wording.speech import Sentences, bold, joined, parcel, says, theirs
from scheduling.choice import Keep
from scheduling.meaning import AgreedTold, CopyKept, FinishedTold
from scheduling.ports import Parcel


def finished(said: FinishedTold, m: Measures) -> Parcel:
    """The break-in is done; the paper goes along while the oven is theirs to see."""
    place = f" ({theirs(said.place)})" if said.place else ""
    hottest = f", the hottest {bold(m.degrees(said.peak_c))}" if said.peak_c is not None else ""
    soot = "the bare wall was seen" if said.soot_clear else "nobody has seen the bare wall"
    seen = said.keeps in (None, Keep.NAMED)
    return parcel(
        f"{theirs(said.oven)}{place}: the break-in is done.",
        f"{counted(said.firings, 'fire').capitalize()} in {counted(said.days, 'day')}{hottest}; "
        f"{soot}.",
        _kept(said.keeps),
        phones(said.contacts),
        buttons=[[office_buttons.this_card(), office_buttons.talk()]],
        attachments=record_paper(m) if seen else (),
        chats=said.contacts,
    )


def _kept(keeps: Keep | None) -> str:
    if keeps is None:
        return (
            "Its record is attached. What of it stays with you is for its owner to say: I am "
            "asking them, and tell you. Until then keep the paper to yourself."
        )
    if keeps is Keep.NAMED:
        return "Its record is attached, and stays with you whole, as its owner agreed."
    return f"As its owner agreed, {KEEPS[keeps]} will stay with you once you part."


def agreed(said: AgreedTold, _: Measures) -> Parcel:
    """Its owner has said what stays."""
    return parcel(
        f"{theirs(said.oven)}: its owner lets you keep {_theirs(said.keeps)}.",
        "You see the oven as before, and they can ask you for help.",
        buttons=[[office_buttons.this_card(), office_buttons.record_paper()]],
    )


def copy_kept(said: CopyKept, m: Measures) -> Parcel:
    """What stays of an oven that has gone."""
    name = theirs(said.oven)
    whose = f" of {name}" if name else ""
    return parcel(
        joined(
            f"Yours to keep{whose}: {_theirs(said.keeps)}. It is in your list under “done”.",
            "Please delete any paper with more in it that I sent you before."
            if said.keeps is not Keep.NAMED
            else None,
        ),
        buttons=[[office_buttons.this_card(), office_buttons.record_paper()]],
        attachments=record_paper(m),
    )


def _theirs(keeps: Keep) -> str:
    """What stays, as the builder is told."""
    return {
        Keep.NAMED: "the whole record, with their name, words and photos",
        Keep.NAMELESS: "the figures, without their name, words, photos or place",
        Keep.NOTHING: "nothing of it",
    }[keeps]


SENTENCES: Sentences = dict(
    (
        says(FinishedTold, finished),
        says(AgreedTold, agreed),
        says(CopyKept, copy_kept),
    )
)
