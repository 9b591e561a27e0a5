"""Headers that every answer carries, and compression of the larger ones."""

from __future__ import annotations

import gzip

from flask import Flask, Response, request

CONTENT_SECURITY_POLICY = "; ".join((
    "default-src 'self'", "script-src 'self' 'wasm-unsafe-eval'", "style-src 'self'",
    "img-src 'self' data: blob:", "connect-src 'self'", "worker-src 'self'",
    "object-src 'none'", "base-uri 'none'", "frame-ancestors 'none'", "form-action 'self'"))

SECURITY = {
    "Content-Security-Policy": CONTENT_SECURITY_POLICY,
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "no-referrer",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Permissions-Policy": "camera=(self), geolocation=(), microphone=()",
}

COMPRESS_FROM_BYTES = 1024
_LEVEL = 5              # a fifth of the size for 20,000 part rows; higher levels gain little
_PACKED_ALREADY = ("image/", "application/pdf", "application/zip", "font/")
_PACKABLE_IMAGE = "image/svg+xml"


def register(app: Flask) -> None:
    """Finish every answer of *app*."""
    app.after_request(_compress)
    app.after_request(_secure)


def _secure(response: Response) -> Response:
    for name, value in SECURITY.items():
        response.headers.setdefault(name, value)
    response.headers.setdefault("Cache-Control", "no-store")
    return response


def _compress(response: Response) -> Response:
    if not _worth_packing(response):
        return response
    response.vary.add("Accept-Encoding")
    if not request.accept_encodings["gzip"] or request.method == "HEAD":
        return response
    response.direct_passthrough = False
    packed = gzip.compress(response.get_data(), _LEVEL, mtime=0)
    response.set_data(packed)
    response.headers["Content-Encoding"] = "gzip"
    etag, _ = response.get_etag()
    if etag:
        response.set_etag(etag, weak=True)      # other bytes, the same meaning
    return response


def _worth_packing(response: Response) -> bool:
    kind = response.mimetype or ""
    return (response.status_code == 200 and "Content-Encoding" not in response.headers
            and (response.content_length or 0) >= COMPRESS_FROM_BYTES
            and (kind == _PACKABLE_IMAGE or not kind.startswith(_PACKED_ALREADY)))
