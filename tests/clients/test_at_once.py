"""Windows that are asked at the same time: each waits until its fellows are there, and order is kept."""

from collections.abc import Iterator
from pathlib import Path
from threading import Barrier, Lock
from typing import Any

import pytest
import requests
from dialset_client import Dialset, NotReachable
from dialset_client._in_process import ApplicationAdapter
from requests.adapters import BaseAdapter

from api.app import create_app

FOREVER = 600
"""Seconds after which windows that should come together, and do not, fail a test instead of stopping it."""


class Together(BaseAdapter):
    """Answers only when as many windows are there as are to come at once."""

    def __init__(self, at_once: int, failing: int | None = None) -> None:
        super().__init__()
        self.adapter, self.barrier, self.lock = ApplicationAdapter(create_app()), Barrier(at_once), Lock()
        self.asked, self.failing = 0, failing

    def send(self, request: requests.PreparedRequest, *_: Any, **options: Any) -> requests.Response:
        with self.lock:
            self.asked += 1
            number = self.asked
        self.barrier.wait(FOREVER)
        if number == self.failing:
            raise requests.ConnectionError("gone")
        return self.adapter.send(request)

    def close(self) -> None:
        pass


def shop_of(adapter: BaseAdapter) -> Dialset:
    session = requests.Session()
    session.mount("http://", adapter)
    return Dialset("http://shop", session=session)


def lines(count: int) -> Iterator[dict[str, Any]]:
    for number in range(1, count + 1):
        yield {"quantity": f"{number} {'psi' if number % 5 == 0 else 'in'}", "to": "mm", "order": number}


@pytest.mark.parametrize(("at_once", "window", "count"), [(2, 3, 12), (3, 2, 12), (4, 1, 8)])
def test_windows_are_asked_together_and_answered_in_order(at_once: int, window: int, count: int) -> None:
    seen: list[int] = []
    shop = shop_of(Together(at_once))
    answers = list(
        shop.batch("conversion", lines(count), window=window, at_once=at_once, progress=seen.append)
    )
    assert answers == list(shop_of(Together(1)).batch("conversion", lines(count)))
    assert seen == list(range(window, count + 1, window))


def test_a_file_asked_at_once_is_the_file_asked_one_by_one(tmp_path: Path) -> None:
    source = tmp_path / "orders.csv"
    source.write_text("order,quantity,to\n" + "".join(f"W-{n},{n} in,mm\n" for n in range(12)), "utf-8")
    written = []
    for at_once in (1, 4):
        target = tmp_path / f"answers-{at_once}.csv"
        summary = shop_of(Together(at_once)).batch_file(
            "conversion", source, target, window=1, at_once=at_once
        )
        written.append((summary, target.read_bytes()))
    assert written[0] == written[1]
    assert written[0][0].answered == 12


def test_lines_are_taken_only_as_they_are_asked() -> None:
    adapter, taken = Together(2), []
    answers = shop_of(adapter).batch(
        "conversion", (taken.append(each) or each for each in lines(100)), window=2, at_once=2
    )
    next(answers)
    assert len(taken) <= 6
    adapter.barrier.abort()
    answers.close()


def test_what_fails_among_windows_at_once_keeps_the_lines_before(tmp_path: Path) -> None:
    source, target = tmp_path / "orders.csv", tmp_path / "answers.csv"
    source.write_text("quantity,to\n" + "".join(f"{n} in,mm\n" for n in range(8)), "utf-8")
    with pytest.raises(NotReachable):
        shop_of(Together(2, failing=3)).batch_file("conversion", source, target, window=1, at_once=2)
    beside = sorted(path.name for path in tmp_path.iterdir() if path != source)
    assert beside == ["answers.csv.part", "answers.csv.part.asked"]
    kept = target.with_name("answers.csv.part").read_text("utf-8").splitlines()
    assert len(kept) - 1 in (2, 3)  # the third to come fails, which is the third window or the fourth
    summary = shop_of(Together(1)).batch_file("conversion", source, target, window=1, go_on=True)
    assert summary.answered == 8


@pytest.mark.parametrize("at_once", [0, -1])
def test_at_least_one_window_at_once(at_once: int) -> None:
    with pytest.raises(ValueError, match="at least 1"):
        list(shop_of(Together(1)).batch("conversion", lines(2), at_once=at_once))
