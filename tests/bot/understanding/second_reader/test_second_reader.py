"""The second reader as the house uses it: what it hears, and how the house does without it."""

import json
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from bot.checkup import second_ear
from bot.understanding import second_reader as room
from bot.understanding.normalise import normalise
from bot.understanding.second_reader import ReaderAbsentError, Role, SecondReader, loading
from bot.understanding.tokens import TokenKind, tokenise

PLAIN = {
    "burnt": "i burnt my hand on the door",
    "unwell": "i feel dizzy and my head is pounding",
    "fire_indoors": "the house is full of smoke",
    "fire_spreading": "148, the fence is on fire",
    "cry_for_help": "help",
    "flue_flames": "flames are shooting out of the chimney",
    "collapse": "part of the dome has fallen in",
    "accelerant": "i poured petrol on it",
    "popping": "bits are flying off the bricks with a bang",
    "flue_blocked": "the chimney is blocked by a nest",
    "water_on_hot": "chucked a bucket of water on it",
    "glowing": "the bricks are glowing red",
    "crack": "a big crack has opened, i can get a coin in",
    "out_of_control": "the fire is out of control",
    "ban": "the council has put a fire ban on",
    "child_near": "the kids keep climbing on it",
    "drunk": "i am drunk",
    "asleep": "i fell asleep",
    "unattended": "nobody is at the fire, i am in town",
    "unnamed": "something is wrong",
}
ORDINARY = (
    "152",
    "top 152 sides 140",
    "put three on",
    "it's raining",
    "how much longer?",
    "done",
    "thanks, good night",
    "back in 5",
    "can we do sunday instead",
)


@pytest.fixture(scope="module")
def reader() -> SecondReader:
    return loading.load(loading.FOLDER)


def test_every_hazard_has_its_plain_words_here(reader: SecondReader) -> None:
    assert set(reader.read("hello").hazards) == set(PLAIN)


@pytest.mark.parametrize("hazard", PLAIN)
def test_a_hazard_told_plainly_is_heard_before_any_other(reader: SecondReader, hazard: str) -> None:
    opinion = reader.read(PLAIN[hazard])
    assert max(opinion.hazards, key=lambda key: opinion.hazards[key]) == hazard
    assert opinion.alarmed


@pytest.mark.parametrize("message", ORDINARY)
def test_nothing_is_wrong_with_what_everybody_says(reader: SecondReader, message: str) -> None:
    assert not reader.read(message).alarmed


def test_a_danger_in_the_middle_of_a_long_message_is_heard(reader: SecondReader) -> None:
    chat = "we had a nice morning with the neighbours and talked about the weather and bread. "
    long = chat * 6 + "the fence is on fire. " + chat * 6
    assert not reader.read(chat * 12).alarmed
    assert "fire_spreading" in reader.read(long).heard


def test_each_number_gets_a_role_where_the_grammar_has_it(reader: SecondReader) -> None:
    text = "put three on, top 152 and one forty on the left side"
    roles = reader.read(text).roles
    tokens = [one for one in tokenise(normalise(text)) if one.kind is TokenKind.NUMBER]
    assert [(one.start, one.end, one.value) for one in roles] == [
        (token.start, token.end, token.value) for token in tokens
    ]
    assert [one.role for one in roles] == [Role.WOOD, Role.TOP, Role.SIDE, Role.SIDE]


@pytest.mark.parametrize("text", ["", " ", "🔥", "\x00", "١٥٢", "a" * 5000, "\n\n", "1" * 400])
def test_any_text_can_be_read(reader: SecondReader, text: str) -> None:
    opinion = reader.read(text)
    assert all(0 <= value <= 1 for value in (opinion.alarm, *opinion.hazards.values()))


def test_another_file_than_the_one_that_was_scored_is_not_used(tmp_path: Path) -> None:
    folder = Path(shutil.copytree(loading.FOLDER, tmp_path / "model"))
    with (folder / "encoder.onnx").open("ab") as file:
        file.write(b"\0")
    with pytest.raises(ReaderAbsentError, match="not the file that was scored"):
        loading.load(folder)


def test_without_its_file_the_house_goes_on_and_says_so(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(loading, "FOLDER", tmp_path)
    loading.second_reader.cache_clear()
    try:
        assert room.second_reader() is None
        assert second_ear().is_fault
        assert "the grammar alone" in second_ear().told
    finally:
        loading.second_reader.cache_clear()


def test_without_its_libraries_the_house_goes_on(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "onnxruntime", None)
    with pytest.raises(ReaderAbsentError, match="onnxruntime is not installed"):
        loading.load(loading.FOLDER)


def test_with_all_in_place_the_check_finds_no_fault() -> None:
    assert not second_ear().is_fault


_MEMORY = """
import json, sys
from pathlib import Path
import numpy, bot.understanding.second_reader as room
def resident():
    return int(Path("/proc/self/statm").read_text().split()[1]) * 4096
before = ["onnxruntime" in sys.modules, "tokenizers" in sys.modules, resident()]
reader = room.second_reader()
for length in range(1, 60):
    reader.read("the fence is smoking " * length)
print(json.dumps([*before, resident()]))
"""


@pytest.mark.skipif(not Path("/proc/self/statm").exists(), reason="reads Linux's own account")
def test_nothing_is_loaded_at_import_and_the_reader_takes_under_80_mb() -> None:
    run = subprocess.run([sys.executable, "-c", _MEMORY], capture_output=True, check=True)
    runtime, tokenizers, before, after = json.loads(run.stdout)
    assert not runtime
    assert not tokenizers
    assert after - before < 80e6
