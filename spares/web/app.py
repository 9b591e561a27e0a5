"""The one place that wires settings, routes, guards and problems into a Flask application."""

from __future__ import annotations

from flask import Flask

from spares.config import Settings
from spares.web import (
    across,
    api,
    beginning,
    bringing,
    client,
    compute,
    devices,
    do,
    docs,
    files,
    find,
    fit,
    fit_data,
    guard,
    headers,
    look,
    orders,
    papers,
    photos,
    problems,
    sheets,
    store,
    sync,
    trails,
    trips,
    upkeep,
    who,
)
from spares.web.net import Net

BLUEPRINTS = (find.blueprint, fit.blueprint, fit_data.blueprint, trips.blueprint, look.blueprint,
              do.blueprint, files.blueprint, sheets.blueprint, papers.blueprint,
              compute.blueprint, sync.blueprint, devices.blueprint, orders.blueprint,
              photos.blueprint, trails.blueprint, upkeep.blueprint, beginning.blueprint,
              across.blueprint, bringing.blueprint)


def create_app(settings: Settings, *, token: str | None = None, net: Net | None = None) -> Flask:
    """Make the application that serves the store of *settings*.

    Args:
        settings: The settings of this run.
        token: Secret that a command on this computer shows instead of an origin [-].
        net: Under which name it is served on the boat's net, if it is.
    """
    app = Flask("spares", static_folder=None, template_folder=str(docs.PAGES))
    app.config["DEBUG"] = False
    app.config["NET"] = net
    app.config["PROVIDE_AUTOMATIC_OPTIONS"] = False     # no other site has anything to ask for
    store.register(app, settings)
    guard.register(app, settings.host, token)
    who.register(app)
    headers.register(app)
    app.url_map.converters["sha256"] = photos.Sha256
    frame = api.configure(app)
    for blueprint in BLUEPRINTS:
        frame.register_blueprint(blueprint)
    problems.register(app)
    docs.register(app, frame)
    client.register(app)
    return app
