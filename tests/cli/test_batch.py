"""A catalogue on the command line: order, one bad item, resuming, folding, cache, processes that die, a cluster."""

import csv
import io
import json
import os
import signal
import socket
import subprocess
import sys
import time
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result

from houses import house as whole_house
from nailplate.batch import Folding, cases_of, read_head, read_item
from nailplate.batch.folding import minimal
from nailplate.cli import main

SERVICE = Path(__file__).parents[2] / "service"
BASE: dict[str, Any] = {
    "plan_format": 1,
    "name": "Wren",
    "basis": {"edition": "2023", "regime": "dwelling"},
    "stage": "circuits",
    "circuits": {"a": {"breaker": {"rating": 15}, "conductor": {"size": "14 AWG", "type": "NM-B"}}},
}
LARGER = {"patch": [{"op": "replace", "path": "/circuits/a/breaker/rating", "value": 30}], "title": "larger breaker"}
THICKER = {"patch": [{"op": "replace", "path": "/circuits/a/conductor/size", "value": "10 AWG"}]}
ALUMINUM = {"patch": [{"op": "add", "path": "/circuits/a/conductor/material", "value": "aluminum"}], "needs": ["thicker"]}
OPTIONS = {"larger": LARGER, "thicker": THICKER, "aluminum": ALUMINUM}


def run(*words: object, source: str | None = None) -> Result:
    return CliRunner(env={"CI": None}).invoke(main, ["batch", *map(str, words)], input=source)


def lines(*values: object) -> str:
    return "".join(f"{json.dumps(value)}\n" for value in values)


def records(result: Result) -> list[dict[str, Any]]:
    return [json.loads(line) for line in result.stdout.splitlines()]


def catalogue(number: int = 3, **head: Any) -> str:
    items = [{"key": f"m{each}", "base": "wren", "model_options": OPTIONS, "combinations": "all"} for each in range(number)]
    return lines({"batch_format": 1, "bases": {"wren": BASE}, **head}, *items)


def test_every_combination_is_a_record_in_order_and_the_last_is_a_summary() -> None:
    *found, summary = records(run("-", source=catalogue(editions=["2020", "2023"])))
    sets = ["", "[larger]", "[thicker]", "[thicker+aluminum]", "[larger+thicker]", "[larger+thicker+aluminum]"]
    assert [each["key"] for each in found] == [f"m{n}{s}@{e}" for n in range(3) for e in ("2020", "2023") for s in sets]
    assert summary["records"] == len(found) == summary["statuses"]["checked"]
    # 240.4(D): 15 A on 14 AWG, 30 A on 10 AWG copper, 25 A on 10 AWG aluminum.
    wrong = {each["key"] for each in found if any(f["rule"] == "conductor-protection" for f in each["findings"])}
    assert wrong == {
        f"m{n}{s}@{e}" for n in range(3) for e in ("2020", "2023") for s in ("[larger]", "[larger+thicker+aluminum]")
    }


def test_jurisdictions_amend_and_are_named(tmp_path: Path) -> None:
    local = {
        "jurisdiction": "Larch County",
        "amendments": {"x": {"change": "off", "rule": "conductor-protection", "citation": "c", "reason": "r"}},
    }
    (tmp_path / "larch.json").write_text(json.dumps(local))
    source = lines({"key": "m", "plan": BASE, "patch": LARGER["patch"]})
    *found, _ = records(run("-", "--jurisdiction", f"larch={tmp_path / 'larch.json'}", "--detail", "report", source=source))
    assert [each["key"] for each in found] == ["m/larch"]
    assert found[0]["report"]["basis"]["jurisdiction"] == "Larch County"
    assert "conductor-protection" not in {each["rule"] for each in found[0]["report"]["findings"]}


def test_one_bad_item_never_fails_the_rest() -> None:
    source = (
        lines({"key": "a", "plan": BASE})
        + "{broken\n"
        + lines(
            {"key": "b", "plan": {"plan_format": 1}},
            {"key": "c", "base": "nowhere"},
            {"key": "d", "plan": BASE, "patch": [{"op": "replace", "path": "/circuits/z/x", "value": 1}]},
            {"key": "e", "plan": BASE, "patch": [{"op": "copy", "from": "", "path": "/extra"}]},
            {"key": "a", "plan": BASE},
            {"key": "f", "plan": BASE, "pach": []},
            ["not an item"],
            {"key": "g", "plan": BASE, "options": {"rules": ["box-volum"]}},
            {"key": "z", "plan": BASE},
        )
    )
    answer = run("-", source=source)
    *found, summary = records(answer)
    assert answer.exit_code == 2
    assert [(each["key"], each["status"]) for each in found] == [
        ("a", "checked"),
        *((name, "refused") for name in ("line-2", "b", "c", "d", "e", "a", "f", "line-9", "g")),
        ("z", "checked"),
    ]
    assert all(each["faults"][0]["detail"] for each in found if each["status"] == "refused")
    assert "did you mean 'patch'" in found[7]["faults"][0]["detail"]
    assert summary["statuses"] == {"checked": 2, "refused": 9, "failed": 0}


