"""How a step runs: faults in one line (`problems`, `guard`), files of results (`results`), the caution, the
process that forks steps (`start`, `starter`).
"""
