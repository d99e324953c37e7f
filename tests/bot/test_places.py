"""Typed names and shared locations, offline."""

import pytest

from bot.places import NoLandError, PlaceBook


@pytest.fixture(scope="module")
def book() -> PlaceBook:
    return PlaceBook()


def test_a_clear_name_is_one_place_with_its_zone(book: PlaceBook) -> None:
    (munich,) = book.named("munich")
    assert (munich.zone, munich.country_code) == ("Europe/Berlin", "DE")


def test_accents_and_case_do_not_matter(book: PlaceBook) -> None:
    assert book.named("ZÜRICH") == book.named("zurich")


def test_an_ambiguous_name_gives_several_to_choose_from(book: PlaceBook) -> None:
    assert {p.country_code for p in book.named("Perth")} == {"AU", "GB"}
    assert len(book.named("Springfield")) > 2


def test_what_follows_a_comma_narrows_it_down(book: PlaceBook) -> None:
    (perth,) = book.named("Perth, UK")
    assert perth.zone == "Europe/London"
    (springfield,) = book.named("Springfield, Oregon")
    assert springfield.zone == "America/Los_Angeles"


def test_a_misspelt_name_finds_its_likeness(book: PlaceBook) -> None:
    assert book.named("Chrstchurch")[0].name == "Christchurch"


@pytest.mark.parametrize("nothing", ["", "  ", ",", "qqqqzzzz", "Perth, Brazil"])
def test_nothing_is_found_for_nothing(book: PlaceBook, nothing: str) -> None:
    assert book.named(nothing) == ()


def test_a_shared_location_has_the_zone_of_its_land(book: PlaceBook) -> None:
    assert book.at(-43.53, 172.63).zone == "Pacific/Auckland"


@pytest.mark.parametrize("sea", [(45.0, -30.0), (0.0, 0.0), (-40.0, 160.0)])
def test_a_place_in_the_sea_is_refused(book: PlaceBook, sea: tuple[float, float]) -> None:
    with pytest.raises(NoLandError, match="sea"):
        book.at(*sea)


def test_a_place_off_the_globe_is_refused(book: PlaceBook) -> None:
    with pytest.raises(ValueError, match="globe"):
        book.at(100.0, 0.0)
