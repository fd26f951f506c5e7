"""How a step runs: faults in one line (`problems`, `guard`), its arguments (`arguments`), files of results (`results`), what the
terminal shows of a run (`progress`), the lock of a run that was killed (`lock`), the caution.
"""
