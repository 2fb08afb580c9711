"""The verbs of the command, a file for each few that belong together."""
