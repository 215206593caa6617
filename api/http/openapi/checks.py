"""The paths of the OpenAPI document that check a file before it is put into service."""

from api.http.openapi.components import Components
from api.http.openapi.paths import responses
from api.registry.examples import EXAMPLE_PROFILE
from api.registry.profile_check import check_profile
from api.registry.table_check import EXAMPLE, check_table
from schemas.core.quantity_fields import SystemOfUnits
from schemas.machines.answer import ProfileCheckAnswer
from schemas.shop_tables.listings import TableCheckAnswer


def profile_check_path(components: Components) -> None:
    """The check of a profile."""
    components.spec.path(
        "/v1/profile-check",
        operations={
            "post": {
                "tags": ["catalogues"],
                "summary": "Check a machine profile",
                "description": "Every fault of a profile by JSON Pointer, before it is put into service.",
                "operationId": "checkProfile",
                "parameters": components.parameters([SystemOfUnits()], {}),
                "requestBody": {
                    "required": True,
                    "content": {
                        "application/json": {
                            "schema": {"description": "A profile; see MachineProfile."},
                            "example": dict(EXAMPLE_PROFILE),
                        }
                    },
                },
                "responses": responses(
                    {
                        "application/json": {
                            "schema": components.reference(ProfileCheckAnswer()),
                            "example": check_profile(EXAMPLE_PROFILE, "us"),
                        }
                    },
                    "What is wrong with it, if anything.",
                ),
            }
        },
    )


def table_check_path(components: Components) -> None:
    """The check of a table."""
    table = {"text/csv": {"schema": {"type": "string", "minLength": 1}, "example": EXAMPLE}}
    answer = {"schema": components.reference(TableCheckAnswer()), "example": check_table(EXAMPLE.encode())}
    operation = {
        "tags": ["catalogues"],
        "summary": "Check a table of the shop",
        "description": "Every fault of a table by row and column, before it is put into its folder.",
        "operationId": "checkTable",
        "requestBody": {"required": True, "content": table},
        "responses": responses({"application/json": answer}, "What is wrong with it, if anything."),
    }
    components.spec.path("/v1/table-check", operations={"post": operation})
