"""The built wheel holds what is no Python file, and runs where nothing of the source is."""

import os
import subprocess
import sys
import zipfile
from collections.abc import Mapping
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
WANTED = (
    "storage/migrations/versions/0001_first_tables.py",
    "storage/migrations/env.py",
    "storage/migrations/script.py.mako",
    "scheduling/oven/presets.toml",
)


def told(*order: object, cwd: Path, env: Mapping[str, str] | None = None) -> str:
    done = subprocess.run(
        [str(part) for part in order], capture_output=True, text=True, check=False, cwd=cwd,
        env={**os.environ, **(env or {})},
    )  # fmt: skip
    assert done.returncode == 0, done.stdout + done.stderr
    return done.stdout


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    to = tmp_path_factory.mktemp("dist")
    told(sys.executable, "-m", "pip", "wheel", "-q", "--no-deps", "-w", to, ROOT, cwd=to)
    return next(to.glob("stokewatch-*.whl"))


@pytest.mark.slow
@pytest.mark.timeout(900)
def test_the_wheel_holds_everything_and_nothing_else(wheel: Path) -> None:
    names = set(zipfile.ZipFile(wheel).namelist())
    assert set(WANTED) <= names
    plain = {
        path.relative_to(ROOT).as_posix()
        for package in ("bot", "scheduling", "storage")
        for path in (ROOT / package).rglob("*")
        if path.is_file() and "__pycache__" not in path.parts
    }
    assert plain <= names
    assert {name.partition("/")[0] for name in names if ".dist-info" not in name} == {
        "bot",
        "scheduling",
        "storage",
    }


@pytest.mark.slow
@pytest.mark.timeout(900)
def test_the_installed_wheel_checks_itself(wheel: Path, tmp_path: Path) -> None:
    told(sys.executable, "-m", "venv", tmp_path / "venv", cwd=tmp_path)
    python = tmp_path / "venv" / "bin" / "python"
    told(python, "-m", "pip", "install", "-q", wheel, cwd=tmp_path)
    plain = {"STOKEWATCH_DATABASE_URL": f"sqlite:///{tmp_path / 'house.sqlite'}", "PYTHONPATH": ""}
    found = told(python.with_name("stokewatch"), "check", cwd=tmp_path, env=plain)
    assert "FAULT" not in found
    assert "settings" in found
