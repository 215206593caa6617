"""One list holds every kind of machine, and a kind that forgets anything cannot be in it."""

import json
import subprocess
import sys
from dataclasses import dataclass, replace
from itertools import product
from pathlib import Path
from typing import Any

import pytest
from machine_kinds import DEMO, KINDS, SHOP, TURNINGS
from marshmallow import fields
from rows import every_row

from api.answers.machine_kinds import registry
from api.answers.machine_kinds.machine_kind import Kind
from api.answers.machines.job import Task, job_with
from api.answers.machines.profile import Profile, profile_from, read_folder
from api.engineering.machine_kinds.machine import MEMBERS, Tolerance
from schemas.core.fields import Choice
from schemas.machines.profile import ARM_ANGLE, PERCENT, PROFILES, GovernedProfile, load_profile

ROOT = Path(__file__).parents[4]
GIVING_TORQUE = {key: kind for key, kind in registry.KINDS.items() if kind.machine}
every_kind_giving_torque = every_row("kind", GIVING_TORQUE.values(), ids=GIVING_TORQUE)


def test_the_list_holds_what_stands_in_the_folders() -> None:
    """A kind whose line was forgotten is seen here."""
    answers = {path.stem for path in Path(registry.__file__).parent.glob("*.py")}
    assert set(registry.KINDS) == answers - {"__init__", "machine_kind", "registry"}
    assert set(registry.KINDS) == {path.stem for path in (ROOT / "schemas/machine_kinds").glob("[!_]*.py")}
    engineering = {path.stem for path in (ROOT / "api/engineering/machine_kinds").glob("[!_]*.py")}
    assert set(GIVING_TORQUE) == engineering - {"machine"}


def test_the_schemas_of_profiles_are_those_of_the_kinds() -> None:
    assert {key: kind.profile for key, kind in registry.KINDS.items()} == PROFILES


def test_every_kind_has_a_machine_in_the_shop() -> None:
    """Conformance tests run over these, so that a kind without one would be tested by nothing."""
    assert {profile.kind.key for profile in SHOP.values()} == set(registry.KINDS)
    assert set(SHOP) == {path.stem for path in DEMO.glob("*.json")}
    assert set(SHOP) - set(KINDS) == {name for name, profile in SHOP.items() if not profile.kind.machine}


def without(machine: type, member: str) -> Any:
    """A machine kind that has all but one member of the protocol."""
    kept = {name: getattr(machine, name, None) for name in MEMBERS if name != member}
    return dataclass(frozen=True)(type(machine.__name__, (), kept))


@every_row("member", MEMBERS)
@every_kind_giving_torque
def test_a_kind_that_lacks_a_member_is_refused_by_name(kind: Kind, member: str) -> None:
    with pytest.raises(TypeError, match=f"is no machine kind: it has no {member}$"):
        replace(kind, machine=without(kind.machine or object, member))


def test_everything_that_a_kind_lacks_is_told() -> None:
    with pytest.raises(TypeError, match=", no ".join(MEMBERS)):
        replace(registry.KINDS["line_pull"], machine=object)  # type: ignore[arg-type]


class Nameless(GovernedProfile):
    """A profile that does not say its kind."""


class OfTwoKinds(GovernedProfile):
    """A profile that says two."""

    kind = Choice(("line_pull", "torque_wrench"), required=True)


@pytest.mark.parametrize("profile", [Nameless(), OfTwoKinds()])
def test_a_profile_says_its_one_kind(profile: GovernedProfile) -> None:
    with pytest.raises(TypeError, match=f"{type(profile).__name__} has no field kind with the one word"):
        registry._by_key(replace(registry.KINDS["stud_tensioner"], profile=profile))


@pytest.mark.parametrize("size", registry.KINDS["line_pull"].profile.sizes)
def test_a_tolerance_that_only_the_profile_knows_would_be_left_out_of_every_bound(size: str) -> None:
    machine: Any = registry.KINDS["line_pull"].machine
    known = {name: tolerance for name, tolerance in machine.tolerances.items() if name != size}
    forgetful = type("Forgetful", (machine,), {"tolerances": known}, called="a line")
    with pytest.raises(TypeError, match=f"Forgetful do not have the same tolerances: {size}"):
        replace(registry.KINDS["line_pull"], machine=forgetful)


def test_a_tolerance_that_no_profile_can_state_is_refused_too() -> None:
    machine: Any = registry.KINDS["line_pull"].machine
    own = {**machine.tolerances, "sheave": Tolerance(("arm_radius",))}
    curious = type("Curious", (machine,), {"tolerances": own}, called="a line")
    with pytest.raises(TypeError, match="same tolerances: sheave"):
        replace(registry.KINDS["line_pull"], machine=curious)


