"""The application: settings in, routes out."""

import os
from dataclasses import dataclass

from flask import Flask

from api.answers.machines.profile import read_folder
from api.answers.policy_file import read_policy
from api.answers.shop import Shop
from api.answers.shop_tables.table import read_tables
from api.http import exchange, problems, routes
from api.http.exchange import StrictJSON
from api.reference.table import read_every_table
from api.settings import Settings, from_environment, read_key


@dataclass(frozen=True)
class Service:
    """What views need: settings and the shop."""

    settings: Settings
    shop: Shop


def create_app(settings: Settings | None = None) -> Flask:
    """The WSGI application.

    Args:
        settings: how to run; from the environment if left out.

    Raises:
        BadSetting: for an environment the service cannot run with, a file without its key among it.
        BadPolicy: for a policy with a fault: no answer may rest on half of one.
    """
    settings = settings or from_environment(os.environ)
    app = Flask("dialset", static_folder=None)
    app.json = StrictJSON(app)
    read_every_table()
    policy = read_policy(settings.policy)
    key = read_key(settings.receipt_key_file)
    machines, tables = read_folder(settings.machines), read_tables(settings.tables)
    shop = Shop(machines, tables, policy, settings.units, key)
    app.extensions["dialset"] = Service(settings, shop)
    exchange.register(app, shop)
    problems.register(app)
    routes.register(app)
    return app
