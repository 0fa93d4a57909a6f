"""What an operator sets: bindings, tokens, limits, packs; and what is refused at the start."""

import hashlib
import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

from nailplate.web import SettingsError, read_settings, serve_command
from nailplate.web.settings import Settings, check_binding
from web.plans import SMALL, with_change
from web.served import SERVICE, environment, free_port, served
from web.test_hostile_bodies import problem

pytestmark = pytest.mark.long
TOKEN = "correct horse 7"


@pytest.fixture
def token_file(tmp_path: Path) -> Path:
    path = tmp_path / "tokens"
    path.write_text(
        f"# who may ask\n\nsite-office {hashlib.sha256(TOKEN.encode()).hexdigest()}\n{hashlib.sha256(b'second').hexdigest()}\n"
    )
    return path


def test_only_known_tokens_are_let_in(tmp_path: Path, token_file: Path) -> None:
    with served(tmp_path, {"NAILPLATE_TOKENS": str(token_file)}) as service:
        for path in ("/healthz", "/readyz"):
            assert service.get(path).status_code == 200
        for path in ("/v1/rules", "/openapi.json", "/docs", "/nothing"):
            for header in (
                {},
                {"Authorization": "Bearer wrong"},
                {"Authorization": f"Basic {TOKEN}"},
                {"Authorization": "Bearer"},
            ):
                answer = service.get(path, headers=header)
                problem(answer, 401, "unauthorized")
                assert answer.headers["WWW-Authenticate"].startswith("Bearer")
        for token in (TOKEN, "second"):
            assert service.get("/v1/rules", headers={"Authorization": f"Bearer {token}"}).status_code == 200
            assert service.check(SMALL, Authorization=f"bearer {token}").status_code == 200
        problem(service.check(SMALL), 401, "unauthorized")
        assert TOKEN not in service.log.read_text()


def test_limits_are_the_operator_s(tmp_path: Path) -> None:
    with served(tmp_path, {"NAILPLATE_MAX_BODY": "2000", "NAILPLATE_MAX_FINDINGS": "1"}) as service:
        limits = service.get("/v1/version").json()["limits"]
        assert limits["max_body"] == 2000
        assert limits["max_findings"] == 1
        assert len(service.check(SMALL).json()["findings"]) == 1
        problem(service.check(with_change(SMALL, "name", to="n" * 1990)), 413, "body-too-large")
        problem(service.check({"plan": SMALL, "options": {"max_findings": 2}}), 422, "invalid-request")


PACK = '''"""A box says its ganging.

Why: the shop cuts by it.

Fix: state the gangs.
"""

from nailplate.plan import Box
from nailplate.rulekit import Hazard, Job, Outcome, Pass, Severity, rule


@rule(id="acme/box-gangs", over=Box, severity=Severity.ADVICE, cites={"nec-2017": "shop rule 7"}, needs=("gangs",), hazards=(Hazard.BURIED,))
def box_gangs(box: Box, job: Job) -> Outcome:
    return Pass()
'''


def test_named_packs_are_in_force_and_their_rules_have_pages(tmp_path: Path) -> None:
    rules = tmp_path / "acme_rules"
    rules.mkdir()
    (rules / "__init__.py").write_text(
        "from nailplate.rulekit import RulePack\n\ndef pack():\n    return RulePack.from_package('acme', __name__, '1.2')\n"
    )
    (rules / "box_gangs.py").write_text(PACK)
    installed = tmp_path / "acme_rules-1.2.dist-info"
    installed.mkdir()
    (installed / "METADATA").write_text("Metadata-Version: 2.1\nName: acme-rules\nVersion: 1.2\n")
    (installed / "entry_points.txt").write_text("[nailplate.rulepacks]\nacme = acme_rules:pack\n")
    path = {"PYTHONPATH": f"{SERVICE}{os.pathsep}{tmp_path}"}
    with served(tmp_path, {"NAILPLATE_PACKS": "acme", **path}) as service:
        assert [pack["name"] for pack in service.get("/v1/version").json()["packs"]] == ["nailplate", "acme"]
        assert service.get("/v1/rules/acme/box-gangs").json()["why"] == "the shop cuts by it."
        assert service.get("/v1/rules/acme/box-gangs?format=markdown").text.startswith("# acme/box-gangs")
        assert "'acme/box-gangs'" in problem(service.get("/v1/rules/acme/box-gang"), 404, "not-found")["detail"]
        assert "acme/box-gangs" in {finding["rule"] for finding in service.check(SMALL).json()["findings"]}
    with served(tmp_path, path) as service:
        problem(service.get("/v1/rules/acme/box-gangs"), 404, "not-found")


