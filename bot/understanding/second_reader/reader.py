"""``SecondReader``: one message in, an ``Opinion`` out. Pure, and the same on every processor."""

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

import numpy as np
import numpy.typing as npt

from bot.understanding.second_reader.opinion import Levels, NumberRole, Opinion, Role
from bot.understanding.second_reader.spelling_out import numbers_in, spelt_out

if TYPE_CHECKING:
    from onnxruntime import InferenceSession
    from tokenizers import Tokenizer

Floats = npt.NDArray[np.float32]

_WINDOW = 72
_STEP = 48
"""Pieces of words read at once, and how far on the next window begins: a danger in the middle of a
long message must not drown in it."""


class SecondReader:
    """The encoder and the names of what it tells.

    ``hazards`` and ``kinds`` are in the order of its outputs.
    """

    def __init__(
        self,
        session: "InferenceSession",
        tokenizer: "Tokenizer",
        hazards: Sequence[str],
        kinds: Sequence[str],
        roles: Sequence[Role],
        levels: Levels,
    ) -> None:
        self._session = session
        self._tokenizer = tokenizer
        self._hazards = tuple(hazards)
        self._kinds = tuple(kinds)
        self._roles = tuple(roles)
        self._levels = levels

    def read(self, text: str) -> Opinion:
        """What ``text`` tells. Never raises on any text; an empty one tells nothing."""
        coded = self._tokenizer.encode(spelt_out(text), add_special_tokens=False)
        if not coded.ids:
            return self._opinion(None, None, None, ())
        states = np.zeros((len(coded.ids), len(self._roles)), np.float32)
        hazards, alarm, kinds = [], [], []
        for start, stop in _windows(len(coded.ids)):
            told = self._run(coded.ids[start:stop])
            hazards.append(told[0])
            alarm.append(told[1])
            kinds.append(told[2])
            states[start:stop] = told[3]
        return self._opinion(
            np.max(hazards, axis=0),
            float(np.max(alarm)),
            np.max(kinds, axis=0),
            tuple(self._number_roles(text, coded.offsets, states)),
        )

    def _run(self, ids: Sequence[int]) -> tuple[Floats, float, Floats, Floats]:
        """Logits of one window: hazards, alarm, kinds, and the role of each of its pieces."""
        first, last = self._ends()
        pieces = np.array([[first, *ids, last]], np.int64)
        out = self._session.run(None, {"pieces": pieces, "mask": np.ones_like(pieces)})
        hazards, alarm, kinds, roles = (np.asarray(one, np.float32)[0] for one in out)
        return hazards, float(alarm), kinds, roles[1:-1]

    def _ends(self) -> tuple[int, int]:
        ends = self._tokenizer.token_to_id("[CLS]"), self._tokenizer.token_to_id("[SEP]")
        return int(ends[0] or 0), int(ends[1] or 0)

    def _number_roles(
        self, text: str, offsets: Sequence[tuple[int, int]], states: Floats
    ) -> Iterator[NumberRole]:
        for number in numbers_in(text):
            inside = [
                index
                for index, (start, end) in enumerate(offsets)
                if start < number.end and end > number.start
            ]
            if not inside:
                continue
            logits = states[inside].mean(axis=0)
            shares = np.exp(logits - logits.max())
            best = int(shares.argmax())
            share = float(shares[best] / shares.sum())
            yield NumberRole(number.start, number.end, number.value, self._roles[best], share)

    def _opinion(
        self,
        hazards: Floats | None,
        alarm: float | None,
        kinds: Floats | None,
        roles: tuple[NumberRole, ...],
    ) -> Opinion:
        return Opinion(
            _likelihoods(self._hazards, hazards),
            0.0 if alarm is None else float(_likelihood(np.float32(alarm))),
            _likelihoods(self._kinds, kinds),
            roles,
            self._levels,
        )


def _windows(length: int) -> Iterator[tuple[int, int]]:
    start = 0
    while start + _WINDOW < length:
        yield start, start + _WINDOW
        start += _STEP
    yield start, length


def _likelihood(logits: "Floats | np.float32") -> "Floats | np.float32":
    return 1.0 / (1.0 + np.exp(-logits))  # type: ignore[no-any-return]


def _likelihoods(names: Sequence[str], logits: Floats | None) -> dict[str, float]:
    if logits is None:
        return dict.fromkeys(names, 0.0)
    values = np.asarray(_likelihood(logits))
    return {name: float(value) for name, value in zip(names, values, strict=True)}
