"""The vessel's own certificates: an authority made once, and a server certificate from it.

A phone trusts the page only under https, and no public authority knows a boat's net. So
the server signs for itself; the authority is installed on each phone once. It can speak
for nothing but names ending in `.local`, the server's own name, and private addresses.

Sources: X.509 as in RFC 5280; server certificates for user-installed authorities: at most
825 days, subject alternative name, `serverAuth` (Apple, "Requirements for trusted
certificates in iOS 13 and macOS 10.15", support page 103769, from memory).
"""

from __future__ import annotations

import os
from collections.abc import Sequence
from contextlib import suppress
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from ipaddress import ip_address, ip_network
from pathlib import Path

from cryptography import x509
from cryptography.exceptions import InvalidSignature
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.x509.oid import ExtendedKeyUsageOID, NameOID

#: The authority outlasts any clock that is wrong by years: a new one means a walk to each phone.
AUTHORITY_DAYS, SERVER_DAYS, RENEW_UNDER_DAYS = 25 * 365, 397, 30
#: A small computer may wake up in 1970: no certificate is made for a time before this one, and
#: the authority holds from here on, whatever the clock said when it was made.
RELEASED = datetime(2026, 11, 1, tzinfo=UTC)
OWNER_ONLY = 0o600
PRIVATE = ("10.0.0.0/8", "172.16.0.0/12", "192.168.0.0/16", "100.64.0.0/10", "169.254.0.0/16",
           "127.0.0.0/8", "fc00::/7", "fe80::/10", "::1/128")

Key = ec.EllipticCurvePrivateKey


@dataclass(frozen=True)
class Certificates:
    """Where the certificates lie; `made_authority` is True when phones must install it anew."""

    authority: Path
    server: Path
    server_key: Path
    made_authority: bool
    renewed: bool

    @property
    def fingerprint(self) -> str:
        """Give the authority's SHA-256 fingerprint, as phones show it."""
        print_ = x509.load_pem_x509_certificate(self.authority.read_bytes()).fingerprint(
            hashes.SHA256()).hex().upper()
        return ":".join(print_[i:i + 2] for i in range(0, len(print_), 2))

    @property
    def until(self) -> date:
        """Give the last whole day of the server's certificate, in UTC."""
        ends = x509.load_pem_x509_certificate(self.server.read_bytes()).not_valid_after_utc
        return (ends - timedelta(days=1)).date()

    def authority_der(self) -> bytes:
        """Give the authority's certificate as phones install it."""
        return x509.load_pem_x509_certificate(self.authority.read_bytes()).public_bytes(
            serialization.Encoding.DER)


def ready(folder: Path, name: str, addresses: Sequence[str], now: datetime) -> Certificates:
    """See that there is an authority, and a server certificate that will do for a while.

    The server's is made anew when under 30 days remain, or when the name or an address is
    not in it (one that is gone may come back); the authority only when it is not there,
    damaged, or about to end while a new one is not.

    Args:
        folder: Where they are kept; keys can be read by the owner alone.
        name: The one name under which phones know the server [-].
        addresses: This computer's addresses on the net; public ones are left out [-].
        now: The time of the computer's clock.

    Raises:
        OSError: a file cannot be read or written; what is there stays.
    """
    now = max(now, RELEASED)
    addresses = sorted({one for one in addresses if _is_private(one)})
    folder.mkdir(mode=0o700, parents=True, exist_ok=True)
    authority_key, authority = _read(folder, "authority")
    made = authority is None or authority_key is None or not _speaks_for(authority, name, now)
    if authority is None or authority_key is None or made:
        authority_key, authority = _make_authority(name)
        _write(folder, "authority", authority_key, authority)
    server_key, server = _read(folder, "server")
    renew = server is None or server_key is None or not _will_do(
        server, authority, name, addresses, now)
    if renew:
        server_key = ec.generate_private_key(ec.SECP256R1())
        server = _make_server(server_key, authority_key, authority, name, addresses, now)
        _write(folder, "server", server_key, server)
    return Certificates(folder / "authority.crt", folder / "server.crt", folder / "server.key",
                        made, renew)


def _make_authority(name: str) -> tuple[Key, x509.Certificate]:
    key = ec.generate_private_key(ec.SECP256R1())
    subject = x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, f"Spares aboard, {name}")])
    permitted: list[x509.GeneralName] = [x509.DNSName("local"), x509.DNSName(name)]
    permitted += [x509.IPAddress(ip_network(one)) for one in PRIVATE]
    builder = _begin(subject, subject, key, RELEASED, AUTHORITY_DAYS)
    builder = builder.add_extension(x509.BasicConstraints(ca=True, path_length=0), critical=True)
    builder = builder.add_extension(_usage(signs_certificates=True), critical=True)
    builder = builder.add_extension(x509.NameConstraints(permitted, None), critical=True)
    return key, builder.sign(key, hashes.SHA256())


