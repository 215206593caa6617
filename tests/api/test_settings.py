"""Settings from the environment: read, or the service does not start."""

from pathlib import Path

import pytest

from api.app import create_app
from api.settings import BadSetting, Settings, from_environment, read_key


def test_nothing_set_is_the_default() -> None:
    assert from_environment({}) == Settings()


def test_all_set(tmp_path: Path) -> None:
    (tmp_path / "tables").mkdir()
    (tmp_path / "policy.json").write_text("{}")
    (tmp_path / "key").write_text("a key")
    settings = from_environment(
        {
            "DIALSET_UNITS": "metric",
            "DIALSET_MACHINES": str(tmp_path),
            "DIALSET_TABLES": str(tmp_path / "tables"),
            "DIALSET_LARGEST_BODY": "2048",
            "DIALSET_LARGEST_BATCH": "4096",
            "DIALSET_MOST_LINES": "7",
            "DIALSET_POLICY": str(tmp_path / "policy.json"),
            "DIALSET_RECEIPT_KEY_FILE": str(tmp_path / "key"),
        }
    )
    files = tmp_path / "tables", tmp_path / "policy.json", tmp_path / "key"
    assert settings == Settings("metric", tmp_path, 2048, 4096, 7, *files)


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
        ("DIALSET_RECEIPT_KEY_FILE", "/no/such/file"),
        ("DIALSET_RECEIPT_KEY_FILE", "/"),
    ],
)
def test_bad_setting_names_variable_and_value(name: str, value: str) -> None:
    with pytest.raises(BadSetting) as refusal:
        from_environment({name: value})
    assert name in str(refusal.value)
    assert value in str(refusal.value)


def test_a_key_is_what_its_file_holds_without_blanks_around_it(tmp_path: Path) -> None:
    (tmp_path / "key").write_bytes(b"  \x00\xffa key\r\n")
    assert read_key(tmp_path / "key") == b"\x00\xffa key"
    assert read_key(None) is None


@pytest.mark.parametrize("content", [None, b"", b" \r\n"])
def test_a_file_without_a_key_stops_the_start(tmp_path: Path, content: bytes | None) -> None:
    """Answers without a seal, where the shop counts on one, would be found too late."""
    file = tmp_path / "key"
    if content is not None:
        file.write_bytes(content)
    with pytest.raises(BadSetting, match=str(file)):
        create_app(Settings(receipt_key_file=file))


def test_a_key_is_shown_nowhere(tmp_path: Path) -> None:
    (tmp_path / "key").write_text("of this shop alone")
    app = create_app(Settings(receipt_key_file=tmp_path / "key"))
    service = app.extensions["dialset"]
    assert "of this shop alone" not in repr(service)
    assert service.shop.edition == create_app(Settings()).extensions["dialset"].shop.edition
