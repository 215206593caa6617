"""A batch that stops half-way, goes on, or is answered by services that differ: never a mixed or cut file."""

import csv
import io
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
import requests
from dialset_client import Dialset, EditionChanged, NotReachable, Summary, _beside
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
        given = {"calculation": "conversion", "to": "mm", "window": WINDOW, **options}
        return shop_of(*answering).batch_file(source=source, target=source.with_name(target), **given)

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
    assert files(source) == {"orders.csv", "answers.csv.part", "answers.csv.part.asked"}
    assert len(rows(source.with_name("answers.csv.part"))) == WINDOW * windows
    seen: list[int] = []
    assert ask(*[ONE] * 7, go_on=True, window=window, progress=seen.append) == whole[1]
    assert source.with_name("answers.csv").read_bytes() == whole[0]
    assert files(source) == {"orders.csv", "answers.csv"}
    assert seen[-1] == 7


@pytest.fixture
def stopped(ask: Callable[..., Summary], source: Path) -> tuple[Path, Path]:
    """The part and the record of a run that stopped after six of seven lines."""
    with pytest.raises(NotReachable):
        ask(ONE, ONE, ONE)
    return source.with_name("answers.csv.part"), source.with_name("answers.csv.part.asked")


def cuts(path: Path) -> set[int]:
    """Some places in the middle of a file, and all about the ends of its lines."""
    text = path.read_bytes()
    ends = [at + 1 for at, byte in enumerate(text) if byte == ord("\n")]
    about = {end + off for end in ends for off in (-2, -1, 0, 1)}
    return {at for at in about | set(range(0, len(text), 41)) if 0 <= at <= len(text)}


@pytest.mark.parametrize("at_once", [1, 2])
def test_it_goes_on_wherever_the_part_was_cut(
    ask: Callable[..., Summary],
    source: Path,
    whole: tuple[bytes, Summary],
    stopped: tuple[Path, Path],
    at_once: int,
) -> None:
    """A crash can leave half a row, half a quoted cell or half a letter."""
    before = [path.read_bytes() for path in stopped]
    for cut in sorted(cuts(stopped[0])):
        stopped[0].write_bytes(before[0][:cut])
        stopped[1].write_bytes(before[1])
        assert ask(*[ONE] * 4, go_on=True, at_once=at_once) == whole[1], cut
        assert source.with_name("answers.csv").read_bytes() == whole[0], cut
        assert files(source) == {"orders.csv", "answers.csv"}


def test_it_goes_on_wherever_the_record_was_cut(
    ask: Callable[..., Summary], source: Path, whole: tuple[bytes, Summary], stopped: tuple[Path, Path]
) -> None:
    """Without its first line nobody knows what was asked."""
    before = [path.read_bytes() for path in stopped]
    first = before[1].index(b"\n") + 1
    for cut in sorted(cuts(stopped[1])):
        stopped[0].write_bytes(before[0])
        stopped[1].write_bytes(before[1][:cut])
        if cut < first:
            with pytest.raises(ValueError, match=r"cannot be gone on with: no answers\.csv\.part\.asked"):
                ask(*[ONE] * 4, go_on=True)
            assert stopped[0].read_bytes() == before[0]
            continue
        assert ask(*[ONE] * 4, go_on=True) == whole[1], cut
        assert source.with_name("answers.csv").read_bytes() == whole[0], cut


