"""All kills, all kinds of failed send and a full disk, at their whole size, as a report.

python -m tests.outages [small] [kills=N] [seed=N]
"""

import asyncio
import subprocess
import sys
import tempfile
from dataclasses import replace
from pathlib import Path
from statistics import median

from tests.outages.disk import full_disk
from tests.outages.outage import Failed, Killed, Size, failed_sends, killed, met
from tests.outages.tally import Tally


def table(letters: dict[str, Tally]) -> str:
    head = f"  {'kind':8s}" + "".join(f"{name:>10s}" for name in vars(Tally()))
    rows = [
        f"  {kind:8s}" + "".join(f"{count:10d}" for count in vars(one).values())
        for kind, one in letters.items()
    ]
    return "\n".join([head, *rows])


def report(told: Killed) -> None:
    firsts = told.first_words or [0.0]
    print(
        f"{told.kills} kills; {told.said} things said, {told.lost_words} lost, "
        f"{told.doubled_words} doubled; updates {told.updates}\n"
        f"first word after a start: n {len(told.first_words)}, median {median(firsts):.1f} s, "
        f"worst {max(firsts):.1f} s; killed before it: {len(told.cut_short)}, the longest "
        f"after {max(told.cut_short, default=0.0):.1f} s\n"
        f"start to the first overdue nudge {told.nudge_s:.1f} s, of it "
        f"{told.nudge_cpu_s:.1f} s of work; at rest {told.rss_mb:.0f} MB and "
        f"{100 * told.idle_cpu:.1f} % of a core\n" + table(told.letters),
        flush=True,
    )


def report_sends(told: list[Failed]) -> None:
    print("\nevery send failed; seconds after its end to the danger, and to everything")
    total = {kind: Tally() for kind in told[0].letters} if told else {}
    for one in told:
        print(f"  {one.kind:26s} danger {one.danger_s:5.1f}  all {one.all_s:6.1f}")
        for kind, more in one.letters.items():
            for name, count in vars(more).items():
                setattr(total[kind], name, getattr(total[kind], name) + count)
    print(table(total), flush=True)


async def main(size: Size) -> None:
    with tempfile.TemporaryDirectory(prefix="outages-") as folder:
        async with met(Path(folder), size) as bot:
            report(await killed(bot))
    with tempfile.TemporaryDirectory(prefix="outages-") as folder:
        async with met(Path(folder), size) as bot:
            report_sends(await failed_sends(bot))
    with tempfile.TemporaryDirectory(prefix="outages-") as folder:
        try:
            print(f"\nA full disk: {await full_disk(Path(folder), size.outage_s)}")
        except subprocess.CalledProcessError as error:
            print(f"\nNo small disk could be mounted here: {error.stderr.decode().strip()}")


if __name__ == "__main__":
    told = dict(one.split("=") for one in sys.argv[1:] if "=" in one)
    size = Size.small() if "small" in sys.argv[1:] else Size()
    kills, seed = int(told.get("kills", size.kills)), int(told.get("seed", size.seed))
    asyncio.run(main(replace(size, kills=kills, seed=seed)))
