"""Cable in the framing: the runs of each route, the members they cross or follow, their holes, notches and supports."""

from nailplate.survey.rough_in.runs import Run, elevated, run_at, runs, runs_in_wall, runs_of

__all__ = ["Run", "elevated", "run_at", "runs", "runs_in_wall", "runs_of"]
