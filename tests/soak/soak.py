"""A minute of all that is hostile at once, against the service with two workers, and what came of it.

Run: ``PYTHONPATH=service:tests python tests/soak/soak.py [seconds, at most 60]``. More checks than it has cores, workers killed under
them, slow and silent senders by the dozen, gzip bombs, bodies that end too soon and lengths beyond everything. What holds meanwhile:
every answer that came whole is a report or a problem, ``/healthz`` answers within a second, and memory is bounded. Exits with 1 where
one of these does not hold; connections that die with a killed worker are counted and are no answer.
"""

import gzip
import json
import os
import signal
import socket
import sys
import tempfile
import threading
import time
from collections import Counter
from collections.abc import Callable
from importlib.resources import files
from itertools import count
from pathlib import Path
from typing import Any

import requests

from web.served import Served, served

WORKERS = 2
CHECKING, SLOW, SILENT = 16, 40, 40
"""Clients of a kind at one time: more than the threads of both workers (2 x 16) are slow, and more are silent."""
HEALTHY_WITHIN = 1.0
"""Seconds in which ``/healthz`` has to answer."""
MOST_MEMORY = 400
"""Megabytes that one worker may hold: its own share of pages (PSS) at rest is some 50, and a body of 2 MB makes the rest."""
KILL_EVERY = 4.0
_NUMBER = count()
HOUSE = files("nailplate").joinpath("examples", "tamarack-wren.json").read_bytes()
BOMB = gzip.compress(b'{"name": "' + b"a" * 200_000_000 + b'"}', 9)


class Soak:
    """One run: what was seen, and when to stop."""

    def __init__(self, service: Served, master: int, seconds: float) -> None:
        self.service, self.master = service, master
        self.until = time.monotonic() + seconds
        self.seen: Counter[str] = Counter()
        self.wrong: list[str] = []
        self.slowest_health = 0.0
        self.memory = 0.0
        self.killed = 0

    @property
    def goes_on(self) -> bool:
        return time.monotonic() < self.until

    def answered(self, what: str, status: int, kind: str, body: bytes) -> None:
        """Counts an answer that came whole; it is a report or a problem, or it is wrong."""
        self.seen[f"{what}: {status}"] += 1
        try:
            value = json.loads(body)
            fine = (status == 200 and "verdict" in value) or (
                kind == "application/problem+json" and value["status"] == status and bool(value["type"] and value["detail"])
            )
        except (ValueError, KeyError, TypeError):
            fine = False
        if not fine or status == 500:
            self.wrong.append(f"{what}: {status} {kind} {body[:120]!r}")

    def post(self, what: str, body: bytes, **headers: str) -> None:
        """One request; a connection that dies with its worker is counted as such."""
        try:
            answer = self.service.send(body, **headers)
        except requests.RequestException as error:
            self.seen[f"{what}: {type(error).__name__}"] += 1
            return
        self.answered(what, answer.status_code, answer.headers.get("Content-Type", ""), answer.content)

    def raw(self, what: str, pieces: list[bytes], *, half_close: bool = False) -> None:
        """Bytes as they are, and the answer to them if there is one."""
        try:
            with socket.create_connection(("127.0.0.1", self.service.port), timeout=30) as connection:
                for piece in pieces:
                    connection.sendall(piece)
                if half_close:
                    connection.shutdown(socket.SHUT_WR)
                answer = b"".join(iter(lambda: connection.recv(65536), b""))
        except OSError as error:
            self.seen[f"{what}: {type(error).__name__}"] += 1
            return
        if not answer:
            self.seen[f"{what}: closed"] += 1
            return
        head, _, body = answer.partition(b"\r\n\r\n")
        kind = next((line.split(b": ")[1] for line in head.split(b"\r\n") if line.lower().startswith(b"content-type")), b"")
        self.answered(what, int(head.split()[1]), kind.decode(), body)


def head(length: int, path: str = "/v1/checks") -> bytes:
    """The head of a POST that says how long its body is."""
    return (
        f"POST {path} HTTP/1.1\r\nHost: x\r\nConnection: close\r\nContent-Type: application/json\r\nContent-Length: {length}\r\n\r\n"
    ).encode()


# The clients


def checks(soak: Soak) -> None:
    """Each of another name: the same bytes again would be answered from memory."""
    soak.post("check", HOUSE.replace(b'"name": "', f'"name": "{next(_NUMBER)} '.encode(), 1))


def bombs(soak: Soak) -> None:
    soak.post("gzip bomb", BOMB, Content_Encoding="gzip")


