"""Meanings of a builder's beginnings: who they are, make-ups, files of clients, and the week."""

from collections.abc import Iterator
from datetime import timedelta

from scheduling import meaning as said
from scheduling.choice import About
from scheduling.firing.answers import BUILDERS
from scheduling.meaning import Meaning
from tests.bot.wording.sample_values import NOW, TODAY

GIVEN = (
    (About.CONSTRUCTION, "cast-dense"),
    (About.SIZE, "800"),
    (About.PLACE, "53.8,-1.55,Europe/London,Leeds"),
    (About.WET_WORK, "2026-04-02"),
    (About.STANDS, "roof"),
    (About.OPENINGS, "insulated+flue"),
    (About.INSTRUMENT, "550"),
    (About.THICKNESS, "unknown"),
    (About.SHELTER, "part"),
)
TOWNS = (
    said.Option(value="America/Chicago|Springfield", title="Springfield, Illinois"),
    said.Option(value="America/New_York|Springfield", title="Springfield, Massachusetts"),
)


def introducing() -> Iterator[Meaning]:
    for what in ("team_name", "own_name", "town"):
        for first in (True, False):
            yield said.IntroductionAsked(what=what, known="Alder <b>& Sons", first=first)
            yield said.Introduced(what=what, value="Alder <i>young", first=first)
            yield said.Introduced(what=what, kept=True, first=first)
    yield said.IntroductionAsked(what="town", options=TOWNS, first=True)
    yield said.IntroductionAsked(what="town", strange="Atlantis <b>arch")
    yield said.IntroductionAsked(what="town", first=True)


def preparing() -> Iterator[Meaning]:
    yield said.MakeUpShown(name="Rosa <b>arch", oven="o1", answers=GIVEN, model="Garden 80")
    yield said.MakeUpShown(
        name="Rosa", invitation="i1", left=BUILDERS, open_until=NOW + timedelta(days=30)
    )
    for about in BUILDERS:
        yield said.MakeUpAsked(name="Rosa", about=about, oven="o1")
    yield said.MakeUpAsked(
        name="",
        about=About.SIZE,
        options=(said.Option(value="800"), said.Option(value="unknown")),
        known="900",
        refusal=said.SetUpRefused(
            about=About.SIZE, value="9 m", why="out_of_range", low=300, high=2500
        ),
        along=GIVEN[:1],
        invitation="i1",
    )
    yield said.ModelsOffered(name="Rosa")
    yield said.ModelsOffered(
        name="Rosa", models=(said.Option(value="Garden 80", title="Garden 80"),), oven="o1"
    )
    yield said.FilledIn(oven="Rosa", answers=GIVEN, model="Garden 80", left=BUILDERS[:3])
    yield said.FilledIn(oven="Rosa", invitation="i1", answers=GIVEN[:1])
    yield said.FilledIn(oven="Rosa")
    yield said.FilledIn(by="Beth", answers=GIVEN, owner=True)
    yield said.FilledIn(answers=GIVEN[:2], owner=True)
    yield said.FillingWaits(oven="Rosa")
    yield said.OwnerSaysOtherwise(oven="Rosa", about=About.SIZE, given="800", told="900")


FAULTS = (
    said.RowFault(what="no_header", line=1),
    said.RowFault(what="unknown_column", line=1, column="siz", near="size"),
    said.RowFault(what="unknown_column", line=1, column="colour"),
    said.RowFault(what="twice", line=1, column="name"),
    said.RowFault(what="twice", line=4, column="name", value="Rosa"),
    said.RowFault(what="no_name", line=5, column="name"),
    said.RowFault(what="too_many", line=502, most=500),
    said.RowFault(what="too_long", line=3, column="name", value="R", most=120),
    said.RowFault(what="no_model", line=3, column="model", value="X", choices=("Garden 80",)),
    said.RowFault(what="no_model", line=3, column="model", value="X"),
    said.RowFault(what="no_phone", line=3, column="phone", value="12<b>3"),
    said.RowFault(what="no_place", line=3, column="town", value="Atlantis <b>arch"),
    said.RowFault(what="places", line=3, column="town", value="Perth", choices=("Perth, Scotland",
                  "Perth, Australia")),
    said.RowFault(what="days", line=3, column="finished", value="3/4/2026",
                  choices=("2026-04-03", "2026-03-04")),
    said.RowFault(what="several", line=3, column="door", value="metal", about=About.OPENINGS,
                  choices=("plain+flue", "plain+no_flue")),
    said.RowFault(what="degrees", line=3, column="latitude", value="91"),
    said.RowFault(what="cells", line=3, most=4),
    said.RowFault(what="answer", line=3, column="size", value="9 m", about=About.SIZE,
                  refusal=said.SetUpRefused(about=About.SIZE, value="9 m", why="out_of_range",
                                            low=300, high=2500)),
    said.RowFault(what="not_text"),
    said.RowFault(what="no_rows"),
)  # fmt: skip


def importing() -> Iterator[Meaning]:
    yield said.ImportHow(file="name\n")
    yield said.ImportHow(file="name\n", models=("Garden 80", "Garden 90"))
    for start in range(0, len(FAULTS), 5):
        yield said.ImportShown(faults=FAULTS[start : start + 5], more_faults=3)
    names = tuple((f"Client {number} <b>arch", number % 3) for number in range(9))
    yield said.ImportShown(new=names, known=("Rosa",), faults=FAULTS[5:7], text="name\n")
    yield said.ImportShown(new=names[:1], text="name\n")
    yield said.ImportShown(known=tuple(f"Client {number}" for number in range(9)))
    yield said.ImportDone(invited=12, file="name\n", expires_at=NOW + timedelta(days=30))
    yield said.ImportDone(invited=0)
    yield said.ExportShown(clients=12, invited=3, file="name\n")
    yield said.ExportShown(clients=1, invited=0, file="name\n")
    yield said.ExportShown(clients=0, invited=0)


def fires(count: int) -> tuple[said.WeekFire, ...]:
    return tuple(
        said.WeekFire(
            oven_id=f"o{number}",
            oven=f"Rosa {number}" if number else "",
            place="Kew" if number % 2 else "",
            firing=1 + number % 6,
            day=TODAY + timedelta(days=number % 7),
            start=None if number == 3 else NOW + timedelta(days=number % 7, hours=2),
            session_h=None if number == 3 else 6.5,
            plateau_c=None if number == 3 else 150.0,
            hold_h=2.0,
            warm_up=number == 5,
            told_at=NOW,
        )
        for number in sorted(range(count), key=lambda number: number % 7)
    )


def week() -> Iterator[Meaning]:
    yield said.WeekShown(first=TODAY, clients=False)
    yield said.WeekShown(first=TODAY, held=("Rosa", ""))
    yield said.WeekShown(first=TODAY, fires=fires(9), later=True)
    yield said.WeekShown(
        first=TODAY + timedelta(days=7),
        fires=fires(40),
        held=tuple(f"Client {number}" for number in range(9)),
        later=True,
    )
    for served in (True, False):
        for has_address in (True, False):
            yield said.CalendarShown(fires=fires(9), served=served, has_address=has_address)
    yield said.CalendarShown()
    yield said.CalendarShown(
        fires=fires(2), served=True, address="https://fire.example/calendar/abc.ics"
    )
    yield said.CalendarRevoked()
    yield said.CalendarRevoked(none=True)
