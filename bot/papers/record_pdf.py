"""The record of an oven as a document of the trade: PDF, in the reader's units.

Set with reportlab; pictures of fires are vector, text can be selected, and only photos are
pixels. A4, or US letter beside °F.
"""

from dataclasses import replace

from bot.papers.record import OvenRecord
from bot.papers.record_fires import fire
from bot.papers.record_front import at_a_glance, front
from bot.papers.record_oven import limits_set, mortar, oven
from bot.papers.record_rest import Photos, days, orders, own_words, remarks, signatures, signs
from bot.papers.sheets import Sheet, set_paper
from bot.papers.told import Telling


def record_pdf(paper: OvenRecord, photos: Photos | None = None) -> bytes:
    """The record as PDF. ``photos`` are those at hand; others are named in their place."""
    at_hand = photos or {}
    unfooted = Sheet(
        title=f"Record of the break-in: {paper.oven}",
        head_left=", ".join(part for part in (paper.oven, paper.place) if part),
        head_right="Record of the break-in",
        foot="",
        made_at=paper.as_of,
        letter=paper.unit == "F",
    )
    t = Telling.of(paper, unfooted.text_width)
    sheet = replace(unfooted, foot=f"as of {t.at(paper.as_of)}")
    mark = at_hand.get(paper.letterhead.logo or "")
    story = [*front(t, mark), *at_a_glance(t), *oven(t), *mortar(t), *limits_set(t)]
    for log in paper.firings:
        story += fire(t, log)
    story += [*signs(t, at_hand), *orders(t), *own_words(t), *days(t)]
    story += [*remarks(t, at_hand), *signatures(t)]
    return set_paper(sheet, story)
