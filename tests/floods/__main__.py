"""Floods at their whole size, as a table: python -m tests.floods [small] [NAME ...]"""

import asyncio
import sys
import tempfile
from pathlib import Path
from statistics import median

from tests.floods.flood import Size, trial


async def main(size: Size, only: list[str]) -> None:
    with tempfile.TemporaryDirectory(prefix="floods-") as folder:
        async for told in trial(Path(folder), size, only):
            of_quiet = median(told.answers) / median(told.quiet)
            of_rest = told.rss_mb / told.rest_mb
            print(f"{told}  ×{of_quiet:4.2f} of quiet, memory ×{of_rest:4.2f}", flush=True)


if __name__ == "__main__":
    names = [one for one in sys.argv[1:] if one != "small"]
    asyncio.run(main(Size.small() if "small" in sys.argv[1:] else Size(), names))
