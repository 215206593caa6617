"""What the client makes of a service that loses lines, is none, or fails: never a clean-looking answer."""

import json
from collections.abc import Callable
from io import BytesIO
from pathlib import Path
from typing import Any

import pytest
import requests
from dialset_client import Dialset, NotATable, NotReachable, NotUnderstood, Refused
from dialset_client._transport import TRIES_AGAIN
from dialset_client.command import _shared
from dialset_client.command.main import main
from requests.adapters import BaseAdapter
from rows import every_row
from urllib3.exceptions import ReadTimeoutError

LINES = [{"quantity": f"{number} in", "to": "mm"} for number in range(1, 5)]
HTML = b"<html>a page of a proxy</html>"
STATUS = "line_number,line_status,problem_code,problem_detail,service_edition,question"
HEAD = f"quantity,to,{STATUS},result.result\r\n"


class Sends(BaseAdapter):
    """Answers every request with the same."""

    def __init__(self, status: int, body: bytes, media: str) -> None:
        super().__init__()
        self.status, self.body, self.media = status, body, media

    def send(self, request: requests.PreparedRequest, *_: Any, **__: Any) -> requests.Response:
        answer = requests.Response()
        answer.status_code, answer.reason, answer.raw = self.status, "Some Reason", BytesIO(self.body)
        answer.headers["Content-Type"] = self.media
        return answer

    def close(self) -> None:
        pass


def shop_that(status: int, body: bytes, media: str = "application/json") -> Dialset:
    session = requests.Session()
    session.mount("http://", Sends(status, body, media))
    return Dialset("http://shop", session=session)


def listed(*numbers: Any) -> bytes:
    lines = [{"line_number": number, "line_status": "answered", "problem_code": None} for number in numbers]
    return json.dumps({"lines": lines}).encode()


def table(*numbers: Any) -> bytes:
    return (HEAD + "".join(f"1 in,mm,{number},answered,,,e1,q1,25.4\r\n" for number in numbers)).encode()


NOT_ALL = [(), (1, 2, 3), (1, 2, 3, 4, 5), (1, 3, 2, 4), (1, 2, 2, 4), (2, 3, 4, 5), (1, 2, 3, "x")]


@pytest.mark.parametrize("numbers", NOT_ALL)
def test_lines_that_do_not_all_come_back(numbers: tuple[Any, ...]) -> None:
    with pytest.raises(NotUnderstood, match="4 lines were sent"):
        list(shop_that(200, listed(*numbers)).batch("conversion", LINES))


@pytest.mark.parametrize("numbers", NOT_ALL)
def test_rows_that_do_not_all_come_back_leave_no_file(numbers: tuple[Any, ...], tmp_path: Path) -> None:
    source, target = tmp_path / "in.csv", tmp_path / "out.csv"
    source.write_text("quantity,to\n" + "1 in,mm\n" * 4, "utf-8")
    target.write_text("older answers", "utf-8")
    with pytest.raises(NotUnderstood, match="4 lines were sent"):
        shop_that(200, table(*numbers), "text/csv").batch_file("conversion", source, target)
    assert target.read_text("utf-8") == "older answers"
    assert sorted(path.name for path in tmp_path.iterdir()) == ["in.csv", "out.csv"]


def test_all_that_come_back_are_taken(tmp_path: Path) -> None:
    """The checks above do not refuse what is right."""
    assert len(list(shop_that(200, listed(1, 2, 3, 4)).batch("conversion", LINES))) == 4
    source, target = tmp_path / "in.csv", tmp_path / "out.csv"
    source.write_text("quantity,to\n" + "1 in,mm\n" * 4 + "\n,\n", "utf-8")
    assert shop_that(200, table(1, 2, 3, 4), "text/csv").batch_file("conversion", source, target).lines == 4


ASKING: dict[str, Callable[[Dialset], Any]] = {
    "one question": lambda shop: shop.conversion(quantity="1 in", to="mm"),
    "in words": lambda shop: shop.in_words("conversion", {"quantity": "1 in", "to": "mm"}),
    "a batch": lambda shop: list(shop.batch("conversion", LINES)),
    "a listing": lambda shop: shop.machines(),
    "the state": lambda shop: shop.ready(),
}


@every_row("ask", ASKING.values(), ids=ASKING)
@every_row(
    ("status", "body"),
    [
        (200, HTML),
        (200, b"[]"),
        (200, b"null"),
        (200, b""),
        (502, HTML),
        (404, HTML),
        (500, b"{}"),
        (503, b"[1]"),
    ],
)
def test_what_is_no_answer_of_the_service(ask: Callable[[Dialset], Any], status: int, body: bytes) -> None:
    with pytest.raises(NotUnderstood if status == 200 else NotReachable):
        ask(shop_that(status, body, "text/html"))


@pytest.mark.parametrize("errors", [None, [], [1, "x"], [{}], {"a": 1}])
def test_a_problem_document_of_any_shape_is_a_refusal(errors: Any) -> None:
    body = json.dumps({"status": 422, "code": "bare_number", "detail": "no unit", "errors": errors or []})
    with pytest.raises(Refused, match="bare_number"):
        shop_that(422, body.encode()).conversion(quantity="1", to="mm")


