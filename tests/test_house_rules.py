"""The rules of the house that a program can check: types, style, layers, the top level."""

import subprocess
import sys
from pathlib import Path

import pytest

HOUSE = Path(__file__).parent.parent
TOP_LEVEL = {
    "README.md",
    "DEVELOPERS.md",
    "pyproject.toml",
    "bot",
    "scheduling",
    "storage",
    "tests",
}


def _run(*command: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(command, cwd=HOUSE, capture_output=True, text=True, check=False)


@pytest.mark.timeout(420)
def test_types_are_strict_everywhere() -> None:
    done = _run(sys.executable, "-m", "mypy")
    assert done.returncode == 0, done.stdout + done.stderr


def test_style_is_clean() -> None:
    done = _run(sys.executable, "-m", "ruff", "check", ".")
    assert done.returncode == 0, done.stdout + done.stderr


def test_layout_is_what_the_formatter_makes() -> None:
    done = _run(sys.executable, "-m", "ruff", "format", "--check", ".")
    assert done.returncode == 0, done.stdout + done.stderr


def test_imports_point_inward() -> None:
    lint_imports = Path(sys.executable).with_name("lint-imports")
    done = _run(str(lint_imports))
    assert done.returncode == 0, done.stdout + done.stderr


def test_the_top_level_holds_the_rooms_and_nothing_else() -> None:
    tracked = _run("git", "ls-files").stdout.split()
    if not tracked:
        pytest.skip("not a checkout")
    top = {path.split("/")[0] for path in tracked}
    assert {name for name in top if not name.startswith(".")} <= TOP_LEVEL
