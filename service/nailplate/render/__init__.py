"""Reports and rule pages as text: for people, for CI, for spreadsheets. Each form is a module; all take plans as ``Checked``."""

from nailplate.render.annotations import annotations
from nailplate.render.code_quality import code_quality
from nailplate.render.comparison import comparison_page
from nailplate.render.csv import csv
from nailplate.render.html import html
from nailplate.render.inert import inert
from nailplate.render.junit import junit
from nailplate.render.lines import lines
from nailplate.render.markdown import markdown
from nailplate.render.pages import rule_html, rule_page
from nailplate.render.sarif import sarif
from nailplate.render.several import several_html
from nailplate.render.summary import summary, table
from nailplate.render.text import text

__all__ = [
    "annotations",
    "code_quality",
    "comparison_page",
    "csv",
    "html",
    "inert",
    "junit",
    "lines",
    "markdown",
    "rule_html",
    "rule_page",
    "sarif",
    "several_html",
    "summary",
    "table",
    "text",
]
