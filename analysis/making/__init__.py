"""How the part is made and when it is there: each route at its own best design, its pieces, its tasks against the outage.

`routes/`: `on_route` puts a route's limits, factors and material on the arm (`file_sections` its finish, toughness and
examinations), `sweep` sweeps it in every material and keeps the front, `tried` says which of the front to mesh and which of the
meshed is best, `candidate` writes one as a parameter file, `best` copies the best, `life_and_flaw` asks it for years and flaws,
`table` sets the routes side by side.

`pieces/`: a deposited part is cut into pieces: `joints` says where stress and fatigue allow a joint, `envelope` what a cell can
hold, `split` where the cuts go (`cutting` is its command), geometry.pieces makes the solids, `table` their table; `deposition`
turns pieces into hours and days on cells.

`dates/`: a route file (params/routes) holds the tasks with low, likely and high durations, an outage file (params/outages) the
dates and the work in the outage. `calendar` turns days of work into moments and back, for one duration or many thousands at once.
`network` runs forward and backward through the tasks. `threepoint` gives the distributions, `sampling` draws durations that share
causes, `window` says whether the work fits into the outage and how late it is otherwise, `risk` judges the drawn networks, `normal`
is the approximation beside them; `plan` puts these together for one route. `cost` adds up ranges, `outcome` turns drawn ends into
columns, `ways` has two routes at once, spares and failed examinations. `table` is the command that writes the tables.

`decision/`: `costs` writes prices, `flip` and `decision` put all of it beside each other, `together` with two routes at once and
spares, `kept` with the arm in service; `answer` says it in sentences, `table` prints it.

Time inside is counted in calendar days from the midnight on which the day of the order begins.
"""
