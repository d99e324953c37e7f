"""Every picture is drawn from plain data, in any state, and told in words as well."""

import io
import struct
import threading
from datetime import UTC, datetime, timedelta

import matplotlib as mpl
import matplotlib.image
import numpy as np
import pytest

from bot.pictures.board import FireNow, Need, draw_board, tell_board
from bot.pictures.breakin import PlanCourse, PlannedFire, WallBand, draw_plan, tell_plan
from bot.pictures.firing import Band, FiringDrawn, ReadingDot, draw_firing, tell_firing
from bot.pictures.look import DAYLIGHT, EVENING, Look
from bot.pictures.painter import paint
from bot.wording.attached import firing_picture
from scheduling.meaning.office import BOARD_HOLDS
from tests.bot.wording.samples import shown
from tests.bot.wording.test_measures import measures

LOOKS = pytest.mark.parametrize("look", [DAYLIGHT, EVENING], ids=["daylight", "evening"])
NINE = datetime(2026, 5, 30, 9, tzinfo=UTC)


def size(picture: bytes) -> tuple[int, int]:
    assert picture.startswith(b"\x89PNG")
    width, height = struct.unpack(">II", picture[16:24])
    return width, height


def pixels(picture: bytes) -> np.ndarray:
    return np.asarray(matplotlib.image.imread(io.BytesIO(picture)))


def course(fires: int = 3) -> PlanCourse:
    at = tuple(NINE + timedelta(hours=h) for h in range(24 * max(fires, 1)))
    planned = tuple(
        PlannedFire(
            i + 1, NINE + timedelta(days=i), NINE + timedelta(days=i, hours=5), 150 + 80 * i
        )
        for i in range(fires)
    )
    surface = np.array(
        [
            max([15.0, *(f.plateau_c for f in planned if f.lit <= instant < f.door_on)])
            for instant in at
        ]
    )
    depth = np.linspace(0, 180, 19)
    wall = 15 + (surface[:, None] - 15) * np.exp(-depth / 60)
    mid = np.linspace(7.0, 0.2, len(at))
    water = np.stack([mid * 0.8, mid, mid * 1.3], axis=1)
    layers = (WallBand("shell", 90), WallBand("blanket", 140), WallBand("render", 180))
    return PlanCourse("Orchard oven", planned, at, depth, wall, surface, water, layers)


def firing(**changes: object) -> FiringDrawn:
    base: dict[str, object] = {
        "oven": "Orchard oven",
        "number": 2,
        "of": 5,
        "lit": NINE,
        "ended": NINE + timedelta(hours=5),
        "plateau_c": 175.0,
        "readings": (
            ReadingDot(NINE, 41, (40,)),
            ReadingDot(NINE + timedelta(minutes=40), 120, (95, 101)),
            ReadingDot(NINE + timedelta(minutes=50), 390, doubtful=True),
            ReadingDot(NINE + timedelta(minutes=90), 178, (150, 155)),
        ),
        "band": Band(160, 185),
        "stokes": (NINE + timedelta(minutes=45),),
        "spans_held": ((NINE + timedelta(minutes=90), NINE + timedelta(hours=4)),),
        "held_h": 2.5,
        "door_on": NINE + timedelta(hours=4, minutes=30),
    }
    return FiringDrawn(**{**base, **changes})  # type: ignore[arg-type]


def fires(count: int) -> list[FireNow]:
    return [
        FireNow(
            f"Oven {i}",
            1 + i % 5,
            Need.LOOK if i % 7 == 3 else Need.WELL,
            "holding",
            300.0,
            ((NINE - timedelta(minutes=30), 280.0), (NINE - timedelta(minutes=5), 297.0)),
        )
        for i in range(count)
    ]


@LOOKS
def test_the_plan_is_drawn_for_a_phone(look: Look) -> None:
    width, height = size(draw_plan(course(), look))
    assert width == 1080
    assert 1.0 < height / width < 1.5