def _make_server(key: Key, authority_key: Key, authority: x509.Certificate, name: str,
                 addresses: Sequence[str], now: datetime) -> x509.Certificate:
    subject = x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, name)])
    names: list[x509.GeneralName] = [x509.DNSName(name)]
    names += [x509.IPAddress(ip_address(one)) for one in addresses]
    builder = _begin(subject, authority.subject, key, now, SERVER_DAYS)
    builder = builder.add_extension(x509.SubjectAlternativeName(names), critical=False)
    builder = builder.add_extension(x509.BasicConstraints(ca=False, path_length=None),
                                    critical=True)
    builder = builder.add_extension(_usage(signs_certificates=False), critical=True)
    builder = builder.add_extension(x509.ExtendedKeyUsage([ExtendedKeyUsageOID.SERVER_AUTH]),
                                    critical=False)
    builder = builder.add_extension(x509.AuthorityKeyIdentifier.from_issuer_public_key(
        authority_key.public_key()), critical=False)
    return builder.sign(authority_key, hashes.SHA256())


def _begin(subject: x509.Name, issuer: x509.Name, key: Key, now: datetime,
           days: int) -> x509.CertificateBuilder:
    """Begin a certificate; it holds from a day before, for phones whose clock is behind."""
    begins = now - timedelta(days=1)
    return (x509.CertificateBuilder().subject_name(subject).issuer_name(issuer)
            .public_key(key.public_key()).serial_number(x509.random_serial_number())
            .not_valid_before(begins).not_valid_after(begins + timedelta(days=days))
            .add_extension(x509.SubjectKeyIdentifier.from_public_key(key.public_key()),
                           critical=False))


def _usage(*, signs_certificates: bool) -> x509.KeyUsage:
    return x509.KeyUsage(
        digital_signature=not signs_certificates, content_commitment=False,
        key_encipherment=False, data_encipherment=False, key_agreement=False,
        key_cert_sign=signs_certificates, crl_sign=signs_certificates, encipher_only=False,
        decipher_only=False)


def _speaks_for(authority: x509.Certificate, name: str, now: datetime) -> bool:
    """Say whether the authority may name the server, and lasts as long as one that it signs.

    Where one made anew would not last either, the clock is wrong by decades: phones trust this
    one, and will again when the clock is right.
    """
    permitted = authority.extensions.get_extension_for_class(
        x509.NameConstraints).value.permitted_subtrees or []
    names = [one.value for one in permitted if isinstance(one, x509.DNSName)]
    wanted, anew = now + timedelta(days=SERVER_DAYS), RELEASED + timedelta(days=AUTHORITY_DAYS - 1)
    return ((authority.not_valid_after_utc >= wanted or anew < wanted)
            and any(name == one or name.endswith(f".{one}") for one in names))


def _will_do(server: x509.Certificate, authority: x509.Certificate, name: str,
             addresses: Sequence[str], now: datetime) -> bool:
    said = server.extensions.get_extension_for_class(x509.SubjectAlternativeName).value
    try:
        server.verify_directly_issued_by(authority)
    except (ValueError, TypeError, InvalidSignature):
        return False
    return (server.not_valid_before_utc <= now
            and server.not_valid_after_utc >= now + timedelta(days=RENEW_UNDER_DAYS)
            and said.get_values_for_type(x509.DNSName) == [name]
            and set(addresses) <= set(map(str, said.get_values_for_type(x509.IPAddress))))


def _is_private(address: str) -> bool:
    at = ip_address(address)
    return any(at in ip_network(one) for one in PRIVATE if ip_network(one).version == at.version)


def _read(folder: Path, what: str) -> tuple[Key | None, x509.Certificate | None]:
    """Read a key and its certificate; None for what is not there, damaged, or not a pair."""
    try:
        with suppress(OSError):     # one that was copied by hand may have come with wider rights
            os.chmod(folder / f"{what}.key", OWNER_ONLY)
        key = serialization.load_pem_private_key((folder / f"{what}.key").read_bytes(), None)
        certificate = x509.load_pem_x509_certificate((folder / f"{what}.crt").read_bytes())
    except (FileNotFoundError, ValueError):     # one that only cannot be read now is kept
        return None, None
    if not isinstance(key, ec.EllipticCurvePrivateKey) \
            or key.public_key() != certificate.public_key():
        return None, None
    return key, certificate


def _write(folder: Path, what: str, key: Key, certificate: x509.Certificate) -> None:
    """Write both so that a power cut leaves the old ones or the new ones, never half a file."""
    private = key.private_bytes(serialization.Encoding.PEM, serialization.PrivateFormat.PKCS8,
                                serialization.NoEncryption())
    for name, data in ((f"{what}.key", private),
                       (f"{what}.crt", certificate.public_bytes(serialization.Encoding.PEM))):
        new = folder / f"{name}.new"
        new.unlink(missing_ok=True)
        descriptor = os.open(new, os.O_WRONLY | os.O_CREAT | os.O_EXCL, OWNER_ONLY)
        with os.fdopen(descriptor, "wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        os.replace(new, folder / name)
