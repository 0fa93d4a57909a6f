#!/usr/bin/env bash
# Proof that the checks of test-image.sh can fail: each line spoils a copy of the tree in one way and names the check that must say so.
# Run by hand when a check or the Dockerfile changes (some ten minutes); spoil-image.sh NAME... runs those lines alone.
set -euo pipefail
cd "$(dirname "$(realpath "$0")")/.."
root=$PWD log=$(mktemp) failed=0 seen=0
trap 'rm -rf "$log" "${copy:-}"' EXIT

spoiled() {  # spoiled NAME FILE SED EXPECTED
  [ "${#only[@]}" = 0 ] || [[ " ${only[*]} " == *" $1 "* ]] || return 0
  copy=$(mktemp -d)
  cp -r docker service pyproject.toml README.md .dockerignore "$copy"
  sed -i "$3" "$copy/$2"
  if cmp -s "$2" "$copy/$2"; then echo "not ok - $1: nothing was spoiled in $2"; failed=1; return; fi
  seen=$((seen + 1))
  if CONTAINER_BASE=local PYTHON=${PYTHON:-$root/.venv/bin/python} PODMAN_COMPOSE=${PODMAN_COMPOSE:-$root/.venv/bin/podman-compose} "$copy/docker/test-image.sh" >"$log" 2>&1
  then echo "not ok - $1: all checks passed"; failed=1
  elif grep -q "^not ok - $4" "$log" || { [ "$4" = build ] && ! grep -q "^ok 1 " "$log"; }; then echo "ok - $1: $(grep -m1 '^not ok' "$log" || echo 'the build fails')"
  else echo "not ok - $1: it failed otherwise: $(grep -m1 "^not ok" "$log")"; tail -5 "$log"; failed=1
  fi
  rm -rf "$copy"
}

only=("$@")
D=docker/Dockerfile T=docker/test-image.sh C=docker/compose.yaml
spoiled size        $D '/^USER/i RUN head -c 30000000 /dev/urandom >/opt/ballast' 'the image has'
spoiled healthcheck $D '/^HEALTHCHECK/d' 'HEALTHCHECK is missing'
spoiled stopsignal  $D 's/^STOPSIGNAL SIGTERM/STOPSIGNAL SIGQUIT/' 'STOPSIGNAL'
spoiled tokens      $D 's/^USER/ENV NAILPLATE_OPEN=1\nUSER/; s/^ENTRYPOINT.*/ENTRYPOINT ["true"]/' 'it starts without tokens'
spoiled reason      $D 's/^ENTRYPOINT.*/ENTRYPOINT ["false"]/' 'it does not say why'
spoiled port        $D 's/NAILPLATE_PORT=8080/NAILPLATE_PORT=8081/' 'healthz'
spoiled uid         $D '/^USER/d' 'uid'
spoiled privileges  $T 's/ --security-opt no-new-privileges)/)/' 'caps'
spoiled read-only   $T 's/--network host --read-only --tmpfs/--network host --tmpfs/' 'root is closed by its owner alone'
spoiled writable    $T 's|open("/x", "w")|open("/tmp/y", "w")|' 'root is writable'
spoiled command     $D '/^USER/i RUN rm /opt/venv/bin/nailplate' 'health check'
spoiled pip         $T 's/for tool in pip gcc/for tool in sh gcc/' 'sh is in the image'
spoiled bytes       $D "/^USER/i RUN sed -i 's/authority having jurisdiction/Authority Having Jurisdiction/' \$(grep -rl --include=*.py --include=*.toml 'authority having jurisdiction' /opt/venv/lib/python3.11/site-packages/nailplate)" 'service/nailplate/examples/.* differs'
spoiled kill        $T 's/os.kill(workers\[0\]/os.kill(master/' 'kill -9 of a worker'
spoiled drain       $T 's/podman stop -t 30 t/podman kill t/' 'SIGTERM cuts'
spoiled exit-code   $T 's/podman stop -t 30 t >/wait $caller; podman kill t >/; s/; wait $caller || die "SIGTERM cuts/; true || die "SIGTERM cuts/' 'exit code after SIGTERM'
spoiled mount       $C 's/NAILPLATE_TOKENS: .*/NAILPLATE_OPEN: "1"/' 'compose lets callers in'
spoiled compose     $C 's/"nailplate", "healthy"/"false"/' 'compose health check'
spoiled down        $T 's/compose.yaml down -t 5/compose.yaml ps/' 'compose leaves a container'
spoiled missing     $D 's/^COPY service/COPY services/' build
spoiled unlocked    $D 's/requirements.txt$/requirements.txt flask/' build
echo "$seen spoiled"
exit "$failed"
