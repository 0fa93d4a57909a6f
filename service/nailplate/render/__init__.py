"""A report or a rule's page as text for people."""

from nailplate.render.html import html
from nailplate.render.markdown import markdown
from nailplate.render.pages import rule_html, rule_page

__all__ = ["html", "markdown", "rule_html", "rule_page"]
