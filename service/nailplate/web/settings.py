"""What an operator may set: read once from the environment, typed, and refused where a name or a value is not known.

Errors: ``SettingsError``; it stops the start.
"""

import ipaddress
import os
import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, fields
from pathlib import Path
from typing import Any

from nailplate.calc.work import BUDGET

PREFIX = "NAILPLATE_"


class SettingsError(ValueError):
    """A setting that is not known, or whose value cannot be."""


def _cores() -> int:
    return len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1


@dataclass(frozen=True, slots=True, kw_only=True)
class Settings:
    """The service's settings. Each is an environment variable: ``max_body`` is ``NAILPLATE_MAX_BODY``."""

    host: str = "127.0.0.1"
    port: int = 8080
    workers: int = 0
    """Worker processes; 0 is one per core."""
    max_body: int = 2_000_000
    """The largest body taken, in bytes."""
    max_batch: int = 64_000_000
    """The largest body of a batch taken, in bytes."""
    max_records: int = 20_000
    """The most records that one batch makes."""
    time_limit: int = 20
    """Seconds of computation that one check is given."""
    threads: int = 16
    """Requests that one worker holds at a time; one of them computes."""
    origins: tuple[str, ...] = ()
    """Origins whose pages may call from a browser, such as ``https://draw.example``, separated by commas."""
    metrics: bool = False
    """Whether ``/metrics`` answers."""
    max_findings: int = 1000
    """The most findings that one report lists."""
    check_budget: int = BUDGET
    """The most steps of work that one check may take; a plan that needs more is refused with the rule and the part."""
    kept_answers: int = 16_000_000
    """Bytes of answers that a worker keeps for whoever sends the same bytes again; 0 keeps none."""
    packs: tuple[str, ...] = ()
    """Installed rule packs in force beside our own, separated by commas."""
    tokens: Path | None = None
    """A file of bearer tokens, one SHA-256 in hexadecimal a line, a name before it if wanted."""
    open: bool = False
    """Whether an address that others can reach may be bound without tokens."""

    @property
    def worker_count(self) -> int:
        """How many workers to run."""
        return self.workers or _cores()


def read_settings(environ: Mapping[str, str]) -> Settings:
    """The settings that ``environ`` makes. Raises SettingsError."""
    known = {PREFIX + field.name.upper(): field.name for field in fields(Settings)}
    given = {name: text for name, text in environ.items() if name.startswith(PREFIX) and not _is_of_the_platform(name, text)}
    for name in given:
        if name not in known:
            from nailplate.codes import nearest  # not needed by a start that goes well

            close = nearest(name, known)
            raise SettingsError(f"there is no setting {name}" + (f"; did you mean {close}?" if close else ""))
    values: dict[str, Any] = {known[name]: _value(name, known[name], text.strip()) for name, text in given.items()}
    return Settings(**values)


# A platform tells every container of a service called nailplate, or nailplate-something, where that service is.
_OF_THE_PLATFORM = re.compile(
    r"NAILPLATE_([A-Z0-9_]+_)?(SERVICE_HOST|SERVICE_PORT(_[A-Z0-9_]+)?|PORT_[0-9]+_(TCP|UDP|SCTP)(_(PROTO|PORT|ADDR))?)",
    re.ASCII,
)
_ADDRESS = re.compile(r"(tcp|udp|sctp)://", re.ASCII)


def _is_of_the_platform(name: str, text: str) -> bool:
    """Whether an orchestrator has put this into the environment, and no operator."""
    return bool(_OF_THE_PLATFORM.fullmatch(name)) or (name.endswith("_PORT") and bool(_ADDRESS.match(text)))


def _value(name: str, field: str, text: str) -> object:
    try:
        return _READERS[field](text)
    except ValueError as error:
        raise SettingsError(f"{name}={text!r}: {error}") from None


def _whole(least: int, most: int) -> Callable[[str], int]:
    def read(text: str) -> int:
        if not (text.isascii() and text.isdigit() and least <= int(text[:12]) <= most):
            raise ValueError(f"a whole number from {least} to {most} was wanted")
        return int(text)

    return read


def _host(text: str) -> str:
    if not text or any(character.isspace() or character == "/" for character in text):
        raise ValueError("a host name or an address was wanted")
    return text


def _yes_no(text: str) -> bool:
    if text not in ("0", "1"):
        raise ValueError("0 or 1 was wanted")
    return text == "1"


def _names(text: str) -> tuple[str, ...]:
    return tuple(name for part in text.split(",") if (name := part.strip()))


_ORIGIN = re.compile(r"https?://[a-z0-9.-]+(:[0-9]{1,5})?|https?://\[[0-9a-f:]+\](:[0-9]{1,5})?", re.ASCII)


def _origins(text: str) -> tuple[str, ...]:
    """Exact origins (RFC 6454); no pattern, so that nobody lets in more than is named."""
    names = _names(text)
    for name in names:
        if not _ORIGIN.fullmatch(name):
            raise ValueError(f"{name!r} is no origin: scheme, host in lower case and a port where it is not the usual one")
    return names


def _file(text: str) -> Path | None:
    if not text:
        return None
    path = Path(text)
    if not path.is_file():
        raise ValueError("there is no such file")
    return path


_READERS: dict[str, Callable[[str], object]] = {
    "host": _host,
    "port": _whole(0, 65535),
    "workers": _whole(0, 256),
    "max_body": _whole(1000, 64_000_000),
    "max_batch": _whole(1000, 2_000_000_000),
    "max_records": _whole(1, 1_000_000),
    "time_limit": _whole(1, 600),
    "threads": _whole(1, 256),
    "origins": _origins,
    "metrics": _yes_no,
    "max_findings": _whole(1, 100_000),
    "check_budget": _whole(1000, 1_000_000_000),
    "kept_answers": _whole(0, 4_000_000_000),
    "packs": _names,
    "tokens": _file,
    "open": _yes_no,
}


def check_binding(host: str, settings: Settings) -> None:
    """Raises SettingsError where others could reach ``host`` and neither tokens nor the open switch are set."""
    if settings.tokens or settings.open or _loopback(host):
        return
    raise SettingsError(
        f"{host} can be reached from other machines; name a file of tokens in {PREFIX}TOKENS, "
        f"or set {PREFIX}OPEN=1 to serve whoever asks"
    )


def bind_address(host: str, port: int) -> str:
    """The address as gunicorn takes it, an IPv6 host in brackets."""
    return f"[{host}]:{port}" if ":" in host and not host.startswith("[") else f"{host}:{port}"


def _loopback(host: str) -> bool:
    try:
        return ipaddress.ip_address(host.strip("[]")).is_loopback
    except ValueError:
        return host == "localhost"
