"""The first page: the whole in a third of it, in figures that agree with all that follows."""

import io
import json
from datetime import timedelta

import pytest
from pypdf import PdfReader

from bot.papers.assumed import assumed
from bot.papers.letterhead import Letterhead
from bot.papers.record import OvenRecord
from bot.papers.record_front import summary_table
from bot.papers.record_pdf import record_pdf
from bot.papers.record_tables import record_json
from bot.papers.sheets import BOTTOM, TOP
from bot.papers.told import Telling
from bot.wording import summary
from bot.wording.learnt import TAUGHT
from bot.wording.measures import held
from bot.wording.voice import Voice
from scheduling.advance.showing import firing as shown_firing
from scheduling.hazard import Hazard
from scheduling.journal import (
    Asked,
    CrackSeen,
    Described,
    Entry,
    Finished,
    FireLit,
    HazardSeen,
    Model,
    Promised,
    Seen,
    Silent,
    Taught,
)
from scheduling.meaning import FiringDone
from scheduling.oven.lesson import QUANTITIES, Told
from scheduling.oven.makeup import Instrument, Shelter
from scheduling.ports import Person
from scheduling.record.lesson import lessons_for
from scheduling.remark import CrackSize
from tests.bot.papers.five_fires import paper as five_fires
from tests.bot.papers.five_fires import photo
from tests.bot.papers.one_fire import (
    OWNER,
    PROMISED,
    asked,
    at,
    journal,
    let_die,
    over,
    paper,
    paper_of,
    read,
    wood,
    wood_asked,
)

A4_HIGH = 841.9


def _many(count: int) -> tuple[Entry, ...]:
    """A break-in in which everything went otherwise, fire after fire."""
    told: list[Entry] = list(journal()[:-2])
    for number in range(count):
        day = timedelta(days=number)
        one = (
            FireLit(at=at(0), by=OWNER, aim=PROMISED), wood(20, advised=False), read(30, 90.0),
            wood_asked(30), wood(32, 6), read(60, 200.0),
            asked(90), Silent(at=at(110), step="told"),
            CrackSeen(at=at(200), by=OWNER, size=CrackSize.OPEN),
            HazardSeen(at=at(201), by=OWNER, hazard=Hazard.POPPING), *over(240, "short"),
        )  # fmt: skip
        told += [entry.model_copy(update={"at": entry.at + day}) for entry in one]
    return tuple(told)


@pytest.mark.parametrize("count", [1, 5, 40])
def test_the_summary_takes_a_third_of_the_page_however_much_went_otherwise(count: int) -> None:
    sheet = Telling.of(paper_of(_many(count)), 493.0)
    _, high = summary_table(sheet).wrap(493.0, A4_HIGH)
    assert high < (A4_HIGH - TOP - BOTTOM) / 3


def test_chat_picture_and_paper_tell_one_figure_for_the_hold() -> None:
    told = (read(60, 110.0), read(80, 130.0), read(120, 140.0), read(150, 110.0), read(200, 125.0))
    shown = paper(*told, let_die(200, "session"), *over(260))
    figure = held(shown.firings[0].held_h)
    assert figure == "1 h 25 min"  # 10 + 40 + 20 + 16.7 minutes over 120 °C
    assert _told_in_chat(shown) == (figure, figure)
    text = _text(record_pdf(shown))
    assert f"held {figure} in all" in text  # beside the bar of the picture on paper
    assert f"{figure} of 3 h" in text
    assert f"in range or above for {figure} in all" in text


@pytest.mark.parametrize("minutes", [12.5, 47.5, 62.5, 72.5, 77.5])
def test_a_hold_between_two_figures_is_rounded_once_and_everywhere_alike(minutes: float) -> None:
    shown = paper(read(60, 130.0), read(60 + minutes, 140.0), *over(260))
    figure = held(shown.firings[0].held_h)
    assert _told_in_chat(shown) == (figure, figure)
    assert f"{figure} of 3 h" in _text(record_pdf(shown))


def _told_in_chat(shown: OvenRecord) -> tuple[str, str]:
    """The hold in the sentence after the fire, and in the words of its picture."""
    drawn = shown_firing(shown.firings[0].session)
    assert drawn is not None
    reader = Person(id="p", channel="replay", address="zoe", name="Zoë")
    done = FiringDone(shown=drawn, why="held", door_on=True, change="as_planned")
    parcel = Voice().render(done, reader, "UTC", at(260))
    sentence = parcel.text.partition("stayed in its range for ")[2].partition(".")[0]
    picture = parcel.attachments[0].alt.partition("held for ")[2].rstrip(".")
    return sentence, picture


def test_the_sums_of_the_first_page_are_those_of_its_rows() -> None:
    shown = five_fires()
    t = Telling.of(shown, 400.0)
    done = " ".join(summary.done(shown, t.m))
    rows = [f"{log.all_kg:.2f}" for log in shown.firings]
    assert f"{sum(float(row) for row in rows):.2f} kg of wood" in done
    assert "Five fires lit, Sat 30 May to Sat 6 Jun 2026." in done


