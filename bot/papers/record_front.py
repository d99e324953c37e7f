"""The first page of the record: whose paper it is, the whole in a few lines, every fire in one."""

from typing import Final

from reportlab.lib.colors import HexColor
from reportlab.platypus import Flowable, Paragraph, Spacer, Table

from bot.papers.firing_log import FiringLog
from bot.papers.pictured import picture
from bot.papers.sheets import heading, pairs, paragraph, table
from bot.papers.told import Telling
from bot.papers.typeface import INK, RULE, escaped, styles
from bot.wording import summary
from bot.wording.measures import held
from bot.wording.papers import ended

MARK_WIDE: Final = 120.0
MARK_HIGH: Final = 46.0
"""The room of a builder's mark, in points."""


def front(t: Telling, mark: bytes | None) -> list[Flowable]:
    """Letterhead, title, the summary, and the few facts that everything else belongs to."""
    paper = t.paper
    where = ", ".join(part for part in (paper.oven, paper.place) if part)
    return [
        *_letterhead(t, mark),
        Paragraph(escaped("Record of the break-in"), styles()["title"]),
        paragraph(where, "under"),
        summary_table(t),
        Spacer(0, 8),
        pairs(_facts(t), t.wide),
        Spacer(0, 6),
        paragraph(
            "This record tells what was told, read, advised and done, as it was written down at "
            "the time. It draws no conclusion. Times are those of the oven’s own clock "
            f"({paper.record.zone}); temperatures are surface temperatures as the instrument "
            "showed them.",
            "quiet",
        ),
    ]


def at_a_glance(t: Telling) -> list[Flowable]:
    """All fires in one table."""
    logs = t.paper.firings
    if not logs:
        return []
    unit = f"°{t.m.unit}"
    heads = ("Fire", "Day", f"Aim {unit}", f"Peak {unit}", "Held, of", "Wood kg", "How it ended")
    shares = (0.06, 0.18, 0.09, 0.11, 0.23, 0.11, 0.22)
    widths = [t.wide * share for share in shares]
    return [
        *heading("The fires"),
        table(heads, [_in_a_row(t, log) for log in logs], widths, right=(0, 2, 3, 5)),
        paragraph(_under(t), "quiet"),
    ]


def _in_a_row(t: Telling, log: FiringLog) -> tuple[str, ...]:
    aim = log.aim
    by_clock = "" if log.is_read or aim is None else "*"
    return (
        f"{log.number}",
        t.short(log.lit_on),
        "none" if aim is None else t.m.about_degrees(aim.plateau_c).split()[0],
        t.figure(log.peak_c) or "not read",
        "" if aim is None else f"{held(log.held_h)}{by_clock} of {held(aim.hold_h)}",
        "" if log.all_kg is None else f"{log.all_kg:.2f}",
        "burning" if log.ended is None else ended(log.ended.why, let_die=log.session.ending),
    )


def _under(t: Telling) -> str:
    """What the figures of the table are."""
    told = "Held: in the range aimed for or above it. Wood: with the first laying, as asked for."
    if any(not log.is_read and log.aim is not None for log in t.paper.firings):
        told += " * By the clock alone: it was not read."
    return told


def summary_table(t: Telling) -> Flowable:
    """The whole break-in in a third of a page."""
    paper, m = t.paper, t.m
    rows = [
        ("Planned", (summary.planned(paper, m),)),
        ("Done", summary.done(paper, m)),
        ("Otherwise than planned", summary.otherwise(paper, m, asked=True)),
        ("Otherwise than asked", summary.otherwise(paper, m, asked=False)),
        ("Cracks and dangers", (summary.cracks(paper, m),)),
        ("Orders", (summary.ordered(paper),)),
    ]
    cells = [
        [paragraph(name, "strong"), [paragraph(line, "cell") for line in lines]]
        for name, lines in rows
    ]
    return Table(
        cells,
        [t.wide * 0.2, t.wide * 0.8],
        hAlign="LEFT",
        style=[
            ("VALIGN", (0, 0), (-1, -1), "TOP"),
            ("LEFTPADDING", (0, 0), (-1, -1), 0),
            ("TOPPADDING", (0, 0), (-1, -1), 2.4),
            ("BOTTOMPADDING", (0, 0), (-1, -1), 2.8),
            ("LINEBELOW", (0, 0), (-1, -2), 0.4, HexColor(RULE)),
            ("LINEABOVE", (0, 0), (-1, 0), 0.9, HexColor(INK)),
            ("LINEBELOW", (0, -1), (-1, -1), 0.9, HexColor(INK)),
        ],
    )


def _facts(t: Telling) -> list[tuple[str, str]]:
    paper = t.paper
    tenders = [t.who(one) for one in paper.record.tenders]
    return [
        ("Owner", tenders[0] if tenders else ""),
        ("Also at the fire", ", ".join(tenders[1:])),
        ("To ring them", ", ".join(paper.people.phones.values())),
        ("Builder", paper.builder or "none on this record"),
        ("Kept since", t.on(paper.opened_at)),
        ("As of", t.at(paper.as_of)),
    ]


def _letterhead(t: Telling, mark: bytes | None) -> list[Flowable]:
    """The builder's mark and address; nothing where neither is told."""
    head = t.paper.letterhead
    if not head.address and mark is None:
        return []
    lines: list[Flowable] = [paragraph(head.name, "sender")] if head.name else []
    lines += [paragraph(line, "sender_line") for line in head.address]
    logo = [] if mark is None else [picture(mark, MARK_WIDE, MARK_HIGH)]
    flush = [(f"{side}PADDING", (0, 0), (-1, -1), 0) for side in ("LEFT", "RIGHT", "TOP")]
    style = [("VALIGN", (0, 0), (-1, -1), "TOP"), *flush]
    return [Table([[logo, lines]], [t.wide / 2] * 2, hAlign="LEFT", style=style), Spacer(0, 6)]
