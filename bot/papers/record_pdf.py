"""The record of an oven as a document of the trade: PDF, in the reader's units.

Set with reportlab; pictures of fires are vector, text can be selected, and only photos are
pixels. A4, or US letter beside °F.
"""

from bot.papers.record import OvenRecord
from bot.papers.record_fires import fire
from bot.papers.record_oven import at_a_glance, cure, limits_set, opening, oven
from bot.papers.record_rest import Photos, days, orders, remarks, signatures, signs
from bot.papers.sheets import Sheet, set_paper
from bot.papers.told import Telling


def record_pdf(paper: OvenRecord, photos: Photos | None = None) -> bytes:
    """The record as PDF. ``photos`` are those at hand; others are named in their place."""
    at_hand = photos or {}
    letter = paper.unit == "F"
    sheet = Sheet(
        title=f"Record of the break-in: {paper.oven}",
        head_left=", ".join(part for part in (paper.oven, paper.place) if part),
        head_right="Record of the break-in",
        foot="",
        letter=letter,
    )
    t = Telling.of(paper, sheet.text_width)
    story = [*opening(t), *oven(t), *cure(t), *limits_set(t), *at_a_glance(t)]
    for log in paper.firings:
        story += fire(t, log)
    story += [*signs(t, at_hand), *orders(t), *days(t), *remarks(t, at_hand), *signatures(t)]
    return set_paper(_footed(sheet, t), story)


def _footed(sheet: Sheet, t: Telling) -> Sheet:
    return Sheet(
        sheet.title, sheet.head_left, sheet.head_right, f"as of {t.at(t.paper.as_of)}", sheet.letter
    )
