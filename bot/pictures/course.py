"""From a plan to what its picture shows."""

from datetime import timedelta
from itertools import accumulate
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
        # The wall is known at the middle of its cells; its faces are drawn with what lies nearest.
        depth_mm=np.array([0.0, *plan.course.depth_mm, make_up.thickness_mm]),
        wall_c=np.array([(one.surface_c[1], *one.wall_c, one.wall_c[-1]) for one in moments]),
        surface_c=np.array([moment.surface_c[1] for moment in moments]),
        water_l=np.array([(one.water_l.low, one.water_l.mid, one.water_l.high) for one in moments]),
        layers=_bands(make_up),
    )


def _bands(make_up: MakeUp) -> tuple[WallBand, ...]:
    """Layers by what they are for; by their material where several serve the same end."""
    kinds = [layer.kind for layer in make_up.layers]
    ends_mm = accumulate(layer.thickness_mm for layer in make_up.layers)
    return tuple(
        WallBand(layer.kind if kinds.count(layer.kind) == 1 else layer.material, end_mm)
        for layer, end_mm in zip(make_up.layers, ends_mm, strict=True)
    )
