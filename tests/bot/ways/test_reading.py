"""A file of own ways: what is taken, and what every fault says."""

import pytest

from bot.ways.reading import WaysError, read_ways
from bot.wording.ways import fault
from scheduling.meaning.ways import WayFault
from tests.bot.ways.files import FULL, WORDY


def faults_of(text: str) -> tuple[WayFault, ...]:
    with pytest.raises(WaysError) as refused:
        read_ways(text)
    return refused.value.faults


def said_of(text: str) -> str:
    return "\n".join(fault(one) for one in faults_of(text))


def test_a_whole_file_is_taken_as_it_is_written() -> None:
    ways = read_ways(FULL)
    assert ways.limits.told() == {
        "climb_low_k_h": 80.0, "stoke_min_minutes": 40.0, "cure_floor_d": 28, "final_c": 380.0,
    }  # fmt: skip
    assert ways.words.cautions == ("Keep the dog inside.", "The flue cap comes off first.")
    assert ways.checklist.before == ("Sheet off and folded",)
    assert ways.presets["our-mix"].title == "Our own mix"


def test_an_empty_file_changes_nothing() -> None:
    assert read_ways("").limits.told() == {}


def test_a_byte_order_mark_and_windows_lines_do_no_harm() -> None:
    assert read_ways("\ufeff[limits]\r\ncure_floor_d = 28\r\n").limits.cure_floor_d == 28


@pytest.mark.parametrize(
    ("text", "line", "words"),
    [
        ("[limits]\n\nclimb_low_k_h = 9000\n", 3, "5 to 150 would be plausible"),
        ("[limits]\nclimb_low = 80\n", 2, "Did you mean climb_low_k_h?"),
        ("[limits]\nfinal_c = \"hot\"\n", 2, "150 to 480 would be plausible"),
        ("[limits]\ncure_floor_d = 28.5\n", 2, "0 to 120 would be plausible"),
        ("[limits]\nfinal_c = nan\n", 2, "is none that I can take"),
        ("[limits]\nstoke_min_minutes = 50\nstoke_max_minutes = 40\n", 3, "30 to 60 is usual"),
        ("[words]\ngreeting = Welcome all\n", 2, "Words stand in quotation marks"),
        ("[words]\ncautions = \"one\"\n", 2, "is a list"),
        ("[words]\ncautions = [\"\"]\n", 2, "has an empty line"),
        ("[checklist]\nbefore = [3]\n", 2, "words in quotation marks"),
        ("[sayings]\na = 1\n", 1, "I know nothing called sayings"),
        ("limits = 3\n", 1, "headed [limits]"),
    ],
)  # fmt: skip
def test_a_fault_tells_its_line_and_what_would_do(text: str, line: int, words: str) -> None:
    (one,) = faults_of(text)
    assert one.line == line
    assert words in fault(one)
    assert fault(one).startswith(f"Line {line}: ")


def test_all_faults_are_told_at_once() -> None:
    text = "[limits]\nclimb_low_k_h = 9000\nfinal_c = 20\nsession_h = 99\n"
    assert [one.line for one in faults_of(text)] == [2, 3, 4]


def test_what_allows_more_than_the_project_needs_a_word_and_a_reason() -> None:
    harder = "[limits]\nfinal_c = 450\nstoke_max_minutes = 80\ncure_floor_d = 3\n"
    assert {one.what for one in faults_of(harder)} == {"less_gentle"}
    assert [one.line for one in faults_of(harder)] == [2, 3, 4]
    twice = harder + harder.replace("limits", "less_gentle")
    assert {one.what for one in faults_of(twice)} == {"no_reason"}
    taken = read_ways(f'reason = "metal liner"\n{twice}')
    assert taken.limits.final_c == 450.0


def test_what_was_said_twice_confirms_no_other_number() -> None:
    said = 'reason = "liner"\n[limits]\nfinal_c = {}\n[less_gentle]\nfinal_c = 450\n'
    assert read_ways(said.format(450)).less_gentle.final_c == 450.0
    assert [one.what for one in faults_of(said.format(470))] == ["less_gentle"]
    assert read_ways(said.format(390)).less_gentle.final_c is None


def test_a_construction_that_could_not_stand_says_why_in_an_ovens_words() -> None:
    said = said_of(FULL.replace("thickness_mm = 90", "thickness_mm = 900"))
    assert "900" in said
    assert "Line" in said


def test_a_construction_cannot_take_the_name_of_a_shipped_one() -> None:
    (one,) = faults_of(FULL.replace("presets.our-mix", "presets.cast-dense"))
    assert (one.what, one.field) == ("taken", "cast-dense")


def test_a_material_that_nobody_knows_is_named() -> None:
    said = said_of(FULL.replace('material = "own-castable"', 'material = "marble"'))
    assert "marble" in said


@pytest.mark.parametrize("text", ["x" * 70_000, "a = " + "[" * 5000, WORDY])
def test_files_of_silly_sizes_are_refused(text: str) -> None:
    assert faults_of(text)