def test_what_changed_in_the_part_is_asked_again(
    ask: Callable[..., Summary], source: Path, whole: tuple[bytes, Summary], stopped: tuple[Path, Path]
) -> None:
    text, record = (path.read_bytes() for path in stopped)
    for place in (0, len(text) // 2, len(text) - 3):
        stopped[0].write_bytes(text[:place] + b"\0" + text[place + 1 :])
        stopped[1].write_bytes(record)
        assert ask(*[ONE] * 4, go_on=True) == whole[1]
        assert source.with_name("answers.csv").read_bytes() == whole[0]


@pytest.mark.parametrize("line", [b"{}", b"[]", b'{"lines": 4}', b"\0"])
def test_a_record_ends_where_it_is_none(
    ask: Callable[..., Summary],
    source: Path,
    whole: tuple[bytes, Summary],
    stopped: tuple[Path, Path],
    line: bytes,
) -> None:
    first, second, *rest = stopped[1].read_bytes().splitlines(keepends=True)
    stopped[1].write_bytes(b"".join([first, second, line + b"\n", *rest]))
    assert ask(*[ONE] * 3, go_on=True) == whole[1]
    assert source.with_name("answers.csv").read_bytes() == whole[0]


def test_a_part_without_its_record_is_refused(
    ask: Callable[..., Summary], whole: tuple[bytes, Summary], stopped: tuple[Path, Path]
) -> None:
    stopped[1].unlink()
    with pytest.raises(ValueError, match="beside it tells what was asked: begin anew"):
        ask(*[ONE] * 4, go_on=True)
    assert stopped[0].exists()
    assert ask(*[ONE] * 4) == whole[1]


def test_it_may_stop_again_and_again(
    ask: Callable[..., Summary], source: Path, whole: tuple[bytes, Summary]
) -> None:
    for _ in range(5):  # the empty row is in one window with the next
        with pytest.raises(NotReachable):
            ask(ONE, go_on=True, window=1)
    assert ask(ONE, go_on=True, window=1) == whole[1]
    assert source.with_name("answers.csv").read_bytes() == whole[0]


def test_lines_may_be_added_to_the_questions(ask: Callable[..., Summary], source: Path) -> None:
    source.write_text(QUESTIONS + "\n,\n", "utf-8")  # empty rows at the end are no lines yet
    with pytest.raises(OSError, match="full"):
        ask(*[ONE] * 4, window=3, progress=full_at(7))
    source.write_text(QUESTIONS + "\n,\n,8 in\n", "utf-8")
    assert ask(ONE, go_on=True, window=3).lines == 10
    source.with_name("whole.csv").unlink(missing_ok=True)
    assert ask(ONE, target="whole.csv", window=100).lines == 10
    assert source.with_name("whole.csv").read_bytes() == source.with_name("answers.csv").read_bytes()


def full_at(lines: int) -> Callable[[int], None]:
    """Stops a run once so many lines are written."""

    def progress(done: int) -> None:
        if done >= lines:
            raise OSError("the disk is full")

    return progress


def test_a_file_that_was_written_whole_and_not_yet_named(
    ask: Callable[..., Summary], source: Path, whole: tuple[bytes, Summary]
) -> None:
    with pytest.raises(OSError, match="full"):
        ask(*[ONE] * 4, progress=full_at(7))
    assert ask(ONE, go_on=True) == whole[1]
    assert source.with_name("answers.csv").read_bytes() == whole[0]


# two runs at once


def test_a_second_run_on_the_same_target_is_refused(
    ask: Callable[..., Summary], source: Path, whole: tuple[bytes, Summary]
) -> None:
    pytest.importorskip("fcntl")
    refused: list[int] = []

    def second(done: int) -> None:
        for go_on in (False, True):
            with pytest.raises(ValueError, match=r"another run writes .*answers\.csv\.part"):
                ask(*[ONE] * 4, go_on=go_on)
        ask(*[ONE] * 4, target="other.csv")
        refused.append(done)

    assert ask(*[ONE] * 4, progress=second) == whole[1]
    assert refused == [2, 4, 6, 7]
    assert source.with_name("answers.csv").read_bytes() == whole[0]
    assert files(source) == {"orders.csv", "answers.csv", "other.csv"}


def test_a_run_that_comes_as_another_ends_leaves_its_file(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """It opened the part just before that became the target."""
    fcntl = pytest.importorskip("fcntl")
    part, target = tmp_path / "answers.csv.part", tmp_path / "answers.csv"
    part.write_text("whole", "utf-8")

    class Late:
        LOCK_EX, LOCK_NB = fcntl.LOCK_EX, fcntl.LOCK_NB

        @staticmethod
        def flock(file: Any, how: int) -> None:
            part.replace(target)
            fcntl.flock(file, how)

    monkeypatch.setattr(_beside, "fcntl", Late)
    with pytest.raises(ValueError, match="another run writes"), _beside.alone(part):
        pass
    assert target.read_text("utf-8") == "whole"


class NoLocks:
    """A file system that has none."""

    LOCK_EX = LOCK_NB = 0

    @staticmethod
    def flock(_: Any, __: int) -> None:
        raise OSError("no locks available")


@pytest.mark.parametrize("locks", [None, NoLocks])
def test_it_works_where_there_are_no_locks(
    ask: Callable[..., Summary], whole: tuple[bytes, Summary], monkeypatch: pytest.MonkeyPatch, locks: Any
) -> None:
    monkeypatch.setattr(_beside, "fcntl", locks)
    with pytest.raises(NotReachable):
        ask(ONE, go_on=True)
    assert ask(*[ONE] * 4, go_on=True) == whole[1]


# other questions


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


def edited(old: str, new: str) -> Callable[[Path], None]:
    return lambda source: source.write_text(QUESTIONS.replace(old, new), "utf-8") and None


def fewer_questions(source: Path) -> None:
    source.write_text('note,quantity\n"one, and\ntwo",1 in\nÄ½,2 in\n,3 psi\n', "utf-8")


SAME = None
"""What is asked is the same, so that it goes on."""


@pytest.mark.parametrize("any_edition", [False, True])
@pytest.mark.parametrize(
    ("meanwhile", "options", "told"),
    [
        (edited(",6 psi", ",9 in"), {}, SAME),
        (edited("note,quantity", '"note","quantity"'), {}, SAME),
        (edited("4 in", "5 in"), {}, "lines 3 to 4 are not those .*: the questions changed. Begin anew"),
        (edited("Ä½,2 in", "Ä½,2.5 in"), {}, "lines 1 to 2 are not those"),
        (edited("Ä½,2 in\n", ""), {}, "lines 1 to 2 are not those"),
        (edited("Ä½,2 in", "Ä½,2 in\n,2.5 in"), {}, "lines 3 to 4 are not those"),
        (fewer_questions, {}, "lines 3 to 4 are not those"),
        (edited("note,", "remark,"), {}, ": the header changed"),
        (None, {"to": "cm"}, ": to changed. Ask the same, or begin anew"),
        (None, {"units": "metric", "carry": "note"}, ": units, carry changed"),
        (None, {"detail": "full"}, ": detail changed"),
        (None, {"answers": "result"}, ": answers changed"),
        (None, {"calculation": "stroke"}, ": the calculation changed"),
    ],
)
def test_it_never_goes_on_with_another_question(
    ask: Callable[..., Summary],
    source: Path,
    meanwhile: Callable[[Path], None] | None,
    options: dict[str, Any],
    told: str | None,
    any_edition: bool,
) -> None:
    with pytest.raises(NotReachable):
        ask(ONE, ONE)
    if meanwhile:
        meanwhile(source)
    beside = [source.with_name(f"answers.csv.part{end}") for end in ("", ".asked")]
    before = [path.read_bytes() for path in beside]
    if told is SAME:
        assert ask(*[ONE] * 4, go_on=True, any_edition=any_edition, **options).lines == 7
        return
    with pytest.raises(ValueError, match=told):
        ask(*[ONE] * 4, go_on=True, any_edition=any_edition, **options)
    assert [path.read_bytes() for path in beside] == before


ORDERS = (
    "machine,family,torque_target,torque_source\n"
    "north-bay-2,stated,20000 ft-lb,sheet 1\nnowhere,stated,20000 ft-lb,sheet 2\n"
    "north-bay-2,stated,21000 ft-lb,sheet 3\n"
)
JOB = {"operation": "make_up", "thread_hand": "right", "arm_position": "square", "units": "us"}


@pytest.mark.parametrize(
    "other", [{"thread_hand": "left"}, {"units": "si"}, {"thread_hand": "left", "units": "si"}]
)
def test_other_defaults_are_seen_where_the_last_line_was_refused(source: Path, other: dict[str, str]) -> None:
    """A refused line may have no question, by which it could be told from another."""
    source.write_text(ORDERS, "utf-8")
    target = source.with_name("answers.csv")
    with pytest.raises(NotReachable):
        shop_of(ONE).batch_file("pressure", source, target, window=2, **JOB)
    *_, last = rows(source.with_name("answers.csv.part"))
    assert last["line_status"] == "refused"
    with pytest.raises(ValueError, match=f": {', '.join(other)} changed"):
        shop_of(ONE).batch_file("pressure", source, target, window=2, go_on=True, **{**JOB, **other})
    assert not target.exists()


def test_the_order_of_the_fields_is_no_difference(source: Path) -> None:
    target = source.with_name("answers.csv")
    given = {"units": "metric", "to": "mm", "carry": ["note"]}
    with pytest.raises(NotReachable):
        shop_of(ONE).batch_file("conversion", source, target, window=2, defaults=given)
    turned = dict(reversed(given.items()))
    assert shop_of(ONE).batch_file("conversion", source, target, go_on=True, defaults=turned).lines == 7


def test_other_columns_are_not_put_below_those_before(source: Path) -> None:
    """As another program of the service may send them."""

    class Renamed(ApplicationAdapter):
        def send(self, request: requests.PreparedRequest, *_: Any, **options: Any) -> requests.Response:
            answer = super().send(request)
            answer._content = answer.content.replace(b"result.result", b"result.outcome")
            return answer

    target = source.with_name("answers.csv")
    given = {"to": "mm", "window": 2, "any_edition": True}
    other = Renamed(create_app(Settings(policy=policy_file(relief_margin=0.2))))
    for go_on in (False, True):
        with pytest.raises(ValueError, match="line 3 has other columns"):
            shop_of(*[other] if go_on else [ONE, other]).batch_file(
                "conversion", source, target, go_on=go_on, **given
            )


def test_it_goes_on_with_another_edition_only_where_that_is_said(
    ask: Callable[..., Summary], source: Path
) -> None:
    with pytest.raises(NotReachable):
        ask(ONE, ONE)
    with pytest.raises(EditionChanged) as changed:
        ask(*[OTHER] * 4, go_on=True)
    assert changed.value.line == 5
    assert ask(*[OTHER] * 4, go_on=True, any_edition=True).lines == 7
    editions = [row["service_edition"] for row in rows(source.with_name("answers.csv"))]
    assert (len(set(editions[:4])), len(set(editions[4:])), len(set(editions))) == (1, 1, 2)


def test_what_two_editions_answered_is_gone_on_with_only_where_that_is_said(
    ask: Callable[..., Summary], source: Path
) -> None:
    with pytest.raises(NotReachable):
        ask(ONE, OTHER, any_edition=True)
    with pytest.raises(EditionChanged) as changed:
        ask(*[ONE] * 4, go_on=True)
    assert changed.value.line == 3
    assert ask(*[ONE] * 4, go_on=True, any_edition=True).lines == 7


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
