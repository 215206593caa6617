"""The torque window that a caller states."""

from collections.abc import Mapping
from typing import Any

from api.answers.shop import Shop
from api.engineering.provenance import Source, known
from api.engineering.torque_window import End, TorqueWindow, widened


def stated_window(values: Mapping[str, Any], _: Shop) -> TorqueWindow:
    """The window a caller states, with its source."""
    source = Source("torque", "stated", values["torque_source"])

    def end(field: str) -> End:
        return End(known(values.get(field), f"no {field} stated", "stated by the caller"), source.status)

    window = TorqueWindow(end("torque_minimum"), end("torque_target"), end("torque_maximum"), (source,))
    return widened(window, values.get("torque_tolerance"))
