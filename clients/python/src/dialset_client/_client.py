"""The client: one class, a method for every question."""

from collections.abc import Iterable, Iterator, Mapping
from itertools import islice
from pathlib import Path
from typing import Any
from urllib.parse import quote

import requests

from dialset_client._errors import NotReachable
from dialset_client._in_process import ADDRESS, session_of
from dialset_client._methods import Questions
from dialset_client._table import Progress, Summary, ask_file
from dialset_client._transport import Transport, in_query
from dialset_client._windows import SECONDS_A_LINE, OneEdition, asked_in_order, check_all_came, window_of


class Dialset(Questions):
    """A Dialset service.

    Args:
        address: where it is, such as ``http://127.0.0.1:8000``.
        timeout: seconds after which a question is given up.
        session: a session of your own (for a proxy or a login); it then also decides about asking again.

    >>> shop = Dialset("http://127.0.0.1:8000")
    >>> answer = shop.conversion(quantity="20000 ft-lb", to="kN.m")  # doctest: +SKIP
    >>> answer["result"]  # doctest: +SKIP
    {'value': 27.11635897, 'unit': 'kN.m'}
    """

    def __init__(
        self, address: str, *, timeout: float = 10.0, session: requests.Session | None = None
    ) -> None:
        self._transport = Transport(address, timeout, session)

    @classmethod
    def in_process(cls, app: Any = None) -> "Dialset":
        """A service in this very process, for a program that embeds it.

        Args:
            app: what ``api.app.create_app`` returns; made from the environment if left out.

        Raises:
            NotReachable: where the service is not installed.
        """
        if app is None:
            try:
                from api.app import create_app  # noqa: PLC0415 - only where it is wanted is it needed
            except ImportError as error:
                raise NotReachable("the service is not installed here; name a running one") from error
            app = create_app()
        return cls(ADDRESS, session=session_of(app))

    def _question(self, path: str, fields: Mapping[str, Any]) -> dict[str, Any]:
        given = {name: value for name, value in fields.items() if value is not None}
        return self._transport.json("POST", path, json=given)

    def _listing(self, path: str, filters: Mapping[str, Any]) -> list[dict[str, Any]]:
        return list(self._transport.json("GET", path, params=filters)["items"])

    def _entry(self, path: str, name: str) -> dict[str, Any]:
        return self._transport.json("GET", f"{path}/{quote(name, safe='')}")

    def in_words(self, calculation: str, fields: Mapping[str, Any]) -> dict[str, Any]:
        """A question whose fields are all text, as in the query of a cell."""
        return self._transport.json("GET", f"/v1/{calculation}", params=fields)

    def in_json(self, calculation: str, question: bytes, **shown: str) -> dict[str, Any]:
        """A question as a file of JSON holds it, sent byte for byte; ``detail`` stands beside it."""
        headers = {"Content-Type": "application/json"}
        path = f"/v1/{calculation}"
        return self._transport.json("POST", path, params=shown, data=question, headers=headers)

    def value(self, calculation: str, answer: str, unit: str | None, fields: Mapping[str, Any]) -> str:
        """One value of an answer as a cell shows it, such as ``torque.target`` in ``ft-lb``."""
        query = {**fields, "format": "text", "answer": answer, **({} if unit is None else {"unit": unit})}
        return str(self._transport.ask("GET", f"/v1/{calculation}", params=query).text)

    def profile_check(self, profile: Mapping[str, Any]) -> dict[str, Any]:
        """Every fault of a machine profile."""
        return self._transport.json("POST", "/v1/profile-check", json=profile)

    def policy_check(self, policy: Mapping[str, Any]) -> dict[str, Any]:
        """Every fault of a policy of a shop."""
        return self._transport.json("POST", "/v1/policy-check", json=policy)

    def receipt_check(
        self, answer: Mapping[str, Any] | bytes, *, inputs: Mapping[str, Any] | None = None
    ) -> dict[str, Any]:
        """Whether a stored answer is as it was given, and whether the service gives its figures today.

        Args:
            answer: as it is stored: JSON that was read, or the bytes of its file. Its row in a table is
                ``{"fingerprint", "asked", "inputs"}``.
            inputs: the fields of the question, for an answer that does not hold them, such as a short one.
        """
        if isinstance(answer, bytes):
            headers = {"Content-Type": "application/json"}
            return self._transport.json("POST", "/v1/receipt-check", data=answer, headers=headers)
        stored = answer if inputs is None else {"answer": answer, "inputs": inputs}
        return self._transport.json("POST", "/v1/receipt-check", json=stored)

    def chart(self, machine: str, **fields: Any) -> dict[str, Any]:
        """The chart of a machine: torque against the marks of its gauges, such as ``thread_hand="right"``."""
        return self._transport.json("GET", f"/v1/machines/{quote(machine, safe='')}/chart", params=fields)

    def chart_page(self, machine: str, **fields: Any) -> str:
        """The chart of a machine as a page to print, HTML."""
        query = {**fields, "format": "html"}
        return self._transport.ask("GET", f"/v1/machines/{quote(machine, safe='')}/chart", params=query).text

    def edition(self) -> dict[str, Any]:
        """What the service answers from: one hash, which every answer names, and the parts of it."""
        return self._transport.json("GET", "/v1/edition")

    def ready(self) -> dict[str, Any]:
        """The state of the service; raises `Refused` if it does not reproduce its published figures."""
        return self._transport.json("GET", "/readyz")

    def batch(
        self,
        calculation: str,
        lines: Iterable[Mapping[str, Any]],
        *,
        defaults: Mapping[str, Any] | None = None,
        carry: Iterable[str] = (),
        detail: str | None = None,
        answers: str | None = None,
        window: int | None = None,
        at_once: int = 1,
        progress: Progress | None = None,
        any_edition: bool = False,
    ) -> Iterator[dict[str, Any]]:
        """Ask any number of lines, a window at a time, and yield what became of each, in order.

        Args:
            calculation: such as ``pressure``.
            lines: questions; members that are no fields are carried along.
            defaults: fields that hold for every line.
            carry: names that are carried along though they are nearly those of fields.
            detail: ``short``, as if left out, or ``full``.
            answers: members of each result by comma, such as ``gauge_setting,torque.target``: these alone.
            window: lines in one request; as many as a service answers soon if left out.
            at_once: windows asked at the same time; as many as the service has workers to spare.
            progress: called after each window with the number of lines answered so far.
            any_edition: whether services that differ may answer, as while one is replaced.

        Yields:
            ``{"line_number", "line_status", "problem_code", "carried", "result" or "problem"}``.

        Raises:
            NotUnderstood: where not every line of a window came back, or an answer broke off.
            EditionChanged: where two windows were answered by services that differ.
        """
        body = {"defaults": dict(defaults or {}), "carry": list(carry)}
        shown, editions = _portion(detail, answers), OneEdition(any_edition)

        def asked(part: list[Mapping[str, Any]]) -> Any:
            path, time = f"/v1/{calculation}/batch", at_once * SECONDS_A_LINE * len(part)
            whole = {"lines": part, **body}
            return self._transport.json("POST", path, params=shown, json=whole, at_least=time).get("lines")

        done, parts = 0, _parts(iter(lines), window_of(calculation, window))
        for part, given in asked_in_order(asked, parts, at_once):
            check_all_came(_numbers(given), len(part))
            for answer in given or []:
                editions.check(_edition(answer), done + answer["line_number"])
            for answer in given or []:
                yield {**answer, "line_number": done + answer["line_number"]}
            done += len(part)
            if progress is not None:
                progress(done)

    def batch_file(
        self,
        calculation: str,
        source: str | Path,
        target: str | Path,
        *,
        detail: str | None = None,
        answers: str | None = None,
        window: int | None = None,
        at_once: int = 1,
        progress: Progress | None = None,
        defaults: Mapping[str, Any] | None = None,
        any_edition: bool = False,
        go_on: bool = False,
        **fields: Any,
    ) -> Summary:
        """Ask every row of a CSV file, or of a ``.tsv``, and write the answers to another.

        Args:
            calculation: such as ``pressure``.
            source: UTF-8, with a header; columns that are no fields are carried along.
            target: there only when it is whole; until then its lines are in a file with ``.part`` behind its
                name, and what was asked in one with ``.part.asked``. Both stay where the work stops.
            detail: ``short``, as if left out, or ``full``.
            answers: members of each result by comma, which are then its columns, in this order.
            window: lines in one request; as many as a service answers soon if left out.
            at_once: windows asked at the same time; as many as the service has workers to spare.
            progress: called after each window with the number of lines answered so far.
            defaults: fields that hold for every line; ``carry`` names columns to carry along.
            any_edition: whether services that differ may answer, as while one is replaced.
            go_on: keep what an earlier run left in the partial file, and go on after it. The same must be
                asked for every line, and the questions answered so far must be the same.
            fields: the same, one by one.

        Raises:
            NotATable: for a source that is no table.
            NotUnderstood: where not every line came back, or an answer broke off.
            EditionChanged: where two windows were answered by services that differ.
            ValueError: for a target that is the source, or no file, or that another run writes; for a partial
                file that does not go with what is asked.
            Refused: for a table that is refused whole, such as one with a column in doubt.
        """
        return ask_file(
            self._transport,
            calculation,
            (Path(source), Path(target)),
            window_of(calculation, window),
            at_once,
            progress,
            in_query({**(defaults or {}), **fields, **_portion(detail, answers)}),
            any_edition=any_edition,
            go_on=go_on,
        )


def _parts(lines: Iterator[Mapping[str, Any]], size: int) -> Iterator[list[Mapping[str, Any]]]:
    while part := list(islice(lines, size)):
        yield part


def _portion(detail: str | None, answers: str | None) -> dict[str, str]:
    """How much of an answer is asked for, as a query has it."""
    asked = {"detail": detail, "answers": answers}
    return {name: value for name, value in asked.items() if value is not None}


def _numbers(answers: Any) -> list[Any]:
    listed = answers if isinstance(answers, list) else []
    return [each.get("line_number") if isinstance(each, dict) else None for each in listed]


def _edition(line: Mapping[str, Any]) -> str | None:
    outcome = line.get("result") or line.get("problem") or {}
    return outcome.get("service_edition") if isinstance(outcome, dict) else None
