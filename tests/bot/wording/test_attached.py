"""What goes with a message can really be made, and says in words what it shows."""

from icalendar import Calendar

from bot.attachments import make
from bot.wording.attached import calendar_paper, firing_picture, plan_picture
from bot.wording.voice import Voice
from scheduling.meaning import DaysShown
from scheduling.ports import Person
from tests.bot.wording.samples import LAST, NOW, plan_lines, shown
from tests.bot.wording.test_measures import measures

ADDRESSED = {"at": NOW.isoformat(), "oven_id": "o-1", "oven": "Meadow oven"}
"""What the engine adds for the oven that a message is about."""


def test_a_plan_and_a_firing_are_drawn_from_what_the_message_carries() -> None:
    (plan,) = plan_picture(plan_lines(), measures("F"))
    (firing,) = firing_picture(shown(of=LAST), measures())
    for one in (plan, firing):
        assert make(one.kind, {**one.data, **ADDRESSED}).startswith(b"\x89PNG")
    assert firing.data["of"] == 6


def test_the_days_come_as_a_calendar_with_a_caution_in_every_event() -> None:
    (paper,) = calendar_paper(plan_lines(3), measures())
    events = Calendar.from_ical(make(paper.kind, {**paper.data, **ADDRESSED})).walk("VEVENT")
    assert [str(event["summary"]) for event in events] == [
        "Oven: fire 1, about 150 °C for 1½ hours",
        "Oven: fire 2, about 210 °C for 1½ hours",
        "Oven: fire 3, about 270 °C for 1½ hours",
    ]
    assert all(
        "Light nothing before the chat tells you how" in str(e["description"]) for e in events
    )


def test_a_picture_is_told_to_those_who_do_not_see_it() -> None:
    (firing,) = firing_picture(shown(), measures())
    assert "three readings at the top, the hottest 150 °C at 10:00" in firing.alt
    assert "one reading not used" in firing.alt


def test_days_without_a_date_make_no_calendar() -> None:
    reader = Person(id="p", channel="replay", address="robin", name="Robin")
    undated = tuple(one.model_copy(update={"day": None, "start": None}) for one in plan_lines())
    parcel = Voice().render(DaysShown(lines=undated), reader, "Europe/London", NOW)
    assert parcel.attachments == ()
    assert "day still open" in parcel.text