def test_a_finish_is_told_once_and_in_english() -> None:
    shown = five_fires()
    t = Telling.of(shown, 400.0)
    assert summary.than_first_told(shown, t.m) == ", seven days later than first told"
    text = _text(record_pdf(shown))
    assert "Finished on Sun 7 June 2026, seven days later than first told." in text
    assert "the day the day" not in text


def test_a_day_that_was_kept_ready_while_the_soot_was_asked_after_was_never_told() -> None:
    later = PROMISED.model_copy(update={"day": at(60 * 24).date(), "start": at(60 * 24)})
    soot = (
        Promised(at=at(260), firings=(later,), why="ended"),
        Asked(at=at(260), what="soot", expect="yes-no", proposal="soot"),
        Seen(at=at(263), by=OWNER, what="soot_clear"),
        Finished(at=at(263)),
        Promised(at=at(263), firings=(), why="done"),
    )
    assert [one.why for one in paper(read(60, 130.0), *over(260), *soot).days] == ["first"]
    still_black = (*soot[:2], Seen(at=at(263), by=OWNER, what="soot_black"))
    told = paper(read(60, 130.0), *over(260), *still_black).days
    assert [one.why for one in told] == ["first", "ended"]


def test_what_nobody_was_asked_is_marked_as_assumed() -> None:
    makeup = paper().makeup
    assert makeup is not None
    everything = {"layers", "mouth", "cement", "strength", "shelter", "emissivity"}
    assert assumed(makeup, {}).names == everything
    text = _text(record_pdf(paper()))
    assert "400 mm × 252 mm (assumed)" in text
    assert "All layers are assumed, in thickness and in material." in text


def test_what_was_told_is_not() -> None:
    makeup = paper().makeup
    assert makeup is not None
    told = {
        "mouth_width_mm": 450.0, "cement_class": "R", "shelter": Shelter.EXPOSED,
        "instrument": Instrument(max_c=550, emissivity=0.9),
        "layers": tuple(
            one.model_copy(update={"thickness_mm": one.thickness_mm + 20}) for one in makeup.layers
        ),
    }  # fmt: skip
    other = makeup.model_copy(update=told)
    assert assumed(other, {}).names == {"strength"}
    entries = tuple(
        one.model_copy(update={"makeup": other}) if isinstance(one, Described) else one
        for one in journal()
    )
    text = _text(record_pdf(paper_of(entries)))
    assert "450 mm × 252 mm (assumed)" not in text
    assert "The layers are those of the builder’s own description." in text


@pytest.mark.parametrize(("worth", "learns"), [(0.2, True), (None, False)])
def test_what_finished_ovens_taught_stands_beside_what_is_assumed(
    worth: float | None, learns: bool
) -> None:
    makeup = paper().makeup
    assert makeup is not None
    told = () if worth is None else (Told(quantity="taken_up", mean=worth, sd=0.1),)
    one = Taught(at=at(0), model=Model.of(makeup), told=told, fires=7, promised=6, days=9)
    shown = paper_of((*journal(), *lessons_for([one] * 7, at(0))))
    sentence = "Learnt from 7 finished ovens of this model: how well wood heats it."
    assert (sentence in _text(record_pdf(shown))) is learns
    assert json.loads(record_json(shown))["learnt"]["ovens"] == 7
    assert "Learnt from" not in _text(record_pdf(paper()))
    assert json.loads(record_json(paper()))["learnt"] is None


def test_there_are_words_for_all_that_can_be_learnt() -> None:
    assert set(TAUGHT) == set(QUANTITIES)


def test_the_builders_name_address_and_mark_head_the_paper() -> None:
    pdf = PdfReader(io.BytesIO(record_pdf(five_fires(), {"logo": photo()})))
    first = pdf.pages[0].extract_text()
    assert first.index("Åström Ovens") < first.index("3 Kiln Lane") < first.index("Record of")
    assert len(pdf.pages[0].images) == 1


def test_an_oven_whose_builder_has_told_no_address_has_no_empty_head() -> None:
    plain = paper()
    assert plain.letterhead == Letterhead()
    first = PdfReader(io.BytesIO(record_pdf(plain))).pages[0].extract_text()
    assert first.startswith("Record of the break-in")


def test_an_oven_that_nobody_can_read_is_told_by_the_clock_and_as_such() -> None:
    shown = paper(
        wood_asked(60), wood(62), let_die(250, "hold_done"), *over(300), thermometer=False
    )
    text = _text(record_pdf(shown))
    assert "No thermometer: by the clock they were kept up for 1 h 40 min in all." in text
    assert "1 h 40 min* of 3 h" in text
    assert "* By the clock alone: it was not read." in text


def _text(pdf: bytes) -> str:
    pages = PdfReader(io.BytesIO(pdf)).pages
    return " ".join(" ".join(page.extract_text() for page in pages).split())


def test_an_oven_that_never_came_into_its_range_is_said_to_have_never() -> None:
    shown = paper(read(30, 60.0), read(60, 90.0), *over(120, "short"))
    done = summary.done(shown, Telling.of(shown, 400.0).m)
    assert "Hottest crown 90 °C, in fire 1; never in its range." in done
