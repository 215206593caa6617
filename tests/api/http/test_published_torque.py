"""Every published make-up torque, asked over HTTP. Each test id names row, source and status."""

import pytest
from flask.testing import FlaskClient
from rows import every_row

from api.reference.make_up_torque import PUBLISHED, PublishedTorque

LBF_FT, INCH, PSI = 1.3558179483314004, 0.0254, 6894.757293168362
PATH = "/v1/torque/rotary-shouldered"

FULL = [row for row in PUBLISHED if row.resolution < 2 * LBF_FT and not row.doubt]
ROUNDED = [row for row in PUBLISHED if row.resolution > 2 * LBF_FT and not row.doubt]
YIELDS = [row for row in FULL if row.torsional_yield is not None]

DOUBTS = {
    # row: formula over print, less 1, at the resolution of the doubt
    "R0092": 0.013,  # a digit lost in the reprint
    "R0206": 0.0007,  # one digit off, memory slip or misprint
    "R0310": 0.045,  # remembered as 22,028 or 23,028
    "R0314": 0.045,
    "R0613": 0.0,  # outside diameter first remembered otherwise
    "R0615": 0.0,
    "R0640": 0.0,
    "R0641": 0.0,
    "R0651": 0.0,  # outside diameter inferred from the value
    "R0652": 0.0,
}
"""The rows in doubt. They are shown as such and never answered from; nothing is special-cased for them."""


def name(row: PublishedTorque) -> str:
    return f"{row.row} {row.key.connection} [{row.source.source[:44]}] ({row.source.status})"


def query(row: PublishedTorque) -> dict[str, str]:
    asked = {
        "connection": row.key.connection,
        "component": row.key.component,
        "box_outside_diameter": f"{row.box_outside_diameter / INCH:.10g} in",
        "pin_bore": f"{row.pin_bore / INCH:.10g} in",
        "edition": "2003" if row.key.capped else "1998",
        "torque_unit": "ft-lb",
    }
    if row.key.low_torque_face or row.key.connection in (
        "7 H-90",
        "7-5/8 REG",
        "7-5/8 H-90",
        "8-5/8 REG",
        "8-5/8 H-90",
    ):
        asked["low_torque_face"] = "yes" if row.key.low_torque_face else "no"
    if asked["component"] == "drill_collar":
        del asked["edition"]
    return asked


def ask(client: FlaskClient, row: PublishedTorque, **more: str) -> dict:  # type: ignore[type-arg]
    answer = client.get(PATH, query_string={**query(row), **more})
    assert answer.status_code == 200, answer.text
    body: dict = answer.get_json()  # type: ignore[type-arg]
    return body


@every_row("row", FULL, ids=name)
def test_full_precision_row_within_a_twentieth_of_a_percent(
    client: FlaskClient, row: PublishedTorque
) -> None:
    answer = ask(client, row)
    assert answer["torque"]["target"]["value"] == pytest.approx(row.torque / LBF_FT, rel=5e-4)
    assert answer["tabulated"]["row"] == row.row
    assert answer["tabulated"]["status"] == row.source.status
    assert abs(answer["tabulated"]["difference"]) < 5e-4


@every_row("row", ROUNDED, ids=name)
def test_row_rounded_to_a_hundred_within_three_percent(client: FlaskClient, row: PublishedTorque) -> None:
    assert ask(client, row)["torque"]["target"]["value"] == pytest.approx(row.torque / LBF_FT, rel=0.03)


@every_row("row", YIELDS, ids=name)
def test_torsional_yield(client: FlaskClient, row: PublishedTorque) -> None:
    assert row.torsional_yield is not None
    answer = ask(client, row)
    assert answer["torsional_yield"]["value"] == pytest.approx(row.torsional_yield / LBF_FT, rel=5e-4)
    assert answer["torsional_yield_friction_factor"] == 1.0


def test_the_doubts_are_these_and_no_others() -> None:
    assert {row.row for row in PUBLISHED if row.doubt} == set(DOUBTS)


@pytest.mark.parametrize("row", [row for row in PUBLISHED if row.doubt], ids=name)
def test_row_in_doubt_is_shown_with_its_doubt_and_never_answered_from(
    client: FlaskClient, row: PublishedTorque
) -> None:
    answer = ask(client, row)
    assert answer["torque"]["target"]["value"] / (row.torque / LBF_FT) - 1 == pytest.approx(
        DOUBTS[row.row], abs=6e-4
    )
    if answer["tabulated"]["row"] == row.row:
        assert answer["tabulated"]["doubt"] == row.doubt
        refused = client.get(PATH, query_string={**query(row), "basis": "table"})
        assert (refused.status_code, refused.get_json()["code"]) == (422, "row_in_doubt")


@pytest.mark.parametrize("row", FULL[::20], ids=name)
def test_basis_table_answers_with_the_printed_value(client: FlaskClient, row: PublishedTorque) -> None:
    answer = ask(client, row, basis="table", compound_friction_factor="1.1")
    assert answer["torque"]["target"]["value"] == pytest.approx(1.1 * row.torque / LBF_FT, rel=1e-9)
    assert answer["status"] == "from memory"


@pytest.mark.parametrize("row", [row for row in ROUNDED if row.row in ("R0010", "R0016")], ids=name)
def test_basis_table_never_answers_from_a_rounded_row(client: FlaskClient, row: PublishedTorque) -> None:
    """2-3/8 REG, 3 x 1 and 3-1/4 x 1 in, stand in the older edition only, rounded to 100 ft-lb."""
    refused = client.get(PATH, query_string={**query(row), "basis": "table"})
    assert (refused.status_code, refused.get_json()["code"]) == (422, "row_rounded")
    assert ask(client, row)["tabulated"]["row"] == row.row


def test_rows_around_a_missing_one_are_never_in_doubt(client: FlaskClient) -> None:
    """R0310, 4-1/2 FH 6 x 2-1/2 in, is remembered as 22,028 or 23,028."""
    asked = {
        "connection": "4-1/2 FH",
        "component": "drill_collar",
        "box_outside_diameter": "6.1 in",
        "pin_bore": "2.4 in",
        "basis": "table",
    }
    told = client.get(PATH, query_string=asked).get_json()["detail"]
    assert "22028" not in told
    assert "row R03" in told


def test_basis_table_without_a_row_names_those_around_it(client: FlaskClient) -> None:
    """NC50 is held at 6-1/4 and 6-3/4 in, not at 6-1/2 in."""
    asked = {
        "connection": "NC50",
        "component": "drill_collar",
        "box_outside_diameter": "6 1/2 in",
        "pin_bore": "2-13/16 in",
        "basis": "table",
    }
    refused = client.get(PATH, query_string=asked)
    assert (refused.status_code, refused.get_json()["code"]) == (422, "no_published_row")
    for expected in ("R0354", "6.25 in x 2.8125 in, 23004 lbf.ft", "6.75 in x 2.5 in", "6.75 in x 3 in"):
        assert expected in refused.get_json()["detail"]
