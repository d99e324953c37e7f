"""Heat, steam and its pressure at the end of a step, found together.

A step of a member's two walls is one linear system in the temperatures. While water boils it is
tied to one more unknown for each wall, the steam's pressure P: cells that boil stand at the
boiling point τ(P), what heat they get beyond it leaves as steam, and the crust lets that steam
through at

    P² - P0² = drag · Σ path·m.

For a given set of boiling cells temperatures and heats are linear in τ: three right sides, one
factorisation, then one equation a wall. The set itself follows from what has to hold of every
wet cell: it is cooler than τ and gives no steam, or it is at τ and gives some, or it has given all
that it had and is hotter than τ.

A drying front that is taken to sit at the centre of its cell moves by jerks, and every jerk is a
peak of pressure. So the first wet cell behind the crust has its node at the front itself: the share
φ of its water that is gone by the middle of the step lies before it, dry. Heat reaches the front
through that share of the cell and goes on through the rest; the cell's mean temperature, which is
what it stores, follows from the two straight lines that meet in the front.
"""

import numpy as np

from scheduling.oven.compiled import compiled
from scheduling.oven.rows import CROSSED, FRONTS, ROW, Floats, Record, Records

_ROUNDS = 12
_NEWTON_ROUNDS = 20
_NEAR_K = 1e-4
_LEAST_SHARE = 0.02
"""A front nearer to its face than this share of the cell is taken to be that far."""


def stepped_on(
    walls: Records,
    faces: Records,
    temperature_c: Floats,
    water_kg_m3: Floats,
    seconds: float,
    steam: Records,
    scales: Records,
) -> tuple[Floats, Floats, Records]:
    """Temperature and water (M, 2n) of all walls ``seconds`` later, and what crossed their faces
    (``rows`` says what is in the records)."""
    members, columns = temperature_c.shape
    ended_c, left_kg_m3 = np.empty((members, columns)), np.empty((members, columns))
    crossed = np.zeros((members, 2), CROSSED)
    _step(
        walls, faces, temperature_c, water_kg_m3, seconds, steam, scales,
        np.zeros(columns, ROW), np.zeros(2, FRONTS), ended_c, left_kg_m3, crossed,
    )  # fmt: skip
    return ended_c, left_kg_m3, crossed


@compiled
def _step(
    walls: Records,
    faces: Records,
    temperature_c: Floats,
    water_kg_m3: Floats,
    seconds: float,
    steam: Records,
    scales: Records,
    row: Records,
    fronts: Records,
    ended_c: Floats,
    left_kg_m3: Floats,
    crossed: Records,
) -> None:
    """Every member by itself."""
    scale = scales[0]
    for member in range(walls.shape[0]):
        cells, sides = walls[member], faces[member]
        for cell in range(row.size):
            row[cell].start_c = temperature_c[member, cell]
            row[cell].start_kg_m3 = water_kg_m3[member, cell]
        for wall in range(2):
            tau_c = _boiling_c(steam, scale, sides[wall].pressure_pa)
            fronts[wall].tau_c = max(tau_c, scale.first_c)
            fronts[wall].outside_pa = scale.atmosphere_pa
            fronts[wall].cell = -1
        _balance(cells, sides, row, seconds, scale)
        if not _stays_below(sides, row, scale):
            _boil(cells, sides, row, fronts, seconds, steam, scale)
        _end(cells, sides, row, fronts, steam, scale, crossed[member])
        for cell in range(row.size):
            ended_c[member, cell] = row[cell].base_c
            left_kg_m3[member, cell] = row[cell].start_kg_m3


@compiled
def _at(table: Floats, place: float) -> float:
    """A table between its places; beyond them what stands at its end."""
    last = table.size - 1
    if place <= 0.0:
        return float(table[0])
    if place >= last:
        return float(table[last])
    index = int(place)
    return float(table[index] + (place - index) * (table[index + 1] - table[index]))


@compiled
def _boiling_c(steam: Records, scale: Record, pressure_pa: float) -> float:
    place = (np.log(pressure_pa) - scale.first_log_pa) * scale.per_log_pa
    return _at(steam["boils_c"], place)


