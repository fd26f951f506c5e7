"""Whole runs of the workflow: every demo arm to its end, what its steps read, what a change makes again."""