@pytest.mark.parametrize(
    "environ",
    [
        {"NAILPLATE_MAX_BODI": "5"},
        {"NAILPLATE_MAX_BODY": "2 MB"},
        {"NAILPLATE_MAX_BODY": "-1"},
        {"NAILPLATE_MAX_BODY": "٣٠٠٠"},
        {"NAILPLATE_PORT": "65536"},
        {"NAILPLATE_OPEN": "yes"},
        {"NAILPLATE_TOKENS": "/no/such/file"},
        {"NAILPLATE_HOST": ""},
        {"NAILPLATE_ORIGINS": "*"},
        {"NAILPLATE_ORIGINS": "https://draw.example/"},
        {"NAILPLATE_TIME_LIMIT": "0"},
        {"NAILPLATE_METRICS": "on"},
    ],
    ids=str,
)
def test_settings_that_cannot_be_are_refused(environ: dict[str, str]) -> None:
    with pytest.raises(SettingsError, match=next(iter(environ))):
        read_settings(environ)


def test_misspelt_setting_gets_a_suggestion() -> None:
    with pytest.raises(SettingsError, match="did you mean NAILPLATE_MAX_BODY"):
        read_settings({"NAILPLATE_MAX_BODI": "5"})


def test_settings_are_read_and_others_names_ignored() -> None:
    settings = read_settings(
        {"NAILPLATE_PACKS": "acme, other", "NAILPLATE_OPEN": "1", "PATH": "/bin", "NAILPLATE_WORKERS": "3"}
    )
    assert settings == Settings(packs=("acme", "other"), open=True, workers=3)
    assert settings.worker_count == 3


@pytest.mark.parametrize("host", ["127.0.0.1", "127.9.9.9", "::1", "localhost"])
def test_loopback_needs_no_tokens(host: str) -> None:
    check_binding(host, Settings())


@pytest.mark.parametrize("host", ["0.0.0.0", "::", "192.168.1.7", "example.org"])
def test_other_addresses_need_tokens_or_the_open_switch(host: str, token_file: Path) -> None:
    with pytest.raises(SettingsError, match="NAILPLATE_OPEN=1"):
        check_binding(host, Settings())
    check_binding(host, Settings(open=True))
    check_binding(host, Settings(tokens=token_file))
    with pytest.raises(SettingsError):
        serve_command(host, 8080, 1)


@pytest.mark.parametrize(("host", "bound"), [("127.0.0.1", "127.0.0.1:81"), ("::1", "[::1]:81"), ("[::1]", "[::1]:81")])
def test_addresses_of_both_kinds_are_bound(host: str, bound: str) -> None:
    command = serve_command(host, 81, 1)
    assert command[command.index("--bind") + 1] == bound


def started(environ: dict[str, str], *options: str) -> "subprocess.CompletedProcess[str]":
    """Starts gunicorn with our settings and waits for it to refuse."""
    config = ["--config", "python:nailplate.web.gunicorn_settings"]
    command = [sys.executable, "-m", "gunicorn", *config, *options]
    return subprocess.run(command, env=environment(environ), capture_output=True, text=True, timeout=30, check=False)


def test_gunicorn_does_not_start_on_an_open_address() -> None:
    port = str(free_port())
    for answer in (
        started({"NAILPLATE_HOST": "0.0.0.0", "NAILPLATE_PORT": port}),
        started({"NAILPLATE_PORT": port}, "--bind", f"0.0.0.0:{port}"),
    ):
        assert answer.returncode != 0
        assert "NAILPLATE_OPEN=1" in answer.stderr


def test_gunicorn_does_not_start_with_wrong_settings(tmp_path: Path) -> None:
    no_tokens = tmp_path / "tokens"
    no_tokens.write_text("# none yet\n")
    for environ, said in (
        ({"NAILPLATE_WORKER": "2"}, "NAILPLATE_WORKERS"),
        ({"NAILPLATE_TOKENS": str(no_tokens)}, "holds no token"),
        ({"NAILPLATE_PACKS": "acme"}, "no rule pack 'acme' is installed"),
    ):
        answer = started({"NAILPLATE_PORT": str(free_port()), **environ})
        assert answer.returncode != 0
        assert said in answer.stderr


def test_image_settings_are_the_package_s_own() -> None:
    code = (
        "import json, runpy; from nailplate.web import gunicorn_settings as ours;"
        "image = runpy.run_path('docker/gunicorn.conf.py');"
        "names = [name for name, value in vars(ours).items() if isinstance(value, (str, int)) and not name.startswith('_')];"
        "print(json.dumps({name: [image[name], getattr(ours, name)] for name in names}))"
    )
    root = Path(os.path.abspath(__file__)).parents[2]
    answer = subprocess.run(
        [sys.executable, "-c", code], cwd=root, env=environment({}), capture_output=True, text=True, check=True
    )
    values = json.loads(answer.stdout)
    assert all(image == ours for image, ours in values.values())
    assert values["preload_app"] == [True, True]
    assert values["timeout"] == [30, 30]
    assert values["graceful_timeout"] == [25, 25]
    assert values["worker_class"] == ["nailplate.web.worker.Worker"] * 2
    assert values["threads"] == [16, 16]
    assert values["bind"][0] == "127.0.0.1:8080"
