#!/usr/bin/env bash
# Builds docker/Dockerfile for real and runs it, without a Docker engine and without an image registry.
#
# CONTAINER_BASE: local (Debian's own Python as the base, never asks a registry), public (fails if it cannot be pulled),
# auto (public, at most 60 s, then local). It prints which base was used. PODMAN_COMPOSE: a podman-compose, for the compose file.
# PYTHON: an interpreter that has this project, for the comparison with the reports made in process.
set -euo pipefail
self=$(realpath "$0"); cd "$(dirname "$self")/.."
PUBLIC_BASE=${PUBLIC_BASE:-$(sed -n 's/^ARG BASE=//p' docker/Dockerfile)}
MODE=${CONTAINER_BASE:-auto}
CACHE=${CONTAINER_CACHE:-${TMPDIR:-/tmp}/container-base}
PYTHON=${PYTHON:-.venv/bin/python}
LARGEST=150000000
IMAGE=localhost/nailplate:test
step() { printf '== %4ss %s\n' "$SECONDS" "$*"; }
S=${CONTAINER_STATE:-}
if [ "${1:-}" != in-ns ]; then
  [ "$(id -u)" = 0 ] || { echo "needs root" >&2; exit 2; }
  need=(); for p in buildah podman crun netavark iptables debootstrap curl; do
    dpkg-query -W -f='${Status}' "$p" 2>/dev/null | grep -q 'ok installed' || need+=("$p"); done
  if [ "${#need[@]}" -gt 0 ]; then
    apt-get update -qq && DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends "${need[@]}" >/dev/null
  fi
  step "tools ready"
  S=$(mktemp -d); trap 'rm -rf "$S"' EXIT
  printf '[storage]\ndriver = "overlay"\ngraphroot = "%s/graph"\nrunroot = "%s/run"\n' "$S" "$S" >"$S/storage.conf"
  printf '[containers]\ncgroups = "disabled"\ndefault_ulimits = ["nofile=1024:1024", "nproc=512:512"]\n[engine]\ncgroup_manager = "cgroupfs"\nevents_logger = "file"\nlock_type = "file"\nruntime = "crun"\nstatic_dir = "%s/libpod"\ntmp_dir = "%s/tmp"\nvolume_path = "%s/vol"\n[network]\nnetwork_backend = "netavark"\nnetwork_config_dir = "%s/net"\n' "$S" "$S" "$S" "$S" >"$S/containers.conf"
  export CONTAINERS_STORAGE_CONF=$S/storage.conf CONTAINERS_CONF=$S/containers.conf BUILDAH_ISOLATION=chroot CONTAINER_STATE=$S
  base=
  if [ "$MODE" != local ] && timeout 60 buildah pull -q "$PUBLIC_BASE" >"$S/pull.log" 2>&1; then base=$PUBLIC_BASE
  elif [ "$MODE" = public ]; then cat "$S/pull.log" >&2; exit 1; fi
  if [ -z "$base" ]; then
    base=localhost/python:3.11-bookworm
    tar=$CACHE/bookworm-python.tar
    if [ ! -s "$tar" ]; then
      mkdir -p "$CACHE"
      debootstrap --variant=minbase --include=python3,python3-venv,ca-certificates bookworm "$S/rootfs" >"$S/debootstrap.log" 2>&1 || { tail -20 "$S/debootstrap.log" >&2; exit 1; }
      leave=(); for each in proc/ sys/ dev/ var/cache/apt/archives/ var/lib/apt/lists/ var/cache/debconf/ usr/share/doc/ usr/share/man/ usr/share/locale/ usr/share/info/; do leave+=("--exclude=./$each*"); done
      tar -C "$S/rootfs" "${leave[@]}" -cf "$tar.part" . && mv "$tar.part" "$tar"
      rm -rf "$S/rootfs"
    fi
    podman import -q "$tar" "$base" >/dev/null
  fi
  step "base: $base"
  secret=(); ca=${PIP_CERT:-${SSL_CERT_FILE:-}}; [ -s "$ca" ] && secret=(--secret "id=ca,src=$ca")
  buildah bud -q --format docker "${secret[@]}" --build-arg "BASE=$base" -f docker/Dockerfile -t "$IMAGE" . >"$S/build.log" 2>&1 || { tail -40 "$S/build.log" >&2; exit 1; }
  step "built: $(podman image inspect "$IMAGE" --format '{{.Size}}') bytes"
  # own mount, network and process namespaces: the cgroup view that crun accepts, and no bridge or firewall rule outside
  export BASE=$base NAILPLATE_TAG=test
  unshare --mount --net --pid --fork --mount-proc --kill-child "$self" in-ns
  step "done"; exit 0
