"""Wording's markup, mended, escaped and cut."""

from hypothesis import given, settings
from hypothesis import strategies as st

from bot.channels.markup import pieces, plain, runs, to_html, utf16_units
from tests.botapi.entities import plain_text

marked = st.lists(
    st.one_of(
        st.sampled_from(["<b>", "</b>", "<i>", "</i>", "<", ">", "&", "&lt;", "</", "\n", "🔥"]),
        st.text(max_size=20),
    ),
    max_size=30,
).map("".join)


def test_bold_and_italic_are_kept_and_the_rest_stands_for_itself() -> None:
    text = "<b>Stoke</b> if top < 150 & <i>no</i> <u>smoke</u>"
    assert to_html(runs(text)) == (
        "<b>Stoke</b> if top &lt; 150 &amp; <i>no</i> &lt;u&gt;smoke&lt;/u&gt;"
    )
    assert plain(text) == "Stoke if top < 150 & no <u>smoke</u>"


def test_what_is_not_balanced_is_mended() -> None:
    assert (
        to_html(runs("</b>so <b>it <i>goes</b> on")) == "so <b>it </b><b><i>goes</i></b><i> on</i>"
    )


@settings(derandomize=True, max_examples=200)
@given(marked)
def test_any_text_becomes_html_that_reads_as_its_plain_text(text: str) -> None:
    sayable = text.encode("utf-8", "replace").decode()
    assert plain_text(to_html(runs(sayable))) == plain(sayable)


@settings(derandomize=True, max_examples=200)
@given(marked, st.integers(min_value=2, max_value=40))
def test_pieces_keep_to_the_limit_and_lose_nothing_but_blanks(text: str, limit: int) -> None:
    cut = pieces(runs(text), limit)
    words = ["".join(run.text for run in piece) for piece in cut]
    assert all(0 < utf16_units(piece) <= limit for piece in words)
    assert "".join("".join(words).split()) == "".join(plain(text).split())


def test_a_cut_falls_at_a_line_end_where_there_is_one() -> None:
    cut = pieces(runs("One thing to do.\nThen another one."), 25)
    assert [to_html(piece) for piece in cut] == ["One thing to do.\n", "Then another one."]


def test_a_character_outside_the_basic_plane_counts_two() -> None:
    assert utf16_units("🔥") == 2
    assert len(pieces(runs("🔥" * 10), 4)) == 5


def test_nothing_turns_the_digits_of_a_number_around() -> None:
    turns = "\u202e\u202d\u2066\u2067\u2068\u2069\u202a\u202b\u202c\u200e\u200f\u061c"
    assert plain(f"{turns}Ana{turns}: 150 °C") == "Ana: 150 °C"
    assert plain("עלמה: 150 °C") == "עלמה: 150 °C", "letters keep the direction that they have"


def test_a_letter_has_as_many_marks_as_languages_need_and_no_tower_of_them() -> None:
    assert plain("Việt é") == "Việt é"
    assert plain("a" + "\u0301" * 400 + "b") == "a" + "\u0301" * 5 + "b"
    assert plain("👨‍👩‍👧‍👦 ❤️") == "👨‍👩‍👧‍👦 ❤️"
