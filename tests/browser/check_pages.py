"""Looks at the report's page and a sheet of pictures in a browser: axe-core finds nothing, and no lettering lies over other lettering.

    PYTHONPATH=service:tests python tests/browser/check_pages.py PATH/TO/axe.min.js

Needs chromium on the path (CHROMIUM names another) and axe-core from npm. Each page is opened from a file, wide as on a desk and
narrow as on a phone, with axe's script written in behind it; what axe says is read from the page. Ends 1 with what was found.
"""

import json
import os
import re
import subprocess
import sys
import tempfile
from html import unescape
from pathlib import Path
from typing import Any

from nailplate.catalog import catalog
from nailplate.render import html
from nailplate.render.tables import FORMS
from nailplate.review import check
from nailplate.wire import plan_digest, read_plan_value
from sheets.houses import plan_of
from sheets.spoiled import spoiled
from sheets.tables_read import document

DESK, LAPTOP, TABLET, PHONE = (1440, 1000), (1400, 900), (820, 1180), (412, 900)
HOUSES = ("tamarack-wren", "tamarack-osprey")
LOOKS = (
    ("tamarack-wren", DESK),
    ("tamarack-wren", PHONE),
    ("tamarack-osprey", DESK),
    ("tamarack-osprey", LAPTOP),
    ("tamarack-osprey", TABLET),
    ("nothing-drawn", PHONE),
    ("wiring", PHONE),
)
LEAST_SCALE = 0.85
"""Pixels for a point of a drawing, below which its letters of 6.4 points cannot be read without zooming."""
PATIENCE = 60
_ASK = """
<script>%s</script>
<script>
const out = document.createElement("pre"); out.id = "looked-at"; out.hidden = true;
const boxes = [...document.querySelectorAll("svg text")].map(t => {
  const r = t.getBoundingClientRect(), h = r.height;
  return {said: t.textContent, top: r.top + h * .22, bottom: r.bottom - h * .16, left: r.left, right: r.right,
          of: t.closest("[data-symbol],[data-sign]") || t.closest("svg")};
});
const over = [];
for (let i = 0; i < boxes.length; i++) for (let j = i + 1; j < boxes.length; j++) {
  const a = boxes[i], b = boxes[j];
  if (a.of === b.of && a.of.tagName === "g") continue;
  if (a.left < b.right - .5 && b.left < a.right - .5 && a.top < b.bottom - .5 && b.top < a.bottom - .5) over.push([a.said, b.said]);
}
const wide = document.documentElement.scrollWidth - innerWidth;
const pushed = Math.max(0, ...[...document.querySelectorAll(".board")].map(b => b.scrollWidth - b.clientWidth));
const letters = Math.min(...[...document.querySelectorAll(".board svg")].map(s => s.getBoundingClientRect().width / s.viewBox.baseVal.width));
axe.run(document, {resultTypes: ["violations"]}).then(found => {
  const violations = found.violations.map(v => ({id: v.id, impact: v.impact, help: v.help,
    nodes: v.nodes.slice(0, 5).map(n => n.html.slice(0, 200) + " :: " + n.failureSummary)}));
  out.textContent = JSON.stringify({over, wide, pushed, letters, violations, texts: boxes.length, passes: found.passes.length});
  document.body.append(out);
});
</script>
"""


def pages() -> dict[str, str]:
    """Each house spoiled, a plan that draws nothing, and the sheet with the most pictures."""
    found = {name: _page(spoiled(name)) for name in HOUSES}
    bare = {"plan_format": 1, "name": "Nothing drawn", "basis": {"edition": "2023"}, "boxes": {"b": {}}, "circuits": {"c": {}}}
    wiring = FORMS["text/html"](document(plan_of("tamarack-wren"), "wiring"))
    return {**found, "nothing-drawn": _page(bare), "wiring": wiring}


def _page(value: Any) -> str:
    plan = read_plan_value(value)
    return html(check(plan, catalog(), digest=plan_digest(value)), plan)


def looked_at(page: str, axe: str, size: tuple[int, int]) -> Any:
    """What axe and the browser say of a page at a width."""
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / "page.html"
        file.write_text(page.replace("</body>", _ASK.replace("%s", axe, 1) + "</body>"), encoding="utf-8")
        words = [
            os.environ.get("CHROMIUM", "chromium"), "--headless=new", "--no-sandbox", "--disable-gpu",
            f"--user-data-dir={folder}/profile", f"--window-size={size[0]},{size[1]}", "--virtual-time-budget=30000",
            "--dump-dom", file.as_uri(),
        ]  # fmt: skip
        dom = subprocess.run(words, capture_output=True, text=True, timeout=PATIENCE, check=True).stdout
    found = re.search(r'<pre id="looked-at"[^>]*>(.*?)</pre>', dom, re.DOTALL)
    if found is None:
        raise RuntimeError("the browser ended before axe did")
    return json.loads(unescape(found[1]))


def main(axe_path: str) -> int:
    """Every page at every width; the exit code."""
    axe, drawn = Path(axe_path).read_text(encoding="utf-8"), pages()
    return 1 if sum([_told(name, size, looked_at(drawn[name], axe, size)) for name, size in LOOKS]) else 0


def _told(name: str, size: tuple[int, int], found: Any) -> int:
    """Prints what was found on one page; how much it is."""
    print(f"{name}, {size[0]} px wide: axe passes {found['passes']}, {found['texts']} letterings on the drawings")
    wrong = [f"{each['impact']}: {each['id']}: {each['help']}: {each['nodes']}" for each in found["violations"]]
    wrong += [f"over one another: {one!r} and {other!r}" for one, other in found["over"]]
    wrong += [f"the page is {found['wide']} px wider than its window"] if found["wide"] > 0 else []
    wrong += [f"a drawing is {found['pushed']} px wider than its frame"] if found["pushed"] > 0 and size[0] >= TABLET[0] else []
    wrong += (
        [f"a point of a drawing is {found['letters']:.2f} px"] if found["letters"] and found["letters"] < LEAST_SCALE else []
    )
    for each in wrong:
        print(f"  {each}")
    return len(wrong)


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:2]))