fi

# ---- inside the namespaces
[ -d /sys/fs/cgroup/unified ] && umount /sys/fs/cgroup/unified
ip link set lo up; for d in netns crun; do mkdir -p "/run/$d"; mount -t tmpfs tmpfs "/run/$d"; done
pass=0
ok() { pass=$((pass + 1)); echo "ok $pass - $1"; }
die() { echo "not ok - $1"; podman logs "${2:-none}" 2>&1 | tail -20 || :; echo "$pass passed, 1 failed"; exit 1; }
get() { for _ in $(seq 80); do curl -fsS -m 2 "$@" 2>/dev/null && return; sleep 0.2; done; return 1; }
run=(podman run -d --no-healthcheck --network host --read-only --tmpfs "/tmp:rw,noexec,nosuid,size=128m" --cap-drop ALL --security-opt no-new-privileges)
base=http://127.0.0.1:8080

size=$(podman image inspect "$IMAGE" --format '{{.Size}}')
[ "$size" -lt "$LARGEST" ] || die "the image has $size bytes"; ok "the image is under $LARGEST bytes"
podman image inspect "$IMAGE" --format '{{json .HealthCheck}}' | grep -q healthy || die "HEALTHCHECK is missing"; ok "HEALTHCHECK is in the image"
[ "$(podman image inspect "$IMAGE" --format '{{.Config.StopSignal}}')" = SIGTERM ] || die "STOPSIGNAL"; ok "STOPSIGNAL is SIGTERM"
podman run --rm --network host --read-only "$IMAGE" >"$S/closed.log" 2>&1 && die "it starts without tokens"
grep -q NAILPLATE_OPEN=1 "$S/closed.log" || die "it does not say why it does not start"; ok "it does not start on an open address without tokens"

"${run[@]}" --name t -e NAILPLATE_OPEN=1 -e NAILPLATE_WORKERS=2 "$IMAGE" >/dev/null || die run
get $base/healthz >/dev/null || die healthz t; ok "healthz answers: read-only root, no capabilities"
pid=$(podman inspect -f '{{.State.Pid}}' t)
awk '/^Uid:/{exit !($2==10001&&$3==10001)}' "/proc/$pid/status" || die uid t; ok "runs as uid 10001"
{ grep -q '^CapEff:.0*$' "/proc/$pid/status" && grep -q '^NoNewPrivs:.1$' "/proc/$pid/status"; } || die caps t; ok "no capability, no_new_privs"
podman exec t python3 -c 'open("/tmp/x", "w"); open("/x", "w")' 2>"$S/written" && die "root is writable" t
grep -q 'Errno 30.*/x' "$S/written" || die "root is closed by its owner alone, not read-only" t; ok "root file system is read-only"
podman exec t nailplate healthy || die "health check" t; ok "the health check's command passes"
podman exec t nailplate healthy --port 9 2>/dev/null && die "the health check cannot fail" t; ok "and fails where nothing answers"
for tool in pip gcc; do podman exec t sh -c "command -v $tool" >/dev/null && die "$tool is in the image" t; done; ok "neither pip nor a compiler is in it"

for house in service/nailplate/examples/tamarack-{wren,heron,osprey}.json; do
  curl -fsS -m 60 -H 'Content-Type: application/json' --data-binary "@$house" $base/v1/checks >"$S/served.json" || die "check $house" t
  PYTHONPATH=service "$PYTHON" - "$house" "$S/served.json" <<'PY' || die "$house differs from the report made in process" t
import json, sys
from nailplate.catalog import catalog
from nailplate.review import Options
from nailplate.wire import read_json, report_json, report_on
plan, served = open(sys.argv[1], "rb").read(), open(sys.argv[2], "rb").read()
day = json.loads(served)["made"]["date"]
sys.exit(report_json(report_on(read_json(plan), catalog(), Options(today=day))) != served)
PY
done; ok "the example houses give the same bytes as in process"

