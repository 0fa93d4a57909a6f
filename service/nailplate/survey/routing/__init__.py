"""The route of each cable through the framing: its author's, or worked out between its two ends."""

from nailplate.survey.routing.routes import Route, route_of

__all__ = ["Route", "route_of"]
