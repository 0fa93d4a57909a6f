"""Switch wiring: from boxes, cables and switches to what each conductor carries, and the proof that it works."""

from nailplate.calc.switching.checks import FaultKind, LayoutFault, LayoutRefused, closing_cables, layout_faults, mismatch
from nailplate.calc.switching.layout import Cable, Control, Layout, Load, Outlet, Signal, Supply, Switch
from nailplate.calc.switching.simulation import Row, truth_table
from nailplate.calc.switching.solve import solve
from nailplate.calc.switching.wiring import (
    CableEnd,
    CableWiring,
    Conductor,
    Joint,
    Net,
    NotWorkedOut,
    Role,
    Shortage,
    Terminal,
    Wiring,
    cable_name,
    usual_cable,
)

__all__ = [
    "Cable",
    "CableEnd",
    "CableWiring",
    "Conductor",
    "Control",
    "FaultKind",
    "Joint",
    "Layout",
    "LayoutFault",
    "LayoutRefused",
    "Load",
    "Net",
    "NotWorkedOut",
    "Outlet",
    "Role",
    "Row",
    "Shortage",
    "Signal",
    "Supply",
    "Switch",
    "Terminal",
    "Wiring",
    "cable_name",
    "closing_cables",
    "layout_faults",
    "mismatch",
    "solve",
    "truth_table",
    "usual_cable",
]
