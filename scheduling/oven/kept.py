"""A belief packed into bytes, for a cache: the journal stays the truth.

numpy's own container with a head in JSON; no code is unpacked, whatever the bytes are.
"""

import io
import json
import zipfile
from dataclasses import fields, replace
from datetime import datetime
from typing import Any

import numpy as np

from scheduling.oven.belief import Belief, BeliefError
from scheduling.oven.hearth import HearthState
from scheduling.oven.history import FACTS, FireLit
from scheduling.oven.makeup import MakeUp
from scheduling.oven.prior import QUANTITIES, Draws, members_of
from scheduling.oven.stand import Ensemble, Stand
from scheduling.oven.wall import WallState

FORMAT = 4
"""Raised whenever a belief of old would be misread: kept ones are then computed anew."""

_ROWS = ("face_c", "fire_w_m2", "peak_pa")
_WALL = ("temperature_c", "water_kg_m3", "pressure_pa")
_HEARTH = ("owed_k_s", "heat_j")
_INSTANTS = ("at", "read_at", "fired_at")


def packed(belief: Belief) -> bytes:
    """The belief as bytes, about 1.6 kB a member."""
    arrays: dict[str, Any] = {
        "weights": belief.weights,
        "normals": belief.ensemble.draws.normals,
    }
    head: dict[str, Any] = {
        "format": FORMAT,
        "quantities": QUANTITIES,
        "make_up": belief.make_up.model_dump(mode="json"),
        "spread": belief.ensemble.draws.spread,
        "open_facts": FACTS.dump_python(belief.open_facts, mode="json"),
    }
    for name, stand in (("settled", belief.settled), ("present", belief.present)):
        head[name] = _plain(stand)
        arrays |= {f"{name}.{row}": getattr(stand, row) for row in _ROWS}
        arrays |= {f"{name}.{row}": getattr(stand.wall, row) for row in _WALL}
        hearth = stand.hearth
        head[f"{name}.owed_s"] = hearth.owed_s
        arrays |= {f"{name}.hearth.{row}": getattr(hearth.wall, row) for row in _WALL}
        arrays |= {f"{name}.hearth.{row}": getattr(hearth, row) for row in _HEARTH}
    buffer = io.BytesIO()
    head_bytes = np.frombuffer(json.dumps(head).encode(), dtype=np.uint8)
    np.savez(buffer, allow_pickle=False, head=head_bytes, **arrays)
    return buffer.getvalue()


def unpacked(kept: bytes) -> Belief:
    """The belief again. Raises BeliefError for anything that is not one of this format."""
    try:
        with np.load(io.BytesIO(kept), allow_pickle=False) as held:
            return _belief(json.loads(held["head"].tobytes()), held)
    except (OSError, KeyError, TypeError, ValueError, EOFError, zipfile.BadZipFile) as error:
        raise BeliefError(f"this is no kept belief: {error}") from error


def _belief(head: dict[str, Any], held: Any) -> Belief:
    if head["format"] != FORMAT or tuple(head["quantities"]) != QUANTITIES:
        raise BeliefError("this belief was kept by another version")
    make_up = MakeUp.model_validate(head["make_up"])
    draws = Draws(held["normals"], head["spread"])
    belief = Belief(
        Ensemble(make_up, draws, members_of(make_up, draws)),
        held["weights"],
        _stand(head, "settled", held),
        _stand(head, "present", held),
        FACTS.validate_python(head["open_facts"]),
    )
    if belief.settled.wall.temperature_c.shape != belief.ensemble.drawn.mesh.volume_m3.shape:
        raise BeliefError("this belief is of another wall")
    # Where nothing is open the two are one, and stay one.
    return belief if belief.settled.burning else replace(belief, present=belief.settled)


def _plain(stand: Stand) -> dict[str, Any]:
    plain: dict[str, Any] = {
        one.name: getattr(stand, one.name)
        for one in fields(stand)
        if one.name not in (*_ROWS, *_INSTANTS, "wall", "hearth", "lit")
    }
    for name in _INSTANTS:
        instant = getattr(stand, name)
        plain[name] = None if instant is None else instant.isoformat()
    plain["lit"] = None if stand.lit is None else stand.lit.model_dump(mode="json")
    return plain


def _stand(head: dict[str, Any], prefix: str, held: Any) -> Stand:
    plain = head[prefix]
    instants = {
        name: None if plain[name] is None else datetime.fromisoformat(plain[name])
        for name in _INSTANTS
    }
    lit = None if plain["lit"] is None else FireLit.model_validate(plain["lit"])
    wall = WallState(*(held[f"{prefix}.{row}"] for row in _WALL))
    hearth = HearthState(
        WallState(*(held[f"{prefix}.hearth.{row}"] for row in _WALL)),
        head[f"{prefix}.owed_s"],
        *(held[f"{prefix}.hearth.{row}"] for row in _HEARTH),
    )
    rows = {row: held[f"{prefix}.{row}"] for row in _ROWS}
    return Stand(**{**plain, **instants, "lit": lit}, wall=wall, hearth=hearth, **rows)
