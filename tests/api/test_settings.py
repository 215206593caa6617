"""Settings from the environment: read, or the service does not start."""

from pathlib import Path

import pytest

from api.settings import BadSetting, Settings, from_environment


def test_nothing_set_is_the_default() -> None:
    assert from_environment({}) == Settings()


def test_all_set(tmp_path: Path) -> None:
    (tmp_path / "tables").mkdir()
    (tmp_path / "policy.json").write_text("{}")
    settings = from_environment(
        {
            "DIALSET_UNITS": "metric",
            "DIALSET_MACHINES": str(tmp_path),
            "DIALSET_TABLES": str(tmp_path / "tables"),
            "DIALSET_LARGEST_BODY": "2048",
            "DIALSET_LARGEST_BATCH": "4096",
            "DIALSET_MOST_LINES": "7",
            "DIALSET_POLICY": str(tmp_path / "policy.json"),
        }
    )
    folders = tmp_path / "tables", tmp_path / "policy.json"
    assert settings == Settings("metric", tmp_path, 2048, 4096, 7, *folders)


@pytest.mark.parametrize(
    ("name", "value"),
    [
        ("DIALSET_UNITS", "imperial"),
        ("DIALSET_MACHINES", "/no/such/folder"),
        ("DIALSET_TABLES", "/no/such/folder"),
        ("DIALSET_LARGEST_BODY", "0"),
        ("DIALSET_LARGEST_BODY", "1e6"),
        ("DIALSET_LARGEST_BODY", "-5"),
        ("DIALSET_LARGEST_BODY", "٣٣٣٣"),
        ("DIALSET_MOST_LINES", "100001"),
        ("DIALSET_POLICY", "/no/such/file"),
        ("DIALSET_POLICY", "/"),
    ],
)
def test_bad_setting_names_variable_and_value(name: str, value: str) -> None:
    with pytest.raises(BadSetting) as refusal:
        from_environment({name: value})
    assert name in str(refusal.value)
    assert value in str(refusal.value)
