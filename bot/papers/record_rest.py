"""The last part of the record: cracks, orders, days, notes, what was withdrawn, signatures."""

from collections.abc import Mapping, Sequence
from itertools import groupby

from reportlab.platypus import Flowable, KeepTogether, Spacer, Table

from bot.papers.pictured import gallery
from bot.papers.record import SignOrCrack
from bot.papers.record_fires import log_table
from bot.papers.sheets import heading, paragraph, table
from bot.papers.told import Telling
from bot.wording.before import CAUTIONS
from bot.wording.measures import times
from bot.wording.papers import WHY_DAYS, order, whole
from bot.wording.summary import than_first_told
from scheduling.journal import (
    CrackSeen,
    HazardClosed,
    Jotted,
    Noted,
    Reopened,
    Repaired,
    TalkSaid,
)

Row = tuple[str, str, str]
Photos = Mapping[str, bytes]
"""Pictures by their references, as JPEG or PNG."""


def signs(t: Telling, photos: Photos) -> list[Flowable]:
    """Cracks and dangers as they were reported, with their photos."""
    head = heading("Cracks and dangers reported")
    if not t.paper.signs:
        return [*head, paragraph("None was reported.")]
    rows = [
        (
            t.at(one.seen.at),
            "between fires" if one.firing is None else f"fire {one.firing}",
            t.told(one.seen),
            t.who(one.seen.by),
            _closed(t, one),
        )
        for one in t.paper.signs
    ]
    heads = ("When", "During", "What", "Reported by", "What became of it")
    shares = (0.19, 0.13, 0.19, 0.16, 0.33)
    parts: list[Flowable] = [*head, table(heads, rows, [t.wide * share for share in shares])]
    shown = [one.seen for one in t.paper.signs if isinstance(one.seen, CrackSeen)]
    pictures = [
        (photos.get(one.photo), f"{t.told(one)}, {t.at(one.at)}, {t.who(one.by)}")
        for one in shown
        if one.photo
    ]
    return [*parts, *gallery(t.wide, pictures)]


def _closed(t: Telling, one: SignOrCrack) -> str:
    match one.closed:
        case HazardClosed():
            why = f": {whole(one.closed.why)}" if one.closed.why else ""
            return f"looked at by {t.who(one.closed.by)}, {t.at(one.closed.at)}{why}"
        case Repaired():
            return f"repaired, wet work ended {t.day(one.closed.wet_work_ended)}"
    hairline = isinstance(one.seen, CrackSeen) and one.seen.size.value == "hairline"
    return "nothing further told" if hairline else "not settled yet"


def orders(t: Telling) -> list[Flowable]:
    """Every order, with who gave it, when and why, and whether it was taken back."""
    head = heading("Orders of the builder")
    if not t.paper.orders:
        return [*head, paragraph("None was given.")]
    rows = []
    for one in t.paper.orders:
        what = order(one.order, t.m)
        if one.order.confirmed:
            what += " (asked back, and confirmed)"
        if one.back is not None:
            what += f"; taken back by {t.who(one.back.by)}, {t.at(one.back.at)}"
        reason = whole(one.order.why) if one.order.why else "no reason given"
        rows.append((t.at(one.order.at), t.who(one.order.by), what, reason))
    widths = [t.wide * share for share in (0.18, 0.16, 0.38, 0.28)]
    return [*head, table(("When", "By", "Order", "Reason"), rows, widths)]


def own_words(t: Telling) -> list[Flowable]:
    """The builder's own words as the owner was told them, and what is told before every match."""
    parts: list[Flowable] = [
        *heading("Cautions"),
        paragraph(
            f"Told each time a fire is to be laid: {whole(CAUTIONS)} When it was told stands in "
            "the log, beside the match."
        ),
    ]
    for one in t.paper.worded:
        lines = [
            (name, "; ".join(whole(line) for line in said))
            for name, said in (
                ("At the first meeting", (one.greeting,) if one.greeting else ()),
                ("Before each fire is lit", one.cautions),
                ("On the evening before", one.before),
                ("After each fire", one.after),
            )
            if said
        ]
        by = f"The builder’s own, from {t.at(one.at)} on, by {t.who(one.by)}"
        widths = [t.wide * 0.24, t.wide * 0.76]
        parts += [*heading(by, second=True), *([table(("When", "Words"), lines, widths)])]
    return parts


