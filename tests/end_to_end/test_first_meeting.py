"""The first meeting through the real house: words, buttons, mistakes, and the plan at its end."""

import json
from collections.abc import Iterable

from bot.commands.replay import replay_lines
from bot.parts import shipped

Lines = Iterable[tuple[str, dict[str, object]]]


async def replayed(lines: Lines, builder: str | None = None) -> list[dict[str, object]]:
    """What is answered to lines of 20 May 2026, each told as a time and the rest of it."""
    told: list[str] = []
    raw = [json.dumps({"at": f"2026-05-20T{at}:00+01:00"} | rest) for at, rest in lines]
    await replay_lines(raw, told.append, shipped(), builder)
    answers: list[dict[str, object]] = [json.loads(line) for line in told]
    assert not [one for one in answers if "error" in one]
    return [one for one in answers if "text" in one]


def typed(text: str, who: str = "ana") -> dict[str, object]:
    return {"from": who, "text": text}


async def test_an_owner_who_types_badly_gets_to_a_plan() -> None:
    heard = await replayed(
        [
            ("18:00", typed("hi")),
            ("18:01", typed("celcius")),
            ("18:02", typed("near Birmingham, UK")),
            ("18:03", typed("its a brick one")),
            ("18:04", typed("80cm i think")),
            ("18:05", typed("when can i cook??")),
            ("18:06", typed("finished the 3rd of may")),
            ("18:07", typed("a tarp")),
            ("18:08", typed("steel, no chimney")),
            ("18:09", typed("goes to 380")),
            ("18:10", typed("any day but not mondays")),
            ("18:11", typed("9 to 6")),
            ("18:12", {"from": "ana", "press": "Just me"}),
        ]
    )
    texts = [str(one["text"]) for one in heard]
    assert texts[0].startswith("Please light nothing until I say so")
    at = [str(one["at"])[11:16] for one in heard]
    last = [one for one, minute in zip(heard, at, strict=True) if minute == "18:12"]
    plan = next(one for one in last if "Fire 1" in str(one["text"]))
    assert "Light nothing before" in str(plan["text"])
    assert "Mon " not in str(plan["text"])  # not on Mondays
    assert plan["attachments"] == ["plan.png"]
    # A thermometer that stops short is told of at once, in time to buy another.
    assert any("380 °C" in str(one["text"]) for one in last)


async def test_a_danger_told_in_the_set_up_is_answered_first() -> None:
    heard = await replayed([("18:00", typed("/start")), ("18:01", typed("i feel sick and dizzy"))])
    answered = [str(one["text"]) for one in heard if str(one["at"])[11:16] == "18:01"]
    assert "fresh air" in answered[0].lower()


async def test_the_builder_is_nobodys_owner_and_sees_nothing_of_strangers() -> None:
    heard = await replayed([("18:00", typed("152", "vic"))], builder="vic")
    assert [one["to"] for one in heard] == ["vic"]
    assert "No clients yet" in str(heard[0]["text"])


async def test_answers_are_the_same_in_every_run() -> None:
    lines = [("18:00", typed("hi")), ("18:01", typed("F")), ("18:02", typed("can i cook?"))]
    assert await replayed(lines) == await replayed(lines)


Told = list[tuple[str, dict[str, object]]]

BEFORE_IT: Told = [
    ("18:00", typed("hi")),
    ("18:01", typed("C")),
    ("18:02", typed("near Birmingham, UK")),
    ("18:03", typed("its a brick one")),
    ("18:04", typed("80cm")),
    ("18:05", typed("finished the 3rd of march")),
]
AFTER_IT: Told = [
    ("18:20", typed("steel door, no flue")),
    ("18:21", typed("goes to 550")),
    ("18:22", typed("any day")),
    ("18:23", typed("9 to 6")),
    ("18:24", {"from": "ana", "press": "Just me"}),
]


def told_at(heard: list[dict[str, object]], minute: str) -> str:
    return "\n".join(str(one["text"]) for one in heard if str(one["at"])[11:16] == minute)


async def test_inside_the_garage_ends_in_no_plan_until_it_stands_outside() -> None:
    heard = await replayed(
        [
            *BEFORE_IT,
            ("18:06", typed("inside the garage")),
            *AFTER_IT,
            ("18:30", typed("can i light it?")),
            ("18:40", typed("moved it onto the lawn, nothing near it")),
        ]
    )
    assert "Light nothing where it stands now" in told_at(heard, "18:06")
    assert "carbon monoxide" in told_at(heard, "18:06")
    assert "door" in told_at(heard, "18:06"), "the next question follows"
    assert "Light nothing where it stands now" in told_at(heard, "18:24")
    assert "Fire 1" not in told_at(heard, "18:24")
    assert "Light nothing" in told_at(heard, "18:30")
    assert "Fire 1" in told_at(heard, "18:40")


async def test_words_that_say_half_are_asked_back_with_what_they_may_mean() -> None:
    heard = await replayed(
        [
            *BEFORE_IT,
            ("18:06", typed("against the fence")),
            ("18:07", {"from": "ana", "press": "By a fence, hedge or shed"}),
            ("18:08", typed("no flue")),
            ("18:09", {"from": "ana", "press": "Plain door, no flue"}),
        ]
    )
    back = next(one for one in heard if str(one["at"])[11:16] == "18:06")
    for label in ("By a fence, hedge or shed", "Roof and a fence or shed"):
        assert label in str(back["buttons"])
    assert "nothing near it" not in str(back["buttons"])
    assert "door" in told_at(heard, "18:07")
    assert "Plain door, no flue" in str(
        next(one for one in heard if str(one["at"])[11:16] == "18:08")["buttons"]
    )
    assert "thermometer" in told_at(heard, "18:09")
