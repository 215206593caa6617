"""The canonical form of JSON, compared with a library of RFC 8785, and what a fingerprint is of."""

import hashlib
import hmac
import json
import math
import struct
from typing import Any

import pytest
import rfc8785
from hypothesis import given, settings
from hypothesis import strategies as st
from rows import every_row

from api.answers.record import canonical, marks
from api.answers.shop_file import hash_of

NUMBERS = st.one_of(
    st.floats(allow_nan=False, allow_infinity=False),
    st.integers(-(2**53) + 1, 2**53 - 1),
    st.integers(-(10**12), 10**12).map(float),
    st.builds(
        lambda figure, power: float(f"{figure}e{power}"), st.integers(-9999, 9999), st.integers(-30, 30)
    ),
)
TEXTS = st.text(st.characters(exclude_categories=["Cs"]), max_size=8)
JSON = st.recursive(
    st.one_of(st.none(), st.booleans(), NUMBERS, TEXTS),
    lambda inner: st.one_of(st.lists(inner, max_size=4), st.dictionaries(TEXTS, inner, max_size=4)),
    max_leaves=20,
)


@settings(max_examples=20 * settings().max_examples)
@given(JSON)
def test_it_is_that_of_the_library(value: Any) -> None:
    assert canonical(value) == rfc8785.dumps(value)


@settings(max_examples=20 * settings().max_examples)
@given(st.integers(0, 2**64 - 1))
def test_every_float_is_written_as_by_the_library(bits: int) -> None:
    value = struct.unpack("d", struct.pack("Q", bits))[0]
    if math.isfinite(value):
        assert canonical(value) == rfc8785.dumps(value)


@given(JSON)
def test_who_reads_and_sends_it_again_has_the_same(value: Any) -> None:
    """As a client in Python does, and as one in JavaScript, which has no 750.0."""
    once = canonical(value)
    assert canonical(json.loads(json.dumps(value))) == once
    assert canonical(json.loads(once)) == once


OF_THE_RFC = r"""{"numbers": [333333333.33333329, 1E30, 4.50, 2e-3, 0.000000000000000000000000001],
    "string": "\u20ac$\u000F\u000aA'\u0042\u0022\u005c\\\"\/", "literals": [null, true, false]}"""
IN_ORDER = ("\r", "1", "\x80", "\xf6", "\u20ac", "\U0001f600", "\ufb33")


def test_the_examples_of_the_rfc() -> None:
    """Sections 3.2.2 and 3.2.3, as public implementations quote them; the text itself was not at hand."""
    written = (
        r"""{"literals":[null,true,false],"numbers":[333333333.3333333,1e+30,4.5,0.002,1e-27],"""
        r""""string":"\u20ac$\u000f\nA'B\"\\\\\"/"}"""
    ).replace(r"\u20ac", "\u20ac")
    assert canonical(json.loads(OF_THE_RFC)) == written.encode()
    names = dict.fromkeys(sorted(IN_ORDER, reverse=True), 1)
    assert tuple(json.loads(canonical(names))) == IN_ORDER
    assert tuple(json.loads(canonical([names]))[0]) == IN_ORDER


@every_row(
    ("value", "written"),
    [
        (750.0, "750"),
        (-0.0, "0"),
        (1e21, "1e+21"),
        (1e20, "100000000000000000000"),
        (1e-6, "0.000001"),
        (1e-7, "1e-7"),
        (1.5e-9, "1.5e-9"),
        (9007199254740993, "9007199254740992"),  # what every other program reads
        (10**30, "1e+30"),
    ],
)
def test_forms_that_differ_between_programs(value: Any, written: str) -> None:
    assert canonical(value) == written.encode()


@pytest.mark.parametrize("value", [math.inf, -math.inf, math.nan, [{"a": math.inf}], 10**400])
def test_a_number_that_is_not_finite_has_no_form(value: Any) -> None:
    with pytest.raises((ValueError, OverflowError)):
        canonical(value)


def test_marks_are_those_that_anybody_computes() -> None:
    answer = {"b": 750.0, "a": None}
    fingerprint = hashlib.sha256(b'{"a":null,"b":750}').hexdigest()
    assert marks(answer, None) == {"fingerprint": fingerprint}
    seal = hmac.new(b"key", fingerprint.encode(), hashlib.sha256).hexdigest()
    assert marks(answer, b"key") == {"fingerprint": fingerprint, "seal": seal}


def test_a_profile_has_one_hash_however_its_numbers_are_written() -> None:
    assert hash_of({"low": 1.0, "high": 2}) == hash_of({"high": 2.0, "low": 1})
    assert hash_of({"low": 1.0}) != hash_of({"low": 1.5})
    assert hash_of({"low": 1}) != hash_of({"low": True})
