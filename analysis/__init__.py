"""What the arm does: a room for each step of the way, each importing only rooms below its own (`pyproject.toml` holds the order).

`mechanics` (forces, sections, deflections) and `clauses` (what is allowed) make the `hand` calculation. `elastic` is the solver by
mesh; `proof` refines it and sets it beside the hand calculation, `contact` adds the pins. `bores`, `fatigue` and `fracture` say
how fits hold and how long the arm lasts; `sweep` does all of it for section sizes, `making` for routes, pieces, dates and cost.
`pictures`, `record`, `page`, `drawing` and `tables` show it and compute nothing; `package` is what the vendor gets.
`python -m analysis.ROOM` is a room's command where it has one.
"""
