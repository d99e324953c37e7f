"""``stokewatch check`` from the command line: what it tells, and its exit code."""

from pathlib import Path

import pytest
from typer.testing import CliRunner

from bot.__main__ import app_for

CHECK = ["check"]


def checked(monkeypatch: pytest.MonkeyPatch, folder: Path, **told: str) -> tuple[int, str]:
    monkeypatch.chdir(folder)
    for name, value in told.items():
        monkeypatch.setenv(f"STOKEWATCH_{name.upper()}", value)
    done = CliRunner().invoke(app_for(CHECK), CHECK)
    return done.exit_code, done.output


def test_where_all_is_well_the_exit_code_is_0(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    code, told = checked(monkeypatch, tmp_path)
    assert (code, "FAULT" in told) == (0, False)
    assert "backups" in told


def test_a_fault_is_told_with_what_to_do_and_the_exit_code_is_1(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    (tmp_path / "taken").write_text("a file")
    code, told = checked(monkeypatch, tmp_path, backup_folder=str(tmp_path / "taken"))
    assert code == 1
    assert "Let the user that runs stokewatch write" in told


def test_settings_that_cannot_be_used_are_a_fault_and_no_secret_is_shown(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    code, told = checked(monkeypatch, tmp_path, token="half-a-token-and-secret")
    assert code == 1
    assert "BotFather" in told
    assert "half-a-token" not in told
