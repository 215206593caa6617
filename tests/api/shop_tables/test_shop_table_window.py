"""A torque out of all proportion to the target of its row is a slip of a digit, and is told as one."""

import pytest

from api.shop_tables.reader import FaultyTable, TableFault, read_shop_table


def faults_of(row: str, units: tuple[str, str] = ("ft-lb", "ft-lb")) -> tuple[TableFault, ...]:
    header = f"minimum [{units[0]}],target [{units[1]}],maximum [{units[0]}],torsional_yield [{units[0]}]"
    try:
        read_shop_table(f"{header},model,source,revision\n{row},A,s,1\n".encode())
    except FaultyTable as refusal:
        return refusal.faults
    return ()


ROWS: list[tuple[str, list[tuple[str, str]]]] = [
    # minimum, target, maximum, torsional yield; columns and codes of the faults
    ("29700,29700,32600,48000", []),
    ("2970,29700,326000,", [("minimum", "out_of_proportion"), ("maximum", "out_of_proportion")]),
    ("2970,29700,32600,", [("minimum", "out_of_proportion")]),
    ("29700,29700,326000,", [("maximum", "out_of_proportion")]),
    (",29700,,480000", [("torsional_yield", "out_of_proportion")]),
    # the slip in the target
    ("26700,2970,32600,", [("minimum", "window_out_of_order"), ("maximum", "out_of_proportion")]),
    ("26700,297000,32600,", [("maximum", "window_out_of_order"), ("minimum", "out_of_proportion")]),
    # at the limits: half, twice, five times
    ("15000,30000,60000,150000", []),
    ("14999.99,30000,,", [("minimum", "out_of_proportion")]),
    (",30000,60000.01,", [("maximum", "out_of_proportion")]),
    (",30000,,150000.01", [("torsional_yield", "out_of_proportion")]),
    ("0.35,0.7,1.4,3.5", []),
    # without a target nothing is in proportion to it
    ("1,x,1000,5000", [("target", "not_a_number")]),
]


@pytest.mark.parametrize(("row", "found"), ROWS, ids=[row[0] for row in ROWS])
def test_proportions(row: str, found: list[tuple[str, str]]) -> None:
    assert [(fault.column, fault.code) for fault in faults_of(row)] == found


def test_limits_hold_between_units() -> None:
    # 1 lbf.ft = 1.3558179483314004 N.m: NIST SP 811, appendix B.8; 10,000 lbf.ft = 13558.179483314 N.m
    assert faults_of("6779.089741657,10000,27116.358966628,67790.89741657", ("N.m", "ft-lb")) == ()
    low, high = faults_of("6779.08,10000,27116.37,", ("N.m", "ft-lb"))
    assert (low.column, high.column) == ("minimum", "maximum")


def test_the_fault_says_what_it_compares() -> None:
    low, high, yields = faults_of("2970,29700,326000,480 000")
    meant = "leave the cell empty if the torque is right"
    told = [(fault.row, fault.value, fault.detail, fault.accepted) for fault in (low, high, yields)]
    assert told == [
        (
            2,
            "2970",
            "0.1 times the target of 29700 lbf.ft: it looks like a wrong digit",
            f"at least half the target, 14850 lbf.ft; {meant}",
        ),
        (
            2,
            "326000",
            "11 times the target of 29700 lbf.ft: it looks like a wrong digit",
            f"at most twice the target, 59400 lbf.ft; {meant}",
        ),
        (
            2,
            "480 000",
            "16.2 times the target of 29700 lbf.ft: it looks like a wrong digit",
            f"at most five times the target, 148500 lbf.ft; {meant}",
        ),
    ]