def test_several_processes_give_the_same_bytes_as_one() -> None:
    source = catalogue(4)
    assert run("-", "--jobs", 2, source=source).stdout == run("-", "--jobs", 1, source=source).stdout


def test_a_batch_goes_on_where_it_was_cut(tmp_path: Path) -> None:
    (tmp_path / "c.ndjson").write_text(catalogue())
    whole, cut = tmp_path / "whole.ndjson", tmp_path / "cut.ndjson"
    run(tmp_path / "c.ndjson", "--output", whole, "-q")
    text = whole.read_bytes()
    for end in (0, 10, text.index(b"\n") + 1, len(text) // 2, len(text) - 5, len(text)):
        cut.write_bytes(text[:end])
        run(tmp_path / "c.ndjson", "--output", cut, "--resume", "-q", "--jobs", 1)
        assert cut.read_bytes() == text
    other = lines({"key": "another", "plan": BASE})
    cut.write_bytes(text)
    assert run("-", "--output", cut, "--resume", source=other).exit_code == 2
    assert run(tmp_path / "c.ndjson", "--output", whole).exit_code == 2
    assert whole.read_bytes() == text


def test_findings_are_folded_to_one_row_with_the_smallest_options_that_raise_them(tmp_path: Path) -> None:
    table, page = tmp_path / "fold.csv", tmp_path / "fold.html"
    run("-", "--fold", f"csv={table}", "--fold", f"html={page}", "-q", source=catalogue(30))
    rows = [row for row in csv.DictReader(io.StringIO(table.read_text())) if row["rule"] == "conductor-protection"]
    [row] = rows
    assert (row["models"], row["raised by"], row["editions"], row["times"]) == ("30", "larger", "2023", "60")
    assert row["in models"].endswith("m19 and 10 more")
    text = page.read_text()
    assert "30 models, 180 combinations" in text
    assert text.partition("Models nearest")[0].count("conductor-protection") == 1
    assert "Models nearest to a limit" in text


def test_smallest_sets() -> None:
    sets = [frozenset(each) for each in ("ab", "abc", "c", "ad", "cd", "")]
    assert minimal(sets) == [frozenset()]
    assert minimal(sets[:-1]) == [frozenset("c"), frozenset("ab"), frozenset("ad")]


def test_models_are_listed_by_how_near_they_come_to_a_limit() -> None:
    folding = Folding()
    for key, margin in (("a", 0.2), ("b", 0.05), ("c", 0.1)):
        figure = {"value": 1.0, "unit": "in3"}
        near = {"rule": "box-volume", "at": "/boxes/x", "measured": figure, "limit": figure, "margin": margin}
        folding.take({"item": key, "key": key, "model_options": [], "nearest": [near, {**near, "margin": 0.5}]})
    assert [each.item for each in folding.close().nearest] == ["b", "c", "a"]


def test_a_folder_holds_plans_and_models_that_name_their_base(tmp_path: Path) -> None:
    (tmp_path / "deep").mkdir()
    (tmp_path / "wren.json").write_text(json.dumps(BASE))
    (tmp_path / "deep" / "model.json").write_text(json.dumps({"base": "../wren.json", "model_options": {"larger": LARGER}}))
    (tmp_path / "notes.json").write_text('{"notes": 1}')
    (tmp_path / "zz.json").write_text("{")
    *found, _ = records(run(tmp_path))
    assert [(each["key"], each["status"]) for each in found] == [
        ("deep/model", "checked"),
        ("deep/model[larger]", "checked"),
        ("wren", "checked"),
        ("zz", "refused"),
    ]


def test_combinations_are_bounded() -> None:
    head = read_head({})
    free: dict[str, Any] = {f"o{number}": {"patch": []} for number in range(20)}
    item = read_item({"key": "m", "plan": BASE, "model_options": free, "combinations": "pairs"}, head)
    assert len(list(cases_of(item, head))) == 1 + 20 + 190
    *found, _ = records(run("-", source=lines({"key": "m", "plan": BASE, "model_options": free, "combinations": "all"})))
    assert [each["status"] for each in found] == ["refused"]
    assert "at most 2000" in found[0]["faults"][0]["detail"]
    excluded = {"a": {"patch": [], "excludes": ["b"]}, "b": {"patch": []}}
    item = read_item({"key": "m", "plan": BASE, "model_options": excluded, "combinations": "all"}, head)
    assert [case.model_options for case in cases_of(item, head)] == [(), ("a",), ("b",)]


def test_what_was_worked_out_is_kept_by_its_content(tmp_path: Path) -> None:
    words = ("-", "--cache", tmp_path, "--jobs", 1)
    first = run(*words, source=catalogue(2)).stdout
    kept = sorted(tmp_path.rglob("*.json"))
    assert len(kept) == 6  # both models are the same plan
    assert run(*words, source=catalogue(2)).stdout == first
    for path in kept:
        path.write_text(path.read_text().replace('"verdict":"', '"verdict":"kept '))
    assert (
        '"verdict":"kept ' in CliRunner().invoke(main, ["batch", *map(str, words)], input=catalogue(1)).stdout.splitlines()[0]
    )
    other = run(*words, source=catalogue(1, options={"ignore": ["box-volume"]})).stdout
    assert '"verdict":"kept' not in other
    for path in kept:
        path.write_text("{cut off")
    assert run(*words, source=catalogue(2)).stdout == first


def test_memory_does_not_grow_with_the_number_of_plans(tmp_path: Path) -> None:
    def most(number: int) -> int:
        source = tmp_path / f"{number}.ndjson"
        tiny = {**BASE, "circuits": {}}
        source.write_text(lines({"bases": {"b": tiny}}, *({"key": f"m{each}", "base": "b"} for each in range(number))))
        script = (
            "import resource, sys; from nailplate.cli import main\n"
            "try: main(sys.argv[1:])\n"
            "finally: print(resource.getrusage(resource.RUSAGE_SELF).ru_maxrss, file=sys.stderr)"
        )
        words = ["batch", str(source), "--jobs", "1", "-q", "--output", str(tmp_path / f"{number}.out")]
        answer = subprocess.run(
            [sys.executable, "-c", script, *words], env=environment(), capture_output=True, text=True, check=False
        )
        return int(answer.stderr.split()[-1])

    few, many = most(50), most(600)
    assert many - few < 3000  # KiB


def environment(**more: str) -> dict[str, str]:
    return {**os.environ, "PYTHONPATH": str(SERVICE), **more}


DEADLY = """
import os, nailplate.batch.record as r
whole = r.record_of
def record_of(case, work):
    if case.item == "deadly":
        os._exit(9)
    return whole(case, work)
r.record_of = record_of
"""


def test_a_case_that_ends_its_process_is_a_record_and_the_others_are_checked(tmp_path: Path) -> None:
    (tmp_path / "sitecustomize.py").write_text(DEADLY)
    source = lines(*({"key": key, "plan": BASE} for key in ("a", "b", "deadly", "c", "d", "e", "f")))
    answer = subprocess.run(
        [sys.executable, "-m", "nailplate", "batch", "-", "--jobs", "2", "-q"],
        input=source,
        env=environment(PYTHONPATH=f"{tmp_path}:{SERVICE}"),
        capture_output=True,
        text=True,
        check=False,
        timeout=120,
    )
    *found, summary = [json.loads(line) for line in answer.stdout.splitlines()]
    assert [(each["key"], each["status"]) for each in found] == [
        (key, "failed" if key == "deadly" else "checked") for key in ("a", "b", "deadly", "c", "d", "e", "f")
    ]
    assert (answer.returncode, summary["statuses"]["failed"]) == (3, 1)


@contextmanager
def cluster(folder: Path, workers: int) -> Iterator[tuple[str, Sequence["subprocess.Popen[bytes]"]]]:
    """A real dask scheduler on loopback, and workers of one thread without a nanny, so that a killed one stays dead."""
    with socket.socket() as listener:
        listener.bind(("127.0.0.1", 0))
        address = f"tcp://127.0.0.1:{listener.getsockname()[1]}"
    port = address.rpartition(":")[2]
    log = (folder / "cluster.log").open("wb")

    def start(module: str, *words: str) -> "subprocess.Popen[bytes]":
        command = [sys.executable, "-m", f"distributed.cli.{module}", *words]
        return subprocess.Popen(command, stdout=log, stderr=log, env=environment(), cwd=folder)

    running = [start("dask_scheduler", "--host", "127.0.0.1", "--port", port, "--no-dashboard")]
    try:
        running += [
            start(
                "dask_worker",
                address,
                "--nthreads",
                "1",
                "--no-nanny",
                "--no-dashboard",
                "--local-directory",
                str(folder / str(n)),
            )
            for n in range(workers)
        ]
        _wait_for(address, workers)
        yield address, running[1:]
    finally:
        for process in reversed(running):
            process.kill()  # they hold nothing, and a worker takes its time to leave politely
            process.wait()
        log.close()


def _wait_for(address: str, workers: int) -> None:
    from distributed import Client

    with Client(address, timeout=60, set_as_default=False) as client:  # type: ignore[no-untyped-call]
        client.wait_for_workers(workers, timeout=60)


def test_a_cluster_that_loses_a_worker_midway_gives_the_same_bytes(tmp_path: Path) -> None:
    wren = whole_house("tamarack-wren")
    options = {"deep": {"patch": [{"op": "replace", "path": "/name", "value": "deep"}]}}
    items = [{"key": f"m{each}", "base": "wren", "model_options": options} for each in range(20)]
    source, serial, spread = (tmp_path / name for name in ("c.ndjson", "serial.ndjson", "spread.ndjson"))
    source.write_text(lines({"bases": {"wren": wren}}, *items))
    assert run(source, "--output", serial, "-q", "--jobs", 1).exit_code == 0
    with cluster(tmp_path, 2) as (address, workers):
        command = [
            sys.executable,
            "-m",
            "nailplate",
            "batch",
            str(source),
            "--output",
            str(spread),
            "-q",
            "--engine",
            f"dask={address}",
        ]
        process = subprocess.Popen(command, env=environment(), stderr=subprocess.PIPE)
        _wait_until_some(spread, 5)
        assert process.poll() is None, "it was done before a worker could be killed"
        workers[0].send_signal(signal.SIGKILL)
        _, said = process.communicate(timeout=120)
    assert process.returncode == 0, said
    assert spread.read_bytes() == serial.read_bytes()


def _wait_until_some(path: Path, number: int) -> None:
    for _ in range(600):
        if path.exists() and path.read_bytes().count(b"\n") >= number:
            return
        time.sleep(0.05)
    raise AssertionError("no record came")


def test_a_scheduler_that_does_not_answer_is_told(tmp_path: Path) -> None:
    answer = run("-", "--engine", "cloud", source=lines({"key": "a", "plan": BASE}))
    assert answer.exit_code == 2
    assert "dask=ADDRESS" in answer.stderr


def test_records_have_an_order_that_is_that_of_the_items() -> None:
    keys = [each["key"] for each in records(run("-", "--jobs", 2, source=catalogue(12)))[:-1]]
    assert all(int(a[1:].partition("[")[0]) <= int(b[1:].partition("[")[0]) for a, b in pairwise(keys))


@pytest.mark.parametrize("head", [{"editions": ["2019"]}, {"detail": "all"}, {"jurisdictions": {"x": 3}}, {"batch_format": 2}])
def test_a_wrong_head_is_refused_at_once(head: dict[str, Any]) -> None:
    assert run("-", source=catalogue(1, **head)).exit_code == 2


def test_against_the_records_of_an_earlier_batch_only_what_is_new_fails(tmp_path: Path) -> None:
    earlier = tmp_path / "earlier.ndjson"
    assert run("-", "--output", earlier, source=catalogue(1)).exit_code == 1
    again = run("-", "--baseline", earlier, source=catalogue(1))
    *found, summary = records(again)
    assert {each["baseline"]["new"] for each in found} == {0}
    assert all(each["baseline"]["unchanged"] for each in found)
    assert summary["findings"]["danger"]
    assert summary["new"] == dict.fromkeys(summary["findings"], 0)
    assert again.exit_code == 0

    more = run("-", "--baseline", earlier, "--detail", "summary", source=catalogue(2))
    assert {each["key"] for each in records(more)[:-1] if each["new"]["danger"]} == {
        "m1[larger]",
        "m1[larger+thicker+aluminum]",
    }
    assert more.exit_code == 1

    earlier.write_text(lines({"key": "m0", "status": "checked", "verdict": "clear"}))
    refused = run("-", "--baseline", earlier, source=catalogue(1))
    assert refused.exit_code == 2
    assert "the records of an earlier batch were wanted, with their findings" in refused.stderr


def test_an_item_s_own_baseline_is_judged_like_that_of_a_check() -> None:
    item = {"key": "m", "base": "wren", "patch": LARGER["patch"]}
    head = {"batch_format": 1, "bases": {"wren": BASE}}
    first, _ = records(run("-", source=lines(head, item)))
    second, _ = records(run("-", source=lines(head, {**item, "baseline": {"findings": first["findings"]}})))
    assert {each["baseline"] for each in second["findings"]} == {"unchanged"}
    assert second["new"]["danger"] == 0
    gone, _ = records(run("-", source=lines(head, {**item, "patch": [], "baseline": {"findings": first["findings"]}})))
    wrong = [each["fingerprint"] for each in first["findings"] if each["outcome"] == "violation"]
    assert set(wrong) <= {each["fingerprint"] for each in gone["baseline"]["absent"]}
    bad, _ = records(run("-", source=lines(head, {**item, "baseline": {"findings": [{"rule": "x"}]}})))
    assert bad["status"] == "refused"
    assert bad["faults"][0]["pointer"] == "/baseline/findings/0"
