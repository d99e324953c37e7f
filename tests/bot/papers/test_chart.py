"""Words on the picture of a fire never lie upon each other."""

import io

from pypdf import PdfReader

from bot.papers.record_pdf import record_pdf
from scheduling.oven.reading import Suspicion
from tests.bot.papers.one_fire import over, paper, read


def _placed(pdf: bytes, words: str) -> list[tuple[float, float]]:
    """Where a text stands, on whatever page it does."""
    found: list[tuple[float, float]] = []

    def visit(text: str, cm: list[float], tm: list[float], *_more: object) -> None:
        if words in text.strip():
            found.append((cm[4] + tm[4], cm[5] + tm[5]))

    for page in PdfReader(io.BytesIO(pdf)).pages:
        page.extract_text(visitor_text=visit)
    return found


def test_readings_that_were_not_used_are_explained_once_and_not_each() -> None:
    doubted = [
        read(30 + 2 * n, 250.0 + n).model_copy(update={"doubt": Suspicion.FLAME_IN_SPOT})
        for n in range(6)
    ]
    pdf = record_pdf(paper(*doubted, read(60, 90.0), *over(200)))
    assert len(_placed(pdf, "read, not used")) == 1


def test_the_figure_of_a_peak_at_the_top_stands_clear_of_the_bar_of_the_hold() -> None:
    for peak_c in (151.0, 170.0, 188.0, 199.0, 236.0, 300.0):
        pdf = record_pdf(paper(read(60, 125.0), read(90, peak_c), read(150, 130.0), *over(200)))
        (_, bar), *_ = _placed(pdf, "held 1 h 30 min")
        heights = [y for _, y in _placed(pdf, f"{peak_c:.0f}") if abs(y - bar) < 150]
        assert heights
        assert all(bar - y > 12 for y in heights), (peak_c, bar, heights)
