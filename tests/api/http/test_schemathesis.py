"""Every operation, asked what its document allows and what it forbids, answers as the document says."""

from pathlib import Path

import schemathesis
from hypothesis import settings

from api.app import create_app
from api.settings import Settings

DEMO_MACHINES = Path(__file__).parents[3] / "deploy" / "demo" / "machines"

config = schemathesis.Config.from_dict(
    {
        "seed": 1,
        "checks": {"positive_data_acceptance": {"expected-statuses": ["200", "404", "422"]}},
    }
)
schema = schemathesis.openapi.from_wsgi(
    "/openapi.json", create_app(Settings(machines=DEMO_MACHINES)), config=config
)


@schema.parametrize()
@settings(max_examples=200, derandomize=True, deadline=None, database=None)
def test_every_operation_keeps_to_its_document(case: schemathesis.Case) -> None:
    case.call_and_validate()
