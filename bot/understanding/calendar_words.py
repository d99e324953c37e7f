"""Names of weekdays (Monday 0) and months (January 1), short forms included."""

WEEKDAYS: dict[str, int] = {
    name: number
    for number, names in enumerate(
        (
            "monday mon mondays",
            "tuesday tue tues tuesdays",
            "wednesday wed weds wednesdays",
            "thursday thu thur thurs thursdays",
            "friday fri fridays",
            "saturday sat saturdays",
            "sunday sun sundays",
        )
    )
    for name in names.split()
}
MONTHS: dict[str, int] = {
    name: number
    for number, names in enumerate(
        (
            "january jan",
            "february feb",
            "march mar",
            "april apr",
            "may",
            "june jun",
            "july jul",
            "august aug",
            "september sep sept",
            "october oct",
            "november nov",
            "december dec",
        ),
        start=1,
    )
    for name in names.split()
}
