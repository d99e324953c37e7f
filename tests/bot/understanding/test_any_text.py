"""Whatever is typed, reading it never fails and never makes a temperature up."""

import re

from hypothesis import example, given, settings
from hypothesis import strategies as st

from bot.understanding import understand
from bot.understanding.normalise import normalise
from bot.understanding.tokens import TokenKind, tokenise
from scheduling.remark import Expectation, Reading, Setting
from tests.bot.understanding.corpus import NOW, examples, notation

_SETTINGS = st.builds(
    Setting,
    unit=st.sampled_from(["C", "F"]),
    now=st.just(NOW),
    expect=st.sampled_from(Expectation),
    last_top_c=st.none() | st.floats(5, 400),
    instrument_max_c=st.none() | st.sampled_from([380.0, 550.0]),
)
_WORDS = st.sampled_from(
    sorted({word for one in examples("corpus.txt") for word in one.text.split()})
)
_MESSAGES = st.lists(_WORDS, max_size=12).map(" ".join)


@settings(derandomize=True, max_examples=300, deadline=None)
@given(st.text(max_size=120), _SETTINGS)
@example("١٥٢²½\u0000\ud800", Setting(unit="C", now=NOW))
@example("1.2.3.4 9:99 99:99 31.31 0000", Setting(unit="F", now=NOW))
def test_any_text_is_read_without_failing(text: str, setting: Setting) -> None:
    understood = understand(text, setting)
    assert understood.meanings or understood.doubt


@settings(derandomize=True, max_examples=600, deadline=None)
@given(_MESSAGES, _SETTINGS)
def test_a_reading_is_always_a_number_of_the_message(text: str, setting: Setting) -> None:
    numbers = [token for token in tokenise(normalise(text)) if token.kind is TokenKind.NUMBER]
    stated = {token.value for token in numbers}
    texts = [token.text for token in numbers]
    for width in (2, 3):
        runs = ["".join(texts[i : i + width]) for i in range(len(texts) - width + 1)]
        stated |= {float(run) for run in runs if re.fullmatch(r"\d{3}", run)}
    possible = stated | {round((value - 32) / 1.8, 1) for value in stated}
    for remark in understand(text, setting).meanings:
        if isinstance(remark, Reading):
            got = {*remark.sides_c, remark.top_c, remark.hearth_c} - {None}
            assert {abs(c) for c in got if c is not None} <= {abs(c) for c in possible}


@settings(derandomize=True, max_examples=300, deadline=None)
@given(_MESSAGES, _SETTINGS)
def test_case_and_spaces_change_nothing(text: str, setting: Setting) -> None:
    spaced = "  " + text.upper().replace(" ", "  ") + " "
    assert notation(understand(text, setting)) == notation(understand(spaced, setting))
