"""A catalogue in, a record for each model, option and edition out, as they are worked out."""

import json
from collections.abc import Iterator
from datetime import UTC, datetime
from typing import IO, Any

from flask import Response, stream_with_context

from nailplate.batch import Batch, BatchRefused, Case, Tally, cases_of, read_head, read_item, refused_record
from nailplate.batch.items import HEAD_FIELDS
from nailplate.batch.record import Work
from nailplate.plan import ROOT, Fault, FaultCode, Pointer
from nailplate.web.bodies import media_type, spooled
from nailplate.web.coding import deflated_stream, takes_gzip
from nailplate.web.deadline import limited
from nailplate.web.described import described, refer
from nailplate.web.held import settings
from nailplate.web.negotiation import NDJSON, check_parameters, chosen
from nailplate.web.problems import INVALID_REQUEST, Problem, fault_value, malformed
from nailplate.web.traffic import log_further, note
from nailplate.wire import NotJson, read_json
from nailplate.wire.results import line_of

_IN_MEMORY = 2_000_000
"""Bytes of a batch that wait in memory; more wait in a file."""


@described(
    group="Checking",
    answer="One record a line, in the order of the items; the last one is a summary.",
    takes=refer("Batch"),
    takes_also={NDJSON: refer("BatchItem")},
    gives={NDJSON: refer("BatchRecord")},
    problems=("malformed-json", "body-too-large", "unsupported-media", "invalid-request", "not-acceptable"),
)
def check_batch() -> Response:
    """Check a catalogue of models.

    Send NDJSON, a head on the first line and an item on each further one, or JSON: an array of items, or the head with `items`.
    An item is a plan, or a base of the head and a patch to it, with named options as JSON Patches; it is checked in every
    combination, edition and jurisdiction requested. The whole body is read before the first record is sent. One bad item is a
    record with its faults and never fails the rest. To go on after a connection that was lost, send the batch again with
    `resume_after`, the key of the last record received.
    """
    check_parameters()
    chosen((NDJSON,))
    body = spooled(settings().max_batch, _IN_MEMORY, (NDJSON,))
    try:
        head, items = _lines(body) if media_type() == NDJSON else _whole(body)
    except BatchRefused as refused:
        faults = [fault_value(each) for each in refused.faults]
        raise Problem(INVALID_REQUEST, "The head of the batch is not as it is taken here.", faults) from None
    return _streamed(head, items)


def _streamed(head: Batch, items: Iterator[tuple[str, Any]]) -> Response:
    work = Work(
        datetime.now(UTC).date().isoformat(),
        head.detail,
        settings().packs,
        most_findings=settings().max_findings,
        budget=settings().check_budget,
    )
    note(batch=True)

    pieces = stream_with_context(f"{line}\n".encode() for line in _records(head, items, work))
    response = Response(deflated_stream(pieces) if takes_gzip() else pieces, content_type=NDJSON)
    if takes_gzip():
        response.headers["Content-Encoding"] = "gzip"
    return response


def _records(head: Batch, items: Iterator[tuple[str, Any]], work: Work) -> Iterator[str]:
    tally = Tally(resumed_after=head.resume_after)
    waiting = head.resume_after is not None
    for number, piece in enumerate(_pieces(head, items)):
        if waiting:
            waiting = _key(piece) != head.resume_after
            continue
        if number >= settings().max_records:
            line = refused_record(
                "batch", (Fault(ROOT, FaultCode.LIMIT_EXCEEDED, "a batch makes no more records than this here"),)
            )
            tally.count(line, json.loads(line))
            yield line
            break
        line = piece if isinstance(piece, str) else _judged(piece, work)
        tally.count(line, json.loads(line))
        yield line
    summary = tally.value()
    log_further(records=summary["records"], statuses=summary["statuses"], verdicts=summary["verdicts"])
    yield line_of({**summary, "problem": f"no record has the key {head.resume_after!r}"} if waiting else summary)


def _judged(case: Case, work: Work) -> str:
    """The record of a case, or of what kept it from being one."""
    try:
        with limited("reading the plan", queued=False):
            return work(case)
    except Problem as problem:
        head = {"key": case.key, "item": case.item, "model_options": list(case.model_options)}
        return line_of({**head, "status": "failed", "problem": problem.type.uri, "detail": problem.detail})


def _pieces(head: Batch, items: Iterator[tuple[str, Any]]) -> Iterator[Case | str]:
    seen: set[str] = set()
    for name, value in items:
        key = str(value["key"]) if isinstance(value, dict) and "key" in value else name
        try:
            if isinstance(value, BatchRefused):
                raise value
            if key in seen:
                raise BatchRefused([Fault(ROOT / "key", FaultCode.BAD_ID, "an item before this one has the same key")])
            seen.add(key)
            yield from cases_of(read_item({"key": name, **value} if isinstance(value, dict) else value, head), head)
        except BatchRefused as refused:
            yield refused_record(key[:200], refused.faults)


def _key(piece: Case | str) -> str:
    return str(json.loads(piece)["key"]) if isinstance(piece, str) else piece.key


def _whole(body: IO[bytes]) -> tuple[Batch, Iterator[tuple[str, Any]]]:
    with body:
        value = _read(body.read())
    if isinstance(value, NotJson):
        raise malformed(value)
    head, items = (
        ({}, value) if isinstance(value, list) else (dict(value), value.get("items")) if isinstance(value, dict) else ({}, None)
    )
    head.pop("items", None)
    if not isinstance(items, list):
        raise BatchRefused([Fault(ROOT / "items", FaultCode.MISSING_FIELD, "a list of items was wanted")])
    return read_head(head), ((f"item-{number}", each) for number, each in enumerate(items, 1))


def _lines(body: IO[bytes]) -> tuple[Batch, Iterator[tuple[str, Any]]]:
    numbered = ((f"line-{number}", line) for number, line in enumerate(body, 1) if line.strip())
    name, line = next(numbered, ("", b""))
    first = _read(line)
    if isinstance(first, NotJson):
        raise malformed(first)
    is_head = isinstance(first, dict) and "key" not in first and set(first) <= set(HEAD_FIELDS)
    head = read_head(first if is_head else {})

    def items() -> Iterator[tuple[str, Any]]:
        with body:
            if not is_head:
                yield name, first
            for each, text in numbered:
                value = _read(text)
                if isinstance(value, NotJson):
                    fault = Fault(Pointer(value.pointer), FaultCode.NOT_JSON, f"not JSON: {value}")
                    yield each, BatchRefused([fault])
                else:
                    yield each, value

    return head, items()


def _read(line: bytes) -> Any:
    try:
        return read_json(line)
    except NotJson as error:
        return error
