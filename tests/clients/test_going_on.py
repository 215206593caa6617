"""A batch that stops half-way, goes on, or is answered by services that differ: never a mixed or cut file."""

import csv
import io
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
import requests
from dialset_client import Dialset, EditionChanged, NotReachable, Summary
from dialset_client._in_process import ApplicationAdapter
from dialset_client.command import _shared
from dialset_client.command.main import main
from policies import policy_file
from requests.adapters import BaseAdapter

from api.app import create_app
from api.settings import Settings

ONE, OTHER = (
    ApplicationAdapter(create_app(Settings(policy=policy_file(relief_margin=at)))) for at in (0.1, 0.2)
)
LINES = [{"quantity": f"{number} {'psi' if number % 3 == 0 else 'in'}"} for number in range(1, 8)]
QUESTIONS = 'note,quantity\n"one, and\ntwo",1 in\nÄ½,2 in\n,3 psi\n,4 in\n\n,6 psi\n=x,7 in\n'
"""Seven lines: a cell of two lines, letters of two bytes, an empty row, what looks like a formula."""
WINDOW = 2


class Windows(BaseAdapter):
    """Hands each window to the next of these; None is a service that is gone, and so is the end."""

    def __init__(self, *answering: ApplicationAdapter | None) -> None:
        super().__init__()
        self.answering = list(answering)

    def send(self, request: requests.PreparedRequest, *_: Any, **options: Any) -> requests.Response:
        answers = self.answering.pop(0) if self.answering else None
        if answers is None:
            raise requests.ConnectionError("gone")
        return answers.send(request)

    def close(self) -> None:
        pass


def shop_of(*answering: ApplicationAdapter | None) -> Dialset:
    session = requests.Session()
    session.mount("http://", Windows(*answering))
    return Dialset("http://shop", session=session)


@pytest.fixture
def source(tmp_path: Path) -> Path:
    path = tmp_path / "orders.csv"
    path.write_text(QUESTIONS, "utf-8")
    return path


@pytest.fixture
def ask(source: Path) -> Callable[..., Summary]:
    """Asks the file of these services, a window each."""

    def asked(*answering: ApplicationAdapter | None, target: str = "answers.csv", **options: Any) -> Summary:
        given = {"to": "mm", "window": WINDOW, **options}
        return shop_of(*answering).batch_file("conversion", source, source.with_name(target), **given)

    return asked


def rows(path: Path) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(path.read_bytes().decode(), newline="")))


def files(source: Path) -> set[str]:
    return {path.name for path in source.parent.iterdir()}


@pytest.fixture
def whole(ask: Callable[..., Summary], source: Path) -> tuple[bytes, Summary]:
    """The file as it is when nothing stops it, and its summary."""
    summary = ask(ONE, ONE, ONE, ONE, target="whole.csv")
    path = source.with_name("whole.csv")
    text = path.read_bytes()
    path.unlink()
    return text, summary


# one batch, one edition


def test_lines_of_two_editions_are_refused() -> None:
    answers = shop_of(ONE, ONE, OTHER).batch("conversion", LINES, defaults={"to": "mm"}, window=WINDOW)
    given_out = [next(answers)["line_number"] for _ in range(4)]
    with pytest.raises(EditionChanged) as changed:
        next(answers)
    assert given_out == [1, 2, 3, 4]
    one, other = (shop_of(each).edition()["service_edition"] for each in (ONE, OTHER))
    assert (changed.value.before, changed.value.after, changed.value.line) == (one, other, 5)
    for told in (one, other, "line 5"):
        assert told in str(changed.value)


def test_any_edition_will_do_where_that_is_said(ask: Callable[..., Summary], source: Path) -> None:
    answering = (ONE, OTHER, ONE, OTHER)
    lines = shop_of(*answering).batch(
        "conversion", LINES, defaults={"to": "mm"}, window=WINDOW, any_edition=True
    )
    assert [each["line_number"] for each in lines] == [1, 2, 3, 4, 5, 6, 7]
    assert ask(*answering, any_edition=True).lines == 7
    assert files(source) == {"orders.csv", "answers.csv"}


def test_a_file_of_two_editions_is_not_made(ask: Callable[..., Summary], source: Path) -> None:
    source.with_name("answers.csv").write_text("older answers", "utf-8")
    with pytest.raises(EditionChanged) as changed:
        ask(ONE, OTHER)
    assert changed.value.line == 3
    assert source.with_name("answers.csv").read_text("utf-8") == "older answers"


# going on


