"""An invented shop, for examples of answers that need its machines and tables."""

from functools import cache

from api.answers.machines.profile import ProfileFolder, profile_from
from api.answers.shop import Shop
from api.answers.shop_tables.table import TableFolder, table_from
from api.registry.examples import EXAMPLE_PROFILE
from schemas.machines.profile import load_profile

TOO_WEAK = {**EXAMPLE_PROFILE, "id": "north-bay-1", "torque_rating": "20000 ft-lb"}
MACHINES = ({**EXAMPLE_PROFILE, "id": "north-bay-2"}, TOO_WEAK)
"""One that can do the joint of the examples, and one that cannot."""
TABLE = b"""\
connection,box_outside_diameter [in],pin_bore [in],minimum [ft-lb],target [ft-lb],source,revision
bay joint 40,5 1/4,2 11/16,15200,16900,invented sheet 40,B
"""


@cache
def example_shop() -> Shop:
    """The shop."""
    profiles = {str(given["id"]): profile_from(given, load_profile(given)) for given in MACHINES}
    tables = {"double-shoulder": table_from("double-shoulder", TABLE)}
    return Shop(ProfileFolder(profiles, {}), TableFolder(tables, {}))
