"""The last part of the record: cracks, orders, days, notes, what was withdrawn, signatures."""

import io
from collections.abc import Mapping

from PIL import Image as Picture
from PIL import ImageOps
from reportlab.platypus import Flowable, Image, KeepTogether, Spacer, Table

from bot.papers.record import SignOrCrack
from bot.papers.record_fires import log_table
from bot.papers.sheets import heading, paragraph, table
from bot.papers.told import Telling
from bot.wording.papers import WHY_DAYS, order, told
from bot.wording.speech import theirs
from scheduling.journal import CrackSeen, HazardClosed, Repaired

Photos = Mapping[str, bytes]
"""Pictures by their references, as JPEG or PNG."""

PHOTO_WIDE, PHOTO_HIGH = 150.0, 130.0
PHOTO_PIXELS = 640
MOST_PIXELS = 40_000_000
"""A picture that unfolds to more was not taken by a telephone."""


def signs(t: Telling, photos: Photos) -> list[Flowable]:
    """Cracks and dangers as they were reported, with their photos."""
    head = heading("Cracks and dangers reported")
    if not t.paper.signs:
        return [*head, paragraph("None was reported.")]
    rows = [
        (
            t.at(one.seen.at),
            "between fires" if one.firing is None else f"fire {one.firing}",
            told(one.seen, t.m),
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
        (one.photo, f"{told(one, t.m)}, {t.at(one.at)}, {t.who(one.by)}")
        for one in shown
        if one.photo
    ]
    return [*parts, *_gallery(t, pictures, photos)]


def _closed(t: Telling, one: SignOrCrack) -> str:
    match one.closed:
        case HazardClosed():
            why = f": {theirs(one.closed.why)}" if one.closed.why else ""
            return f"looked at by {t.who(one.closed.by)}, {t.at(one.closed.at)}{why}"
        case Repaired():
            return f"repaired, wet work ended {t.day(one.closed.wet_work_ended)}"
    hairline = isinstance(one.seen, CrackSeen) and one.seen.size.value == "hairline"
    return "nothing further noted" if hairline else "open"


def _gallery(t: Telling, pictures: list[tuple[str, str]], photos: Photos) -> list[Flowable]:
    """Pictures three in a row, each with what it shows; one that is not at hand is named."""
    if not pictures:
        return []
    cells = [[_picture(photos.get(ref)), paragraph(caption, "quiet")] for ref, caption in pictures]
    cells += [[paragraph("")]] * (-len(cells) % 3)
    rows = [cells[index : index + 3] for index in range(0, len(cells), 3)]
    return [
        Spacer(0, 8),
        Table(rows, [t.wide / 3] * 3, hAlign="LEFT", style=[
            ("VALIGN", (0, 0), (-1, -1), "TOP"), ("LEFTPADDING", (0, 0), (-1, -1), 0),
        ]),
    ]  # fmt: skip


def _picture(content: bytes | None) -> Flowable:
    """A photo made small enough for paper, upright, without where and how it was taken."""
    if content is None:
        return paragraph("[The photo stands in the chat; it was not at hand for this paper.]")
    try:
        with Picture.open(io.BytesIO(content)) as opened:
            if opened.width * opened.height > MOST_PIXELS:
                raise ValueError("too large")
            upright = ImageOps.exif_transpose(opened).convert("RGB")
    except (OSError, ValueError, SyntaxError, Picture.DecompressionBombError):
        return paragraph("[The photo could not be read.]")
    upright.thumbnail((PHOTO_PIXELS, PHOTO_PIXELS))
    small = io.BytesIO()
    upright.save(small, format="JPEG", quality=78)
    scale = min(PHOTO_WIDE / upright.width, PHOTO_HIGH / upright.height)
    return Image(small, upright.width * scale, upright.height * scale, hAlign="LEFT")


def orders(t: Telling) -> list[Flowable]:
    """Every order, with who gave it, when and why, and whether it was taken back."""
    head = heading("Orders of the builder")
    if not t.paper.orders:
        return [*head, paragraph("None was given.")]
    rows = []
    for one in t.paper.orders:
        what = order(one.order, t.m)
        if one.order.confirmed:
            what += " (confirmed in so many words)"
        if one.back is not None:
            what += f"; taken back by {t.who(one.back.by)}, {t.at(one.back.at)}"
        reason = theirs(one.order.why) or "no reason given"
        rows.append((str(one.seq), t.at(one.order.at), t.who(one.order.by), what, reason))
    heads = ("No.", "When", "By", "Order", "Reason")
    shares = (0.06, 0.18, 0.15, 0.36, 0.25)
    widths = [t.wide * share for share in shares]
    under = paragraph("Numbers are those of the entries in the oven’s journal.", "quiet")
    return [*head, table(heads, rows, widths, right=(0,)), under]


def days(t: Telling) -> list[Flowable]:
    """The days as they were told to the owner, each time they changed."""
    if not t.paper.days:
        return []
    rows = []
    for one in t.paper.days:
        dates = ", ".join(f"{f.number}: {f.day.day} {f.day:%b}" for f in one.firings)
        rows.append((t.at(one.at), WHY_DAYS.get(one.why, ""), dates))
    heads = ("Told", "After", "Fires and their days")
    widths = [t.wide * share for share in (0.18, 0.24, 0.58)]
    parts = [*heading("Days as they were told"), table(heads, rows, widths)]
    first, last = t.paper.days[0].firings[-1].day, t.paper.finished_at
    if last is not None:
        over = last.astimezone(t.m.zone).date()
        late = (over - first).days
        than = (
            "on the day"
            if late == 0
            else f"{abs(late)} days {'after' if late > 0 else 'before'} the day"
        )
        parts.append(paragraph(f"The break-in ended {than} the day that was first told.", "quiet"))
    return parts


def remarks(t: Telling, photos: Photos) -> list[Flowable]:
    """What belongs to no fire: readings, notes and photos, repairs, and what was withdrawn."""
    parts: list[Flowable] = []
    if t.paper.between:
        parts += [*heading("Between the fires"), *log_table(t, t.paper.between, dated=True)]
    told_so = [*t.paper.notes, *t.paper.repairs]
    if told_so:
        rows = [
            (t.at(one.at), t.who(one.by), told(one, t.m))
            for one in sorted(told_so, key=lambda one: one.at)
        ]
        widths = [t.wide * share for share in (0.18, 0.18, 0.64)]
        parts += [
            *heading("Notes, talk and repairs"),
            table(("When", "By", "What"), rows, widths),
        ]
    pictures = [(one.photo or "", f"{theirs(one.text)} {t.at(one.at)}") for one in t.paper.pictured]
    parts += _gallery(t, pictures, photos)
    if t.paper.withdrawn:
        gone = [
            (
                str(one.seq),
                t.at(one.entry.at),
                told(one.entry, t.m),
                f"{t.at(one.by.at)}, {t.who(one.by.by)}",
            )
            for one in t.paper.withdrawn
        ]
        widths = [t.wide * share for share in (0.06, 0.18, 0.44, 0.32)]
        heads = ("No.", "When", "What", "Taken back or put right")
        parts += [*heading("Taken back"), table(heads, gone, widths, right=(0,))]
        parts.append(paragraph("These entries count for nothing above.", "quiet"))
    return parts


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
