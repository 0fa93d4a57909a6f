"""The real service on a free loopback port, as an operator starts it."""

import json
import os
import socket
import subprocess
import time
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import requests

import nailplate
from nailplate.web import serve_command

SERVICE = Path(nailplate.__file__).parents[1]
JSON = {"Content-Type": "application/json"}


@dataclass(frozen=True)
class Served:
    base: str
    port: int
    log: Path

    def get(self, path: str, **more: Any) -> requests.Response:
        return requests.get(self.base + path, timeout=30, **more)

    def send(self, body: bytes, path: str = "/v1/checks", **headers: str) -> requests.Response:
        named = {key.replace("_", "-"): value for key, value in headers.items()}
        return requests.post(self.base + path, data=body, headers={**JSON, **named}, timeout=30)

    def check(self, value: object, **headers: str) -> requests.Response:
        return self.send(json.dumps(value).encode(), **headers)

    def log_lines(self) -> list[dict[str, Any]]:
        return [json.loads(line) for line in self.log.read_text().splitlines() if line.startswith("{")]


def environment(settings: Mapping[str, str]) -> dict[str, str]:
    inherited = {name: value for name, value in os.environ.items() if not name.startswith("NAILPLATE_")}
    return {**inherited, "PYTHONPATH": str(SERVICE), **settings}


def free_port() -> int:
    with socket.socket() as listener:
        listener.bind(("127.0.0.1", 0))
        port: int = listener.getsockname()[1]
        return port


@contextmanager
def served(folder: Path, settings: Mapping[str, str], workers: int = 1) -> Iterator[Served]:
    port = free_port()
    log = folder / "requests.log"
    with log.open("wb") as out, (folder / "errors.log").open("wb") as errors:
        command = serve_command("127.0.0.1", port, workers)
        process = subprocess.Popen(command, env=environment(settings), stdout=out, stderr=errors)
    try:
        service = Served(f"http://127.0.0.1:{port}", port, log)
        wait_until_it_answers(service, process)
        yield service
    finally:
        process.terminate()
        process.wait(20)


def wait_until_it_answers(service: Served, process: "subprocess.Popen[bytes]") -> None:
    for _ in range(200):
        assert process.poll() is None, service.log.with_name("errors.log").read_text()
        try:
            if service.get("/healthz").ok:
                return
        except requests.ConnectionError:
            time.sleep(0.1)
    raise AssertionError("the service does not answer")


def raw(port: int, pieces: Sequence[bytes]) -> bytes:
    """What the service answers to bytes that no well-bred client sends."""
    answer = b""
    with socket.create_connection(("127.0.0.1", port), timeout=30) as connection:
        try:
            for piece in pieces:
                connection.sendall(piece)
        except (BrokenPipeError, ConnectionResetError):
            pass
        while piece := connection.recv(65536):
            answer += piece
    return answer