@pytest.mark.parametrize(
    ("status", "body", "command", "code"),
    [
        (422, b'{"code": "bare_number", "status": 422}', ["ask", "conversion", "quantity=1"], 1),
        (422, b'{"code": "column_in_doubt", "status": 422}', ["batch", "in.csv", "out.csv"], 2),
        (500, b'{"code": "internal_error", "status": 500}', ["ask", "conversion", "quantity=1"], 3),
        (502, HTML, ["ask", "conversion", "quantity=1"], 3),
        (502, HTML, ["batch", "in.csv", "out.csv"], 3),
        (200, HTML, ["ask", "conversion", "quantity=1"], 3),
        (200, b"a,b\r\n1,2\r\n", ["batch", "in.csv", "out.csv"], 3),
    ],
)
def test_exit_codes(
    status: int, body: bytes, command: list[str], code: int, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    Path("in.csv").write_text("quantity,to\n1 in,mm\n", "utf-8")
    monkeypatch.setattr(_shared, "shop_of", lambda _: shop_that(status, body))
    assert main(command) == code
    assert not Path("out.csv").exists()


@pytest.mark.parametrize("window", [0, -1])
def test_a_window_without_lines_is_refused(window: int, tmp_path: Path) -> None:
    with pytest.raises(ValueError, match="at least 1"):
        list(shop_that(200, listed()).batch("conversion", LINES, window=window))
    with pytest.raises(ValueError, match="at least 1"):
        shop_that(200, table(), "text/csv").batch_file("conversion", "a", tmp_path / "b", window=window)


@pytest.mark.parametrize(
    ("source", "target"),
    [("in.csv", "in.csv"), ("out.csv.part", "out.csv.part"), ("out.csv.part", "out.csv")],
)
@pytest.mark.parametrize("go_on", [False, True])
def test_the_questions_are_never_replaced(tmp_path: Path, source: str, target: str, go_on: bool) -> None:
    questions = tmp_path / source
    questions.write_text("quantity,to\n1 in,mm\n", "utf-8")
    with pytest.raises(ValueError, match="replace the questions"):
        shop_that(200, table(1), "text/csv").batch_file(
            "conversion", questions, tmp_path / target, go_on=go_on
        )
    assert questions.read_text("utf-8") == "quantity,to\n1 in,mm\n"
    assert [path.name for path in tmp_path.iterdir()] == [source]


def test_a_target_that_is_no_file_is_left_alone(tmp_path: Path) -> None:
    source, kept = tmp_path / "in.csv", tmp_path / "kept"
    source.write_text("quantity,to\n1 in,mm\n", "utf-8")
    kept.write_text("kept", "utf-8")
    link, folder = tmp_path / "link.csv", tmp_path / "folder"
    link.symlink_to(kept)
    folder.mkdir()
    (tmp_path / "a.csv.part").symlink_to(kept)
    (tmp_path / "b.csv.part").mkdir()
    for target in (link, folder, tmp_path / "a.csv", tmp_path / "b.csv"):
        with pytest.raises(ValueError, match="no regular file"):
            shop_that(200, table(1), "text/csv").batch_file("conversion", source, target)
    assert link.is_symlink()
    assert kept.read_text("utf-8") == "kept"


def test_too_many_empty_rows_are_told_and_not_gathered(tmp_path: Path) -> None:
    source = tmp_path / "in.csv"
    source.write_text("quantity,to\n1 in,mm\n" + "\n" * 6000 + "1 in,mm\n", "utf-8")
    with pytest.raises(NotATable, match="empty rows"):
        shop_that(200, table(1), "text/csv").batch_file("conversion", source, tmp_path / "out.csv")


def test_an_answer_that_takes_too_long_is_not_asked_for_again() -> None:
    late = ReadTimeoutError(None, "/", "late")  # type: ignore[arg-type]
    with pytest.raises(ReadTimeoutError):
        TRIES_AGAIN.increment("POST", "/", error=late)
    assert TRIES_AGAIN.increment("POST", "/", error=ConnectionError()).total == 3
    assert TRIES_AGAIN.respect_retry_after_header is False


def test_a_batch_may_take_longer_than_a_question() -> None:
    seen: list[float] = []

    class Notes(Sends):
        def send(self, request: requests.PreparedRequest, *_: Any, **options: Any) -> requests.Response:
            seen.append(options["timeout"])
            return super().send(request)

    session = requests.Session()
    session.mount("http://", Notes(200, listed(*range(1, 1001)), "application/json"))
    shop = Dialset("http://shop", session=session)
    list(shop.batch("conversion", [LINES[0]] * 1000))
    assert seen == [50.0]


@pytest.mark.parametrize("address", ["127.0.0.1:8000", "shop", "", "ftp://shop"])
def test_an_address_names_http(address: str) -> None:
    with pytest.raises(ValueError, match="write http://host:port"):
        Dialset(address)


def test_a_question_that_is_no_json() -> None:
    with pytest.raises(ValueError, match="cannot be sent as JSON"):
        shop_that(200, b"{}").torque_rotary_shouldered(
            connection="NC50",
            component="drill_collar",
            box_outside_diameter={"value": float("nan"), "unit": "in"},
            pin_bore="2 in",
        )
