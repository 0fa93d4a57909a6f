"""Sheets to build from: the load summary, and what else the same plan and the same survey yield beside findings."""

from nailplate.sheets.load_summary import loads_of
from nailplate.sheets.loads import Loads
from nailplate.sheets.site_items import SiteFigure, SiteItem, SiteList
from nailplate.sheets.site_list import site_list_of

__all__ = ["Loads", "SiteFigure", "SiteItem", "SiteList", "loads_of", "site_list_of"]
