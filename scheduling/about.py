"""What the set-up asks of an oven and its people."""

from enum import StrEnum


class About(StrEnum):
    """What the set-up asks, with the notation of its answer.

    Everything is text, as it would be written in a file; ``scheduling.firing.answers`` checks it.
    """

    UNITS = "units"  # C or F
    PLACE = "place"  # latitude,longitude,zone,name
    CONSTRUCTION = "construction"  # key of a preset
    WET_WORK = "wet_work"  # ISO date
    SIZE = "size"  # inner diameter in mm, or unknown
    THICKNESS = "thickness"  # shell in mm, or unknown
    STANDS = "stands"  # sky, slats, roof or indoors; with +beside, +sheet
    COVER = "cover"  # open, sheet, roof: asked of ovens before STANDS was
    OPENINGS = "openings"  # the door (none, plain, insulated) and +flue or +no_flue
    DOOR = "door"  # none, plain, insulated: asked of ovens before OPENINGS was
    SHELTER = "shelter"  # exposed, part, sheltered
    INSTRUMENT = "instrument"  # its highest °C, none, or unknown
    DAYS = "days"  # weekday digits 0 to 6, Monday 0: 0123456 for any day, 56 for weekends
    HOURS = "hours"  # 9-18, local
    SECOND = "second"  # none, or invite
