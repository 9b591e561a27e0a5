"""The vessel's own authority and what it signs, read back by OpenSSL through `ssl`."""

from __future__ import annotations

import errno
import shutil
import ssl
import stat
import subprocess
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from cryptography import x509
from cryptography.x509.oid import ExtendedKeyUsageOID

from spares.web.certificates import RELEASED, Certificates, ready

NAME = "spares.local"
NOW = datetime(2027, 3, 15, 12, tzinfo=UTC)


def made(folder: Path, now: datetime = NOW, name: str = NAME,
         addresses: tuple[str, ...] = ("192.168.7.2",)) -> Certificates:
    return ready(folder, name, addresses, now)


def server_of(certificates: Certificates) -> x509.Certificate:
    return x509.load_pem_x509_certificate(certificates.server.read_bytes())


def test_openssl_accepts_the_chain_for_name_and_address(tmp_path):
    openssl = shutil.which("openssl")
    if openssl is None:
        pytest.skip("openssl is not installed")
    found = made(tmp_path)
    for asked in (("-verify_hostname", NAME), ("-verify_ip", "192.168.7.2")):
        told = subprocess.run(
            [openssl, "verify", "-x509_strict", "-purpose", "sslserver", "-attime",
             str(int(NOW.timestamp())), "-CAfile", str(found.authority), *asked,
             str(found.server)], capture_output=True, text=True)
        assert told.returncode == 0, told.stdout + told.stderr
    told = subprocess.run(
        [openssl, "verify", "-attime", str(int(NOW.timestamp())), "-CAfile",
         str(found.authority), "-verify_hostname", "bank.example", str(found.server)],
        capture_output=True, text=True)
    assert told.returncode != 0


def test_keys_are_the_owners_alone(tmp_path):
    made(tmp_path / "kept")
    for key in ("authority.key", "server.key"):      # as a copy made by hand leaves them
        (tmp_path / "kept" / key).chmod(0o644)
    assert not made(tmp_path / "kept").renewed
    assert stat.S_IMODE((tmp_path / "kept").stat().st_mode) == 0o700
    for key in ("authority.key", "server.key"):
        assert stat.S_IMODE((tmp_path / "kept" / key).stat().st_mode) == 0o600


def test_server_certificate_is_as_phones_demand(tmp_path):
    one = server_of(made(tmp_path))
    lasts = one.not_valid_after_utc - one.not_valid_before_utc
    assert lasts == timedelta(days=397)
    usage = one.extensions.get_extension_for_class(x509.ExtendedKeyUsage).value
    assert list(usage) == [ExtendedKeyUsageOID.SERVER_AUTH]
    names = one.extensions.get_extension_for_class(x509.SubjectAlternativeName).value
    assert names.get_values_for_type(x509.DNSName) == [NAME]


def test_authority_can_speak_for_nothing_but_the_boat(tmp_path):
    authority = x509.load_pem_x509_certificate(made(tmp_path).authority.read_bytes())
    limits = authority.extensions.get_extension_for_class(x509.NameConstraints)
    names = [one.value for one in limits.value.permitted_subtrees
             if isinstance(one, x509.DNSName)]
    assert limits.critical and names == ["local", NAME]
    assert all(one.value.is_private or str(one.value) == "100.64.0.0/10"
               for one in limits.value.permitted_subtrees if isinstance(one, x509.IPAddress))


def test_nothing_is_made_anew_while_it_will_do(tmp_path):
    first = made(tmp_path)
    again = made(tmp_path, NOW + timedelta(days=365))
    assert first.made_authority and first.renewed
    assert not again.made_authority and not again.renewed
    assert first.fingerprint == again.fingerprint


@pytest.mark.parametrize("change", [
    {"now": NOW + timedelta(days=367)}, {"addresses": ("192.168.7.3",)},
    {"addresses": ("192.168.7.2", "10.0.0.4")}, {"now": NOW - timedelta(days=60)}])
def test_server_certificate_is_renewed_and_phones_go_on_trusting(tmp_path, change):
    first = made(tmp_path)
    again = made(tmp_path, **change)
    assert again.renewed and not again.made_authority
    assert again.fingerprint == first.fingerprint


def test_another_name_under_local_keeps_the_authority(tmp_path):
    made(tmp_path)
    again = made(tmp_path, name="wheelhouse.local")
    assert again.renewed and not again.made_authority
    assert made(tmp_path, name="spares.example").made_authority


@pytest.mark.parametrize("file", ["server.key", "server.crt", "authority.key", "authority.crt"])
def test_damaged_file_is_made_anew(tmp_path, file):
    made(tmp_path)
    (tmp_path / file).write_bytes(b"-----BEGIN nothing")
    again = made(tmp_path)
    assert again.renewed and again.made_authority == file.startswith("authority")
    context = ssl.create_default_context(cafile=str(again.authority))
    context.load_cert_chain(again.server, again.server_key)


def test_clock_that_woke_in_1970_makes_no_certificate_of_1970(tmp_path):
    found = made(tmp_path, datetime(1970, 1, 2, tzinfo=UTC))
    assert server_of(found).not_valid_after_utc > RELEASED + timedelta(days=390)


@pytest.mark.parametrize("year", [2052, 2099])
def test_a_clock_wrong_by_decades_costs_no_phone_its_trust(tmp_path, year):
    first = made(tmp_path)
    wrong = made(tmp_path, datetime(year, 1, 2, tzinfo=UTC))
    assert wrong.fingerprint == first.fingerprint and not wrong.made_authority
    again = made(tmp_path)
    assert again.fingerprint == first.fingerprint and again.renewed
    assert server_of(again).not_valid_before_utc <= NOW


def test_a_key_that_cannot_be_read_just_now_is_not_replaced(tmp_path, monkeypatch):
    """As when a process has too many files open, or a card is slow to answer."""
    first, read = made(tmp_path), Path.read_bytes

    def fails_once(path: Path) -> bytes:
        monkeypatch.setattr(Path, "read_bytes", read)
        raise OSError(errno.EMFILE, "too many open files")
    monkeypatch.setattr(Path, "read_bytes", fails_once)
    with pytest.raises(OSError, match="too many"):
        made(tmp_path)
    assert made(tmp_path).fingerprint == first.fingerprint


def test_public_addresses_are_not_named(tmp_path):
    names = server_of(made(tmp_path, addresses=("8.8.4.4", "fe80::1"))).extensions \
        .get_extension_for_class(x509.SubjectAlternativeName).value
    assert [str(one) for one in names.get_values_for_type(x509.IPAddress)] == ["fe80::1"]
