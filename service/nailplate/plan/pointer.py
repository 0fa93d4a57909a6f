"""JSON Pointers (RFC 6901): where a part or a fact is written."""

from typing import Self


class Pointer(str):
    """A JSON Pointer; ``pointer / "volume"`` is the pointer of a member."""

    __slots__ = ()

    def __truediv__(self, member: str | int) -> Self:
        token = str(member)
        if "~" in token or "/" in token:
            token = token.replace("~", "~0").replace("/", "~1")
        return type(self)(f"{self}/{token}")

    @property
    def members(self) -> tuple[str, ...]:
        """The unescaped reference tokens, outermost first."""
        tokens = self.split("/")[1:]
        return tuple(token.replace("~1", "/").replace("~0", "~") for token in tokens) if "~" in self else tuple(tokens)

    @property
    def member(self) -> str:
        """The innermost of them."""
        return self[self.rindex("/") + 1 :].replace("~1", "/").replace("~0", "~")


class Elsewhere(Pointer):
    """Where another part, or another fact of the same part, states what is a part's fact too."""

    __slots__ = ()


ROOT = Pointer("")
