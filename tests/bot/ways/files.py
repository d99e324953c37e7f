"""Files of own ways to try things with."""

FULL = """\
reason = "our castable is dense"

[limits]
climb_low_k_h = 80
stoke_min_minutes = 40
cure_floor_d = 28
final_c = 380

[words]
greeting = "Welcome from all of us at the yard."
cautions = ["Keep the dog inside.", "The flue cap comes off first."]

[checklist]
before = ["Sheet off and folded"]
after = ["Sheet back on once cold"]

[materials.own-castable]
label = "yard castable"
density_kg_m3 = 2150
conductivity_w_mk = 1.0
heat_capacity_j_kgk = 1000
permeability_m2 = 1e-16
uptake_kg_m2_h05 = 4.0
sources.density_kg_m3 = "weighed at the yard"

[presets.our-mix]
title = "Our own mix"
told = "The heavy mix that we cast at the yard, blanket and render over it."
cement_class = "N"
characteristic_strength_mpa = 12
sources.characteristic_strength_mpa = "three cubes, crushed"
layers = [
    { kind = "shell", material = "own-castable", thickness_mm = 90, free_water_kg_m3 = 60 },
    { kind = "insulation", material = "ceramic-blanket", thickness_mm = 50, free_water_kg_m3 = 0 },
    { kind = "render", material = "render", thickness_mm = 40, free_water_kg_m3 = 60 },
]
"""

WORDY = '[words]\ncautions = ["a", "b", "c", "d", "e", "f", "g"]\n'
