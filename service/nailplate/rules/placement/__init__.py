"""Rules about where receptacles, lights, alarms and panels go."""
