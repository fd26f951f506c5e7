"""How the part is made and when it is there: each route at its own best design, its pieces, its tasks against the outage.

`routes/`: `on_route` puts a route's limits, factors and material on the arm (`file_sections` its finish, toughness and
examinations), `sweep` sweeps it and keeps the front, `tried` says which of the front to mesh and which of the meshed is best,
`candidate` writes one as a parameter file, `best` copies the best, `life_and_flaw` asks it for years and flaws, `table` sets the
routes side by side.

`pieces/`: a deposited part is cut into pieces: `joints` says where stress and fatigue allow a joint, `envelope` what a cell can
hold, `split` where the cuts go (`cutting` is its command), geometry.pieces makes the solids, `table` their table; `deposition`
turns pieces into hours and days on cells.

`dates/`: a route file (params/routes) holds the tasks with low, likely and high durations, an outage file (params/outages) the
dates. `calendar` turns days of work into moments and back, for one duration or many thousands at once. `network` runs forward
and backward through the tasks. `threepoint` gives the distributions, `sampling` draws durations that share causes, `risk`
judges the drawn networks. `table` is the command that writes tasks.csv, ready.csv and dates.csv.

`decision/`: `cost` adds up ranges, `costs` writes them, `flip` and `decision` put all of it beside each other; `table` prints it.

Time inside is counted in calendar days from the midnight on which the day of the order begins.
"""