def test_a_percentage_is_not_taken_for_an_area() -> None:
    machine: Any = registry.KINDS["line_pull"].machine
    areas = {**machine.tolerances, "cell_area": Tolerance(("cell_area",), "area")}
    with pytest.raises(TypeError, match="same tolerances: cell_area"):
        replace(
            registry.KINDS["line_pull"],
            machine=type("Mistaken", (machine,), {"tolerances": areas}, called="a line"),
        )


@pytest.mark.parametrize("place", ["arm", "cell_area.bore", "efficiency.middle"])
def test_a_tolerance_stands_at_a_size_of_the_machine(place: str) -> None:
    machine: Any = registry.KINDS["line_pull"].machine
    astray = {**machine.tolerances, "cell_area": Tolerance((place,), "number")}
    with pytest.raises(TypeError, match=f"has tolerances of sizes that it has not: {place}"):
        replace(
            registry.KINDS["line_pull"],
            machine=type("Astray", (machine,), {"tolerances": astray}, called="a line"),
        )


def test_an_arm_or_its_want_is_called_something() -> None:
    machine: Any = registry.KINDS["torque_wrench"].machine
    with pytest.raises(TypeError, match="called"):
        type("Nameless", (machine,), {})


def test_two_kinds_of_one_key_are_refused() -> None:
    kinds = registry.KINDS.values()
    with pytest.raises(TypeError, match="two kinds of machine have one key"):
        registry._by_key(*kinds, registry.KINDS["line_pull"])


def test_schemas_alone_know_no_kind_and_say_so() -> None:
    code = (
        "from schemas.machines.request import MachineJob; from schemas.machines.profile import load_profile; "
    )
    code += "import schemas.listings; MachineJob(); schemas.listings.MachineFilters(); load_profile({})"
    ended = subprocess.run(
        [sys.executable, "-c", code], cwd=ROOT, check=False, capture_output=True, text=True
    )
    assert ended.returncode == 1
    assert "before api.answers.machine_kinds.registry is imported" in ended.stderr


LITTLE = {"length": "0.02 in", "pressure": "2 psi", "angle": "1 deg"}


def profile_with(profile: Profile, member: str) -> Profile:
    """The profile of a machine with a little tolerance of one size, and what is lost not zero."""
    size = member.removesuffix(PERCENT)
    kind = "angle" if size == ARM_ANGLE else tolerances_known(profile.kind)[size].kind
    lost = {size: "30 psi"} if kind == "pressure" else {}
    given = {**profile.given, **lost, "tolerances": {member: LITTLE.get(kind, 0.5)}}
    return profile_from(given, load_profile(given))


def tolerances_of(kind: Kind) -> dict[str, Any]:
    field = kind.profile.fields.get("tolerances")
    return dict(field.schema.fields) if isinstance(field, fields.Nested) else {}


def tolerances_known(kind: Kind) -> dict[str, Tolerance]:
    assert kind.machine
    return dict(kind.machine.tolerances)


@every_row(
    ("name", "member"),
    [
        (name, member)
        for name, profile in SHOP.items()
        if profile.kind.machine
        for member in tolerances_of(profile.kind)
        if (name, member) != ("yard-1", "cell_area_percent")  # a pull gauge has no load cell
    ],
)
def test_every_tolerance_that_a_profile_may_state_widens_the_worst_case(name: str, member: str) -> None:
    """In one turning and position at least: a rod does not matter to a push, nor a base at square."""
    stated, reading = profile_with(SHOP[name], member), KINDS[name].reading
    sure = replace(stated, half_widths={}, arm_angle=None)
    diameters = stated.limits.diameters
    gripped = sum(diameters) / 2 if diameters else None
    widened = []
    for turning, position in product(TURNINGS, KINDS[name].positions):
        task = Task(turning, position, gripped, None, ())
        low, high = job_with(sure, task).setup.torque_range(reading)
        least, most = job_with(stated, task).setup.torque_range(reading)
        assert least <= low < high <= most
        widened.append(least < low)
    assert any(widened)


@every_row("name", [name for name, profile in SHOP.items() if profile.kind.machine])
def test_an_arm_has_a_tolerance_of_its_angle(name: str) -> None:
    """A machine that says that it has an arm must let its profile say how far that may stand off, or none."""
    states = ARM_ANGLE in tolerances_of(SHOP[name].kind)
    assert (KINDS[name].machine.arm_cotangent("square") is not None) == states


def test_a_profile_of_no_kind_is_no_machine_of_the_shop(tmp_path: Path) -> None:
    odd = json.loads((DEMO / "yard-1.json").read_text("utf-8")) | {"kind": "capstan"}
    (tmp_path / "odd.json").write_text(json.dumps(odd), "utf-8")
    assert "not_a_choice" in read_folder(tmp_path).faults["odd.json"]