def days(t: Telling) -> list[Flowable]:
    """The days as they were laid for the owner, each time they changed."""
    if not t.paper.days:
        return []
    rows = []
    for one in t.paper.days:
        dates = ", ".join(f"{f.number}: {f.day.day} {f.day:%b}" for f in one.firings)
        rows.append((t.at(one.at), WHY_DAYS.get(one.why, ""), dates))
    heads = ("Laid", "After", "Fires and their days")
    widths = [t.wide * share for share in (0.18, 0.24, 0.58)]
    parts = [*heading("Days as they were laid"), table(heads, rows, widths)]
    if t.paper.finished_at is not None:
        over = f"Finished on {t.on(t.paper.finished_at)}{than_first_told(t.paper, t.m)}."
        parts.append(paragraph(over, "quiet"))
    return parts


def remarks(t: Telling, photos: Photos) -> list[Flowable]:
    """What belongs to no fire: readings, notes and photos, repairs, and what was withdrawn."""
    parts: list[Flowable] = []
    if t.paper.between:
        parts += [*heading("Between the fires"), *log_table(t, t.paper.between, dated=True)]
    told_so = [*t.paper.notes, *t.paper.repairs]
    if told_so:
        rows = _said(t, sorted(told_so, key=lambda one: one.at))
        widths = [t.wide * share for share in (0.18, 0.18, 0.64)]
        parts += [
            *heading("Notes, talk and repairs"),
            table(("When", "By", "What"), rows, widths),
        ]
    pictures = [
        (photos.get(one.photo or ""), ", ".join(_caption(t, one))) for one in t.paper.pictured
    ]
    parts += gallery(t.wide, pictures)
    if t.paper.withdrawn:
        gone = [
            (t.at(one.entry.at), t.told(one.entry), f"{t.at(one.by.at)}, {t.who(one.by.by)}")
            for one in t.paper.withdrawn
        ]
        widths = [t.wide * share for share in (0.18, 0.48, 0.34)]
        heads = ("When", "What", "Taken back or put right")
        parts += [*heading("Taken back"), table(heads, gone, widths)]
        parts.append(paragraph("What stands here counts for nothing above.", "quiet"))
    return parts


def _said(
    t: Telling, told_so: Sequence[Noted | Jotted | TalkSaid | Repaired | Reopened]
) -> list[Row]:
    """A row each; what one person said again and again stands once, with how often."""
    rows: list[Row] = []
    for (who, what), same in groupby(told_so, key=lambda one: (t.who(one.by), t.told(one))):
        first, *more = [one.at for one in same]
        again = f"; again {times(len(more))}, the last time {t.at(more[-1])}" if more else ""
        rows.append((t.at(first), who, what + again))
    return rows


def _caption(t: Telling, one: Noted | TalkSaid) -> list[str]:
    words = [whole(one.text)] if one.text else []
    return [*words, t.at(one.at), t.who(one.by)]


def signatures(t: Telling) -> list[Flowable]:
    """Two places to sign, and room to say something."""
    half = t.wide / 2

    def side(who: str, name: str) -> list[Flowable]:
        lines: list[Flowable] = [paragraph(who, "second")]
        for label, filled in (("Name", name), ("Place, date", ""), ("Signature", "")):
            lines.append(_blank(label, filled, half - 24, 30 if label == "Signature" else 20))
        return lines

    tenders = t.paper.record.tenders
    owner = t.who(tenders[0]) if tenders else ""
    both = Table(
        [[side("Owner", owner), side("Builder", t.paper.builder)]],
        [half, half],
        style=[("VALIGN", (0, 0), (-1, -1), "TOP"), ("LEFTPADDING", (0, 0), (-1, -1), 0)],
    )
    return [
        KeepTogether(
            [
                paragraph("Signatures", "head"),
                paragraph(
                    "The undersigned have read this record. A signature says that the record was "
                    "received, and nothing about any cause or fault."
                ),
                both,
                Spacer(0, 4),
                *(_blank("Remarks" if line == 0 else "", "", t.wide, 22) for line in range(3)),
            ]
        )
    ]


def _blank(label: str, filled: str, wide: float, high: float) -> Flowable:
    """A line to write on, what is known already on it."""
    return Table(
        [[paragraph(label, "label"), paragraph(filled, "cell")]],
        [70, wide - 70],
        rowHeights=[high],
        hAlign="LEFT",
        style=[
            ("VALIGN", (0, 0), (-1, -1), "BOTTOM"),
            ("LEFTPADDING", (0, 0), (-1, -1), 0),
            ("LINEBELOW", (1, 0), (1, 0), 0.6, "#6B6159"),
        ],
    )
