"""``stokewatch read``: what it prints for a message, and for a stream of them."""

import json

from typer.testing import CliRunner

from bot.__main__ import app_for

app = app_for(["read"])

RUNNER = CliRunner()


def _stream(*lines: str) -> list[dict[str, object]]:
    result = RUNNER.invoke(app, ["read", "-"], input="\n".join(lines) + "\n")
    assert result.exit_code == 0
    return [json.loads(line) for line in result.stdout.splitlines()]


def test_a_message_is_printed_as_json_with_all_fields_of_its_kind() -> None:
    result = RUNNER.invoke(app, ["read", "top 152 sides 140 138", "--json"])
    assert json.loads(result.stdout) == {
        "meanings": [
            {
                "kind": "reading",
                "top_c": 152.0,
                "sides_c": [140.0, 138.0],
                "hearth_c": None,
                "approximate": False,
            }
        ],
        "ask": None,
    }


def test_a_stream_answers_each_line_in_its_own_setting() -> None:
    at = "2026-05-13T10:00:00+01:00"
    lit, day, far = _stream(
        json.dumps({"text": "lit at quarter past nine", "at": at}),
        json.dumps({"text": "cant sat", "at": at}),
        json.dumps({"text": "300", "unit": "F", "expect": "reading"}),
    )
    assert lit["meanings"] == [{"kind": "lit", "at": "2026-05-13T09:15:00+01:00"}]
    assert day["meanings"] == [{"kind": "unavailable", "from": "2026-05-16", "to": "2026-05-16"}]
    assert far["meanings"][0]["top_c"] == 148.9  # type: ignore[index]


def test_a_line_that_cannot_be_read_is_answered_and_the_next_one_still_is() -> None:
    answers = _stream(
        "not json", "[1]", '{"text": 5}', '{"text": "152", "at": "noonish"}', '{"text": "152"}'
    )
    assert ["error" in answer for answer in answers] == [True, True, True, True, False]


def test_a_doubt_is_asked_in_words() -> None:
    (answer,) = _stream(json.dumps({"text": "152 140"}))
    assert answer["meanings"] == []
    assert "which one is the top" in str(answer["ask"])


def test_a_wrong_unit_is_refused() -> None:
    assert RUNNER.invoke(app, ["read", "152", "--unit", "K"]).exit_code == 2