@pytest.mark.parametrize("count", [0, 1, 12])
def test_a_plan_of_any_length_is_drawn(count: int) -> None:
    assert size(draw_plan(course(count)))[0] == 1080


def test_the_plan_is_told_in_words() -> None:
    told = tell_plan(course())
    assert told.startswith("Orchard oven: 3 fires planned. 1, Sat 30 May, 150 °C; 2,")
    assert "from about 7.0 to 0.2 litres" in told
    assert "302 °F" in tell_plan(course(), fahrenheit=True)
    assert tell_plan(course(0)) == "Orchard oven: no fires are planned."


@LOOKS
def test_a_firing_is_drawn(look: Look) -> None:
    assert size(draw_firing(firing(), look)) == (1080, 1000)


@pytest.mark.parametrize(
    "changes",
    [
        {"readings": ()},
        {"readings": (ReadingDot(NINE, 50),), "band": None, "stokes": (), "spans_held": ()},
        {"door_on": None},
        {"ended": NINE},
        {"ended": NINE + timedelta(days=2)},
    ],
)
def test_a_firing_with_little_known_of_it_is_drawn(changes: dict[str, object]) -> None:
    assert size(draw_firing(firing(**changes))) == (1080, 1000)


def test_a_firing_is_told_in_words() -> None:
    told = tell_firing(firing())
    assert "Aim 175 °C." in told
    assert "3 readings at the top, hottest 178 °C at 10:30" in told
    assert "1 doubtful and not used." in told
    assert "Wood added at 09:45." in told
    assert "Held for 2 h 30 min." in told
    assert "Door on at 13:30." in told
    assert "No readings." in tell_firing(firing(readings=()))


def test_a_picture_that_an_older_version_left_to_be_sent_is_drawn() -> None:
    (kept,) = firing_picture(shown(), measures())
    old = dict(kept.data)
    old["shown"] = dict(old["shown"]) | {"hold": [NINE.isoformat(), NINE.isoformat()]}  # type: ignore[call-overload]
    del old["shown"]["spans_held"]  # type: ignore[attr-defined]
    assert size(paint("firing", old)) == (1080, 1000)


def test_a_doubtful_reading_is_drawn_but_not_as_a_reading() -> None:
    plain = pixels(draw_firing(firing(readings=firing().readings[:2])))
    doubtful = pixels(draw_firing(firing(readings=firing().readings[:3])))
    assert plain.shape == doubtful.shape
    assert not np.array_equal(plain, doubtful)
    assert "hottest 120 °C" in tell_firing(firing(readings=firing().readings[:3]))


@LOOKS
@pytest.mark.parametrize("count", [0, 1, 7, 40])
def test_the_board_holds_any_number_of_fires(look: Look, count: int) -> None:
    assert size(draw_board(fires(count), NINE, look))[0] == 1080


def test_the_board_names_first_who_needs_somebody() -> None:
    crowd = [*fires(40), FireNow("Zeta", 4, Need.DANGER, "opening crack", 350, ())]
    told = tell_board(crowd, NINE)
    assert told.startswith("41 fires burning at 09:00. Zeta, fire 4: opening crack, aim 350°.")
    assert told.endswith(f"And {41 - BOARD_HOLDS} more.")
    assert tell_board([], NINE) == "No fires burning at 09:00."


def test_drawing_leaves_no_trace_and_may_be_done_side_by_side() -> None:
    before = dict(mpl.rcParams)
    expected, drawn = draw_firing(firing()), {}

    def draw(worker: int) -> None:
        drawn[worker] = draw_firing(firing())

    workers = [threading.Thread(target=draw, args=(worker,)) for worker in range(3)]
    for worker in workers:
        worker.start()
    for worker in workers:
        worker.join()
    assert dict(mpl.rcParams) == before
    assert all(np.array_equal(pixels(one), pixels(expected)) for one in drawn.values())
