"""An answer as one row: every value under its dotted name, for tables and cells."""

from collections.abc import Iterator, Mapping, Sequence
from typing import Any


def flat(result: Mapping[str, Any]) -> dict[str, Any]:
    """A result as one row: dotted names, a quantity as value and unit, lists as text."""
    return dict(_flat(result, ""))


def _flat(part: Mapping[str, Any], path: str) -> Iterator[tuple[str, Any]]:
    for name, value in part.items():
        if isinstance(value, Mapping) and set(value) == {"value", "unit"}:
            yield f"{path}{name}", value["value"]
            yield f"{path}{name}.unit", value["unit"]
        elif name == "reasons" and isinstance(value, Mapping):
            yield f"{path}{name}", "; ".join(reasons_in_words(value))
        elif isinstance(value, Mapping):
            if path or name != "inputs":
                yield from _flat(value, f"{path}{name}.")
        elif isinstance(value, list):
            yield f"{path}{name}", in_words(value)
        else:
            yield f"{path}{name}", value


def reasons_in_words(reasons: Mapping[str, str]) -> Iterator[str]:
    """Why values are not known, each after its name."""
    return (f"{name}: {reason}" for name, reason in reasons.items())


def in_words(entries: Sequence[Any]) -> str:
    """A list as one cell shows it."""
    return "; ".join(_entry(each) for each in entries)


def _entry(entry: Any) -> str:
    if not isinstance(entry, Mapping):
        return str(entry)
    if "order" in entry:
        return _pass(entry)
    if "made_up_position" in entry:
        return f"{entry['made_up_position']}: {entry['verdict']}; {entry['action']}"
    if "revision" in entry:
        target = f"{entry['target']['value']} {entry['target']['unit']}"
        where = f"{entry['source']}, revision {entry['revision']} ({entry['status']})"
        return f"row {entry['row']}: {in_words(entry['key'])}: {target}, {where}"
    if "column" in entry:
        return f"{entry['column']} {entry['value']}"
    if "verdict" in entry:
        return f"{entry['name']} {entry['verdict']}"
    if "field" in entry:
        return f"{entry['field']} {entry['value']} ({entry['reason']})"
    if "half_width" in entry:
        width = f"{entry['half_width']['value']} {entry['half_width']['unit']}"
        return f"{entry['name']} {width}: {100 * entry['standard_uncertainty_share']:.3g} %"
    if "reason" in entry and "name" in entry:
        return f"{entry['name']}: {entry['reason']}"
    if "links" in entry:
        ends = " to ".join(f"{entry[end]['value']} {entry[end]['unit']}" for end in ("minimum", "maximum"))
        return f"{ends}: {entry['links']} links"
    if "low" in entry:
        return f"{entry['what']}, {entry['low']} to {entry['high']} ({entry['status']}): {entry['source']}"
    if "text" in entry:
        return f"{entry['text']} ({entry['status']}): {entry['source']}"
    if "what" in entry and "value" in entry:
        return f"{entry['what']}: {entry['value']} ({entry['status']}): {entry['source']}"
    if "what" in entry:
        return f"{entry['what']} ({entry['status']}): {entry['source']}"
    if "gauge_setting" in entry:
        setting, side = entry["gauge_setting"], entry["cylinder_side"]
        where = f"on {entry['gauge']}, {side} side"
        cautions = "".join(f" (caution: {each})" for each in entry["cautions"])
        return f"{entry['machine']}: {setting['value']} {setting['unit']} {where}{cautions}"
    if "reasons" in entry:
        reasons = ", ".join(f"{each['code']}: {each['text']}" for each in entry["reasons"])
        return f"{entry['machine']}: {reasons}"
    raise TypeError(f"no words for an entry with {', '.join(entry)}")


def _pass(entry: Mapping[str, Any]) -> str:
    """A pass over the bolts of a flange: its amount, or the ends of it, and the mark to set."""
    share = f" {100 * entry['share']:.6g} %" if entry.get("share") is not None else ""
    amounts = (entry.get(name) for name in ("torque", "preload", "torque_minimum", "torque_maximum"))
    wanted = " to ".join(f"{each['value']} {each['unit']}" for each in amounts if each)
    mark = entry["gauge_setting"]
    given = entry.get("share_at_gauge_setting")
    gives = f" = {100 * given:.3g} %" if given else ""
    setting = f", set {mark['value']} {mark['unit']}{gives}" if mark else ""
    return f"{entry['number']} {entry['name']}{share}: {wanted}{setting} ({entry['order']})"
