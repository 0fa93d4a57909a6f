"""Bearer tokens: known by their SHA-256 alone, compared in constant time."""

import hashlib
import hmac
import re
from collections.abc import Sequence
from pathlib import Path

from flask import Flask, request

from nailplate.web.origins import is_preflight
from nailplate.web.problems import UNAUTHORIZED, Problem
from nailplate.web.settings import SettingsError

ALWAYS_OPEN = frozenset({"/healthz", "/readyz"})
_OF_NOTHING = hashlib.sha256(b"").hexdigest()
_LINE = re.compile(r"(?:[A-Za-z0-9._-]{1,64}[ \t]+)?([0-9a-f]{64})", re.ASCII)


def read_tokens(path: Path) -> tuple[bytes, ...]:
    """The digests in a file of tokens. Raises SettingsError for a line that is none, or where there is no token at all."""
    lines = [line.strip() for line in path.read_text(encoding="utf-8").splitlines()]
    found = []
    for number, line in enumerate(lines, 1):
        if line and not line.startswith("#"):
            match = _LINE.fullmatch(line)
            if not match:
                raise SettingsError(f"{path.name}, line {number}: a name and a SHA-256 in lower-case hexadecimal were wanted")
            if match.group(1) == _OF_NOTHING:
                raise SettingsError(
                    f"{path.name}, line {number}: this is the SHA-256 of nothing; whoever sends no token would be let in"
                )
            found.append(bytes.fromhex(match.group(1)))
    if not found:
        raise SettingsError(f"{path.name} holds no token")
    return tuple(found)


def guard(app: Flask, digests: Sequence[bytes]) -> None:
    """Lets only callers with a known token in; health stays open."""

    def check() -> None:
        if (
            request.path not in ALWAYS_OPEN
            and not is_preflight()
            and not _known(request.headers.get("Authorization", ""), digests)
        ):
            raise Problem(
                UNAUTHORIZED, "A known bearer token was wanted.", headers={"WWW-Authenticate": 'Bearer realm="nailplate"'}
            )

    app.before_request(check)


def _known(header: str, digests: Sequence[bytes]) -> bool:
    scheme, _, token = header.partition(" ")
    if not token.strip():
        return False
    digest = hashlib.sha256(token.strip().encode("utf-8", "replace")).digest()
    matches = [hmac.compare_digest(digest, each) for each in digests]
    return scheme.lower() == "bearer" and any(matches)