@compiled
def _balance(walls: Records, faces: Records, row: Records, seconds: float, scale: Record) -> None:
    """The step's heat balance of every cell, nothing boiling."""
    n = row.size // 2
    for cell in range(row.size):
        one, wall = row[cell], walls[cell]
        one.water_kg = one.start_kg_m3 * wall.volume_m3
        one.inertia_w_k = (wall.dry_heat_j_k + scale.heat_j_kgk * one.water_kg) / seconds
        one.middle, one.beside = one.inertia_w_k, 0.0
        one.right = one.inertia_w_k * one.start_c
        one.gone_kg = 0.0
        one.wet = one.water_kg > 0.0
        one.boils = one.dries = one.barred = False
    for cell in range(row.size - 1):
        bridge = faces[0].link_w_k if cell == n - 1 else walls[cell].bridge_w_k
        row[cell].beside = -bridge
        row[cell].middle += bridge
        row[cell + 1].middle += bridge
    for wall in range(2):
        hot, cold, face = row[n - 1 + wall], row[wall * (row.size - 1)], faces[wall]
        hot.middle += face.inner_w_k
        hot.right += face.inner_w_k * face.to_c + face.into_w
        cold.middle += face.outer_w_k
        cold.right += face.outer_w_k * face.air_c


@compiled
def _stays_below(faces: Records, row: Records, scale: Record) -> bool:
    """Whether a member without steam ends the step without any; its answer then stands."""
    if max(faces[0].pressure_pa, faces[1].pressure_pa) > scale.atmosphere_pa:
        return False
    for cell in range(row.size):
        one = row[cell]
        one.pivot, one.link, one.base_c = one.middle, one.beside, one.right
        one.by_crown = one.by_side = 0.0
    _solve(row)
    steams = False
    for cell in range(row.size):
        steams |= row[cell].wet and row[cell].base_c > scale.first_c
    return not steams


@compiled
def _solve(row: Records) -> None:
    """The system of ``pivot`` and ``link``, its right sides where the answers will stand: factored
    without pivoting, for it is positive definite, from both ends to the fire, as the processor does
    the two walls side by side."""
    n, last = row.size // 2, row.size - 1
    for cell in range(n - 1):
        _eliminate(row[cell], row[cell + 1], row[cell].link)
        _eliminate(row[last - cell], row[last - cell - 1], row[last - cell - 1].link)
    _eliminate(row[n - 1], row[n], row[n - 1].link)
    side = row[n]
    side.base_c, side.by_crown, side.by_side = (
        side.base_c / side.pivot, side.by_crown / side.pivot, side.by_side / side.pivot,
    )  # fmt: skip
    _follow(row[n - 1], row[n], row[n - 1].link)
    for cell in range(n - 2, -1, -1):
        _follow(row[cell], row[cell + 1], row[cell].link)
        _follow(row[last - cell], row[last - cell - 1], row[last - cell - 1].link)


@compiled
def _eliminate(one: Record, following: Record, link: float) -> None:
    """Take a cell out of the next one's equation."""
    share = link / one.pivot
    following.pivot -= share * link
    following.base_c -= share * one.base_c
    following.by_crown -= share * one.by_crown
    following.by_side -= share * one.by_side


@compiled
def _follow(one: Record, known: Record, link: float) -> None:
    """A cell's answers, the next one's being known."""
    inverse = 1.0 / one.pivot
    one.base_c = (one.base_c - link * known.base_c) * inverse
    one.by_crown = (one.by_crown - link * known.by_crown) * inverse
    one.by_side = (one.by_side - link * known.by_side) * inverse