@pytest.mark.parametrize("windows", [1, 2, 3])
@pytest.mark.parametrize("window", [1, 2, 100])
def test_what_stopped_goes_on_to_the_same_file(
    ask: Callable[..., Summary], source: Path, whole: tuple[bytes, Summary], windows: int, window: int
) -> None:
    with pytest.raises(NotReachable):
        ask(*[ONE] * windows)
    assert files(source) == {"orders.csv", "answers.csv.part"}
    assert len(rows(source.with_name("answers.csv.part"))) == WINDOW * windows
    seen: list[int] = []
    assert ask(*[ONE] * 7, go_on=True, window=window, progress=seen.append) == whole[1]
    assert source.with_name("answers.csv").read_bytes() == whole[0]
    assert files(source) == {"orders.csv", "answers.csv"}
    assert seen[-1] == 7


def test_it_goes_on_wherever_it_was_cut(
    ask: Callable[..., Summary], source: Path, whole: tuple[bytes, Summary]
) -> None:
    """A crash can leave half a row, half a quoted cell or half a letter."""
    part = source.with_name("answers.csv.part")
    for cut in range(0, len(whole[0]) + 1, 7):
        part.write_bytes(whole[0][:cut])
        assert ask(*[ONE] * 4, go_on=True) == whole[1], cut
        assert source.with_name("answers.csv").read_bytes() == whole[0], cut


def test_with_nothing_to_go_on_from_it_begins(
    ask: Callable[..., Summary], source: Path, whole: tuple[bytes, Summary]
) -> None:
    with pytest.raises(NotReachable):
        ask(None, go_on=True)
    assert files(source) == {"orders.csv"}
    assert ask(*[ONE] * 4, go_on=True) == whole[1]


def test_without_saying_so_it_begins_anew(
    ask: Callable[..., Summary], source: Path, whole: tuple[bytes, Summary]
) -> None:
    source.with_name("answers.csv.part").write_bytes(b"anything")
    assert ask(*[ONE] * 4) == whole[1]
    assert source.with_name("answers.csv").read_bytes() == whole[0]


def other_questions(source: Path) -> None:
    source.write_text(QUESTIONS.replace("4 in", "5 in"), "utf-8")


def fewer_questions(source: Path) -> None:
    source.write_text("note,quantity\nx,1 in\n", "utf-8")


def no_answers(source: Path) -> None:
    source.with_name("answers.csv.part").write_text("a,b\n1,2\n", "utf-8")


@pytest.mark.parametrize(
    ("meanwhile", "options", "told"),
    [
        (other_questions, {}, "line 4 .* is not what is asked now"),
        (None, {"to": "cm"}, "line 4 .* is not what is asked now"),
        (None, {"to": "cm", "any_edition": True}, "line 4 .* is not what is asked now"),
        (None, {"units": "metric"}, "line 4 .* is not what is asked now"),  # its fingerprint says so
        (None, {"carry": "note"}, None),
        (fewer_questions, {}, "4 lines, more than are asked"),
        (no_answers, {}, "no file of answers"),
    ],
)
def test_it_never_goes_on_with_another_question(
    ask: Callable[..., Summary],
    source: Path,
    meanwhile: Callable[[Path], None] | None,
    options: dict[str, Any],
    told: str | None,
) -> None:
    with pytest.raises(NotReachable):
        ask(ONE, ONE)
    if meanwhile:
        meanwhile(source)
    part = source.with_name("answers.csv.part")
    before = part.read_bytes()
    if told is None:
        assert ask(*[ONE] * 4, go_on=True, **options).lines == 7
        return
    with pytest.raises(ValueError, match=told):
        ask(*[ONE] * 4, go_on=True, **options)
    assert part.read_bytes() == before


def test_it_goes_on_with_another_edition_only_where_that_is_said(
    ask: Callable[..., Summary], source: Path
) -> None:
    with pytest.raises(NotReachable):
        ask(ONE, ONE)
    with pytest.raises(EditionChanged) as changed:
        ask(*[OTHER] * 4, go_on=True)
    assert changed.value.line == 4
    assert ask(*[OTHER] * 4, go_on=True, any_edition=True).lines == 7
    editions = [row["service_edition"] for row in rows(source.with_name("answers.csv"))]
    assert (len(set(editions[:4])), len(set(editions[4:])), len(set(editions))) == (1, 1, 2)


def test_the_command_says_how_to_go_on(
    source: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    target = source.with_name("answers.csv")
    command = ["batch", "--calculation", "conversion", str(source), str(target), "to=mm", "--window", "2"]

    def run(more: list[str], *answering: ApplicationAdapter | None) -> tuple[int, str]:
        monkeypatch.setattr(_shared, "shop_of", lambda _: shop_of(*answering))
        code = main([*command, *more])
        return code, capsys.readouterr().err

    code, told = run([], ONE)
    assert code == 3
    assert f"{target}.part keeps the lines so far: --go-on goes on after them" in told
    code, told = run(["--go-on"], OTHER)
    assert code == 3
    assert "begin anew, or say that any edition will do" in told
    code, told = run(["--go-on", "--any-edition"], *[OTHER] * 4)
    assert (code, told) == (1, "")
    assert files(source) == {"orders.csv", "answers.csv"}
