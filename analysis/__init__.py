"""The room of what the arm does.

By hand, for arrays of designs, load cases, positions of the swing and stations at once: `statics` finds the forces,
`mass`, `sections`, `beam`, `deflection`, `hubflex` and `concentration` what they do, `clauses/` what is allowed; `state`
gathers the quantities, `checks` the clauses, `hand` the margins, `handfiles` the tables. By mesh: `elastic/` is the solver,
`proof` runs all load cases on one mesh, `measures` reads from it what the hand calculation knows, `prove` refines until the
peaks have settled. `verify` sets both side by side and `summary` draws the answer. `designs`, `sweep`, `front`, `design`
and `confirm` do the same for section sizes. `bores/`, `life/` and `making/` hold fits, fatigue and fracture, routes and
dates; they are not part of a run yet. What draws (`view` and its users) reads tables and computes nothing.
"""
