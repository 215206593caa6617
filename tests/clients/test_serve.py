"""What ``dialset serve`` says before it becomes gunicorn, and where it does not start at all."""

import os
import socket
from collections.abc import Iterator

import pytest
from dialset_client.command.main import main
from raw_http import free_port

from api import serving


@pytest.fixture
def started(monkeypatch: pytest.MonkeyPatch) -> list[list[str]]:
    """The commands that would have taken the place of this process."""
    commands: list[list[str]] = []

    def execv(_: str, command: list[str]) -> None:
        commands.append(command)
        raise SystemExit

    monkeypatch.setattr(os, "execv", execv)
    return commands


@pytest.fixture
def taken() -> Iterator[int]:
    """A port on which another program listens."""
    with socket.create_server(("127.0.0.1", 0)) as listener:
        yield int(listener.getsockname()[1])


def test_it_says_its_address_its_page_and_how_to_stop_it(
    started: list[list[str]], monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    address = f"127.0.0.1:{free_port()}"
    monkeypatch.setattr(serving, "bind", address)
    with pytest.raises(SystemExit):
        main(["serve"])
    assert capsys.readouterr().out == (
        f"Dialset starts on http://{address}. To stop it, press Ctrl-C here.\n"
        f"Questions to try, in a browser: http://{address}/docs\n"
    )
    assert started[0][-2:] == ["--bind", address]


def test_every_address_is_said_to_be_that(
    started: list[list[str]], capsys: pytest.CaptureFixture[str]
) -> None:
    port = free_port()
    with pytest.raises(SystemExit):
        main(["serve", "--address", f"0.0.0.0:{port}"])
    told = capsys.readouterr().out
    assert f"on port {port} of every address of this machine" in told
    assert f" http://127.0.0.1:{port}/docs\n" in told
    assert started[0][-1] == f"0.0.0.0:{port}"


def test_a_socket_of_a_proxy_is_left_to_gunicorn(started: list[list[str]]) -> None:
    with pytest.raises(SystemExit):
        main(["serve", "--address", "unix:/run/dialset.sock"])
    assert started[0][-1] == "unix:/run/dialset.sock"


@pytest.mark.parametrize("host", ["127.0.0.1", "0.0.0.0"])
def test_a_port_that_is_taken_is_3_with_what_to_do(
    host: str, taken: int, started: list[list[str]], capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["serve", "--address", f"{host}:{taken}"]) == 3
    told = capsys.readouterr()
    assert told.out == ""
    (line,) = told.err.splitlines()
    assert line.startswith(f"dialset: port {taken} of {host} is taken by another program")
    other = int(line.rpartition(f"--address {host}:")[2])
    assert other != taken
    assert 1024 <= other <= 65535
    assert started == []


def test_an_address_of_no_machine_is_3(started: list[list[str]], capsys: pytest.CaptureFixture[str]) -> None:
    """192.0.2.1 is for documents only (RFC 5737)."""
    assert main(["serve", "--address", "192.0.2.1:8000"]) == 3
    assert "cannot listen on port 8000 of 192.0.2.1: " in capsys.readouterr().err
    assert started == []


@pytest.mark.parametrize(
    "address", ["8001", ":8001", "127.0.0.1", "127.0.0.1:http", "127.0.0.1:65536", "[::1"]
)
def test_what_is_no_address_is_2(
    address: str, started: list[list[str]], capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["serve", "--address", address]) == 2
    assert f"HOST:PORT, such as 127.0.0.1:8001, and not '{address}'" in capsys.readouterr().err
    assert started == []


def test_where_gunicorn_cannot_run_it_says_where_it_can(
    started: list[list[str]], monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Windows has no ``fcntl``, which gunicorn needs."""
    monkeypatch.setattr("dialset_client.command.serve.find_spec", lambda name: name != "fcntl" or None)
    assert main(["serve"]) == 3
    told = capsys.readouterr().err
    assert "WSL or in a container" in told
    assert "run everywhere" in told
    assert started == []


@pytest.mark.parametrize("workers", ["0", "-1", "65", "99999999", "two"])
def test_a_number_of_processes_that_no_machine_bears_is_refused(
    workers: str, started: list[list[str]], capsys: pytest.CaptureFixture[str]
) -> None:
    with pytest.raises(SystemExit) as stopped:
        main(["serve", f"--workers={workers}"])
    assert stopped.value.code == 2
    assert "1 to 64" in capsys.readouterr().err
    assert started == []
