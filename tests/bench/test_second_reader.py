"""What a message costs the second reader beside the grammar: time of the one thread it uses."""

import time

import numpy as np
import pytest

from bot.understanding import understand
from bot.understanding.second_reader import second_reader
from tests.training.scores import AT_THE_FIRE, HELD_OUT, told_in

MOST_MS = 30.0

pytestmark = pytest.mark.bench


def test_a_message_is_read_within_thirty_milliseconds_on_one_thread() -> None:
    reader = second_reader()
    assert reader is not None
    texts = [told.text for file in sorted(HELD_OUT.glob("*.txt")) for told in told_in(file)][::5]
    by_grammar, by_reader = [], []
    for text in texts:
        start = time.thread_time()
        understand(text, AT_THE_FIRE)
        between = time.thread_time()
        reader.read(text)
        by_grammar.append(between - start)
        by_reader.append(time.thread_time() - between)
    most = 1000 * float(np.percentile(by_reader, 95))
    times = np.median(by_reader) / np.median(by_grammar)
    print(
        f"\n{len(texts)} messages: {1000 * np.median(by_reader):.1f} ms, 95 % within {most:.1f} ms,"
        f" {times:.1f} times the grammar"
    )
    assert most < MOST_MS
