"""The trade's arithmetic: pure functions of plain numbers and an edition's tables, each with its steps."""
