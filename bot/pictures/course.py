"""From a plan to what its picture shows."""

from datetime import timedelta
from zoneinfo import ZoneInfo

import numpy as np

from bot.pictures.breakin import PlanCourse, PlannedFire, WallBand
from scheduling.breakin.plan import Plan
from scheduling.breakin.planner import EMBERS_H
from scheduling.oven.makeup import MakeUp


def course_of(plan: Plan, make_up: MakeUp, zone: ZoneInfo) -> PlanCourse | None:
    """The expected course in the oven's own time; None where the plan has no fire to show.

    Raises ValueError for a plan that was made without its course.
    """
    if not plan.firings:
        return None
    if plan.course is None:
        raise ValueError("the plan was made without its course")
    moments = plan.course.moments
    return PlanCourse(
        oven=make_up.name,
        fires=tuple(
            PlannedFire(
                firing.number,
                firing.start.astimezone(zone),
                (firing.end + timedelta(hours=EMBERS_H)).astimezone(zone),
                firing.plateau_c,
            )
            for firing in plan.firings
        ),
        at=tuple(moment.at.astimezone(zone) for moment in moments),
        depth_mm=np.array(plan.course.depth_mm),
        wall_c=np.array([moment.wall_c for moment in moments]),
        surface_c=np.array([moment.surface_c[1] for moment in moments]),
        water_l=np.array([(one.water_l.low, one.water_l.mid, one.water_l.high) for one in moments]),
        layers=_bands(make_up),
    )


def _bands(make_up: MakeUp) -> tuple[WallBand, ...]:
    bands: list[WallBand] = []
    outer_mm = 0.0
    for layer in make_up.layers:
        outer_mm += layer.thickness_mm
        bands.append(WallBand(layer.material, outer_mm))
    return tuple(bands)
