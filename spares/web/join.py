"""The plain page on the boat's net: how a phone comes to trust the real one, and nothing else.

It holds nothing of the vessel, unless the skipper opened the look-only find page beside it
(`spares serve --lan --find-page`). What it gives out is the authority's certificate, which is
public; the person compares its fingerprint with the one on the server's own screen.
"""

from __future__ import annotations

from flask import Flask, Response, render_template, request, send_from_directory

from spares.web import headers, look_only, problems
from spares.web.api import OrjsonProvider
from spares.web.certificates import Certificates
from spares.web.docs import PAGES
from spares.web.guard import WrongHost, bracketed
from spares.web.net import Net
from spares.web.store import OpenStore

#: What phones take for a certificate to install.
CERTIFICATE_TYPE = "application/x-x509-ca-cert"


def create_join_app(net: Net, certificates: Certificates, opened: OpenStore | None = None
                    ) -> Flask:
    """Make the application of the plain port; with *opened* its things can be looked for."""
    app = Flask("spares-join", static_folder=None, template_folder=str(PAGES))
    app.config["DEBUG"] = False
    app.config["PROVIDE_AUTOMATIC_OPTIONS"] = False
    app.config["MAX_CONTENT_LENGTH"] = 1024
    app.json = OrjsonProvider(app)
    app.config["NET"] = net         # replaced when the addresses change

    @app.before_request
    def check_host() -> None:
        now: Net = app.config["NET"]
        names = {now.name, "localhost", "127.0.0.1", *(bracketed(one) for one in now.addresses)}
        name = (request.environ.get("HTTP_HOST") or "").lower()
        if name.rpartition(":")[0] not in names and name not in names:
            raise WrongHost()

    @app.get("/")
    def page() -> str:
        return render_template("join.html", net=app.config["NET"], has_find=opened is not None,
                               fingerprint=certificates.fingerprint)

    @app.get("/authority.crt")
    def authority() -> Response:
        response = Response(certificates.authority_der(), mimetype=CERTIFICATE_TYPE)
        response.headers["Content-Disposition"] = 'attachment; filename="spares-aboard.crt"'
        return response

    @app.get("/join.css")
    def style() -> Response:
        return send_from_directory(PAGES, "pages.css", mimetype="text/css")

    if opened is not None:
        look_only.register(app, opened)
    headers.register(app)
    problems.register(app)
    return app
