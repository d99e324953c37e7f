"""The week as a picture: every day has its row, whatever stands in it."""

from datetime import date, datetime, timedelta
from io import BytesIO

import pytest
from PIL import Image

from bot.attachments import make
from bot.pictures.week import MOST_BARS, FireOfWeek, draw_week

FIRST = date(2026, 5, 16)


def fires(count: int, day: int = 0) -> list[FireOfWeek]:
    on = FIRST + timedelta(days=day)
    start = datetime(on.year, on.month, on.day, 9, 15)  # noqa: DTZ001 - local, as it is drawn
    return [FireOfWeek(f"Rosa {n}", on, start, 6.5, "150 °C") for n in range(count)]


def size(content: bytes) -> tuple[int, int]:
    return Image.open(BytesIO(content)).size


def test_a_week_is_as_wide_as_our_other_pictures() -> None:
    assert size(draw_week(FIRST, fires(3)))[0] == 1080


def test_a_fuller_day_takes_more_room_up_to_so_many_bars() -> None:
    heights = [size(draw_week(FIRST, fires(n)))[1] for n in (1, 5, MOST_BARS, 200, 2000)]
    assert heights[:3] == sorted(set(heights[:3]))
    assert heights[3] == heights[4]


@pytest.mark.parametrize("count", [0, 1])
def test_an_empty_week_can_be_drawn(count: int) -> None:
    assert draw_week(FIRST, fires(count)).startswith(b"\x89PNG")


def test_a_fire_before_dawn_and_one_without_an_hour_are_drawn_too() -> None:
    (early,) = fires(1)
    assert early.start is not None
    odd = [
        FireOfWeek("A", FIRST, early.start.replace(hour=3), 24.0),
        FireOfWeek("B" * 200, FIRST, None, 6.0),
    ]
    assert draw_week(FIRST, odd).startswith(b"\x89PNG")


def test_it_is_drawn_from_what_a_letter_carries() -> None:
    data = {
        "first": "2026-05-16",
        "zone": "Europe/London",
        "fires": [
            {"oven": "Rosa", "day": "2026-05-16", "start": "2026-05-16T08:00:00+00:00"},
            {"oven": "", "day": "2026-05-17", "start": None},
        ],
    }
    assert make("week", data).startswith(b"\x89PNG")
    with pytest.raises(ValueError, match="week"):
        make("week", {"fires": []})
