"""Every listing, declared once; those of joints without shoulder and of bolts in `api.joint_listings`."""

from difflib import get_close_matches
from typing import Any

from api.answers.shop import Shop
from api.engineering.faults import refuse
from api.joint_listings import JOINT_LISTINGS, JOINT_SOURCES
from api.listing import NO_FILTERS, Filters, Listing, written
from api.problem_codes import CODES
from api.reference.connections import CONNECTIONS, Connection, find_connection, near_designations
from api.reference.make_up_torque import PUBLISHED
from api.table_listings import TABLES
from schemas.catalogue import (
    ConnectionFilters,
    ConnectionPart,
    LengthUnits,
    MachineEntryPart,
    MachineFilters,
    MachinePart,
    ProblemPart,
    SourceEntryPart,
    UnitFilters,
    UnitPart,
)
from schemas.units import UNITS


def _connections(filters: Filters, shop: Shop, system: str) -> list[Any]:
    forms = dict.fromkeys(each.thread_form for each in CONNECTIONS)
    if filters.get("thread_form", CONNECTIONS[0].thread_form) not in forms:
        accepted = f"one of: {', '.join(forms)}"
        raise refuse("not_a_choice", "no connection has this thread form", "thread_form", accepted)
    found = [
        each
        for each in CONNECTIONS
        if filters.get("thread_form", each.thread_form) == each.thread_form
        and filters.get("status", each.source.status) == each.source.status
        and filters.get("low_torque_face", _has_face(each)) == _has_face(each)
    ]
    return list(written(ConnectionPart(), found, filters, system))


def _has_face(connection: Connection) -> bool:
    return connection.low_torque_face_counterbore is not None


def _connection(name: str, filters: Filters, shop: Shop, system: str) -> Any:
    found = find_connection(name)
    return found and written(ConnectionPart(), found, filters, system, many=False)


def _machines(filters: Filters, shop: Shop, system: str) -> list[Any]:
    wanted = {name: filters[name] for name in ("site", "kind", "status") if name in filters}
    return [
        {
            "id": profile.version.id,
            "kind": profile.given["kind"],
            "site": profile.given.get("site"),
            "revision": profile.version.revision,
            "status": profile.given["status"],
            "hash": profile.version.hash,
        }
        for profile in shop.machines.values()
        if all(profile.given.get(name) == value for name, value in wanted.items())
    ]


def _machine(machine_id: str, filters: Filters, shop: Shop, system: str) -> Any:
    profile = shop.machines.get(machine_id)
    return profile and {"hash": profile.version.hash, "profile": profile.given}


def _units(filters: Filters, shop: Shop, system: str) -> list[Any]:
    kind = filters.get("kind")
    return [
        {
            "code": unit.code,
            "kinds": list(unit.kinds),
            "factor_to_si": unit.factor,
            "offset_to_si": unit.offset,
            "spellings": list(unit.spellings),
        }
        for unit in UNITS.values()
        if kind is None or kind in unit.kinds
    ]


def _sources(filters: Filters, shop: Shop, system: str) -> list[Any]:
    uses: dict[tuple[str, str], list[str]] = {}
    rotary = [*(each.source for each in CONNECTIONS), *(row.source for row in PUBLISHED)]
    for source in (*rotary, *JOINT_SOURCES):
        uses.setdefault((source.source, source.status), []).append(source.what)
    return [
        {"source": source, "status": status, "uses": len(what), "first_use": what[0]}
        for (source, status), what in uses.items()
    ]


def _problems(filters: Filters, shop: Shop, system: str) -> list[Any]:
    return [{"code": code, "meaning": meaning} for code, meaning in CODES.items()]


def _problem(code: str, filters: Filters, shop: Shop, system: str) -> Any:
    return {"code": code, "meaning": CODES[code]} if code in CODES else None


LISTINGS = (
    Listing(
        "connections",
        "Rotary shouldered connections",
        ConnectionFilters(),
        ConnectionPart(),
        _connections,
        LengthUnits(),
        _connection,
        "NC50",
        near=lambda name, shop: near_designations(name),
    ),
    *JOINT_LISTINGS,
    TABLES,
    Listing(
        "machines",
        "Machines of the shop",
        MachineFilters(),
        MachinePart(),
        _machines,
        entry=_machine,
        example_entry="north-bay-2",
        entry_item=MachineEntryPart(),
        near=lambda name, shop: get_close_matches(name, shop.machines, 3, 0.4),
    ),
    Listing("units", "Units and their spellings", UnitFilters(), UnitPart(), _units),
    Listing("sources", "Sources of the published figures", NO_FILTERS, SourceEntryPart(), _sources),
    Listing(
        "problems",
        "Codes of refusals",
        NO_FILTERS,
        ProblemPart(),
        _problems,
        entry=_problem,
        example_entry="bare_number",
        near=lambda name, shop: get_close_matches(name, CODES, 3, 0.5),
    ),
)
