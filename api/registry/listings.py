"""Every listing of the service, declared once."""

from difflib import get_close_matches
from typing import Any

from api.answers.bolts.listings import grades_listed, threads_listed
from api.answers.shop import Shop
from api.answers.shop_tables.table import Table
from api.answers.shop_tables.tabulated import row_shown
from api.answers.tubular.sucker_rod import rods_listed
from api.engineering.checks import refuse
from api.reference.bolt_friction import NUT_FACTORS
from api.reference.connections import CONNECTIONS, Connection, find_connection, near_designations
from api.reference.nominal_size import size_key
from api.reference.table import sources
from api.reference.tubulars import near_sizes, tubulars_of
from api.refusals.codes import CODES
from api.registry.listing import NO_FILTERS, Filters, Listing, written
from api.registry.standing_notices import notices_listed
from api.registry.table_check import columns_shown
from schemas.bolts.listings import GradeFilters, GradePart, NutFactorPart, ThreadFilters, ThreadPart
from schemas.core.units import UNITS
from schemas.listings import (
    ConnectionFilters,
    ConnectionPart,
    LengthUnits,
    ListedNoticePart,
    MachineEntryPart,
    MachineFilters,
    MachinePart,
    ProblemPart,
    SourceEntryPart,
    UnitFilters,
    UnitPart,
)
from schemas.shop_tables.listings import TableEntryPart, TablePart, TorqueUnits
from schemas.tubular.listings import TubularFilters, TubularPart
from schemas.tubular.sucker_rod import SuckerRodFilters, SuckerRodPart


def _tables(filters: Filters, shop: Shop, system: str) -> list[Any]:
    tables = [_listed(table) for table in shop.table_folder.tables.values()]
    return list(written(TablePart(), tables, filters, system))


def _listed(table: Table) -> dict[str, Any]:
    rows = table.content.rows
    return {
        "id": table.id,
        "hash": table.hash,
        "columns": columns_shown(table),
        "rows": len(rows),
        "sources": list(dict.fromkeys(row.source for row in rows)),
        "statuses": list(dict.fromkeys(row.status for row in rows)),
        "revisions": list(dict.fromkeys(row.revision for row in rows)),
        "rows_compared": table.rows_compared,
        "contradictions": len(table.contradictions),
    }


def _table(table_id: str, filters: Filters, shop: Shop, system: str) -> Any:
    if table_id not in {**shop.table_folder.tables, **shop.table_folder.refused_ids}:
        return None
    table = shop.table(table_id)
    rows = [row_shown(table, row) for row in table.content.rows]
    entry = {"id": table.id, "hash": table.hash, "columns": columns_shown(table), "rows": rows}
    return written(TableEntryPart(), entry, filters, system, many=False)


TABLES = Listing(
    "tables",
    "The shop's own torque tables",
    NO_FILTERS,
    TablePart(),
    _tables,
    TorqueUnits(),
    _table,
    "double-shoulder",
    TableEntryPart(),
    near=lambda name, shop: get_close_matches(name, shop.table_folder.tables, 3, 0.4),
    beside="If you want the torque of a joint by such a table, ask /v1/torque/tabulated.",
)


def _tubulars(filters: Filters, shop: Shop, system: str) -> list[Any]:
    key = size_key(filters["size"]) if "size" in filters else None
    if not tubulars_of(key):
        accepted = f"near it: {', '.join(near_sizes(key or ''))}"
        raise refuse("unknown_size", "no casing or tubing of this size is known", "size", accepted)
    found = tubulars_of(key, filters.get("thread_type"))
    return list(written(TubularPart(), found, filters, system))


def _sucker_rods(filters: Filters, shop: Shop, system: str) -> list[Any]:
    return list(written(SuckerRodPart(), rods_listed(filters), filters, system))


def _threads(filters: Filters, shop: Shop, system: str) -> list[Any]:
    return list(written(ThreadPart(), threads_listed(filters), filters, system))


def _grades(filters: Filters, shop: Shop, system: str) -> list[Any]:
    return list(written(GradePart(), grades_listed(filters), filters, system))


def _nut_factors(filters: Filters, shop: Shop, system: str) -> list[Any]:
    return list(written(NutFactorPart(), NUT_FACTORS, filters, system))


JOINT_LISTINGS = (
    Listing(
        "tubulars",
        "Casing and tubing with round threads",
        TubularFilters(),
        TubularPart(),
        _tubulars,
        beside="If you want the torque of one, ask /v1/torque/round-thread.",
    ),
    Listing(
        "sucker-rods",
        "Sucker rods and their circumferential displacement",
        SuckerRodFilters(),
        SuckerRodPart(),
        _sucker_rods,
        beside="If you want the turn of one joint, or a verdict on it, ask /v1/make-up-position/sucker-rod.",
    ),
    Listing(
        "threads",
        "Bolt threads",
        ThreadFilters(),
        ThreadPart(),
        _threads,
        beside="If you want the torque of a bolt, ask /v1/torque/bolt.",
    ),
    Listing(
        "grades",
        "Strength of bolt and pipe grades",
        GradeFilters(),
        GradePart(),
        _grades,
        beside="If you want the torque of a bolt, ask /v1/torque/bolt; of pipe, /v1/torque/round-thread.",
    ),
    Listing(
        "nut-factors",
        "Nut factors as published, to compare with",
        NO_FILTERS,
        NutFactorPart(),
        _nut_factors,
        beside="If you want the torque by a nut factor, ask /v1/torque/bolt.",
    ),
)


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
    for source in sources():
        uses.setdefault((source.source, source.status), []).append(source.what)
    return [
        {"source": source, "status": status, "uses": len(what), "first_use": what[0]}
        for (source, status), what in uses.items()
    ]


def _problems(filters: Filters, shop: Shop, system: str) -> list[Any]:
    return [{"code": code, "meaning": meaning} for code, meaning in CODES.items()]


def _problem(code: str, filters: Filters, shop: Shop, system: str) -> Any:
    return {"code": code, "meaning": CODES[code]} if code in CODES else None


def _notices(filters: Filters, shop: Shop, system: str) -> list[Any]:
    return list(notices_listed().values())


def _notice(notice_id: str, filters: Filters, shop: Shop, system: str) -> Any:
    return notices_listed().get(notice_id)


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
        beside="If you want the torque of a joint, ask /v1/torque/rotary-shouldered.",
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
        beside="If you want to know which of them can do a joint, ask /v1/machine-choice.",
    ),
    Listing(
        "units",
        "Units and their spellings",
        UnitFilters(),
        UnitPart(),
        _units,
        beside="If you want a quantity in another unit, ask /v1/conversion.",
    ),
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
    Listing(
        "standing-notices",
        "What is true of every job, said once",
        NO_FILTERS,
        ListedNoticePart(),
        _notices,
        entry=_notice,
        example_entry="before_pressure",
        near=lambda name, shop: get_close_matches(name, notices_listed(), 3, 0.5),
    ),
)