PYTHONPATH=service "$PYTHON" - "$base" "$pid" <<'PY' || die "kill -9 of a worker" t
"""Under load a worker is killed: only what it had in hand is lost, and the service goes on."""
import json, os, pathlib, signal, sys, threading, time, urllib.error, urllib.request
base, master = sys.argv[1], int(sys.argv[2])
plan = json.dumps({"plan_format": 1, "name": "x", "basis": {"edition": "2023"}}).encode()
good, lost, stop = [], [], threading.Event()
def ask():
    while not stop.is_set():
        request = urllib.request.Request(f"{base}/v1/checks", plan, {"Content-Type": "application/json"})
        try:
            with urllib.request.urlopen(request, timeout=20) as answer:
                good.append(answer.status)
        except (OSError, urllib.error.URLError) as error:
            lost.append((time.monotonic(), repr(error)))
callers = [threading.Thread(target=ask) for _ in range(4)]
[each.start() for each in callers]
time.sleep(2)
workers = [int(pid) for pid in pathlib.Path(f"/proc/{master}/task/{master}/children").read_text().split()]
killed = time.monotonic()
os.kill(workers[0], signal.SIGKILL)
time.sleep(4)
stop.set()
[each.join() for each in callers]
late = [each for each in lost if each[0] - killed > 1.5]
print(f"# {len(good)} answered, {len(lost)} lost, {len(late)} of them later than 1.5 s after the kill")
sys.exit(not (good and len(lost) <= len(callers) and not late))
PY
ok "kill -9 of a worker under load loses only what is in flight"

"$PYTHON" - >"$S/batch.json" <<'PY'
"""A batch that takes seconds, so that it is in hand when the service is told to stop."""
import json
plan = json.load(open("service/nailplate/examples/tamarack-osprey.json"))
print(json.dumps({"bases": {"osprey": plan}, "detail": "summary", "items": [{"key": f"{number}", "base": "osprey"} for number in range(12)]}))
PY
curl -fsSN -m 60 -H 'Content-Type: application/json' --data-binary "@$S/batch.json" $base/v1/batch-checks -o "$S/drained.ndjson" & caller=$!
for _ in $(seq 100); do [ -s "$S/drained.ndjson" ] && break; sleep 0.05; done
grep -q '"status":"summary"' "$S/drained.ndjson" && die "the batch was done before the stop" t
podman stop -t 30 t >/dev/null; wait $caller || die "SIGTERM cuts what is in flight" t
tail -1 "$S/drained.ndjson" | grep -q '"records":12' || die "SIGTERM cuts what is in flight" t
[ "$(podman inspect -f '{{.State.ExitCode}}' t)" = 0 ] || die "exit code after SIGTERM" t; ok "SIGTERM drains and ends with 0"; podman rm t >/dev/null

if [ -n "${PODMAN_COMPOSE:-}" ]; then
  PYTHONPATH=service "$PYTHON" -m nailplate token test >"$S/tokens" 2>"$S/token"; token=$(sed 's/.*: //' "$S/token"); chmod 644 "$S/tokens"
  export NAILPLATE_TOKENS_FILE=$S/tokens
  "$PODMAN_COMPOSE" -f docker/compose.yaml up -d --no-build >"$S/compose.log" 2>&1 || { cat "$S/compose.log"; die compose; }
  get $base/healthz >/dev/null || { cat "$S/compose.log"; die "compose healthz"; }
  [ "$(curl -s -o /dev/null -w '%{http_code}' $base/v1/rules)" = 401 ] || die "compose lets callers in without a token"
  get -H "Authorization: Bearer $token" $base/v1/version >/dev/null || die "compose refuses its token"; ok "compose: the published port answers those who have a token"
  c=$(podman ps -q | head -1); podman healthcheck run "$c" || die "compose health check" "$c"; ok "compose: its own health check passes"
  "$PODMAN_COMPOSE" -f docker/compose.yaml down -t 5 >>"$S/compose.log" 2>&1 || die "compose down"
  [ -z "$(podman ps -q)" ] || die "compose leaves a container running"; ok "compose down"
fi
echo "$pass passed, 0 failed"
