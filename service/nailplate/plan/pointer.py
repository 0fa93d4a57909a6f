"""JSON Pointers (RFC 6901): where a part or a fact is written."""

from typing import Self


class Pointer(str):
    """A JSON Pointer; ``pointer / "volume"`` is the pointer of a member."""

    __slots__ = ()

    def __truediv__(self, member: str | int) -> Self:
        return type(self)(f"{self}/{str(member).replace('~', '~0').replace('/', '~1')}")

    @property
    def members(self) -> tuple[str, ...]:
        """The unescaped reference tokens, outermost first."""
        tokens = self.split("/")[1:]
        return tuple(token.replace("~1", "/").replace("~0", "~") for token in tokens) if "~" in self else tuple(tokens)


class Elsewhere(Pointer):
    """Where another part, or another fact of the same part, states what is a part's fact too."""

    __slots__ = ()


ROOT = Pointer("")
