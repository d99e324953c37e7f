"""Settings: what is wrong is said, what is secret is not."""

from pathlib import Path

import pytest

from bot.settings import Settings, SettingsError, read_settings

TOKEN = "4711:AAtest-token_that-is-long-enough-0123"


@pytest.fixture(autouse=True)
def _bare_environment(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.chdir(tmp_path)
    for name in Settings.model_fields:
        monkeypatch.delenv(f"STOKEWATCH_{name.upper()}", raising=False)


def test_without_any_settings_the_terminal_and_a_file_beside_it_are_used() -> None:
    settings = read_settings()
    assert settings.token is None
    assert settings.database_url.startswith("sqlite+aiosqlite:///")
    assert settings.pace == 1.0
    assert settings.quiet() == (22.0, 7.0)


def test_settings_come_from_a_file_and_the_environment_goes_first(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    (tmp_path / ".env").write_text(f"STOKEWATCH_TOKEN={TOKEN}\nSTOKEWATCH_LOG_LEVEL=debug\n")
    monkeypatch.setenv("STOKEWATCH_LOG_LEVEL", "warning")
    settings = read_settings()
    assert settings.token is not None
    assert settings.token.get_secret_value() == TOKEN
    assert settings.log_level == "WARNING"


@pytest.mark.parametrize(
    ("name", "value", "said"),
    [
        ("token", "not-a-token", "copy it whole from BotFather"),
        ("database_url", "mysql://somewhere", "use sqlite+aiosqlite:///FILE"),
        ("pace", "0", "greater than 0"),
        ("quiet_hours", "late", "write them like 22-7"),
        ("log_level", "loud", "'DEBUG', 'INFO'"),
        ("health_port", "99999", "less than or equal to 65535"),
        ("webhook_secret", "short", "16 to 256"),
        ("telegram_url", "nowhere", "URL"),
    ],
)
def test_each_fault_gets_a_sentence_that_names_its_setting(
    monkeypatch: pytest.MonkeyPatch, name: str, value: str, said: str
) -> None:
    monkeypatch.setenv(f"STOKEWATCH_{name.upper()}", value)
    with pytest.raises(SettingsError) as fault:
        read_settings()
    assert f"STOKEWATCH_{name.upper()}" in str(fault.value)
    assert said in str(fault.value)


def test_all_faults_are_said_at_once(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("STOKEWATCH_PACE", "-1")
    monkeypatch.setenv("STOKEWATCH_QUIET_HOURS", "never")
    with pytest.raises(SettingsError) as fault:
        read_settings()
    assert len(fault.value.sentences) == 2


def test_a_webhook_without_a_secret_is_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("STOKEWATCH_WEBHOOK_URL", "https://bot.example.org")
    with pytest.raises(SettingsError, match="STOKEWATCH_WEBHOOK_SECRET is missing"):
        read_settings()


def test_a_real_bot_runs_at_the_pace_of_real_fires(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("STOKEWATCH_TOKEN", TOKEN)
    monkeypatch.setenv("STOKEWATCH_PACE", "60")
    with pytest.raises(SettingsError, match="real fires burn at pace 1"):
        read_settings()


def test_secrets_are_never_shown(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("STOKEWATCH_TOKEN", TOKEN)
    monkeypatch.setenv("STOKEWATCH_DATABASE_URL", "postgresql+psycopg://ana:hush@db/oven")
    settings = read_settings()
    assert TOKEN not in f"{settings!r} {settings} {settings.model_dump_json()}"
    assert settings.shown_database == "postgresql+psycopg://ana:***@db/oven"
    monkeypatch.setenv("STOKEWATCH_TOKEN", TOKEN + " and more")
    with pytest.raises(SettingsError) as fault:
        read_settings()
    assert TOKEN not in str(fault.value)


@pytest.mark.parametrize(
    ("told", "hours"),
    [("21:30-6:45", (21.5, 6.75)), ("none", None), ("0–8", (0.0, 8.0))],
)
def test_quiet_hours_are_read(told: str, hours: tuple[float, float] | None) -> None:
    assert read_settings(quiet_hours=told).quiet() == hours
