#!/usr/bin/env bash
# Clients generated from openapi/openapi.json, in Python and TypeScript, against the running service. It fetches the generators from
# PyPI and npm (about 20 s), so it stands beside the tests and not among them. PYTHON names an interpreter that has this project.
set -euo pipefail
cd "$(dirname "$0")/../.."
root=$PWD PYTHON=${PYTHON:-$PWD/.venv/bin/python} port=${PORT:-8399}
work=$(mktemp -d)
NAILPLATE_PORT=$port PYTHONPATH=service "$PYTHON" -m nailplate serve --workers 1 >"$work/log" 2>&1 & service=$!
trap 'kill $service; wait $service || :; rm -rf "$work"' EXIT
for _ in $(seq 100); do PYTHONPATH=service "$PYTHON" -m nailplate healthy --port "$port" 2>/dev/null && break; sleep 0.2; done

python3 -m venv "$work/venv"
"$work/venv/bin/pip" install -q 'openapi-python-client==0.29.*' ruff
PATH=$work/venv/bin:$PATH openapi-python-client generate --path openapi/openapi.json --output-path "$work/client" >"$work/generated"
"$work/venv/bin/pip" install -q "$work/client"
"$work/venv/bin/python" - "$port" service/nailplate/examples/tamarack-wren.json <<'PY'
import json, sys
from nailplate_client import Client
from nailplate_client.api.checking import check_plan
from nailplate_client.api.reference import list_rules
from nailplate_client.models import Plan, Report
client = Client(base_url=f"http://127.0.0.1:{sys.argv[1]}", timeout=60)
report = check_plan.sync(client=client, body=Plan.from_dict(json.load(open(sys.argv[2]))))
assert isinstance(report, Report), report
rules = list_rules.sync(client=client)
print(f"generated Python client: {report.verdict}, {len(report.coverage.rules)} rules ran, {len(rules.rules)} listed")
PY

cd "$work"
printf '{"private": true, "type": "module"}' >package.json
npm install --silent --no-audit --no-fund openapi-typescript@7 openapi-fetch@0.14 typescript@5 @types/node@20
npx openapi-typescript "$root/openapi/openapi.json" -o api.ts >/dev/null
cat >check.ts <<'TS'
import { readFileSync } from "node:fs";
import createClient from "openapi-fetch";
import type { components, paths } from "./api.js";
const client = createClient<paths>({ baseUrl: `http://127.0.0.1:${process.argv[2]}` });
const plan = JSON.parse(readFileSync(process.argv[3], "utf8")) as components["schemas"]["Plan"];
const answer = await client.POST("/v1/checks", { body: plan });
if (answer.error) throw new Error(JSON.stringify(answer.error));
const data = answer.data as components["schemas"]["Report"];
const verdict: "violations" | "incomplete" | "clear" = data.verdict;
const rules = await client.GET("/v1/rules", { params: { query: { severity: "danger" } } });
console.log(`generated TypeScript client: ${verdict}, ${data.coverage.rules.length} rules ran, ${rules.data?.total} of danger`);
TS
npx tsc --strict --target es2022 --module nodenext --moduleResolution nodenext --skipLibCheck check.ts
node check.js "$port" "$root/service/nailplate/examples/tamarack-wren.json"
