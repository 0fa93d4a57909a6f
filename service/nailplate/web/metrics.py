"""Figures for an operator's monitoring, off unless asked for: prometheus-client, an extra, over all worker processes."""

import os
import time
from collections.abc import Callable
from typing import Any

from flask import Flask, Response, current_app, g, request

from nailplate.web.answers import text_answer
from nailplate.web.described import described
from nailplate.web.problems import not_found
from nailplate.web.settings import SettingsError

MEDIA = "text/plain"
FOLDER = "PROMETHEUS_MULTIPROC_DIR"
_BUCKETS = (0.005, 0.02, 0.05, 0.1, 0.25, 0.5, 1, 2.5, 5, 10, 20)


@described(
    group="Operations",
    answer="Counters and durations, in the Prometheus text format.",
    gives={MEDIA: {"type": "string"}},
    problems=("not-found",),
)
def show_metrics() -> Response:
    """Give counts of requests, durations, and outcomes of checks, where the operator has requested them."""
    give: Callable[[], bytes] | None = current_app.extensions.get("nailplate.metrics")
    if give is None:
        raise not_found("resource", "metrics", None)
    return text_answer(give(), f"{MEDIA}; version=0.0.4; charset=utf-8")


def measure(app: Flask) -> None:
    """Counts the requests of ``app``. Raises SettingsError where the extra is not installed."""
    try:
        import prometheus_client as client
        from prometheus_client import multiprocess
    except ImportError:
        raise SettingsError("NAILPLATE_METRICS needs the extra: pip install 'nailplate[metrics]'") from None
    own = client.CollectorRegistry()
    requests = client.Counter("nailplate_requests", "Requests answered", ["route", "status"], registry=own)
    seconds = client.Histogram("nailplate_request_seconds", "Time to answer", ["route"], buckets=_BUCKETS, registry=own)
    checks = client.Counter("nailplate_checks", "Reports by verdict", ["verdict"], registry=own)
    findings = client.Counter("nailplate_findings", "Findings by outcome", ["outcome"], registry=own)
    crashes = client.Counter("nailplate_rule_crashes", "Rules that failed by a fault of their own", registry=own)

    def count(response: Response) -> Response:
        route = request.url_rule.rule if request.url_rule else "none"
        requests.labels(route, str(response.status_code)).inc()
        seconds.labels(route).observe(time.perf_counter() - g.began)
        noted: dict[str, Any] = g.noted
        if "verdict" in noted:
            checks.labels(noted["verdict"]).inc()
            findings.labels("violation").inc(noted["violations"])
            findings.labels("undetermined").inc(noted["undetermined"])
            crashes.inc(len(noted["crashed"]))
        return response

    def give() -> bytes:
        if FOLDER not in os.environ:
            return bytes(client.generate_latest(own))
        every = client.CollectorRegistry()
        multiprocess.MultiProcessCollector(every)  # type: ignore[no-untyped-call]
        return bytes(client.generate_latest(every))

    app.extensions["nailplate.metrics"] = give
    app.after_request(count)
