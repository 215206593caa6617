"""What is kept for the next question: never more than the bound, and never another value."""

from threading import Thread

from hypothesis import given
from hypothesis import strategies as st

from api.engineering.kept import Kept


@given(st.lists(st.integers(0, 30), max_size=200), st.integers(1, 8))
def test_it_keeps_no_more_than_its_bound_and_no_wrong_value(keys: list[int], half: int) -> None:
    kept = Kept[int, str](2 * half)
    for key in keys:
        assert kept.get(key, str) == str(key)
        assert len(kept) <= 2 * half


def test_what_is_asked_again_stays_whatever_is_asked_between() -> None:
    kept, worked_out = Kept[int, int](8), []

    def work(key: int) -> int:
        worked_out.append(key)
        return key

    for stranger in range(1, 1000):
        kept.get(0, work)
        kept.get(stranger, work)
    assert worked_out.count(0) == 1


def test_threads_get_the_right_values_and_keep_at_most_one_more_each() -> None:
    kept, wrong = Kept[int, int](16), []

    def ask(start: int) -> None:
        keys = (number % 97 for number in range(start, 20_000))
        wrong.extend(key for key in keys if kept.get(key, lambda each: -each) != -key)

    threads = [Thread(target=ask, args=(start,)) for start in range(8)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert not wrong
    assert len(kept) <= 16 + len(threads)