def half_closed(soak: Soak) -> None:
    soak.raw("body that ends too soon", [head(len(HOUSE)), HOUSE[: len(HOUSE) // 2]], half_close=True)


def endless(soak: Soak) -> None:
    soak.raw("length of 10 GB", [head(10_000_000_000), b'{"plan_format": 1'])


def silent(soak: Soak) -> None:
    soak.raw("silent", [])


def slow(soak: Soak) -> None:
    """Three bytes a second, for as long as it is let."""
    try:
        with socket.create_connection(("127.0.0.1", soak.service.port), timeout=5) as connection:
            connection.settimeout(0.3)
            for each in head(len(HOUSE)) + HOUSE:
                if not soak.goes_on:
                    return
                connection.sendall(bytes([each]))
                try:
                    if answer := connection.recv(65536):
                        soak.seen[f"slow: {answer.split()[1].decode()}"] += 1
                    return
                except TimeoutError:
                    continue
    except OSError as error:
        soak.seen[f"slow: {type(error).__name__}"] += 1


def health(soak: Soak) -> None:
    began = time.monotonic()
    try:
        answer = requests.get(f"{soak.service.base}/healthz", timeout=10)
        soak.seen[f"health: {answer.status_code}"] += 1
    except requests.ConnectionError as error:
        if "Timeout" in str(error):
            soak.wrong.append("health: no connection")
        soak.seen["health: lost with its worker"] += 1
        return
    except requests.Timeout:
        soak.seen["health: timed out"] += 1
    soak.slowest_health = max(soak.slowest_health, time.monotonic() - began)
    time.sleep(0.2)


def kills(soak: Soak) -> None:
    time.sleep(KILL_EVERY)
    workers = children(soak.master)
    if soak.goes_on and len(workers) == WORKERS:
        os.kill(workers[soak.killed % WORKERS], signal.SIGKILL)
        soak.killed += 1


def weighs(soak: Soak) -> None:
    soak.memory = max([soak.memory, *(megabytes(each) for each in children(soak.master))])
    time.sleep(0.2)


CLIENTS: tuple[tuple[Callable[[Soak], None], int], ...] = (
    (checks, CHECKING),
    (slow, SLOW),
    (silent, SILENT),
    (bombs, 2),
    (half_closed, 2),
    (endless, 2),
    (health, 1),
    (kills, 1),
    (weighs, 1),
)


def children(process: int) -> list[int]:
    """The workers of a master."""
    try:
        return sorted(map(int, Path(f"/proc/{process}/task/{process}/children").read_text().split()))
    except OSError:
        return []


def megabytes(process: int) -> float:
    """What a process holds, of shared pages its share."""
    try:
        lines = Path(f"/proc/{process}/smaps_rollup").read_text().splitlines()
    except OSError:
        return 0.0
    return sum(float(line.split()[1]) for line in lines if line.startswith("Pss:")) / 1000


def master_of(port: int) -> int:
    """The process that was started to serve a port."""
    for entry in Path("/proc").glob("[0-9]*/cmdline"):
        try:
            command = entry.read_bytes()
        except OSError:
            continue
        parent = int(Path(entry.parent, "stat").read_text().rpartition(")")[2].split()[1])
        if str(port).encode() in command and b"gunicorn" in command and parent == os.getpid():
            return int(entry.parent.name)
    raise SystemExit("the service's process was not found")


def again(client: Callable[[Soak], None], soak: Soak) -> None:
    while soak.goes_on:
        client(soak)


def run(seconds: float) -> Soak:
    """Every client at once against a service of its own."""
    with tempfile.TemporaryDirectory() as folder, served(Path(folder), {}, workers=WORKERS) as service:
        soak = Soak(service, master_of(service.port), seconds)
        threads = [
            threading.Thread(target=again, args=(client, soak), daemon=True)
            for client, number in CLIENTS
            for _ in range(number)
        ]
        for each in threads:
            each.start()
        for each in threads:
            each.join(seconds + 40)
        soak.seen["still waiting at the end"] = sum(each.is_alive() for each in threads)
        after = service.send(HOUSE)
        soak.answered("the check after it all", after.status_code, after.headers["Content-Type"], after.content)
    return soak


def main(arguments: list[str]) -> int:
    seconds = min(float(arguments[0]) if arguments else 45.0, 60.0)
    soak = run(seconds)
    for what, number in sorted(soak.seen.items()):
        print(f"{number:7} {what}")
    print(
        f"{soak.killed} workers killed, slowest /healthz {soak.slowest_health:.2f} s, most memory of a worker {soak.memory:.0f} MB"
    )
    failed: list[Any] = soak.wrong[:10]
    if soak.slowest_health > HEALTHY_WITHIN:
        failed.append(f"/healthz took {soak.slowest_health:.2f} s")
    if soak.memory > MOST_MEMORY:
        failed.append(f"a worker held {soak.memory:.0f} MB")
    print("\n".join(map(str, failed)) or "all of it held")
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
