"""The number to ring when somebody may be hurt, by the place of the oven.

The zone tells the country (the time zone database's own ``zone.tab``); the numbers are from
memory, but for 112, which is the single European emergency number (Directive (EU) 2018/1972,
article 109) and which a mobile phone puts through in most of the world (3GPP TS 22.101, clause 10).
"""

from functools import cache
from importlib.resources import files

_EUROPEAN = (
    "AT BE BG CH CY CZ DE DK EE ES FI FR GR HR HU IE IS IT LI LT LU LV MT NL NO PL PT RO SE SI SK"
)

NUMBERS: dict[str, str] = {
    **dict.fromkeys(_EUROPEAN.split(), "112"),
    "GB": "999",
    "US": "911",
    "CA": "911",
    "AU": "000",
    "NZ": "111",
    "IN": "112",
    "ZA": "112",
    "BR": "193",
    "MX": "911",
    "AR": "911",
    "TR": "112",
}


@cache
def _countries() -> dict[str, str]:
    rows = files("tzdata").joinpath("zoneinfo", "zone.tab").read_text("utf-8").splitlines()
    fields = [row.split("\t") for row in rows if row and not row.startswith("#")]
    return {zone: country for country, _, zone, *_ in fields}


def country_of(zone: str) -> str | None:
    """The country (ISO 3166) of a time zone; None of one that is nobody's."""
    return _countries().get(zone)


def emergency_number(zone: str) -> str | None:
    """The number to ring at a place in that time zone; None where it is not known for sure, and
    112 is the one to try."""
    return NUMBERS.get(country_of(zone) or "")