@compiled
def _boil(
    walls: Records,
    faces: Records,
    row: Records,
    fronts: Records,
    seconds: float,
    steam: Records,
    scale: Record,
) -> None:
    """Round after round until the set of boiling cells has settled."""
    n = row.size // 2
    for cell in range(row.size):
        one = row[cell]
        at_c = fronts[cell // n].tau_c if walls[cell].shell else scale.first_c
        one.latent_j_kg = _at(steam["latent_j_kg"], (at_c - scale.first_c) * scale.per_c)
        one.boils = one.wet and one.start_c >= at_c - 1e-6
    for wall in range(2):
        # What boiled before boils on.
        first = _first_wet(wall, walls, row)
        if first >= 0 and faces[wall].pressure_pa > 1.0001 * scale.atmosphere_pa:
            row[first].boils = True
    count, settled = 0, False
    while not settled:
        count += 1
        _round(walls, faces, row, fronts, seconds, steam, scale)
        settled = _moved(walls, row, fronts, scale, count)


@compiled
def _first_wet(wall: int, walls: Records, row: Records) -> int:
    """The first cell of a wall's shell, from the fire outward, that holds water to the end of the
    step; -1 for none."""
    n = row.size // 2
    for depth in range(n):
        cell = n + depth if wall == 1 else n - 1 - depth
        if walls[cell].shell and row[cell].wet and not row[cell].dries:
            return cell
    return -1


@compiled
def _moved(walls: Records, row: Records, fronts: Records, scale: Record, count: int) -> bool:
    """Mark cells that began to boil or ceased to, have boiled dry or have not; whether none did.

    A cell that goes to and fro stands between the two: it is left as it was. After too many rounds
    only water that is not there counts.
    """
    n, settled = row.size // 2, True
    for wall in range(2):
        spent = False
        for cell in range(wall * n, wall * n + n):
            one = row[cell]
            if not one.wet:
                continue
            at_c = fronts[wall].tau_c if walls[cell].shell else scale.first_c
            over_k = one.base_c - at_c
            free = count <= _ROUNDS and not one.barred
            if one.boils and one.gone_kg > one.water_kg:
                one.boils, one.dries, spent, settled = False, True, True, False
            elif one.boils and count <= _ROUNDS and one.gone_kg < -1e-9 * one.water_kg:
                one.boils, one.barred, settled = False, count > 1, False
            elif one.dries and free and over_k < -_NEAR_K:
                one.boils, one.dries, one.barred, settled = True, False, count > 1, False
            elif not one.boils and not one.dries and free and over_k > _NEAR_K:
                one.boils, settled = True, False
        first = _first_wet(wall, walls, row)
        if spent and first >= 0:
            # Behind a cell that has boiled dry the next one is likely to boil.
            row[first].boils = True
    return settled


@compiled
def _round(
    walls: Records,
    faces: Records,
    row: Records,
    fronts: Records,
    seconds: float,
    steam: Records,
    scale: Record,
) -> None:
    """Temperatures and steam for the set as it is, at the pressure that fits it."""
    n = row.size // 2
    for cell in range(row.size):
        one = row[cell]
        one.own, one.next, one.into = one.middle, one.beside, one.right
        if one.dries:
            one.into -= one.water_kg / seconds * one.latent_j_kg
    for wall in range(2):
        _put_front(wall, walls, faces[wall], row, fronts[wall], seconds)
    _hold(walls, row, fronts, scale)
    _solve(row)
    _take(faces, row, fronts)

    outside = np.zeros(2)
    for wall in range(2):
        front = fronts[wall]
        front.total = front.by_crown = front.by_side = 0.0
    for cell in range(row.size):
        one, front, shell = row[cell], fronts[cell // n], walls[cell].shell
        if one.dries:
            steams = walls[cell].steam_path_m3 * one.water_kg / seconds
            if shell:
                front.total += steams
            else:
                outside[cell // n] += steams
        elif one.boils:
            one.path_m3 = walls[cell].steam_path_m3
            if front.cell == cell:
                one.path_m3 += (front.share - 0.5) * walls[cell].clog_m3
            one.path_m3 /= one.latent_j_kg
            if shell:
                front.total += one.heat_w * one.path_m3
                front.by_crown += one.heat_by_crown * one.path_m3
                front.by_side += one.heat_by_side * one.path_m3
    _rise(faces, fronts, steam, scale)
    crown_k = fronts[0].tau_c - fronts[0].guess_c
    side_k = fronts[1].tau_c - fronts[1].guess_c
    for cell in range(row.size):
        one = row[cell]
        one.base_c += one.by_crown * crown_k + one.by_side * side_k
        one.gone_kg = 0.0
        if one.boils:
            one.heat_w += one.heat_by_crown * crown_k + one.heat_by_side * side_k
            one.gone_kg = one.heat_w * seconds / one.latent_j_kg
            if not walls[cell].shell:
                outside[cell // n] += one.heat_w * one.path_m3
    # What lies behind the shell is taken to boil as in the open.
    drag = _at(steam["drag_pa2_s_m2"], scale.first_c * scale.per_crust_c)
    for wall in range(2):
        square = scale.atmosphere_pa**2 + drag * max(outside[wall], 0.0)
        fronts[wall].outside_pa = np.sqrt(square)


@compiled
def _put_front(
    wall: int, walls: Records, face: Record, row: Records, front: Record, seconds: float
) -> None:
    """Put the node of the first wet cell of a shell, if it boils, at its front. Where the face's
    temperature is not given, a front in the cell at the fire is left at its centre."""
    n = row.size // 2
    cell = _first_wet(wall, walls, row)
    front.cell = -1
    at_fire, at_air = cell == n - 1 + wall, cell == wall * (row.size - 1)
    if cell < 0 or not row[cell].boils or (at_fire and not face.given):
        return
    onward = 1 if wall == 1 else -1
    hot = cell if at_fire else cell - onward
    cold = cell if at_air else cell + onward
    to_fire, to_air = walls[cell].to_fire_w_k, walls[cell].to_air_w_k
    beyond_hot = 0.0 if at_fire else 1.0 / walls[hot].to_air_w_k
    beyond_cold = 1.0 / walls[cold].to_fire_w_k
    hot_c = face.face_c if at_fire else row[hot].start_c
    water = row[cell].water_kg
    full = max(walls[cell].full_kg_m3 * walls[cell].volume_m3, water)
    share = max(1.0 - water / full, _LEAST_SHARE)
    # By what the front gets now is foretold how far it comes.
    comes_w = (hot_c - front.tau_c) / (beyond_hot + 2.0 * share / to_fire)
    comes_w -= (front.tau_c - row[cold].start_c) / (beyond_cold + 2.0 * (1.0 - share) / to_air)
    comes_kg = comes_w * seconds / row[n - 1 + wall].latent_j_kg
    share += 0.5 * min(max(comes_kg, 0.0), water) / full
    share = min(max(share, _LEAST_SHARE), 1.0)
    dry, moist = 2.0 * share / to_fire, 2.0 * (1.0 - share) / to_air
    into, out = 1.0 / (beyond_hot + dry), 1.0 / (beyond_cold + moist)
    front.cell, front.hot, front.cold, front.share = cell, hot, cold, share
    front.hot_weight = 0.5 * share * dry * into
    front.cold_weight = front.cold_gain = 0.0
    one = row[cell]
    if at_fire:
        front.hot_gain = into - to_fire
        one.into += front.hot_gain * face.face_c
    else:
        between = min(cell, hot)
        front.hot_gain = into - walls[between].bridge_w_k
        row[hot].own += front.hot_gain
        row[between].next -= front.hot_gain
    if not at_air:
        between = min(cell, cold)
        front.cold_weight = 0.5 * (1.0 - share) * moist * out
        front.cold_gain = out - walls[between].bridge_w_k
        row[cold].own += front.cold_gain
        row[between].next -= front.cold_gain
    one.own += front.hot_gain + front.cold_gain


@compiled
def _hold(walls: Records, row: Records, fronts: Records, scale: Record) -> None:
    """The system of a round with its boiling cells held: the first answer with the right side as
    it is and them at their boiling points, the others with none and the shell's at 1.

    What held cells give their neighbours moves over, so that the matrix stays symmetric.
    """
    n = row.size // 2
    for cell in range(row.size):
        one = row[cell]
        one.pivot, one.link, one.base_c = one.own, one.next, one.into
        one.by_crown = one.by_side = 0.0
    for held in range(row.size):
        if not row[held].boils:
            continue
        shell = walls[held].shell
        at_c = fronts[held // n].tau_c if shell else scale.first_c
        for beside in (held - 1, held + 1):
            if 0 <= beside < row.size:
                between, gets = row[min(held, beside)], row[beside]
                gets.base_c -= between.next * at_c
                if shell and held < n:
                    gets.by_crown -= between.next
                elif shell:
                    gets.by_side -= between.next
                between.link = 0.0
    for held in range(row.size):
        one = row[held]
        if one.boils:
            shell = walls[held].shell
            one.pivot = 1.0
            one.base_c = fronts[held // n].tau_c if shell else scale.first_c
            one.by_crown = 1.0 if shell and held < n else 0.0
            one.by_side = 1.0 if shell and held >= n else 0.0


@compiled
def _take(faces: Records, row: Records, fronts: Records) -> None:
    """The heat that holding takes from every boiling cell, by each of the answers."""
    for held in range(row.size):
        one = row[held]
        if not one.boils:
            continue
        one.heat_w = one.into - one.own * one.base_c
        one.heat_by_crown, one.heat_by_side = -one.own * one.by_crown, -one.own * one.by_side
        for beside in (held - 1, held + 1):
            if 0 <= beside < row.size:
                link, other = row[min(held, beside)].next, row[beside]
                one.heat_w -= link * other.base_c
                one.heat_by_crown -= link * other.by_crown
                one.heat_by_side -= link * other.by_side
    for wall in range(2):
        front = fronts[wall]
        if front.cell >= 0:
            # A front's cell stores heat by its mean, not by its node.
            one, hot, cold = row[front.cell], row[front.hot], row[front.cold]
            at_fire = front.hot == front.cell
            before_c = faces[wall].face_c if at_fire else hot.base_c
            by_crown = 0.0 if at_fire else hot.by_crown
            by_side = 0.0 if at_fire else hot.by_side
            one.heat_w -= one.inertia_w_k * _apart(front, before_c, one.base_c, cold.base_c)
            one.heat_by_crown -= one.inertia_w_k * _apart(
                front, by_crown, one.by_crown, cold.by_crown
            )
            one.heat_by_side -= one.inertia_w_k * _apart(front, by_side, one.by_side, cold.by_side)


@compiled
def _apart(front: Record, hot: float, node: float, cold: float) -> float:
    """By how much the mean of a front's cell lies over its node."""
    return float(front.hot_weight * (hot - node) + front.cold_weight * (cold - node))


@compiled
def _rise(faces: Records, fronts: Records, steam: Records, scale: Record) -> None:
    """The boiling points at which the crust lets the steam through that the cells then give."""
    drag, steep, ended_c = np.zeros(2), np.zeros(2), np.zeros(2)
    for wall in range(2):
        fronts[wall].guess_c = fronts[wall].tau_c
    for count in range(_NEWTON_ROUNDS):
        crown_k = fronts[0].tau_c - fronts[0].guess_c
        side_k = fronts[1].tau_c - fronts[1].guess_c
        furthest_k = 0.0
        for wall in range(2):
            front = fronts[wall]
            tau_c, place = front.tau_c, (front.tau_c - scale.first_c) * scale.per_c
            if count < 3:
                crust_c = 0.5 * (max(faces[wall].face_c, tau_c) + tau_c)
                drag[wall] = _at(steam["drag_pa2_s_m2"], crust_c * scale.per_crust_c)
                steep[wall] = _at(steam["steep"], place)
            flow = front.total + front.by_crown * crown_k + front.by_side * side_k
            square = np.exp(2.0 * _at(steam["log_pa"], place))
            miss, slope = square - scale.atmosphere_pa**2, square * steep[wall]
            if flow > 0.0:
                miss -= drag[wall] * flow
                slope -= drag[wall] * (front.by_crown if wall == 0 else front.by_side)
            ended_c[wall] = min(max(tau_c - miss / slope, scale.first_c), scale.last_c)
            furthest_k = max(furthest_k, abs(ended_c[wall] - tau_c))
        for wall in range(2):
            fronts[wall].tau_c = ended_c[wall]
        if furthest_k < _NEAR_K:
            break


@compiled
def _end(
    walls: Records,
    faces: Records,
    row: Records,
    fronts: Records,
    steam: Records,
    scale: Record,
    crossed: Records,
) -> None:
    """How a member ends: mean temperatures and water left in its row, and what crossed."""
    n = row.size // 2
    for wall in range(2):
        front, face, out = fronts[wall], faces[wall], crossed[wall]
        log_pa = _at(steam["log_pa"], (front.tau_c - scale.first_c) * scale.per_c)
        out.pressure_pa = max(np.exp(log_pa), front.outside_pa)
        hot = row[n - 1 + wall]
        inward = face.inner_w_k + (front.hot_gain if front.cell == n - 1 + wall else 0.0)
        out.node_c = hot.base_c
        out.heat_in_w = inward * (face.to_c - hot.base_c) + face.into_w
    for wall in range(2):
        front = fronts[wall]
        if front.cell >= 0:
            one, hot, cold = row[front.cell], row[front.hot], row[front.cold]
            before_c = faces[wall].face_c if front.hot == front.cell else hot.base_c
            front.share = _apart(front, before_c, one.base_c, cold.base_c)
    for wall in range(2):
        if fronts[wall].cell >= 0:
            row[fronts[wall].cell].base_c += fronts[wall].share
    for cell in range(row.size):
        one, volume_m3, out = row[cell], walls[cell].volume_m3, crossed[cell // n]
        left = 0.0 if one.dries else max(one.start_kg_m3 - one.gone_kg / volume_m3, 0.0)
        if left < 1e-9 * one.start_kg_m3:
            left = 0.0
        gone_kg = (one.start_kg_m3 - left) * volume_m3
        # What leaves takes with it the heat that it held as water.
        out.steam_kg += gone_kg
        out.steam_j += gone_kg * (one.latent_j_kg + scale.heat_j_kgk * one.base_c)
        one.start_kg_m3 = left
    for wall in range(2):
        cold_c = row[wall * (row.size - 1)].base_c
        crossed[wall].heat_out_w = faces[wall].outer_w_k * (cold_c - faces[wall].air_c)
