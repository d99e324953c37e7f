"""Where it stands and how it closes, in people's own words: clear, asked back, or not taken."""

import pytest

from bot.conversation.set_up_openings import openings
from bot.conversation.set_up_stands import stands
from scheduling.choice import About
from scheduling.firing.answers import checked
from scheduling.oven.stands import Stands
from tests.bot.conversation.test_set_up_words import METRIC


@pytest.mark.parametrize(
    ("text", "where"),
    [
        ("inside the garage", "indoors"),
        ("in the garage with the door open", "indoors"),
        ("half in the garage half out", "indoors"),
        ("garage", "indoors"),
        ("in the kitchen", "indoors"),
        ("in my mate's shed", "indoors"),
        ("in my neighbour's old stone barn", "indoors"),
        ("it stands in a shed at the bottom of the garden", "indoors"),
        ("in an open-fronted shed", "indoors"),
        ("in a tent", "indoors"),
        ("conservatory", "indoors"),
        ("in the conservetory", "indoors"),
        ("nowt over it", "sky"),
        ("nothing", "sky"),
        ("not under anything", "sky"),
        ("outdoors", "sky"),
        ("in the garden", "sky"),
        ("not in the garage, outside", "sky"),
        ("moved it out of the garage onto the lawn", "sky"),
        ("in the open, the shed is 10 metres off", "sky"),
        ("against a brick wall, open sky", "sky"),
        ("no fence near, no roof", "sky"),
        ("a tarp", "sky+sheet"),
        ("tarpualin", "sky+sheet"),
        ("under a tarp in the yard", "sky+sheet"),
        ("against the shed, open sky", "sky+beside"),
        ("just outside the garage", "sky+beside"),
        ("no roof, hedge right behind it", "sky+beside"),
        ("open sky, fence 1 m away", "sky+beside"),
        ("6 ft from the fence nothing above", "sky+beside"),
        ("it has a roof over it", "roof"),
        ("under the carport", "roof"),
        ("under a gazebo", "roof"),
        ("on a covered patio", "roof"),
        ("outdoor kitchen with a roof", "roof"),
        ("in our yard, tin roof over it, wooden fence a metre behind", "roof+beside"),
        ("under the pergola against the fence", "slats+beside"),
        ("on the patio under an awning", "slats"),
        ("under a tree", "slats"),
    ],
)
def test_where_it_stands_is_understood(text: str, where: str) -> None:
    assert stands(text) == (where,)


@pytest.mark.parametrize(
    ("text", "some"),
    [
        ("shed", {"indoors", "sky+beside"}),
        ("log cabin", {"indoors", "sky+beside"}),
        ("next to the shed", {"sky+beside", "roof+beside"}),
        ("up against the neighbours fence", {"sky+beside", "roof+beside"}),
        ("against the wall", {"sky", "sky+beside", "roof"}),
        ("on the patio", {"sky", "roof"}),
        ("it's in the outdoor kitchen", {"sky", "roof"}),
        ("covered", {"roof", "sky+sheet"}),
    ],
)
def test_what_could_be_several_places_is_asked_back(text: str, some: set[str]) -> None:
    found = stands(text)
    assert some <= set(found)
    assert len(found) == len(set(found)) > 1


@pytest.mark.parametrize(
    "text", ["dunno", "yes", "95", "not indoors", "i moved it out of the garage", "at home"]
)
def test_words_that_say_no_place_are_not_taken_for_one(text: str) -> None:
    assert stands(text) == ()


def test_nothing_with_walls_around_it_is_ever_taken_for_open_air() -> None:
    for room in ("garage", "kitchen", "shed", "barn", "tent", "conservatory", "cellar", "house"):
        for lead in ("in the", "inside my", "it's in our old", "in the corner of the", "within a"):
            for more in ("", ", no roof vent", " with the door open", ", nothing near it"):
                assert stands(f"{lead} {room}{more}") == ("indoors",), (lead, room, more)


@pytest.mark.parametrize(
    ("text", "closes"),
    [
        ("steel door, no flue", "plain+no_flue"),
        ("metal door and a chimney", "plain+flue"),
        ("no chimney, insulated door", "insulated+no_flue"),
        ("no flue yet, door is insulated", "insulated+no_flue"),
        ("no door or flue", "none+no_flue"),
        ("neither", "none+no_flue"),
        ("steel flue, wooden door", "plain+flue"),
    ],
)
def test_how_it_closes_is_understood(text: str, closes: str) -> None:
    assert openings(text) == (closes,)


@pytest.mark.parametrize(
    ("text", "some"),
    [
        ("steel", ("plain+flue", "plain+no_flue")),
        ("an insulated one", ("insulated+flue", "insulated+no_flue")),
        ("no door yet", ("none+flue", "none+no_flue")),
        ("no flue", ("plain+no_flue", "insulated+no_flue", "none+no_flue")),
        ("both", ("plain+flue", "insulated+flue")),
        ("yes", ()),
        ("flue yes", ("plain+flue", "insulated+flue", "none+flue")),
    ],
)
def test_half_an_answer_is_asked_back(text: str, some: tuple[str, ...]) -> None:
    assert openings(text) == some


def test_every_answer_read_is_one_that_is_taken() -> None:
    for text in ("nowt over it", "on the patio", "against the wall", "shed", "a tarp"):
        for value in stands(text):
            assert (
                checked(About.STANDS, value, METRIC.today, {}) == value == str(Stands.read(value))
            )
    for value in openings("no flue"):
        assert checked(About.OPENINGS, value, METRIC.today, {}) == value
