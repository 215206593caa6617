"""A method for every question of the service. Written by generate.py: do not edit."""

from collections.abc import Mapping, Sequence
from typing import Any

Quantity = str | Mapping[str, Any]
"""``"6 1/2 in"`` or ``{"value": 6.5, "unit": "in"}``."""

CALCULATIONS = (
    "torque/rotary-shouldered",
    "pressure",
    "delivered-torque",
    "machine-choice",
    "stroke",
    "grip",
    "preload-pressure",
    "calibration",
    "conversion",
)
"""What can be asked."""


class Questions:
    """Every question of a service, as a method; fields that are left out are not sent."""

    def _question(self, path: str, fields: Mapping[str, Any]) -> dict[str, Any]:
        raise NotImplementedError

    def _listing(self, path: str, filters: Mapping[str, Any]) -> list[dict[str, Any]]:
        raise NotImplementedError

    def _entry(self, path: str, name: str) -> dict[str, Any]:
        raise NotImplementedError

    def torque_rotary_shouldered(
        self,
        *,
        connection: str,
        component: str,
        box_outside_diameter: Quantity,
        pin_bore: Quantity,
        pin_stress_level: Quantity | None = None,
        box_stress_level: Quantity | None = None,
        pin_yield_strength: Quantity | None = None,
        box_yield_strength: Quantity | None = None,
        low_torque_face: bool | None = None,
        compound_friction_factor: float | None = None,
        edition: str | None = None,
        basis: str | None = None,
        torque_tolerance: float | None = None,
        units: str | None = None,
        torque_unit: str | None = None,
        pressure_unit: str | None = None,
        length_unit: str | None = None,
        force_unit: str | None = None,
        stress_unit: str | None = None,
        area_unit: str | None = None,
        angle_unit: str | None = None,
        steps: bool | None = None,
    ) -> dict[str, Any]:
        """Make-up torque of a rotary shouldered joint."""
        return self._question(
            "/v1/torque/rotary-shouldered",
            {
                "connection": connection,
                "component": component,
                "box_outside_diameter": box_outside_diameter,
                "pin_bore": pin_bore,
                "pin_stress_level": pin_stress_level,
                "box_stress_level": box_stress_level,
                "pin_yield_strength": pin_yield_strength,
                "box_yield_strength": box_yield_strength,
                "low_torque_face": low_torque_face,
                "compound_friction_factor": compound_friction_factor,
                "edition": edition,
                "basis": basis,
                "torque_tolerance": torque_tolerance,
                "units": units,
                "torque_unit": torque_unit,
                "pressure_unit": pressure_unit,
                "length_unit": length_unit,
                "force_unit": force_unit,
                "stress_unit": stress_unit,
                "area_unit": area_unit,
                "angle_unit": angle_unit,
                "steps": steps,
            },
        )

    def pressure(
        self,
        *,
        family: str,
        operation: str,
        thread_hand: str,
        arm_position: Quantity,
        machine: Quantity,
        connection: str | None = None,
        component: str | None = None,
        box_outside_diameter: Quantity | None = None,
        pin_bore: Quantity | None = None,
        pin_stress_level: Quantity | None = None,
        box_stress_level: Quantity | None = None,
        pin_yield_strength: Quantity | None = None,
        box_yield_strength: Quantity | None = None,
        low_torque_face: bool | None = None,
        compound_friction_factor: float | None = None,
        edition: str | None = None,
        basis: str | None = None,
        torque_tolerance: float | None = None,
        break_out_ratio: float | None = None,
        gripped_outside_diameter: Quantity | None = None,
        as_of: str | None = None,
        units: str | None = None,
        torque_unit: str | None = None,
        pressure_unit: str | None = None,
        length_unit: str | None = None,
        force_unit: str | None = None,
        stress_unit: str | None = None,
        area_unit: str | None = None,
        angle_unit: str | None = None,
        steps: bool | None = None,
        torque_target: Quantity | None = None,
        torque_minimum: Quantity | None = None,
        torque_maximum: Quantity | None = None,
        torque_source: str | None = None,
    ) -> dict[str, Any]:
        """What to set on the gauge for a joint on a machine."""
        return self._question(
            "/v1/pressure",
            {
                "family": family,
                "operation": operation,
                "thread_hand": thread_hand,
                "arm_position": arm_position,
                "machine": machine,
                "connection": connection,
                "component": component,
                "box_outside_diameter": box_outside_diameter,
                "pin_bore": pin_bore,
                "pin_stress_level": pin_stress_level,
                "box_stress_level": box_stress_level,
                "pin_yield_strength": pin_yield_strength,
                "box_yield_strength": box_yield_strength,
                "low_torque_face": low_torque_face,
                "compound_friction_factor": compound_friction_factor,
                "edition": edition,
                "basis": basis,
                "torque_tolerance": torque_tolerance,
                "break_out_ratio": break_out_ratio,
                "gripped_outside_diameter": gripped_outside_diameter,
                "as_of": as_of,
                "units": units,
                "torque_unit": torque_unit,
                "pressure_unit": pressure_unit,
                "length_unit": length_unit,
                "force_unit": force_unit,
                "stress_unit": stress_unit,
                "area_unit": area_unit,
                "angle_unit": angle_unit,
                "steps": steps,
                "torque_target": torque_target,
                "torque_minimum": torque_minimum,
                "torque_maximum": torque_maximum,
                "torque_source": torque_source,
            },
        )

    def delivered_torque(
        self,
        *,
        operation: str,
        thread_hand: str,
        arm_position: Quantity,
        machine: Quantity,
        gauge_reading: Quantity,
        gripped_outside_diameter: Quantity | None = None,
        as_of: str | None = None,
        gauge_read: str | None = None,
        units: str | None = None,
        torque_unit: str | None = None,
        pressure_unit: str | None = None,
        length_unit: str | None = None,
        force_unit: str | None = None,
        stress_unit: str | None = None,
        area_unit: str | None = None,
        angle_unit: str | None = None,
        steps: bool | None = None,
    ) -> dict[str, Any]:
        """Torque behind a gauge reading."""
        return self._question(
            "/v1/delivered-torque",
            {
                "operation": operation,
                "thread_hand": thread_hand,
                "arm_position": arm_position,
                "machine": machine,
                "gauge_reading": gauge_reading,
                "gripped_outside_diameter": gripped_outside_diameter,
                "as_of": as_of,
                "gauge_read": gauge_read,
                "units": units,
                "torque_unit": torque_unit,
                "pressure_unit": pressure_unit,
                "length_unit": length_unit,
                "force_unit": force_unit,
                "stress_unit": stress_unit,
                "area_unit": area_unit,
                "angle_unit": angle_unit,
                "steps": steps,
            },
        )

    def machine_choice(
        self,
        *,
        family: str,
        operation: str,
        thread_hand: str,
        arm_position: Quantity,
        connection: str | None = None,
        component: str | None = None,
        box_outside_diameter: Quantity | None = None,
        pin_bore: Quantity | None = None,
        pin_stress_level: Quantity | None = None,
        box_stress_level: Quantity | None = None,
        pin_yield_strength: Quantity | None = None,
        box_yield_strength: Quantity | None = None,
        low_torque_face: bool | None = None,
        compound_friction_factor: float | None = None,
        edition: str | None = None,
        basis: str | None = None,
        torque_tolerance: float | None = None,
        break_out_ratio: float | None = None,
        gripped_outside_diameter: Quantity | None = None,
        as_of: str | None = None,
        site: str | None = None,
        units: str | None = None,
        torque_unit: str | None = None,
        pressure_unit: str | None = None,
        length_unit: str | None = None,
        force_unit: str | None = None,
        stress_unit: str | None = None,
        area_unit: str | None = None,
        angle_unit: str | None = None,
        steps: bool | None = None,
        torque_target: Quantity | None = None,
        torque_minimum: Quantity | None = None,
        torque_maximum: Quantity | None = None,
        torque_source: str | None = None,
    ) -> dict[str, Any]:
        """Which machines can do a joint, and why the others cannot."""
        return self._question(
            "/v1/machine-choice",
            {
                "family": family,
                "operation": operation,
                "thread_hand": thread_hand,
                "arm_position": arm_position,
                "connection": connection,
                "component": component,
                "box_outside_diameter": box_outside_diameter,
                "pin_bore": pin_bore,
                "pin_stress_level": pin_stress_level,
                "box_stress_level": box_stress_level,
                "pin_yield_strength": pin_yield_strength,
                "box_yield_strength": box_yield_strength,
                "low_torque_face": low_torque_face,
                "compound_friction_factor": compound_friction_factor,
                "edition": edition,
                "basis": basis,
                "torque_tolerance": torque_tolerance,
                "break_out_ratio": break_out_ratio,
                "gripped_outside_diameter": gripped_outside_diameter,
                "as_of": as_of,
                "site": site,
                "units": units,
                "torque_unit": torque_unit,
                "pressure_unit": pressure_unit,
                "length_unit": length_unit,
                "force_unit": force_unit,
                "stress_unit": stress_unit,
                "area_unit": area_unit,
                "angle_unit": angle_unit,
                "steps": steps,
                "torque_target": torque_target,
                "torque_minimum": torque_minimum,
                "torque_maximum": torque_maximum,
                "torque_source": torque_source,
            },
        )

    def stroke(
        self,
        *,
        machine: Quantity,
        lost_motion: Quantity,
        gripped_outside_diameter: Quantity | None = None,
        used_from: Quantity | None = None,
        used_to: Quantity | None = None,
        rotation: Quantity | None = None,
        axial_travel: Quantity | None = None,
        lead: Quantity | None = None,
        as_of: str | None = None,
        units: str | None = None,
        torque_unit: str | None = None,
        pressure_unit: str | None = None,
        length_unit: str | None = None,
        force_unit: str | None = None,
        stress_unit: str | None = None,
        area_unit: str | None = None,
        angle_unit: str | None = None,
        steps: bool | None = None,
    ) -> dict[str, Any]:
        """What one stroke of a machine does: rotation, torque from end to end, strokes for a rotation."""
        return self._question(
            "/v1/stroke",
            {
                "machine": machine,
                "lost_motion": lost_motion,
                "gripped_outside_diameter": gripped_outside_diameter,
                "used_from": used_from,
                "used_to": used_to,
                "rotation": rotation,
                "axial_travel": axial_travel,
                "lead": lead,
                "as_of": as_of,
                "units": units,
                "torque_unit": torque_unit,
                "pressure_unit": pressure_unit,
                "length_unit": length_unit,
                "force_unit": force_unit,
                "stress_unit": stress_unit,
                "area_unit": area_unit,
                "angle_unit": angle_unit,
                "steps": steps,
            },
        )

    def grip(
        self,
        *,
        torque: Quantity,
        outside_diameter: Quantity,
        friction: float,
        margin: float,
        squeeze: Quantity | None = None,
        machine: Quantity | None = None,
        jaws: Mapping[str, Any] | None = None,
        chain: Mapping[str, Any] | None = None,
        grip_cylinder: Mapping[str, Any] | None = None,
        as_of: str | None = None,
        units: str | None = None,
        torque_unit: str | None = None,
        pressure_unit: str | None = None,
        length_unit: str | None = None,
        force_unit: str | None = None,
        stress_unit: str | None = None,
        area_unit: str | None = None,
        angle_unit: str | None = None,
        steps: bool | None = None,
    ) -> dict[str, Any]:
        """Whether a grip holds a torque: squeeze, chain, links, grip cylinder."""
        return self._question(
            "/v1/grip",
            {
                "torque": torque,
                "outside_diameter": outside_diameter,
                "friction": friction,
                "margin": margin,
                "squeeze": squeeze,
                "machine": machine,
                "jaws": jaws,
                "chain": chain,
                "grip_cylinder": grip_cylinder,
                "as_of": as_of,
                "units": units,
                "torque_unit": torque_unit,
                "pressure_unit": pressure_unit,
                "length_unit": length_unit,
                "force_unit": force_unit,
                "stress_unit": stress_unit,
                "area_unit": area_unit,
                "angle_unit": angle_unit,
                "steps": steps,
            },
        )

    def preload_pressure(
        self,
        *,
        machine: Quantity,
        preload_target: Quantity,
        load_loss_factor: float,
        stress_area: Quantity,
        yield_strength: Quantity,
        preload_minimum: Quantity | None = None,
        preload_maximum: Quantity | None = None,
        as_of: str | None = None,
        units: str | None = None,
        torque_unit: str | None = None,
        pressure_unit: str | None = None,
        length_unit: str | None = None,
        force_unit: str | None = None,
        stress_unit: str | None = None,
        area_unit: str | None = None,
        angle_unit: str | None = None,
        steps: bool | None = None,
    ) -> dict[str, Any]:
        """What to set on the gauge of a stud tensioner for a preload."""
        return self._question(
            "/v1/preload-pressure",
            {
                "machine": machine,
                "preload_target": preload_target,
                "load_loss_factor": load_loss_factor,
                "stress_area": stress_area,
                "yield_strength": yield_strength,
                "preload_minimum": preload_minimum,
                "preload_maximum": preload_maximum,
                "as_of": as_of,
                "units": units,
                "torque_unit": torque_unit,
                "pressure_unit": pressure_unit,
                "length_unit": length_unit,
                "force_unit": force_unit,
                "stress_unit": stress_unit,
                "area_unit": area_unit,
                "angle_unit": angle_unit,
                "steps": steps,
            },
        )

    def calibration(
        self,
        *,
        readings: Sequence[Mapping[str, Any]],
        arm_position: Quantity,
        machine: Quantity | None = None,
        gripped_outside_diameter: Quantity | None = None,
        certificate: str | None = None,
        calibrated_on: str | None = None,
        due: str | None = None,
        reference: str | None = None,
        reference_uncertainty_percent: float | None = None,
        units: str | None = None,
        torque_unit: str | None = None,
        pressure_unit: str | None = None,
        length_unit: str | None = None,
        force_unit: str | None = None,
        stress_unit: str | None = None,
        area_unit: str | None = None,
        angle_unit: str | None = None,
        steps: bool | None = None,
    ) -> dict[str, Any]:
        """What a calibration says of a machine, and the profile it makes."""
        return self._question(
            "/v1/calibration",
            {
                "readings": readings,
                "arm_position": arm_position,
                "machine": machine,
                "gripped_outside_diameter": gripped_outside_diameter,
                "certificate": certificate,
                "calibrated_on": calibrated_on,
                "due": due,
                "reference": reference,
                "reference_uncertainty_percent": reference_uncertainty_percent,
                "units": units,
                "torque_unit": torque_unit,
                "pressure_unit": pressure_unit,
                "length_unit": length_unit,
                "force_unit": force_unit,
                "stress_unit": stress_unit,
                "area_unit": area_unit,
                "angle_unit": angle_unit,
                "steps": steps,
            },
        )

    def conversion(
        self,
        *,
        quantity: Quantity,
        to: str,
        units: str | None = None,
        torque_unit: str | None = None,
        pressure_unit: str | None = None,
        length_unit: str | None = None,
        force_unit: str | None = None,
        stress_unit: str | None = None,
        area_unit: str | None = None,
        angle_unit: str | None = None,
        steps: bool | None = None,
    ) -> dict[str, Any]:
        """A quantity in another unit."""
        return self._question(
            "/v1/conversion",
            {
                "quantity": quantity,
                "to": to,
                "units": units,
                "torque_unit": torque_unit,
                "pressure_unit": pressure_unit,
                "length_unit": length_unit,
                "force_unit": force_unit,
                "stress_unit": stress_unit,
                "area_unit": area_unit,
                "angle_unit": angle_unit,
                "steps": steps,
            },
        )

    def connections(
        self,
        *,
        units: str | None = None,
        length_unit: str | None = None,
        thread_form: str | None = None,
        status: str | None = None,
        low_torque_face: bool | None = None,
    ) -> list[dict[str, Any]]:
        """Rotary shouldered connections."""
        return self._listing(
            "/v1/connections",
            {
                "units": units,
                "length_unit": length_unit,
                "thread_form": thread_form,
                "status": status,
                "low_torque_face": low_torque_face,
            },
        )

    def connection(self, name: str) -> dict[str, Any]:
        """Rotary shouldered connections: one entry."""
        return self._entry("/v1/connections", name)

    def machines(
        self, *, site: str | None = None, kind: str | None = None, status: str | None = None
    ) -> list[dict[str, Any]]:
        """Machines of the shop."""
        return self._listing("/v1/machines", {"site": site, "kind": kind, "status": status})

    def machine(self, name: str) -> dict[str, Any]:
        """Machines of the shop: one entry."""
        return self._entry("/v1/machines", name)

    def units(self, *, kind: str | None = None) -> list[dict[str, Any]]:
        """Units and their spellings."""
        return self._listing("/v1/units", {"kind": kind})

    def sources(self) -> list[dict[str, Any]]:
        """Sources of the published figures."""
        return self._listing("/v1/sources", {})

    def problems(self) -> list[dict[str, Any]]:
        """Codes of refusals."""
        return self._listing("/v1/problems", {})

    def problem(self, name: str) -> dict[str, Any]:
        """Codes of refusals: one entry."""
        return self._entry("/v1/problems", name)
